"""The two forms of what is approved: the records of the test vectors, and the texts written by hand after each form."""

import json
from dataclasses import dataclass
from typing import Any

from generator.records.makers import Maker
from generator.records.materials import Material
from generator.records.parts import Part
from generator.rules.fingerprint import canonical_text
from tests.rules.cases import EVIDENCE

MESH = "ab" * 32
MAKER = {
    "id": "bench", "name": "The bench", "kind": "in-house", "process": "material extrusion",
    "build_volume_mm": (200.0, 200.0, 200.0), "materials": ("petg",), "lead_time_days": 2,
    "price": {"per_gram": 0.1}, "order_at": "counter",
}  # fmt: skip
PART = {
    "number": "EX-0001", "revision": "A", "name": "Lid knob", "purpose": "Turns.",
    "fits": ({"fleet": "A1", "place": "cab", "per_vehicle": 2},), "safety_role": "none", "material": "petg",
    "makers": ("bench",), "settings": {"orientation": "flat"},
}  # fmt: skip
MATERIAL = {"name": "PETG", "family": "PETG", "density_g_cm3": 1.27, "processes": ("material extrusion",)}
FULLEST_PART = PART | {
    "mesh_units": "inch", "safety_role": "safety", "makers": ("zeta", "bench"),
    "settings": {
        "orientation": 'cheek  flat\u00a0on the "plate"', "layer_mm": 0.20, "wall_mm": 1e-7, "infill_percent": 100.0,
        "support": "none", "after_print": "dried 8 h at 80 °C: Ångström",
    },
    "fire": {
        "requirement_set": "R22", "thinnest_wall_mm": 1.50, "chosen_by": "x", "reason": "y",
        "exemption": {"reference": "FE 7", "by": "x", "on": "2026-01-02", "evidence": EVIDENCE},
    },
    "checks": (
        {"name": "Zapfen", "nominal_mm": 22, "plus_mm": 0.1, "minus_mm": 0},
        {"name": "Bore", "nominal_mm": 1e3, "plus_mm": 12.50, "minus_mm": 0.25, "measured_with": "pin gauge"},
    ),
}  # fmt: skip
FULLEST_MATERIAL = MATERIAL | {
    "properties": {
        "tensile_strength_mpa": 43, "tensile_strength_z_mpa": 26.5, "tensile_modulus_mpa": 2050,
        "heat_deflection_c": -0.5, "limiting_oxygen_index_percent": 0,
    }
}  # fmt: skip


@dataclass(frozen=True)
class Form:
    """A version of the form: how texts stand in it, and the vectors."""

    version: int
    quote: str
    smallest: str
    smallest_sha256: str
    fullest: str
    fullest_sha256: str
    fullest_part: dict[str, Any]
    check: tuple[str, str]  # a line that only the fullest has

    def text(self, part=PART, material=MATERIAL, mesh=MESH) -> str:
        makers = [record(Maker, MAKER | {"id": "zeta", "process": "powder bed fusion"}), record(Maker, MAKER)]
        return canonical_text(record(Part, part), record(Material, material), makers, mesh, version=self.version)

    def quoted(self, word: str) -> str:
        return f"{self.quote}{word}{self.quote}"


def record(kind, content):
    return kind.model_validate_json(json.dumps(content))


