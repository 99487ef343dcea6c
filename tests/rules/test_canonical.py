"""No two different records give the same canonical text: what is bound can be read back from it, sign by sign."""

import json
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.records.fitting import FittingNotes
from generator.records.fleets import Fleet
from generator.records.makers import Maker
from generator.records.materials import Material
from generator.records.parts import Part
from generator.rules.canonical import from_record, is_well_formed, joined, lines_of, text_in
from generator.rules.changes import Means
from generator.rules.consequences import line_of, weighed
from generator.rules.fingerprint import (
    BoundBeside,
    Sent,
    canonical_text,
    part_section,
    place_changes,
    place_text,
)

SLY = 'ab"\\:,. none62+-[]{}\u00a0\u0301\u00e1\u2028\u202f\u200bé'
texts = st.one_of(
    st.sampled_from(["none", "null", "6", '"', "a: b", 'x": "y', "Bore: 6 +0.1 -0 mm, caliper", "a, b", "á", "a\u0301"]),
    st.text(SLY, min_size=1, max_size=8).filter(str.strip).map(str.strip),
)
numbers = st.sampled_from([0.1, 0.2, 1.0, 2.0, 6.0, 1e-7, 12.5])
checks = st.lists(
    st.fixed_dictionaries(
        {"name": texts, "nominal_mm": st.just(20.0), "plus_mm": numbers, "minus_mm": numbers, "measured_with": texts}
    ),
    max_size=3,
    unique_by=lambda check: " ".join(unicodedata.normalize("NFC", check["name"]).split()).casefold(),
)
settings_of_print = st.fixed_dictionaries(
    {"orientation": texts},
    optional={"support": texts, "after_print": texts, "layer_mm": numbers, "wall_mm": numbers, "infill_percent": numbers},
)
processes = st.sampled_from(["material extrusion", "powder bed fusion"])


kinds = st.sampled_from(["in-house", "bureau"])
sums = st.sampled_from(["a" * 64, "b" * 64])
CERTIFICATE = st.fixed_dictionaries({
    "type": st.sampled_from(["2.1", "3.1"]), "reference": texts, "issued_on": st.sampled_from(["2025-01-01", "2025-01-02"]),
    "valid_until": st.sampled_from([None, "2030-01-01"]), "open_ended": st.booleans(), "file": st.sampled_from(["a", "b"]), "sha256": sums,
})  # fmt: skip
REPORT = st.fixed_dictionaries({
    "standard": texts, "requirement_set": st.sampled_from(["R1", "R22"]), "hazard_level": st.sampled_from(["HL1", "HL2"]),
    "report": texts, "laboratory": texts, "tested_on": st.just("2025-01-01"), "valid_until": st.sampled_from([None, "2030-01-01"]),
    "open_ended": st.booleans(), "thickness_mm": numbers.filter(lambda size: size >= 0.1), "file": st.just("a"), "sha256": sums,
})  # fmt: skip


def papers(kind):
    """In an order of their own, none twice: neither says anything."""
    return st.lists(kind, max_size=3).map(lambda found: list({json.dumps(each): each for each in sorted(found, key=json.dumps)}.values()))


files_ = st.dictionaries(texts, sums, max_size=2).map(lambda found: tuple(sorted(found.items())))
notes = st.one_of(st.just(""), texts, st.sampled_from(["x" * 4000, "x" * 4001, "x" * 4000 + "y"]))
beside = st.builds(
    BoundBeside, documents=files_, photos=files_, fitting=st.builds(FittingNotes, notes, notes, notes, notes, notes),
    evidence=st.dictionaries(st.tuples(st.just("2025-01-01"), texts, texts), sums, max_size=2).map(
        lambda found: tuple(Sent(*key, value) for key, value in sorted(found.items()))
    ),
)  # fmt: skip


@st.composite
def bound(draw):
    """All that a text binds, drawn from a few sly values so that collisions are near: part, material, makers, mesh."""
    part = {
        "number": draw(st.sampled_from(["EX-1", "EX-2"])), "revision": draw(st.sampled_from(["A", "B"])), "name": "Knob",
        "purpose": "Turns.", "fits": [{"fleet": "A1", "place": "cab", "per_vehicle": 1}],
        "safety_role": draw(st.sampled_from(["none", "safety"])), "material": draw(st.sampled_from(["petg", "none"])),
        "makers": sorted(draw(st.sets(st.sampled_from(["bench", "bureau", "none"]), min_size=1))),
        "settings": draw(settings_of_print), "checks": sorted(draw(checks), key=lambda each: each["name"]),
        "mesh_units": draw(st.sampled_from([None, "mm", "inch"])),
    }  # fmt: skip
    material = {
        "name": "PETG", "family": draw(texts), "grade": draw(st.none() | texts), "supplier": draw(st.none() | texts),
        "density_g_cm3": draw(numbers), "processes": ["material extrusion"],
        "certificates": draw(papers(CERTIFICATE)), "fire_tests": draw(papers(REPORT)),
    }  # fmt: skip
    makers = {name: (draw(processes), draw(kinds), draw(texts), draw(st.none() | texts)) for name in part["makers"]}
    return part, material, makers, draw(beside), draw(sums)


