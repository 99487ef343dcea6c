"""How a lot or a recall stands on a day: what the storeman is told who takes the spool off the shelf.

The days: D before, E on which something happens, F behind it. A word that stops counts on any day, for nobody may print of what was
noted ahead; what lets go counts from its own day on.
"""

from datetime import date

import pytest

from generator.records.lots import Lot
from generator.records.recalls import Recall
from generator.rules.production.states import (
    is_used_up,
    lifted,
    lot_word,
    recalled_revision,
    released_on,
    stops_of,
    stops_of_lot,
)
from tests.fixtures.production import batch, depot
from tests.fixtures.tiny import KNOB

D, E, F, G = (date(2026, 10, day) for day in (11, 12, 13, 14))


def event(what, on, **more):
    """An event of a lot or recall, with a reason where it gives one."""
    why = {"why": f"{what} on {on.day}"} if what in ("blocked", "unblocked", "called back", "lifted") else {}
    return {"what": what, "on": on, "by": "keeper", **why, **({"grams": 1000} if what == "received" else {}), **more}


def lot(*events):
    return Lot.model_validate({"material": "petg", "supplier_lot": "S1", "events": events})


def recall(*events, **of):
    return Recall.model_validate({**(of or {"lot": "L-1"}), "events": events})


RECEIVED = event("received", D)
BLOCKED, UNBLOCKED, USED_UP = event("blocked", E), event("unblocked", F), event("used up", E)
CALLED, LIFTED = event("called back", E), event("lifted", F)
CASES = {
    "nothing is written down": ((), {}, ("in use", "in use", "in use")),
    "it came": ((RECEIVED,), {}, ("in use", "in use", "in use")),
    "it was opened and dried": ((RECEIVED, event("opened", D), event("dried", E, hours=6, celsius=60)), {}, ("in use", "in use", "in use")),
    "it is used up": ((RECEIVED, USED_UP), {}, ("in use", "used up", "used up")),
    "it is blocked": ((RECEIVED, BLOCKED), {}, ("blocked", "blocked", "blocked")),
    "it was blocked and let go": ((RECEIVED, BLOCKED, UNBLOCKED), {}, ("blocked", "blocked", "in use")),
    "let go without a reason": ((BLOCKED, event("unblocked", F, why="n/a")), {}, ("blocked", "blocked", "blocked")),
    "let go and blocked again": ((BLOCKED, UNBLOCKED, event("blocked", F)), {}, ("blocked", "blocked", "blocked")),
    "blocked and used up": ((BLOCKED, event("used up", F)), {}, ("blocked", "blocked", "blocked")),
    "used up, then blocked and let go": ((event("used up", D), BLOCKED, UNBLOCKED), {}, ("blocked", "blocked", "used up")),
    "more of it came while it was blocked": ((BLOCKED, event("received", F)), {}, ("blocked", "blocked", "blocked")),
    "it is called back": ((RECEIVED,), {"RC-1": recall(CALLED)}, ("called back", "called back", "called back")),
    "called back and blocked": ((BLOCKED,), {"RC-1": recall(CALLED)}, ("called back", "called back", "called back")),
    "called back and let go": ((), {"RC-1": recall(CALLED, LIFTED)}, ("called back", "called back", "in use")),
    "let go by nothing that says why": ((), {"RC-1": recall(CALLED, event("lifted", F, why="TBD"))}, ("called back", "called back", "called back")),
    "one of two recalls is lifted": ((), {"RC-1": recall(CALLED, LIFTED), "RC-2": recall(CALLED)}, ("called back", "called back", "called back")),
    "the recall is lifted, its block is not": ((BLOCKED,), {"RC-1": recall(CALLED, LIFTED)}, ("called back", "called back", "blocked")),
    "another lot is called back": ((), {"RC-1": recall(CALLED, lot="L-2")}, ("in use", "in use", "in use")),
    "a batch of it is called back": ((), {"RC-1": recall(CALLED, batch="B-1")}, ("in use", "in use", "in use")),
}  # fmt: skip


@pytest.mark.parametrize("case", CASES)
def test_the_word_of_a_lot_before_on_and_after_the_day(case):
    events, recalls, words = CASES[case]
    own = lot(*events)
    production = depot(lots={"L-1": own, "L-2": lot()}, recalls=recalls).production
    assert tuple(lot_word("L-1", own, production, day) for day in (D, E, F)) == words


def test_a_lot_is_used_up_once_somebody_has_said_so_whatever_else_is_told_of_it():
    own = lot(event("received", F), event("used up", E), event("received", D))
    assert [is_used_up(own, day) for day in (D, E, F)] == [False, True, True]
    assert is_used_up(lot(RECEIVED), F) is False


def test_the_stop_that_began_first_is_told_until_it_has_ended():
    """Who asks why hears the reason of the word that still stands, not of the newest note about it."""
    again = {"RC-1": recall(CALLED, event("called back", F))}
    for of in (lot(BLOCKED, event("blocked", F)), lot(BLOCKED, UNBLOCKED, event("blocked", G))):
        found = [(each.on, each.why, each.by, each.recall, each.lot) for each in stops_of_lot("L-1", depot(lots={"L-1": of}).production, G)]
        first = E if len(of.events) == 2 else G
        assert found == [(first, f"blocked on {first.day}", "keeper", None, "L-1")]
    found = stops_of_lot("L-1", depot(recalls=again).production, G)
    assert [(each.on, each.why, each.by, each.recall, each.lot) for each in found] == [(E, "called back on 12", "keeper", "RC-1", "L-1")]


