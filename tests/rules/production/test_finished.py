"""A recall of which nothing is left: since which day, and by what, from the side of whoever has to show that it is done."""

from datetime import date

import pytest

from generator.rules.production.finished import Finished, LastOfBatch, finished
from generator.rules.production.recalling import reach_of
from tests.fixtures.production import RELEASED, batch, depot, recall, row

DAY = date(2026, 11, 28)
CALLED = date(2026, 6, 1)
ON = row("2026-02-01", "B-1", 2)
OFF = row("2026-06-05", off="B-1", removed=2)


def scrapped(count, on, by="keeper"):
    return {"what": "scrapped", "on": on, "by": by, "count": count, "why": "called back"}


def counted(found, on):
    return {"what": "counted", "on": on, "by": "fitter", "on_shelf": found}


def ended(count, by="keeper", name="B-1"):
    return LastOfBatch(how="scrapped", batch=name, count=count, by=by, why="called back")


def of(*rows, events=(), count=2, lifted=None, day=DAY, more=None):
    called = recall(lot="L-1", lifted=lifted)
    batches = {"B-1": batch(count, events=[*RELEASED, *events]), **(more or {})}
    catalogue = depot(*rows, batches=batches, recalls={"RC-0001": called})
    return finished(called, reach_of(called, catalogue.production), catalogue, day)


CASES = {
    "scrapped off the shelf at once": ((), [scrapped(2, "2026-06-03")], "2026-06-03", (ended(2),)),
    "the last of two scraps ends it": ((), [scrapped(1, "2026-06-03"), scrapped(1, "2026-07-01")], "2026-07-01", (ended(1),)),
    "taken off, and scrapped later": ((ON, OFF), [scrapped(2, "2026-06-09")], "2026-06-09", (ended(2),)),
    "taken off and scrapped on one day": ((ON, OFF), [scrapped(2, "2026-06-05")], "2026-06-05", (ended(2),)),
    "scrapped on the day of the call": ((), [scrapped(2, "2026-06-01")], "2026-06-01", (ended(2),)),
    "two roles on one day": ((), [scrapped(1, "2026-06-03"), scrapped(1, "2026-06-03", "fitter")], "2026-06-03", (ended(1), ended(1, "fitter"))),
    "a later count of nothing moves nothing": ((), [scrapped(2, "2026-06-03"), counted(0, "2026-09-01")], "2026-06-03", (ended(2),)),
    "one that was found beyond the books is scrapped by nobody, and a count finds none": (
        (),
        [scrapped(2, "2026-06-03"), counted(1, "2026-06-04"), counted(0, "2026-08-01")],
        "2026-08-01",
        (LastOfBatch(how="counted", batch="B-1", count=0, by="fitter"),),
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_it_is_done_on_the_day_after_which_nothing_is_about_by_what_was_written_then(case):
    rows, events, on, how = CASES[case]
    assert of(*rows, events=events) == Finished(on=date.fromisoformat(on), ended=how, was_about=True)


def test_the_last_of_several_batches_ends_it():
    other = {"B-2": batch(3, events=[*RELEASED, scrapped(3, "2026-07-07")])}
    found = of(events=[scrapped(2, "2026-06-03")], more=other)
    assert (found.on, found.ended) == (date(2026, 7, 7), (ended(3, name="B-2"),))


def test_where_nothing_was_about_any_more_the_call_itself_is_the_day():
    assert of(events=[scrapped(2, "2026-03-01")]) == Finished(on=CALLED, ended=(), was_about=False)


@pytest.mark.parametrize(
    "still",
    [
        {"rows": [ON], "events": []},
        {"rows": [ON, OFF], "events": [scrapped(1, "2026-06-09")]},
        {"rows": [], "events": [scrapped(2, "2026-06-03"), counted(1, "2026-06-04")]},
        {"rows": [row("2026-02-01", "B-77")], "events": [scrapped(2, "2026-06-03")]},
        {"rows": [row("2026-02-01", "B-77"), row("2026-03-01", off="B-77")], "events": [scrapped(2, "2026-06-03")]},
        {"rows": [], "events": [scrapped(2, "2026-06-03")], "lifted": "2026-07-01"},
    ],
    ids=["sits", "came off", "counted beyond the books", "one of an unknown batch sits", "one of an unknown batch came off", "lifted"],
)
def test_it_is_not_done(still):
    assert of(*still["rows"], events=still["events"], lifted=still.get("lifted")) is None


def test_without_a_batch_nobody_can_say_that_it_is_done():
    called = recall(lot="L-9")
    catalogue = depot(batches={"B-1": batch()}, recalls={"RC-0001": called})
    assert finished(called, reach_of(called, catalogue.production), catalogue, DAY) is None
