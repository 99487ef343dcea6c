"""What must hold of fire evidence whatever the figures are."""

import copy
import json
from datetime import timedelta
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.reading.standards import shipped_standard
from generator.records.fire import HazardLevel
from generator.records.standards import Sense
from generator.rules.fire.results import number_of
from tests.rules.fire.scene import UnreadableError, at_the_place_alone, cases, found, verdict

CAREFUL = ("fit", "ask", "no")
BASES = {name: base for name, base in cases()["bases"].items() if name not in ("outer_limited", "upholstery")}


def told(scene) -> int:
    """How careful the verdict is; a record that cannot be read is the most careful."""
    try:
        return CAREFUL.index(verdict(found(scene), scene["today"]))
    except UnreadableError:
        return 2


def changed(scene, **sections):
    other = copy.deepcopy(scene)
    for name, values in sections.items():
        other[name] |= values
    return other


@pytest.mark.parametrize("base", BASES)
def test_each_base_may_be_fitted(base):
    assert told(BASES[base]) == 0


@pytest.mark.parametrize("held", shipped_standard().sets, ids=lambda each: each.set)
def test_no_limit_is_kinder_at_a_higher_level(held):
    """As the standard means its levels; "-" counts as no limit. Source: facts of the data file, every row."""
    for limit in held.limits:
        method = shipped_standard().method(limit.test)
        asked = [limit.at(level) for level in HazardLevel]
        numbers = [number_of(each, method) for each in asked if each is not None]
        assert None not in numbers
        assert asked[: asked.count(None)] == [None] * asked.count(None)  # what is asked at a level is asked above it
        assert numbers == sorted(numbers, reverse=method.limit_is is Sense.MOST)


@pytest.mark.parametrize("base", BASES)
def test_a_higher_level_never_passes_what_a_lower_one_fails(base):
    verdicts = [told(BASES[base] | {"level": level}) for level in ("HL1", "HL2", "HL3")]
    assert verdicts == sorted(verdicts)


def _fields(scene):
    for i, report in enumerate(scene["reports"]):
        yield from ((i, None, key) for key in report if key != "results")
        yield from ((i, j, key) for j, result in enumerate(report["results"]) for key in result)


@pytest.mark.parametrize("base", BASES)
@pytest.mark.parametrize("failing", [False, True], ids=["passing", "failing"])
def test_no_field_left_out_makes_a_verdict_kinder(base, failing):
    """Of a report that passes, and of one that fails beside one that passes."""
    scene = copy.deepcopy(BASES[base])
    if failing:
        bad = copy.deepcopy(scene["reports"][0]) | {"report": "OFT 99/1"}
        for result in bad["results"]:
            method = shipped_standard().method(result["test"])
            result["value"] = "V-2" if method.classes else 1.0 if method.limit_is is Sense.LEAST else 1999.0
        scene["reports"].append(bad)
    before = told(scene)
    assert before == (2 if failing else 0)
    for i, j, key in _fields(scene):
        other = copy.deepcopy(scene)
        there = other["reports"][i] if j is None else other["reports"][i]["results"][j]
        del there[key]
        assert told(other) >= before, (i, j, key)


@pytest.mark.parametrize("base", BASES)
def test_the_order_of_reports_and_results_is_no_matter(base):
    scene = copy.deepcopy(BASES[base])
    scene["reports"].append(copy.deepcopy(scene["reports"][0]) | {"report": "OFT 99/2", "colour": "black"})
    seen = set()
    for order in permutations(scene["reports"]):
        for turned in (False, True):
            other = scene | {"reports": [each | {"results": each["results"][:: -1 if turned else 1]} for each in order]}
            seen.add(json.dumps([found(other).asked, [str(row.answer) for row in sorted(found(other).rows, key=str)]]))
    assert len(seen) == 1


@pytest.mark.parametrize("base", BASES)
def test_a_later_day_never_makes_it_kinder(base):
    scene = BASES[base]
    verdicts = [told(scene | {"today": scene["today"] + timedelta(days=days)}) for days in (0, 300, 551, 552, 553, 554, 4000)]
    assert verdicts == sorted(verdicts)


