"""Write every demo mesh and the exact figures of its solid: `python -m tests.models.export [NUMBER ...]`."""

from __future__ import annotations

import json
import sys
from pathlib import Path

from build123d import Part
from OCP.BRepGProp import BRepGProp
from OCP.GProp import GProp_GProps

from tests.models.catalogue_models import MODELS, CatalogueModel
from tests.models.features import standing
from tests.models.writing import MESH_WRITERS, step, triangles

CATALOGUE = Path(__file__).parents[2] / "catalogue"
EXACT = Path(__file__).with_name("exact.json")
MOST_BYTES = 1_000_000
MOST_ERROR = 1e-6  # relative, as the kernel bounds it


def integrated(solid: Part) -> tuple[float, float]:
    """Volume in mm³ and area in mm², integrated until the kernel's own bound of the error is met.

    Asked without a bound it takes a fixed number of points a face: up to 1.5 % off on free-form faces.
    """
    volume, area = GProp_GProps(), GProp_GProps()
    errors = (
        BRepGProp.VolumeProperties_s(solid.wrapped, volume, MOST_ERROR, False, False),
        BRepGProp.SurfaceProperties_s(solid.wrapped, area, MOST_ERROR, False),
    )
    if max(errors) > MOST_ERROR:
        raise ValueError(f"the kernel could only integrate to {max(errors):.1e}")
    return volume.Mass(), area.Mass()


def exact_figures(solid: Part, model: CatalogueModel) -> dict[str, object]:
    """What the kernel's exact surfaces say: mm, mm², mm³; rounded to 0.001 %, so that two machines agree."""
    size, centre = solid.bounding_box().size, solid.center()
    volume_mm3, area_mm2 = integrated(solid)
    return {
        "slug": model.slug,
        "file": model.path,
        "volume_mm3": round(volume_mm3, 1),
        "area_mm2": round(area_mm2, 1),
        "size_mm": [round(length, 2) for length in tuple(size)],
        "centre_of_mass_mm": [round(length, 2) + 0.0 for length in tuple(centre)],
        "facet_tolerance_mm": model.tolerance_mm,
        "facet_angle_rad": model.angle_rad,
    }


def file_bytes(solid: Part, model: CatalogueModel) -> bytes:
    """The part's file in the format of the table."""
    if model.suffix == "step":
        return step(solid, model.slug)
    return MESH_WRITERS[model.suffix](*triangles(solid, model.tolerance_mm, model.angle_rad))


def export(model: CatalogueModel, catalogue: Path) -> dict[str, object]:
    """Write one part's file; a solid that is broken, in pieces or too large is refused."""
    solid = standing(model.build())
    if not solid.is_valid or len(solid.solids()) != 1:
        raise ValueError(f"{model.number}: {len(solid.solids())} solids, valid: {solid.is_valid}")
    content = file_bytes(solid, model)
    if len(content) > MOST_BYTES:
        raise ValueError(f"{model.number}: {len(content)} bytes, at most {MOST_BYTES} are wanted")
    path = catalogue / model.path
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)
    print(f"{model.number} {model.path} {len(content) / 1000:.0f} kB")
    return exact_figures(solid, model)


def main(numbers: list[str]) -> int:
    figures = json.loads(EXACT.read_text()) if EXACT.exists() else {}
    for model in MODELS:
        if not numbers or model.number in numbers:
            figures[model.number] = export(model, CATALOGUE)
    EXACT.write_text(json.dumps(dict(sorted(figures.items())), indent=1) + "\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
