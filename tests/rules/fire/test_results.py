"""One result against one limit: what it speaks of, what it proves, and when a failing one takes a passing one away."""

from dataclasses import replace

import pytest

from generator.reading.standards import shipped_standard
from generator.records.standards import Certainty
from generator.rules.fire.results import (
    HeldResult,
    WantedLimit,
    contradicts,
    differences_of,
    edition_of,
    held_against,
    is_as_kind,
    is_named,
    number_of,
    unsized,
    why_not,
)
from tests.rules.fire.reports import FLAME, OXYGEN, SMOKE, TOXICITY, asked, report_of, result_of


def held(method=OXYGEN, value=20.0, limit=28.0, thickness_mm=1.2, of=None, **more):
    result = result_of(method, value, thickness_mm, **more)
    return held_against(WantedLimit(Certainty.AGREED, method, limit), report_of(result, **(of or {})), result, asked())


def test_a_failing_result_of_what_is_printed_takes_a_pass_away_and_one_of_something_else_does_not():
    passing = held(value=31.2)
    assert passing.passes
    assert contradicts(held(), passing)
    for other in ({"process": "moulded"}, {"colour": "black"}, {"lot_family": "type 5"}):
        assert not contradicts(held(of=other), passing)
    assert not contradicts(held(infill_percent=20.0), passing)
    # Who accepts a report, or by which edition it was read, makes nothing burn otherwise.
    assert contradicts(held(of={"accepted_by": "trainee", "accreditation": None, "standard": "EN 45545-2:2013"}), passing)


@pytest.mark.parametrize("unsaid", [{"process": None}, {"colour": None}, {"lot_family": None}])
def test_what_a_failing_report_does_not_say_is_taken_to_be_the_parts_own(unsaid):
    assert contradicts(held(of=unsaid), held(value=31.2))
    assert held(infill_percent=None).is_of_the_part


def test_a_failing_specimen_that_was_harder_to_pass_with_says_nothing_of_the_one_that_passed():
    """A thinner sheet lets go sooner, a thicker one smokes more (from memory); by mass every specimen is alike."""
    assert is_as_kind(held(thickness_mm=1.2), held(value=31.2))
    assert is_as_kind(held(thickness_mm=2.0), held(value=31.2))
    assert not is_as_kind(held(thickness_mm=1.0), held(value=31.2))
    assert not contradicts(held(thickness_mm=1.0), held(value=31.2))
    thick = held(SMOKE, 210.0, 300.0, 6.0)
    assert is_as_kind(held(SMOKE, 400.0, 300.0, 6.0), thick)
    assert is_as_kind(held(SMOKE, 400.0, 300.0, 3.0), thick)
    assert not is_as_kind(held(SMOKE, 400.0, 300.0, 8.0), thick)
    light = held(TOXICITY, 0.4, 0.9, 6.0, mass_g=1.0)
    assert is_as_kind(held(TOXICITY, 2.0, 0.9, 1.0, mass_g=1.0), light)
    assert is_as_kind(held(TOXICITY, 2.0, 0.9, 9.0, mass_g=1.0), light)


def test_of_a_size_that_nobody_wrote_down_a_failing_result_speaks_of_every_size():
    assert is_as_kind(held(thickness_mm=None), held(value=31.2))
    # A pass of no size proves nothing, and is not held; were there one, it would not stand against a failing one either.
    passing = held(value=31.2)
    sizeless = HeldResult(passing.report, passing.result.model_copy(update={"thickness_mm": None}), passing.method, passing.margin, (), covers=True)
    assert is_as_kind(held(), sizeless)


def test_a_pass_counts_only_where_the_specimens_size_is_said():
    assert held(value=31.2, thickness_mm=None) is None
    assert held(value=28.0, thickness_mm=None) is None
    assert unsized(result_of(OXYGEN, thickness_mm=None), OXYGEN) == "no thickness"
    assert unsized(result_of(OXYGEN), OXYGEN) is None
    for mass_g, why in ((None, "no mass"), (0.4, "no mass"), (0.5, None), (2.0, None), (2.1, "no mass")):
        assert unsized(result_of(TOXICITY, thickness_mm=None, mass_g=mass_g), TOXICITY) == why
    any_mass = TOXICITY.model_copy(update={"specimen_mass_g": None})
    assert [unsized(result_of(any_mass, mass_g=mass_g), any_mass) for mass_g in (None, 0.01, 500.0)] == ["no mass", None, None]


def test_a_report_of_another_standard_names_no_edition_of_this_one():
    assert edition_of("EN 45545-2:2020") == "2020"
    assert edition_of(" EN  45545-2:2020+A1:2023 ") == "2020+A1:2023"
    assert [edition_of(each) for each in ("DIN 5510-2:2009", "EN 45545-2", "EN 45545-3:2013")] == [None, None, None]


def test_a_method_goes_by_each_of_its_names():
    also = OXYGEN.model_copy(update={"also": ("ISO 4589-2",)})
    assert is_named("en iso  4589-2", also)
    assert is_named("ISO 4589-2", also)
    assert not is_named("ISO 4589-2", OXYGEN)
    assert not is_named("ISO 4589-3", also)


