"""What rests on a report, a certificate or a material: judged again with the paper at its end; worked by hand."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from generator.planning.rests import rests_on_papers
from generator.rules.facts.case import Copy
from generator.rules.verdicts import Verdict
from tests.fixtures.tiny import DAY as TINY_DAY
from tests.fixtures.tiny import DEPOT, sheets
from tests.planning.fire_scene import (
    AT_HL1,
    AT_HL2,
    COPY,
    DAY,
    certificate,
    depot,
    fire,
    full,
    judged,
    material,
    part,
    report,
    result,
)
from tests.rules.cases import tiny

FIT, ASK, NO = Verdict.FIT_IT, Verdict.ASK_FIRST, Verdict.DO_NOT_FIT
CERTIFIED = {"certificates": (certificate("C"),)}


def resting(catalogue, copy=COPY):
    """For each paper by its name: (number, place, names it, papers now, papers then)."""
    names = {paper.sha256: getattr(paper, "report", None) or paper.reference for each in catalogue.materials.values() for paper in (*each.fire_tests, *each.certificates)}
    found = rests_on_papers(judged(catalogue, copy), catalogue, copy)
    return {
        names[sha256]: [(each.sheet.number, each.ground.fleet, each.names_it, each.papers_now, each.papers_then) for each in listed]
        for sha256, listed in found.items()
    }


def test_each_place_rests_on_the_one_report():
    catalogue = depot([part("P-1", places=(AT_HL1, AT_HL2)), part("P-2")], {"petg": material(full("F"), **CERTIFIED)})
    lost = [("P-1", "B2", True, FIT, NO), ("P-1", "A1", True, FIT, NO), ("P-2", "A1", True, FIT, NO)]
    assert resting(catalogue) == {"F": lost, "C": lost}


def test_a_second_report_that_answers_as_well_leaves_nothing_to_lapse():
    """Both would do; the longer one is named, and by its end the other answers."""
    papers = full("short", valid_until=date(2027, 1, 1)), full("long", valid_until=date(2028, 1, 1))
    found = resting(depot([part("P-1")], {"petg": material(*papers, **CERTIFIED)}))
    assert found["short"] == []
    assert found["long"] == [("P-1", "A1", True, FIT, FIT)]


def test_a_second_report_of_another_colour_only_asks_and_waits_until_the_first_is_taken_out():
    """What has ended keeps its place until somebody takes it out (tests/rules/fire/test_cases.py)."""
    found = resting(depot([part("P-1")], {"petg": material(full("F"), full("black", colour="black"), **CERTIFIED)}))
    assert found["F"] == [("P-1", "A1", True, FIT, NO)]
    assert found["black"] == []


def test_a_report_that_two_sets_rest_on_takes_both_along():
    """R22 and R24 both ask for an oxygen index; R24 alone is left with it (generator/standards/en-45545-2.yml)."""
    one = part("P-1", need=fire(further_sets=("R24",)))
    other = part("P-2", need=fire(requirement_set="R24"))
    index = report("index", result("T01", 31.2, 1.0))
    rest = report("rest", result("T10.03", 210.0, 6.0), result("T12", 0.4))
    found = resting(depot([one, other], {"petg": material(index, rest, **CERTIFIED)}))
    assert found["index"] == [("P-1", "A1", True, FIT, NO), ("P-2", "A1", True, FIT, NO)]
    assert found["rest"] == [("P-1", "A1", True, FIT, NO)]


def test_a_report_that_ends_tomorrow_is_rested_on_today():
    catalogue = depot([part("P-1")], {"petg": material(full("F", valid_until=DAY + timedelta(1)), **CERTIFIED)})
    assert resting(catalogue)["F"] == [("P-1", "A1", True, FIT, NO)]
    assert resting(catalogue, Copy(DAY + timedelta(2), 45))["F"] == [("P-1", "A1", True, NO, NO)]


def test_what_rests_on_a_report_is_what_the_day_after_its_end_would_say():
    """Judged on that day itself, with nothing else that ends: the same."""
    end = date(2027, 3, 1)
    catalogue = depot([part("P-1"), part("P-2", "other")], {"petg": material(full("F", valid_until=end), **CERTIFIED), "other": material(full("G"))})
    after = Copy(end + timedelta(1), 9999)
    worse = {each.number for each in judged(catalogue, after) if each.grounds[0].permits[0].fire_until < after.built_on}
    assert {number for number, *_ in resting(catalogue)["F"]} == worse == {"P-1"}


def test_a_part_of_two_materials_rests_on_the_reports_of_both():
    materials = {"petg": material(full("F"), **CERTIFIED), "pane": material(full("G"))}
    found = resting(depot([part("P-1", further_materials=("pane",))], materials))
    assert found["F"] == found["G"] == [("P-1", "A1", True, FIT, NO)]


def test_what_has_no_end_is_rested_on_as_well():
    papers = full("F", valid_until=None, open_ended=True)
    found = resting(depot([part("P-1")], {"petg": material(papers, certificates=(certificate("C", valid_until=None, open_ended=True),))}))
    assert found == {"F": [("P-1", "A1", True, FIT, NO)], "C": [("P-1", "A1", True, FIT, NO)]}


def test_a_paper_that_nothing_rests_on_is_told_with_nothing():
    assert resting(depot([], {"petg": material(full("F"))})) == {"F": []}


@pytest.fixture(scope="module")
def approved():
    return sheets(DEPOT)[0]


def test_under_a_permit_only_the_papers_that_it_names_are_rested_on(approved):
    """EX-0001 of the tests' depot is approved with its one report."""
    petg = tiny().materials["petg"]
    found = rests_on_papers(approved, tiny(), Copy(TINY_DAY, 45))
    there = [each for each in found[petg.fire_tests[0].sha256] if each.sheet.number == "EX-0001"]
    assert [(each.ground.place, each.papers_now, each.papers_then, each.now, each.then) for each in there] == [("cab", FIT, NO, FIT, NO)]


def test_a_report_that_no_permit_names_is_not_rested_on(approved):
    """A newer report in the catalogue, which the approval does not name, neither answers nor lapses."""
    petg = tiny().materials["petg"]
    newer = petg.fire_tests[0].model_copy(update={"report": "newer", "file": "documents/newer.txt", "sha256": "e" * 64})
    made = petg.model_copy(update={"fire_tests": (*petg.fire_tests, newer)})
    files = tiny().material_files | {newer.file: replace(tiny().material_files[petg.fire_tests[0].file], sha256=newer.sha256)}
    catalogue = replace(tiny(), materials=tiny().materials | {"petg": made}, material_files=files)
    found = rests_on_papers(approved, catalogue, Copy(TINY_DAY, 45))
    assert [each for each in found[newer.sha256] if each.sheet.number == "EX-0001" and each.lapses] == []