def test_of_a_lot_all_recalls_are_told_by_number_whether_its_record_can_be_read_or_not():
    recalls = {"RC-2": recall(CALLED), "RC-1": recall(event("called back", F)), "RC-3": recall(CALLED, lot="L-9")}
    production = depot(lots={"L-1": lot(BLOCKED)}, recalls=recalls).production
    assert [(each.recall, each.on) for each in stops_of_lot("L-1", production, G)] == [("RC-1", F), ("RC-2", E)]  # its block says nothing more
    assert [(each.recall, each.lot) for each in stops_of_lot("L-9", production, G)] == [("RC-3", "L-9")]
    assert stops_of_lot("L-7", production, G) == ()


def stops(recalls, *, lots=None, of=("L-1",), day=F, before=None):
    catalogue = depot(batches={"B-1": batch(lots=of)}, recalls=recalls, lots=lots)
    found = stops_of("B-1", catalogue.production.batches["B-1"], catalogue.production, day, before=before)
    return [(each.recall, each.lot, each.on) for each in found]


def test_a_batch_is_stopped_by_each_recall_and_by_each_lot_that_none_speaks_of():
    two = {"L-1": lot(BLOCKED), "L-2": lot(event("blocked", F))}
    assert stops({}, lots=two, of=("L-1", "L-2")) == [(None, "L-1", E), (None, "L-2", F)]
    assert stops({"RC-1": recall(CALLED)}, lots=two, of=("L-1", "L-2")) == [("RC-1", "L-1", E), (None, "L-2", F)]
    assert stops({"RC-1": recall(CALLED, LIFTED)}, lots=two, of=("L-1",)) == [(None, "L-1", E)]  # its block still stands
    assert stops({"RC-2": recall(CALLED, batch="B-1"), "RC-1": recall(CALLED, part=KNOB, revision="A")}) == [("RC-1", None, E), ("RC-2", None, E)]
    others = {"RC-1": recall(CALLED, batch="B-2"), "RC-2": recall(CALLED, lot="L-2"), "RC-3": recall(CALLED, part=KNOB, revision="B")}
    assert stops(others) == []
    assert stops({}, lots={}, of=("L-9",)) == []  # a lot that nobody knows is asked about elsewhere


@pytest.mark.parametrize(("before", "found"), [(None, 1), (D, 0), (E, 0), (F, 1)])
def test_what_was_known_by_a_morning_is_what_was_said_on_an_earlier_day(before, found):
    assert len(stops({"RC-1": recall(CALLED)}, before=before)) == found
    assert len(stops({}, lots={"L-1": lot(BLOCKED)}, before=before)) == found


def test_a_stop_of_that_day_does_not_hide_one_that_was_known_before():
    """It was let go and stopped anew: by the morning of the second word the first had ended."""
    twice = recall(CALLED, LIFTED, event("called back", G))
    assert [stops({"RC-1": twice}, day=day, before=before) for day, before in ((E, F), (G, G), (G, None))] == [[("RC-1", "L-1", E)], [], [("RC-1", "L-1", G)]]


def test_a_recall_that_is_lifted_is_told_as_that_from_its_day_on():
    catalogue = depot(recalls={"RC-2": recall(CALLED, LIFTED), "RC-1": recall(CALLED, LIFTED, batch="B-1"), "RC-3": recall(CALLED), "RC-4": recall(CALLED, LIFTED, batch="B-2")})
    own = catalogue.production.batches["B-1"]
    assert [lifted("B-1", own, catalogue.production, day) for day in (E, F)] == [(), ("RC-1", "RC-2")]


def test_a_revision_is_called_back_whatever_batch_a_piece_is_of():
    recalls = {"RC-2": recall(CALLED, part=KNOB, revision="A"), "RC-1": recall(CALLED, LIFTED, part=KNOB, revision="A"), "RC-3": recall(CALLED, part=KNOB, revision="B")}
    asked = [recalled_revision(KNOB, revision, recalls, day) for revision, day in (("A", E), ("A", F), ("B", F), ("C", F))]
    assert [each and (each.recall, each.on, each.by, each.why, each.lot) for each in asked] == [
        ("RC-1", E, "keeper", "called back on 12", None), ("RC-2", E, "keeper", "called back on 12", None), ("RC-3", E, "keeper", "called back on 12", None), None,
    ]  # fmt: skip
    assert recalled_revision("EX-0002", "A", recalls, F) is None


def test_a_batch_may_be_fitted_from_its_first_release_on_whatever_else_was_done_before():
    scrapped = {"what": "scrapped", "on": "2026-01-08", "by": "keeper", "count": 1, "why": "bent"}
    released = [{"what": "released", "on": day, "by": "keeper"} for day in ("2026-01-10", "2026-01-12")]
    assert released_on(batch(events=[scrapped, *released])) == date(2026, 1, 10)
    assert released_on(batch(events=[scrapped])) is None