def test_only_a_word_is_a_class_and_only_a_real_number_a_figure():
    assert [number_of(each, FLAME) for each in ("V-0", "v0", "V-1", "V-2", "V-3", 0.0)] == [2.0, 2.0, 1.0, 0.0, None, None]
    numbered = FLAME.model_copy(update={"classes": ("1.0", "2.0")})
    assert (number_of("1.0", numbered), number_of(1.0, numbered)) == (1.0, None)
    assert [number_of(each, OXYGEN) for each in ("31", 100.0, 100.1, 0.0, float("inf"), float("-inf"))] == [None, 100.0, None, 0.0, None, None]
    assert [number_of(each, SMOKE) for each in (1.0, 0.9, 5000.0, float("inf"), float("nan"))] == [1.0, None, 5000.0, None, None]
    assert number_of(31, OXYGEN) == 31.0
    assert number_of(31.0, OXYGEN.model_copy(update={"plausible": None})) is None


def test_why_a_result_proves_nothing_is_told_in_words():
    plain = result_of(SMOKE, 210.0, 6.0)
    assert why_not(report_of(plain), plain, SMOKE) is None
    assert why_not(report_of(plain, standard="DIN 5510-2:2009"), plain, SMOKE) == "other standard"
    told = {"method": "EN ISO 5659-9"}, {"unit": "%"}, {"value": "low"}
    assert [why_not(report_of(plain), plain.model_copy(update=each), SMOKE) for each in told] == ["other method", "other unit", "no such value"]
    square = shipped_standard().method("T03.01")
    assert why_not(report_of(plain), result_of(square, 60.0, unit=" kW/m2"), square) is None


def test_a_result_at_the_limit_meets_it_and_the_margin_tells_by_how_much():
    assert [held(value=each).margin for each in (27.0, 28.0, 31.0)] == [-1.0, 0.0, 3.0]
    assert [held(SMOKE, each, 300.0, 6.0).margin for each in (301.0, 300.0, 210.0)] == [-1.0, 0.0, 90.0]
    assert [held(value=each).passes for each in (27.0, 27.9, 28.0)] == [False, False, True]
    assert [held(value=each, thickness_mm=None).passes for each in (27.0, 27.9)] == [False, False]  # of whatever size, it failed
    assert held(limit=None) is None
    assert held(limit="high") is None
    plain = result_of(OXYGEN)
    for nothing in (WantedLimit(Certainty.AGREED), WantedLimit(Certainty.AGREED, None, 28.0)):
        assert held_against(nothing, report_of(plain), plain, asked()) is None


def covers(method, thickness_mm, **made):
    result = result_of(method, 31.2 if method is OXYGEN else 1.0, thickness_mm, mass_g=1.0)
    return held_against(WantedLimit(Certainty.AGREED, method, 28.0), report_of(result), result, asked(**made)).covers


def test_a_specimen_speaks_for_walls_on_its_own_side_alone():
    assert [covers(OXYGEN, each) for each in (1.3, 1.4, 1.5)] == [True, True, False]
    assert [covers(SMOKE, each) for each in (5.9, 6.0, 6.1)] == [False, True, True]
    assert not covers(OXYGEN, 0.2, thinnest_mm=None)
    assert not covers(SMOKE, 90.0, thickest_mm=None)
    assert covers(TOXICITY, None, thinnest_mm=None, thickest_mm=None)
    failing = held(thickness_mm=None)
    assert (failing.passes, failing.covers) == (False, False)


def test_what_nobody_has_said_is_not_as_it_should_be():
    good = report_of(result_of(OXYGEN))
    assert tuple(differences_of(good, asked())) == ()
    cases = {"process": "process", "colouring": "colour", "lot_family": "lot family"}
    for field, told in cases.items():
        assert tuple(differences_of(good, asked(**{field: None}))) == (told,)
    unsaid = good.model_copy(update={"process": None, "colour": None, "lot_family": None, "accreditation": None, "accepted_by": None})
    assert tuple(differences_of(unsaid, asked())) == ("process", "colour", "lot family", "accreditation", "acceptance")
    assert tuple(differences_of(unsaid, asked(process=None, colouring=None, lot_family=None)))[:3] == ("process", "colour", "lot family")
    assert tuple(differences_of(good.model_copy(update={"colour": " Natural "}), asked())) == ()
    nameless = good.model_copy(update={"standard": "EN 45545-2"})
    for edition in (None, "2020"):
        assert tuple(differences_of(nameless, replace(asked(), edition=edition))) == ("edition",)
    other = good.model_copy(update={"standard": "EN 45545-2:2020", "accreditation": "TBD", "accepted_by": "trainee"})
    assert tuple(differences_of(other, asked())) == ("edition", "accreditation", "acceptance")


def differs(infill_percent, of_part=100.0):
    result = result_of(OXYGEN, infill_percent=infill_percent)
    found = held_against(WantedLimit(Certainty.AGREED, OXYGEN, 28.0), report_of(result), result, asked(infill_percent=of_part))
    return found.differences


def test_a_solid_specimen_speaks_for_every_infill_and_a_hollow_one_for_its_own():
    assert [differs(*each) for each in ((100.0,), (100.0, 40.0), (40.0, 40.0))] == [(), (), ()]
    assert [differs(*each) for each in ((None,), (99.0,), (40.0, 41.0), (None, 40.0))] == [("infill",)] * 4
