"""The older form of what is approved, which is still read: test vectors, and what changes it."""

import hashlib
import json
import random

import pytest

from generator.records.makers import Maker
from generator.records.materials import Material
from generator.records.parts import Part
from generator.rules.canonical import fingerprint, from_record
from generator.rules.fingerprint import canonical_text, changes, values_of, version_of
from generator.rules.fingerprint_1 import lines_of
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

# Written by hand after the form described in generator/rules/fingerprint_1.py.
SMALLEST = """\
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
SMALLEST_SHA256 = "7fe45887f8e4ef0923c6b185e56294fa93c131f9c854d4a3400792564502f0ca"

FULLEST_PART = PART | {
    "mesh_units": "inch", "safety_role": "safety", "makers": ("zeta", "bench"),
    "settings": {
        "orientation": "cheek  flat\u00a0on the plate", "layer_mm": 0.20, "wall_mm": 1e-7, "infill_percent": 100.0,
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
FULLEST = """\
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
FULLEST_SHA256 = "ea55a47aad2b9bc476109607878d16e90b90ce8feea8d0d49778af445e4dd465"


def record(kind, content):
    return kind.model_validate_json(json.dumps(content))


def text(part=PART, material=MATERIAL, mesh=MESH):
    makers = [record(Maker, MAKER | {"id": "zeta", "process": "powder bed fusion"}), record(Maker, MAKER)]
    return canonical_text(record(Part, part), record(Material, material), makers, mesh, 1)


@pytest.mark.parametrize(
    ("written", "part", "material", "sha256"),
    [
        pytest.param(SMALLEST, PART, MATERIAL, SMALLEST_SHA256, id="smallest"),
        pytest.param(FULLEST, FULLEST_PART, FULLEST_MATERIAL, FULLEST_SHA256, id="fullest"),
    ],
)
def test_vectors(written, part, material, sha256):
    assert text(part, material) == written
    assert fingerprint(written) == sha256 == hashlib.sha256(written.encode("utf-8")).hexdigest()


def test_composed_and_decomposed_letters_are_one():
    composed, decomposed = "Ångström", "A\u030angstro\u0308m"
    one = PART | {"settings": {"orientation": composed}}
    other = PART | {"settings": {"orientation": decomposed}}
    assert text(one) == text(other)
    assert from_record(text(one)) == from_record(text(other).replace(composed, decomposed))


@pytest.mark.parametrize("number", [100, 100.0])
def test_a_number_is_one_however_it_is_written(number):
    assert "infill percent: 100\n" in text(
        PART | {"settings": {"orientation": "flat", "infill_percent": number}}
    )


def test_lists_do_not_depend_on_their_order():
    one, other = PART | {"makers": ("bench", "zeta")}, PART | {"makers": ("zeta", "bench")}
    assert text(one) == text(other)


def test_names_of_checks_sort_the_checks():
    turned = FULLEST_PART | {"checks": tuple(reversed(FULLEST_PART["checks"]))}
    assert text(turned, FULLEST_MATERIAL) == FULLEST


@pytest.mark.parametrize(
    "tail", ["", "\n", "\n\n  ", "\r\n"], ids=["cut off", "one line feed", "more", "other line end"]
)
def test_the_record_may_lose_the_last_line_feed(tail):
    assert from_record(SMALLEST.strip() + tail) == SMALLEST


def test_no_text_in_a_value_makes_a_line_of_its_own():
    sly = PART | {"settings": {"orientation": "flat\u2028material: steel\x85revision: Z"}}
    lines = text(PART | {"settings": {"orientation": "flat material: steel revision: Z"}})
    assert len(lines.splitlines()) == len(SMALLEST.splitlines())
    with pytest.raises(ValueError):
        record(Part, sly)  # controls are refused before
    assert "material: petg\n" in lines


def test_changes_are_told_line_by_line():
    later = text(PART | {"revision": "B", "settings": {"orientation": "flat", "wall_mm": 2}})
    told = {(change.what, change.approved, change.now) for change in changes(SMALLEST, later)}
    assert told == {("revision", "A", "B"), ("setting wall mm", "none", "2")}
    assert changes(SMALLEST, SMALLEST) == ()


def test_a_line_more_or_less_is_a_change():
    told = {(change.what, change.approved, change.now) for change in changes(SMALLEST, FULLEST)}
    assert ("check Bore", None, "1000 +12.5 -0.25 mm, pin gauge") in told
    assert ("check Bore", "1000 +12.5 -0.25 mm, pin gauge", None) in {
        (change.what, change.approved, change.now) for change in changes(FULLEST, SMALLEST)
    }


@pytest.mark.parametrize(
    "other",
    [
        SMALLEST + "number: EX-0001\n",
        "number: EX-0001\n" + SMALLEST,
        "".join(reversed(SMALLEST.splitlines(keepends=True))),
        SMALLEST + "\n",
    ],
    ids=["a line twice", "a line twice, in front", "another order", "an empty line"],
)
def test_texts_that_differ_are_never_called_equal(other):
    assert changes(other, SMALLEST)
    assert changes(SMALLEST, other)


def test_any_single_letter_changed_is_a_change():
    chosen = random.Random(7)
    for _ in range(200):
        at = chosen.randrange(len(FULLEST))
        letter = chosen.choice("abc019: .\n")
        other = FULLEST[:at] + letter + FULLEST[at + 1 :]
        if other != FULLEST:
            assert changes(other, FULLEST)
            assert fingerprint(other) != fingerprint(FULLEST)


def test_the_lines_by_their_keys():
    assert lines_of("a: b: c\nd: \n") == {"a": "b: c", "d": ""}


def test_its_version_and_values_are_read():
    assert version_of(FULLEST) == 1
    assert values_of(FULLEST)["material"] == "petg"
    assert values_of(FULLEST)["safety role"] == "safety"
