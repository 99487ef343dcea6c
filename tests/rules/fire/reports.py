"""Reports of a fire laboratory in memory, good ones unless said otherwise, and the part that they are held against."""

from datetime import date

from generator.reading.standards import shipped_standard
from generator.records.fire import FireResult, FireTest, HazardLevel
from generator.records.makers import Process
from generator.rules.fire.results import Made, SetRequirement

OXYGEN, SMOKE, TOXICITY, FLAME = (shipped_standard().method(test) for test in ("T01", "T10.03", "T12", "T17"))
PRINTED = Process("material extrusion")


def result_of(method, value=31.2, thickness_mm=1.2, **more):
    said = {"test": method.test, "method": method.method, "unit": method.unit, "infill_percent": 100.0, "layers": ()}
    return FireResult(**(said | {"value": value, "thickness_mm": thickness_mm} | more))


def report_of(result, **more):
    said = {
        "standard": "EN 45545-2:2020+A1:2023", "report": "OFT 23/1", "laboratory": "Fire Test House", "accreditation": "OTH-0417",
        "tested_on": date(2023, 5, 23), "open_ended": True, "accepted_by": "fire-engineer", "process": PRINTED, "colour": "natural",
        "lot_family": "type 4", "results": (result,), "file": "documents/r.txt", "sha256": "a" * 64,
    }  # fmt: skip
    return FireTest(**(said | more))


def asked(**made):
    known = {"process": PRINTED, "colouring": "natural", "lot_family": "type 4", "thinnest_mm": 1.4, "thickest_mm": 6.0}
    return SetRequirement(
        material="petg", set="R22", level=HazardLevel.HL2, edition="2020+A1:2023", made=Made(**(known | made)), accepting=frozenset({"fire-engineer"})
    )
