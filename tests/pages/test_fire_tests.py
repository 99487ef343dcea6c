"""What to test next, in words; the plan itself is held to the rules in tests/planning/test_fire_plan.py."""

import pytest

from generator.pages.addresses import addresses
from generator.pages.around import Around
from generator.pages.fire_tests.page import cut_words, fire_tests_page
from generator.pages.wording import wording
from generator.planning.fire_plan import ChosenTests
from generator.records.fire import Layers
from tests.planning.fire_scene import AT_HL1, DAY, depot, fire, full, judged, material, part, report, result

W = wording("en")


def page(*parts, **materials):
    catalogue = depot(parts, materials)
    sheets = judged(catalogue)
    around = Around(catalogue=catalogue, sheets={each.number: each for each in sheets}, found=addresses(catalogue.parts), w=W)
    return fire_tests_page(around, sheets, DAY).text


def test_a_test_tells_the_laboratory_everything():
    text = page(part("P-1"), part("P-2", places=(AT_HL1,), need=fire(2.0, 4.0)), petg=material())
    assert "2 parts have a fire question open." in text
    for said in (
        "T01, oxygen index", "PETG, by material extrusion", "EN ISO 4589-2, held against EN 45545-2:2020", "1.4 mm thick", "colour: natural",
        "formulation: type 4", "solid", "layers along the face, and layers across it", "to reach: ≥ 28 %", "to keep: ≤ 300", "600 would do for 1 part",
        "A thinner specimen is harder to pass. Thicker: 2 mm for 1 part", "A thicker specimen is harder to pass. Thinner: 4 mm for 1 part",
    ):  # fmt: skip
        assert said in text.replace("&#45;", "-"), said
    assert "<td>3 tests</td>" in text
    assert '<a href="parts/P-1.html">' in text


def test_one_way_of_the_layers_is_told_alone():
    half = report("F", result("T01", 31.2, 1.0, [Layers.ALONG]), result("T10.03", 210.0, 6.0), result("T12", 0.4))
    text = page(part("P-1"), petg=material(half))
    assert "layers across the face" in text
    assert "layers along the face" not in text


def test_what_fails_is_told_beside_what_may_still_be_tested():
    failing = report("F", result("T01", 27.9, 1.0), result("T10.03", 210.0, 6.0), result("T12", 0.4))
    text = page(part("P-1", need=fire(2.0)), part("P-2", need=fire(0.8)), petg=material(failing))
    assert "2 mm thick" in text
    assert "A result fails" in text


def test_papers_and_what_no_test_helps():
    text = page(part("P-1"), part("P-2", "bare"), petg=material(full("F-17", accepted_by=None)), bare=material(colouring=None))
    assert "F-17" in text
    assert "nobody has said that the report is accepted" in text
    assert "Note first how fire reports name its colour" in text
    assert "There is no test to order." in text


def test_where_nothing_is_open_it_says_so_and_nothing_else():
    text = page(part("P-1"), petg=material(full("F")))
    assert "No part has a fire question open." in text
    assert "<table>" not in text


def test_of_many_parts_the_first_are_named_and_the_rest_counted():
    assert "and 3 more" in page(*(part(f"P-{i:02}") for i in range(15)), petg=material())


@pytest.mark.parametrize(("at_most", "said"), [(1, None), (3, "The search was cut short: another choice might free up to 3.")])
def test_a_search_that_was_cut_short_says_so(at_most, said):
    assert cut_words(ChosenTests((0,), ("P-1",), (), at_most), W) == said
