"""The canonical form of what is approved: test vectors, and what changes it."""

import hashlib
import json
import os
import random
import subprocess
import sys
import textwrap
from pathlib import Path

import pytest

from generator.records.makers import Maker
from generator.records.materials import Material
from generator.records.parts import Part
from generator.rules.canonical import fingerprint, from_record, lines_of, text_in
from generator.rules.fingerprint import (
    canonical_text,
    changes,
)
from tests.rules.cases import EVIDENCE

ROOT = Path(__file__).parents[2]
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

# Written by hand after the form described in generator/rules/canonical.py, version 2.
SMALLEST = """\
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
SMALLEST_SHA256 = "8a468d96f62ae1d1e95748c370092fc109e990eeedfd1b575bc280076643c4da"

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
FULLEST = """\
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
FULLEST_SHA256 = "1e297c484b5ca30193bc8f74883f4932c563e97b578c03695a9aa9644bb0d14d"


def record(kind, content):
    return kind.model_validate_json(json.dumps(content))


def text(part=PART, material=MATERIAL, mesh=MESH):
    makers = [record(Maker, MAKER | {"id": "zeta", "process": "powder bed fusion"}), record(Maker, MAKER)]
    return canonical_text(record(Part, part), record(Material, material), makers, mesh)


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


def test_sha256_is_the_published_one():
    # FIPS 180-2, appendix B.1: the message "abc".
    assert fingerprint("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def test_composed_and_decomposed_letters_are_two():
    """They look alike; so the one that an editor might compose unseen is written with escapes."""
    composed, decomposed = "Ångström", "A\u030angstro\u0308m"
    one = PART | {"settings": {"orientation": composed}}
    other = PART | {"settings": {"orientation": decomposed}}
    assert 'setting orientation: "Ångström"\n' in text(one)
    assert 'setting orientation: "A\\u030angstro\\u0308m"\n' in text(other)
    assert from_record(text(other)) == text(other)


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
    assert 'material: "petg"\n' in lines


def test_changes_are_told_line_by_line():
    later = text(PART | {"revision": "B", "settings": {"orientation": "flat", "wall_mm": 2}})
    told = {(change.what, change.approved, change.now) for change in changes(SMALLEST, later)}
    assert told == {("revision", '"A"', '"B"'), ("setting wall mm", "none", "2")}
    assert changes(SMALLEST, SMALLEST) == ()


def test_a_line_more_or_less_is_a_change():
    told = {(change.what, change.approved, change.now) for change in changes(SMALLEST, FULLEST)}
    assert ('check "Bore" minus mm', None, "0.25") in told
    assert ('check "Bore" minus mm', "0.25", None) in {
        (change.what, change.approved, change.now) for change in changes(FULLEST, SMALLEST)
    }


@pytest.mark.parametrize(
    "other",
    [
        SMALLEST + 'number: "EX-0001"\n',
        'number: "EX-0001"\n' + SMALLEST,
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
    assert lines_of('check "x: y\\"" mm: "z: 1"\n') == {'check "x: y\\"" mm': '"z: 1"'}
    assert [text_in(each) for each in (None, "none", "1.5", '"a\\u00a0b"', '"broken')] == [None, None, "1.5", "a\u00a0b", None]


@pytest.mark.parametrize(
    "surroundings",
    [
        {"PYTHONHASHSEED": "1"},
        {"PYTHONHASHSEED": "2", "LC_ALL": "C", "PYTHONUTF8": "0"},
        {"PYTHONHASHSEED": "3", "LC_ALL": "de_DE.UTF-8", "TZ": "Pacific/Auckland"},
        {"PYTHONHASHSEED": "4", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0", "LANG": "POSIX"},
    ],
    ids=["other hash seed", "C locale", "German locale", "bare"],
)
def test_the_same_in_every_process(surroundings):
    script = textwrap.dedent("""
        from tests.rules.test_fingerprint import *
        from generator.rules.canonical import fingerprint
        print(fingerprint(text()), fingerprint(text(FULLEST_PART, FULLEST_MATERIAL)))
    """)
    done = subprocess.run(
        [sys.executable, "-c", script],
        cwd=ROOT,
        env=os.environ | surroundings,
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.split() == [SMALLEST_SHA256, FULLEST_SHA256]
