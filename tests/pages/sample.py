"""The small catalogue of the page tests, judged without a workshop: what a mesh measures stands here."""

from datetime import date
from io import BytesIO
from pathlib import Path

from PIL import Image

from generator.geometry.facts import MeshFacts
from generator.geometry.measured import Kept, ModelSource, Pictures, Worked
from generator.geometry.printing.pose import ANGLES_DEG, Leaning, Pose, Poses
from generator.geometry.sections import Walls
from generator.reading.catalogue import read_catalogue
from generator.records.catalogue import Catalogue
from generator.records.problems import Problem, in_order
from generator.rules.facts.case import Copy
from generator.rules.sheet import Sheet, sheet

CATALOGUE = Path(__file__).parents[1] / "golden" / "catalogue"
DAY = date(2026, 11, 25)


def _picture(width: int, height: int) -> Kept:
    held = BytesIO()
    Image.new("RGB", (width, height), "#f4f7fa").save(held, "WEBP")
    return Kept(f"{width} × {height}", held.getvalue)


# A box of 40 × 20 × 10 mm, whatever the file says: pages only repeat what was measured.
WORKED = Worked(
    facts=MeshFacts(
        size_mm=(40.0, 20.0, 10.0),
        oriented_size_mm=(40.0, 20.0, 10.0),
        faces=12,
        vertices=8,
        bodies=1,
        area_mm2=2800.0,
        volume_mm3=8000.0,
        is_watertight=True,
        defects=(),
    ),
    walls=Walls(
        thinnest_mm=2.2, thickest_mm=10.0, nominal_mm=4.0, thinnest_at=(1.0, 2.0, 3.0), thickest_at=(20.0, 10.0, 5.0)
    ),
    poses=Poses(
        candidates=(
            Pose(up=(0.0, 0.0, 1.0), size_mm=(40.0, 20.0, 10.0), contact_mm2=800.0, leaning=(Leaning(0.0, 0.0),) * len(ANGLES_DEG), is_stable=True),
            Pose(up=(1.0, 0.0, 0.0), size_mm=(20.0, 10.0, 40.0), contact_mm2=200.0, leaning=(Leaning(120.0, 900.0),) * len(ANGLES_DEG), is_stable=True),
        )
    ),
    pictures=Pictures(
        front=_picture(640, 480),
        behind=_picture(640, 480),
        thumb=_picture(160, 120),
        walls=_picture(640, 479),
        front_scale=lambda: 0.08,
    ),
    source=ModelSource(format="binary STL", units="mm", unit_source="assumed"),
)


def judged_sample(
    root: Path = CATALOGUE, day: date = DAY
) -> tuple[Catalogue, tuple[Sheet, ...], tuple[Problem, ...]]:
    catalogue = read_catalogue(root)
    copy = Copy(day, catalogue.depot.max_copy_age_days if catalogue.depot else 1)
    sheets = tuple(sheet(folder, WORKED if folder.mesh else None, catalogue, copy) for folder in catalogue.parts)
    found = [*catalogue.problems, *(problem for each in sheets for problem in each.problems)]
    return catalogue, sheets, in_order(found)
