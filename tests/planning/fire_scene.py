"""A small depot in memory: parts, materials with reports, makers; judged as any other, without permits."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from generator.geometry.facts import MeshFacts
from generator.geometry.measured import Kept, ModelSource, Pictures, Worked
from generator.records.catalogue import Catalogue, KeptFile, PartFolder
from generator.records.fire import Fire, FireResult, FireTest, Layers
from generator.records.makers import Maker, Process
from generator.records.materials import Certificate, InspectionDocument, Material
from generator.records.parts import Fit
from generator.rules.facts.case import Copy
from generator.rules.sheet import Sheet, sheet
from tests.rules.cases import knob, tiny

DAY = date(2026, 11, 25)
COPY = Copy(DAY, 45)
BOTH = (Layers.ALONG, Layers.ACROSS)
METHOD = {"T01": ("EN ISO 4589-2", "%"), "T10.03": ("EN ISO 5659-2", "-"), "T12": ("NF X70-100", "-")}
# R22 at HL2, by generator/standards/en-45545-2.yml: oxygen index 28 %, smoke 300, gases 0.9.
GOOD = {"T01": 31.2, "T10.03": 210.0, "T12": 0.4}
AT_HL2, AT_HL1 = ("A1", "cab"), ("B2", "cab")


def result(test: str, value: float, thickness: float | None = None, layers: Sequence[Layers] = BOTH) -> FireResult:
    method, unit = METHOD[test]
    mass = 1.0 if test == "T12" else None
    return FireResult(
        test=test, method=method, value=value, unit=unit, thickness_mm=thickness, mass_g=mass, layers=tuple(layers), infill_percent=100
    )


def report(name: str, *results: FireResult, **told: Any) -> FireTest:
    """A report with nothing amiss, as far as `told` does not say otherwise."""
    said: dict[str, Any] = {
        "standard": "EN 45545-2:2020+A1:2023", "laboratory": "Fire house", "accreditation": "OTH-0417", "tested_on": date(2024, 1, 2),
        "valid_until": date(2028, 5, 31), "accepted_by": "fire-engineer", "process": Process.MATERIAL_EXTRUSION, "colour": "natural",
        "lot_family": "type 4",
    }  # fmt: skip
    sha256 = (name.encode().hex() * 64)[:64]
    return FireTest(report=name, results=results, file=f"documents/{name}.txt", sha256=sha256, **said | told)


def full(name: str, thin: float = 1.0, thick: float = 6.0, **told: Any) -> FireTest:
    """A report of all that R22 asks."""
    every = result("T01", 31.2, thin), result("T10.03", 210.0, thick), result("T12", 0.4)
    return report(name, *every, **told)


def material(*reports: FireTest, **told: Any) -> Material:
    plain = tiny().materials["petg"]
    said = {"colouring": "natural", "lot_family": "type 4", "processes": tuple(Process), "fire_tests": reports, "certificates": ()} | told
    return plain.model_copy(update=said)


def certificate(name: str, **told: Any) -> Certificate:
    said = {"issued_on": date(2025, 2, 3), "valid_until": date(2027, 12, 31), "file": f"documents/{name}.txt", "sha256": (name.encode().hex() * 64)[:64]}
    return Certificate(type=InspectionDocument.CERTIFICATE_3_1, reference=name, **said | told)


def maker(name: str, materials: Iterable[str], process: Process = Process.MATERIAL_EXTRUSION, **told: Any) -> Maker:
    plain = tiny().makers["bench"]
    return plain.model_copy(update={"id": name, "process": process, "materials": tuple(materials)} | told)


def fire(thin: float | None = 1.4, thick: float | None = 6.0, **told: Any) -> Fire:
    said: dict[str, Any] = {
        "requirement_set": "R22", "thinnest_wall_mm": thin, "thickest_section_mm": thick, "chosen_by": "fire-engineer", "reason": "small",
        "reference": "N-1", "on": date(2025, 6, 1), "evidence": {"file": "documents/note.txt", "sha256": "a" * 64},
    }  # fmt: skip
    return Fire.model_validate(said | told)


def part(number: str, made_of: str = "petg", places: Sequence[tuple[str, str]] = (AT_HL2,), need: Fire | None = None, **told: Any) -> PartFolder:
    """A part with its fire engineer's note kept; solid, of the bench."""
    fits = tuple(Fit(fleet=fleet, place=place, per_vehicle=1) for fleet, place in places)
    said = {"number": number, "material": made_of, "makers": ("bench",), "fits": fits, "fire": need or fire()} | told
    folder = f"parts/{number}"
    note = KeptFile(path=f"{folder}/documents/note.txt", size_bytes=9, sha256="a" * 64)
    plain = tiny().parts[0]
    return replace(
        plain, folder=folder, number=number, part=knob().model_copy(update=said), approval=None, mesh=None, documents=(note,), photos=(),
        event_places=(), problems=(),
    )  # fmt: skip


def depot(parts: Sequence[PartFolder], materials: dict[str, Material], makers: Sequence[Maker] | None = None) -> Catalogue:
    every = makers if makers is not None else (maker("bench", materials),)
    return replace(
        tiny(), parts=tuple(parts), materials=materials, material_files=files_of(materials), makers={each.id: each for each in every}, problems=(),
    )  # fmt: skip


def files_of(materials: dict[str, Material]) -> dict[str, KeptFile]:
    papers = [paper for each in materials.values() for paper in (*each.fire_tests, *each.certificates)]
    return {paper.file: KeptFile(path=f"materials/{paper.file}", size_bytes=9, sha256=paper.sha256) for paper in papers}


def cube(side_mm: float = 21.544346900318832) -> Worked:
    """A solid cube, of 10 cm³ by default: the third root of 10 000 mm³."""
    facts = MeshFacts(
        size_mm=(side_mm,) * 3, oriented_size_mm=(side_mm,) * 3, faces=12, vertices=8, bodies=1, area_mm2=6 * side_mm**2, volume_mm3=side_mm**3,
        is_watertight=True, defects=(),
    )  # fmt: skip
    nothing = Kept("-", lambda: b"")
    pictures = Pictures(front=nothing, behind=nothing, thumb=nothing, front_scale=lambda: 1.0)
    return Worked(facts=facts, pictures=pictures, source=ModelSource(format="STL", units="mm", unit_source="part.yml"))


def judged(catalogue: Catalogue, copy: Copy = COPY, worked: Worked | None = None) -> tuple[Sheet, ...]:
    return tuple(sheet(each, worked, catalogue, copy) for each in catalogue.parts)