# YamlFile by hand after the form described in generator/rules/fingerprint_1.py …
_SMALLEST_1 = """\
spares fingerprint: 1
number: EX-0001
revision: A
mesh sha256: abababababababababababababababababababababababababababababababab
mesh units: none
safety role: none
material: petg
material family: PETG
material density g/cm3: 1.27
material tensile strength mpa: none
material tensile strength z mpa: none
material tensile modulus mpa: none
material heat deflection c: none
material limiting oxygen index percent: none
makers: bench
processes: material extrusion
setting orientation: flat
setting layer mm: none
setting wall mm: none
setting infill percent: none
setting support: none
setting after print: none
fire requirement set: none
thinnest wall mm: none
"""
_FULLEST_1 = """\
spares fingerprint: 1
number: EX-0001
revision: A
mesh sha256: abababababababababababababababababababababababababababababababab
mesh units: inch
safety role: safety
material: petg
material family: PETG
material density g/cm3: 1.27
material tensile strength mpa: 43
material tensile strength z mpa: 26.5
material tensile modulus mpa: 2050
material heat deflection c: -0.5
material limiting oxygen index percent: 0
makers: bench, zeta
processes: material extrusion, powder bed fusion
setting orientation: cheek flat on the plate
setting layer mm: 0.2
setting wall mm: 0.0000001
setting infill percent: 100
setting support: none
setting after print: dried 8 h at 80 °C: Ångström
fire requirement set: R22
thinnest wall mm: 1.5
fire exemption: FE 7, sha256 0000000000000000000000000000000000000000000000000000000000000000
check Bore: 1000 +12.5 -0.25 mm, pin gauge
check Zapfen: 22 +0.1 -0 mm, caliper
"""

# … and after generator/rules/canonical.py.
_SMALLEST_2 = """\
spares fingerprint: 2
number: "EX-0001"
revision: "A"
mesh sha256: "abababababababababababababababababababababababababababababababab"
mesh units: none
safety role: "none"
material: "petg"
material family: "PETG"
material density g/cm3: 1.27
material tensile strength mpa: none
material tensile strength z mpa: none
material tensile modulus mpa: none
material heat deflection c: none
material limiting oxygen index percent: none
maker "bench": "material extrusion"
setting orientation: "flat"
setting layer mm: none
setting wall mm: none
setting infill percent: none
setting support: none
setting after print: none
fire requirement set: none
thinnest wall mm: none
"""
_FULLEST_2 = """\
spares fingerprint: 2
number: "EX-0001"
revision: "A"
mesh sha256: "abababababababababababababababababababababababababababababababab"
mesh units: "inch"
safety role: "safety"
material: "petg"
material family: "PETG"
material density g/cm3: 1.27
material tensile strength mpa: 43
material tensile strength z mpa: 26.5
material tensile modulus mpa: 2050
material heat deflection c: -0.5
material limiting oxygen index percent: 0
maker "bench": "material extrusion"
maker "zeta": "powder bed fusion"
setting orientation: "cheek  flat\\u00a0on the \\"plate\\""
setting layer mm: 0.2
setting wall mm: 0.0000001
setting infill percent: 100
setting support: "none"
setting after print: "dried 8 h at 80 °C: Ångström"
fire requirement set: "R22"
thinnest wall mm: 1.5
fire exemption reference: "FE 7"
fire exemption sha256: "0000000000000000000000000000000000000000000000000000000000000000"
check "Bore" nominal mm: 1000
check "Bore" plus mm: 12.5
check "Bore" minus mm: 0.25
check "Bore" measured with: "pin gauge"
check "Zapfen" nominal mm: 22
check "Zapfen" plus mm: 0.1
check "Zapfen" minus mm: 0
check "Zapfen" measured with: "caliper"
"""

FORM_1 = Form(
    version=1,
    quote="",
    smallest=_SMALLEST_1,
    smallest_sha256="7fe45887f8e4ef0923c6b185e56294fa93c131f9c854d4a3400792564502f0ca",
    fullest=_FULLEST_1,
    fullest_sha256="ea55a47aad2b9bc476109607878d16e90b90ce8feea8d0d49778af445e4dd465",
    fullest_part=FULLEST_PART | {"settings": FULLEST_PART["settings"] | {"orientation": "cheek  flat\u00a0on the plate"}},
    check=("check Bore", "1000 +12.5 -0.25 mm, pin gauge"),
)
FORM_2 = Form(
    version=2,
    quote='"',
    smallest=_SMALLEST_2,
    smallest_sha256="8a468d96f62ae1d1e95748c370092fc109e990eeedfd1b575bc280076643c4da",
    fullest=_FULLEST_2,
    fullest_sha256="1e297c484b5ca30193bc8f74883f4932c563e97b578c03695a9aa9644bb0d14d",
    fullest_part=FULLEST_PART,
    check=('check "Bore" minus mm', "0.25"),
)
