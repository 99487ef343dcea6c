"""A recall of which nothing is left: since which day, and by what, from the side of whoever has to show that it is done."""

from dataclasses import replace
from datetime import date

import pytest

from generator.records.fitted import FileGap
from generator.rules.production.finished import Finished, LastOfBatch, finished, is_open
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
    "somebody was reminded on that day too": ((), [scrapped(2, "2026-06-03"), {"what": "reminder sent", "on": "2026-06-03", "by": "fitter"}], "2026-06-03", (ended(2),)),
    "one that was scrapped by the books was found on a vehicle, and came off": (
        (row("2026-06-10", "B-1", vehicle="12", as_found=True), row("2026-06-11", off="B-1", vehicle="12")), [scrapped(2, "2026-06-03")], "2026-06-11", (),
    ),
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


def test_what_was_scrapped_on_the_day_before_the_call_was_not_about_any_more():
    assert of(events=[scrapped(2, "2026-05-31"), counted(0, "2026-06-01")]) == Finished(on=CALLED, ended=(), was_about=False)


def opened(*rows, lifted=None, day=DAY, events=(), gaps=()):
    called = recall(lot="L-1", lifted=lifted)
    catalogue = depot(*rows, batches={"B-1": batch(2, events=[*RELEASED, *events])}, recalls={"RC-0001": called})
    catalogue = replace(catalogue, production=replace(catalogue.production, gaps=gaps))
    return is_open(called, reach_of(called, catalogue.production), catalogue, day)


def test_it_is_open_until_nothing_is_about_and_nothing_is_missing_from_the_lists():
    assert opened() is True
    assert opened(lifted="2026-07-01") is False
    assert opened(lifted="2026-07-01", day=date(2026, 6, 30)) is True
    assert opened(events=[scrapped(2, "2026-06-03")]) is False
    assert opened(events=[scrapped(2, "2026-06-03")], gaps=(FileGap(file="fitted/2026.csv", why="unread"),)) is True
    assert opened(row("2026-02-01", "B-77", as_found=True), events=[scrapped(2, "2026-06-03")]) is True  # it may be one of these


def test_without_a_batch_nobody_can_say_that_it_is_done():
    called = recall(lot="L-9")
    catalogue = depot(batches={"B-1": batch()}, recalls={"RC-0001": called})
    assert finished(called, reach_of(called, catalogue.production), catalogue, DAY) is None