@given(st.floats(0.2, 30), st.floats(0.2, 30), st.floats(0, 5), st.floats(0, 5), st.sampled_from(sorted(BASES)))
def test_thinner_walls_and_thicker_sections_are_never_kinder(one, other, thinner, thicker, base):
    thin, thick = sorted((one, other))
    scene = changed(BASES[base], part={"thinnest_mm": thin, "thickest_mm": thick})
    harder = changed(BASES[base], part={"thinnest_mm": max(0.1, thin - thinner), "thickest_mm": thick + thicker})
    assert told(harder) >= told(scene)


@given(st.sampled_from(sorted(BASES)), st.integers(0, 9), st.sampled_from(["%", "-", "kW/m²", "min", "°C", "class", "", "g"]))
def test_a_unit_changed_without_its_value_never_fits(base, which, unit):
    scene = copy.deepcopy(BASES[base])
    results = scene["reports"][0]["results"]
    result = results[which % len(results)]
    if result["unit"].replace("m2", "m²") != unit:
        result["unit"] = unit
        assert told(scene) == 2


@given(st.sampled_from(sorted(BASES)), st.integers(0, 9), st.floats(-50, 2000))
def test_a_value_moved_to_the_bad_side_is_never_kinder(base, which, value):
    results = BASES[base]["reports"][0]["results"]
    index = which % len(results)
    method = shipped_standard().method(results[index]["test"])
    if method.classes:
        return

    def with_value(number):
        scene = copy.deepcopy(BASES[base])
        scene["reports"][0]["results"][index]["value"] = number
        return told(scene)

    if number_of(value, method) is not None:
        worse = value - 7.5 if method.limit_is is Sense.LEAST else value + 7.5
        assert with_value(worse) >= with_value(value)


def test_a_report_that_is_no_longer_accepted_answers_nothing_and_says_so():
    scene = BASES["good"]
    last = scene["reports"][0]["valid_until"]
    assert {(str(row.answer), row.why) for row in found(scene | {"today": last}).rows} == {("passes", ())}
    ended = found(scene | {"today": last + timedelta(days=1)}).rows
    assert {(str(row.answer), row.why) for row in ended} == {("missing", ("no longer accepted",))}


def test_a_choice_for_one_place_does_not_forget_the_walls_of_the_part():
    """Typed for the whole part, since measuring leaves a single thin rib out; source: the part is one, wherever it sits."""
    scene = changed(BASES["good"], part={"thinnest_mm": 1.0})
    assert {str(row.answer) for row in found(scene).rows if row.wanted.method.test == "T01"} == {"missing"}
    elsewhere = at_the_place_alone(scene, thinnest_mm=None)
    assert {str(row.answer) for row in elsewhere.rows if row.wanted.method.test == "T01"} == {"missing"}


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("value", "20"), ("value", "20,0"), ("value", "<20"), ("value", 150.0), ("method", "EN ISO 4589-2:2017"), ("method", "ISO 4589-2"),
        ("method", "EN ISO 4589\u20112"), ("unit", "percent"), ("unit", "\uff05"), ("infill_percent", 99), ("infill_percent", 20),
    ],
)  # fmt: skip
def test_a_failing_result_that_is_told_otherwise_still_asks(field, value):
    """Filed beside one that passes; what is typed wrongly, or of something a little else, must not be as if it were not there."""
    assert told(_with_a_failing_report(result={field: value})) >= 1


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("colour", "gray"), ("colour", "n\u0430tural"), ("process", "moulded"), ("lot_family", "type 5"), ("standard", "DIN 5510-2:2009"),
        ("standard", "\u0415N 45545-2:2020"), ("tested_on", "2024-01-01"), ("accepted_by", "trainee"),
    ],
)  # fmt: skip
def test_a_failing_report_of_something_a_little_else_still_asks(field, value):
    assert told(_with_a_failing_report(report={field: value})) >= 1


def _with_a_failing_report(report=None, result=None):
    scene = copy.deepcopy(BASES["good"])
    bad = copy.deepcopy(scene["reports"][0]) | {"report": "OFT 99/1"} | (report or {})
    bad["results"] = [bad["results"][0] | {"value": 20.0} | (result or {})]
    scene["reports"].append(bad)
    return scene