def text_of(part, material, makers, told, mesh):
    made = [
        Maker.model_validate_json(json.dumps({
            "id": name, "name": called, "kind": kind, "process": process, "machine_model": model, "build_volume_mm": [9, 9, 9],
            "materials": ["petg"], "lead_time_days": 1, "price": {"per_gram": 1}, "order_at": "counter",
        }))
        for name, (process, kind, called, model) in makers.items()
    ]  # fmt: skip
    return canonical_text(_record(Part, part), _record(Material, material), made, mesh, told)


def _record(kind, content):
    return kind.model_validate_json(json.dumps(content))


@given(bound(), bound())
def test_equal_texts_mean_equal_records(one, other):
    assert (text_of(*one) == text_of(*other)) == (one == other)


@given(bound(), bound(), st.sampled_from([1, 3, 4]))
def test_equal_texts_mean_equal_records_where_only_one_thing_differs(one, other, which):
    """The material with its papers, what lies in the folder, or the model."""
    mixed = [*one[:which], other[which], *one[which + 1 :]]
    assert (text_of(*one) == text_of(*mixed)) == (one[which] == other[which])


@given(bound(), texts, texts)
def test_one_text_changed_is_another_record(one, before, after):
    part, *rest = one
    texts_ = [text_of(part | {"settings": {"orientation": each}}, *rest) for each in (before, after)]
    assert (texts_[0] == texts_[1]) == (before == after)


@given(st.lists(texts, min_size=1, max_size=4))
def test_what_goes_in_comes_out(values):
    text = joined((f"key {i}", value) for i, value in enumerate(values))
    assert [text_in(each) for each in lines_of(from_record(text)).values()] == values
    assert len(text.splitlines()) == len(values)


VOID, ASK, FREE = Means.VOID, Means.ASK, Means.FREE
FLEET = _record(Fleet, {
    "id": "A1", "name": "A1 railcar", "vehicles": ["11-14"], "in_service_since": 1990, "operation_category": 2,
    "design_category": "N", "places": [{"id": "cab", "name": "Driver's cab", "area": "interior", "largest_mm": 200}],
})  # fmt: skip
# YamlFile by hand: hazard level HL2 for operation category 2, design category N (EN 45545-2, Table 1, from memory).
PLACE = """\
at "A1" "cab" fleet: "A1 railcar"
at "A1" "cab" in service since: 1990
at "A1" "cab" operation category: 2
at "A1" "cab" design category: "N"
at "A1" "cab" hazard level: "HL2"
at "A1" "cab" name: "Driver's cab"
at "A1" "cab" area: "interior"
"""


def test_a_place_is_told_line_by_line():
    assert place_text(FLEET, FLEET.places[0], None, version=2) == PLACE
    assert part_section("number: 1\n" + PLACE) == "number: 1\n"


@pytest.mark.parametrize(
    ("fleet", "place", "weights"),
    [
        ({"operation_category": 1}, {}, {"hazard level": VOID, "operation category": VOID}),
        ({"operation_category": 3}, {}, {"operation category": VOID}),
        ({"design_category": "A"}, {}, {"design category": VOID}),
        ({}, {"area": "exterior"}, {"area": VOID}),
        ({}, {"name": "Engine room"}, {"name": ASK}),
        ({"name": "A1, rebuilt"}, {}, {"fleet": ASK}),
        ({}, {"name": "DRIVER'S  cab."}, {"name": FREE}),
        ({"in_service_since": 1991}, {}, {"in service since": ASK}),
        ({}, {"largest_mm": 300.0}, {}),
        ({"vehicles": ["11-15"]}, {}, {}),
    ],
)
def test_what_has_changed_of_a_place(fleet, place, weights):
    content = json.loads(FLEET.model_dump_json()) | fleet
    content["places"][0] |= place
    changed = _record(Fleet, content)
    found = place_changes("spares fingerprint: 2\n" + PLACE, changed, changed.places[0], None)
    assert {line_of(each): each.means for each in weighed(found, {}, {})} == weights


def test_what_is_not_told_of_a_place_is_unknown():
    assert place_changes("spares fingerprint: 2\n", FLEET, FLEET.places[0], None) is None
    assert place_changes("spares fingerprint: 1\n" + PLACE, FLEET, FLEET.places[0], None) is None


def test_half_a_sign_is_no_text():
    assert text_in('"\\ud800"') is None
    assert text_in('"\\ud83d\\ude00"') == "😀"


@pytest.mark.parametrize(
    ("text", "is_fine"),
    [
        ("a: 1\nb: 2\n", True),
        ("a: 1\na: 1\n", False),
        ("a: 1\nb\n", False),
        ("a: 1\n\nb: 2\n", False),
        ('a: "x"b: "y"\n', False),
        ("a: x\n", False),
        ("a: 6 mm\n", False),
    ],
    ids=["as written", "twice", "no value", "an empty line", "two run together", "a bare word", "a number and more"],
)
def test_a_text_says_each_thing_once(text, is_fine):
    assert is_well_formed(text) is is_fine
