"""Until when pieces may be fitted, how many a trial has room for, and what that makes of an order."""

import json
from dataclasses import replace
from datetime import date, timedelta

import pytest

from generator.planning.stock import need as needing
from generator.planning.stock.need import QuantityReason, StockState
from generator.planning.stock.permitted import Permitted, TrialRoom, permitted
from generator.records.approvals import Approval
from generator.rules.facts.fields import OPEN
from tests.planning.stock.test_need import DAY, batch, books, need, part, row
from tests.planning.test_month import CATALOGUE


def with_facts(sheet, *sets):
    """Its judgements under permits with these facts, judged anew."""
    grounds = tuple(replace(each, permits=tuple(replace(each.permits[0], **facts) for facts in sets)) for each in sheet.grounds)
    return replace(sheet, grounds=grounds, judgements=tuple(each.on(DAY) for each in grounds))


@pytest.mark.parametrize(
    ("sets", "last"),
    [
        ([{"permit_until": date(2028, 7, 1)}], date(2028, 7, 1)),
        ([{"permit_until": DAY}], DAY),
        ([{"permit_until": OPEN, "certificate_until": OPEN, "fire_until": OPEN}], None),
        ([{"permit_until": OPEN, "certificate_until": date(2028, 6, 20), "fire_until": OPEN}], date(2028, 6, 20)),
        ([{"permit_until": date(2028, 5, 31)}], None),
        # One that was given ahead goes on where the first ends.
        ([{"permit_until": date(2028, 7, 1)}, {"permit_from": date(2028, 7, 2), "permit_until": date(2029, 7, 1)}], date(2029, 7, 1)),
        ([{"permit_until": date(2028, 7, 1)}, {"permit_from": date(2028, 7, 3), "permit_until": date(2029, 7, 1)}], date(2028, 7, 1)),
    ],
)
def test_the_last_day_is_the_one_after_which_the_judge_says_no(sets, last):
    usual = {"certificate_until": OPEN, "fire_until": OPEN}
    assert permitted(with_facts(part(), *(usual | each for each in sets)), CATALOGUE, DAY).last_day == last


def limited(monkeypatch, *, days=None, trial=None, shelf=0, **fields):
    may = Permitted(day=DAY, last_day=None if days is None else DAY + timedelta(days=days), trial=trial)
    monkeypatch.setattr(needing, "permitted", lambda *_: may)
    return need(part(shelf=shelf, **fields))


def test_no_more_is_ordered_than_is_asked_for_until_the_last_day(monkeypatch):
    """73 a year are a mean of 2 in 10 days, of which 5 are enough with 95 % (facts of the reorder point); in 20 days 4, of which 8 are."""
    assert limited(monkeypatch).reorder.count > 8
    found = limited(monkeypatch, days=20)
    assert (found.state, found.reorder.count, found.reorder.because) == (StockState.ORDER, 8, QuantityReason.LAST_DAY)
    assert found.reorder.price == found.reorder.offer.price(8)
    assert limited(monkeypatch, days=20, shelf=3).reorder.count == 5
    assert limited(monkeypatch, days=2000).reorder.because is not QuantityReason.LAST_DAY


def test_what_arrives_after_the_last_day_is_not_ordered(monkeypatch):
    assert limited(monkeypatch, days=10).state is StockState.ORDER
    assert limited(monkeypatch, days=9).state is StockState.ENDS
    assert limited(monkeypatch, days=9, shelf=6).state is StockState.ENOUGH


def test_what_is_there_and_outlasts_the_last_day_is_told(monkeypatch):
    """Six last 30 days on average."""
    assert [limited(monkeypatch, days=days, shelf=6).outlasts for days in (29, 31)] == [True, False]
    assert not limited(monkeypatch, shelf=6).outlasts


def test_no_more_is_ordered_than_a_trial_has_room_for(monkeypatch):
    room = TrialRoom(planned=8, left=3)
    found = limited(monkeypatch, trial=room, shelf=1)
    assert (found.state, found.reorder.count, found.reorder.because) == (StockState.ORDER, 2, QuantityReason.TRIAL)
    assert limited(monkeypatch, trial=room, shelf=3).state is StockState.TRIAL
    assert limited(monkeypatch, trial=replace(room, left=0), shelf=50).state is StockState.TRIAL
    assert limited(monkeypatch, trial=room, shelf=None).state is StockState.COUNT


def tried(planned, *rows, vehicles="11"):
    """The knob under nothing but a trial on so many vehicles, two pieces a vehicle."""
    plain = {
        "what": "trial opened", "on": "2028-05-01", "by": "keeper", "valid_until": "2028-12-31", "planned_pieces": planned, "revision": "A",
        "scope": [{"fleet": "A1", "vehicles": [vehicles], "places": ["cab"]}], "approved_as": "text", "fingerprint": "0" * 64,
    }  # fmt: skip
    found = with_facts(part(shelf=0), {"permit": "trial", "permit_until": date(2028, 12, 31), "certificate_until": OPEN, "fire_until": OPEN})
    grounds = tuple(replace(each, fleet="A1", place="cab", vehicles=(vehicles,), per_vehicle=2) for each in found.grounds[:1])
    approval = Approval.model_validate_json(json.dumps({"format": 2, "route": "customer", "events": [plain]}))
    found = replace(found, folder=replace(found.folder, approval=approval), grounds=grounds, judgements=tuple(each.on(DAY) for each in grounds))
    return permitted(found, books({"B-1": batch(count=20)}, rows), DAY).trial


def test_the_room_of_a_trial_is_its_plan_less_what_was_fitted_and_no_more_than_its_vehicles_hold():
    on, off = row("2028-05-10", "B-1", count=2), row("2028-05-20", off="B-1", removed=2)
    assert tried(8) == TrialRoom(planned=2, left=2), "one vehicle has two places"
    assert tried(8, vehicles="11-14") == TrialRoom(planned=8, left=8)
    assert tried(8, on) == TrialRoom(planned=2, left=0)
    assert tried(3, on, vehicles="11-14") == TrialRoom(planned=3, left=1)
    assert tried(None, on, vehicles="11-14") == TrialRoom(planned=8, left=6)
    assert tried(3, on, off, vehicles="11-14") == TrialRoom(planned=3, left=1), "what came off was fitted"
    assert tried(3, row("2028-04-20", "B-1", count=2), vehicles="11-14") == TrialRoom(planned=3, left=3), "before it began"


def test_where_an_approval_permits_it_somewhere_no_trial_limits_it():
    assert permitted(with_facts(part(), {"permit_until": date(2028, 7, 1), "certificate_until": OPEN, "fire_until": OPEN}), CATALOGUE, DAY).trial is None
