"""What makes a verdict more careful although the approval stands."""

import re
from datetime import date

import pytest

from generator.assemble.whole_way import examined
from generator.rules.verdicts import Verdict
from generator.systems.store import Store
from tests.fixtures.tiny import KNOB, sheets

DAY = date(2026, 11, 25)
RECORD = "parts/EX-0001-lid-knob/approval.yml"


def judgement(root, number=KNOB):
    found = next(sheet for sheet in sheets(root)[0] if sheet.number == number)
    return found.judgements[0]


def test_the_tiny_depots_knob_may_be_fitted(depot):
    assert judgement(depot).verdict is Verdict.FIT_IT


@pytest.mark.parametrize("damage", ["gone", "broken"])
def test_without_the_depots_own_record_nothing_may_be_fitted(depot, damage):
    """Who may approve stands in depot.yml."""
    file = depot / "depot.yml"
    file.unlink() if damage == "gone" else file.write_text("railway: [", "utf-8")
    found = sheets(depot)[0]
    assert {each.verdict for sheet in found for each in sheet.judgements} == {Verdict.DO_NOT_FIT}


def test_a_model_of_an_implausible_size_is_asked_about_first(depot, warm_store):
    fleets = depot / "fleets.yml"
    text = re.sub(r"largest_mm: .*", "largest_mm: 5", fleets.read_text("utf-8"))
    fleets.write_text(text, "utf-8")
    found = examined(depot, DAY, Store(warm_store), lambda *_: None)
    knob = next(sheet for sheet in found.sheets if sheet.number == KNOB)
    assert "SIZE01" in {problem.code for problem in found.problems}
    assert knob.judgements[0].verdict is Verdict.ASK_FIRST
    assert knob.judgements[0].decided_by.step.id == "model"


def test_a_vehicle_bought_later_is_not_approved(depot):
    fleets = depot / "fleets.yml"
    fleets.write_text(fleets.read_text("utf-8").replace('"11-14"', '"11-19"'), "utf-8")
    found = next(sheet for sheet in sheets(depot)[0] if sheet.number == KNOB)
    told = {
        ground.vehicles: each.verdict for ground, each in zip(found.grounds, found.judgements, strict=True)
    }
    assert told == {("11-14",): Verdict.FIT_IT, ("15-19",): Verdict.DO_NOT_FIT}


def test_a_place_added_later_is_not_approved(depot):
    part = depot / "parts/EX-0001-lid-knob/part.yml"
    part.write_text(part.read_text("utf-8").replace("place: cab", "place: door"), "utf-8")
    assert judgement(depot).verdict is Verdict.DO_NOT_FIT
