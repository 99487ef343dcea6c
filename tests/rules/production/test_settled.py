"""Capitals do not hide a piece, and what is to be done on a day to come is not done."""

from dataclasses import replace
from datetime import date

from generator.records.fitted import FileGap
from generator.rules.production.incomplete import gaps_of
from generator.rules.production.recalling import reach_of
from generator.rules.production.settled import settled
from generator.rules.production.states import stops_of
from generator.rules.production.tracing import of_lot
from tests.fixtures.production import batch, depot, recall, row

TODAY = date(2026, 6, 30)


def test_what_needs_nothing_is_the_same_object():
    production = depot(row("2026-03-01", "B-1"), recalls={"RC-0001": recall(lot="L-1")}).production
    assert settled(production, TODAY) is production


def test_a_lot_in_other_letters_is_the_one_that_is_known():
    batches = {"B-1": batch(lots=("l-1",)), "B-2": batch(), "B-3": batch(lots=("l-9", "L-1"))}
    recalls = {"RC-0001": recall(lot="l-1"), "RC-0002": recall(lot="L-9")}
    production = settled(depot(row("2026-03-01", "B-1"), batches=batches, recalls=recalls).production, TODAY)
    assert set(of_lot(production, "L-1").batches) == {"B-1", "B-2", "B-3"}
    assert reach_of(production.recalls["RC-0001"], production).batches == ("B-1", "B-2", "B-3")
    assert reach_of(production.recalls["RC-0002"], production).batches == ("B-3",)
    assert [each.recall for each in stops_of("B-1", production.batches["B-1"], production, TODAY)] == ["RC-0001"]


def test_a_lot_with_a_record_of_its_own_is_no_other():
    written = depot(batches={"B-1": batch(), "B-2": batch(lots=("l-1",))}).production
    production = settled(replace(written, lots=written.lots | {"l-1": written.lots["L-1"]}), TODAY)
    assert [set(of_lot(production, name).batches) for name in ("L-1", "l-1")] == [{"B-1"}, {"B-2"}]


def test_a_line_of_a_day_to_come_takes_nothing_off_before_it():
    rows = row("2026-03-01", "B-1", line=2), row("2026-07-01", "B-2", off="B-1", line=3), row("2026-07-02", off="B-2", line=4)
    written = depot(*rows, batches={"B-1": batch(), "B-2": batch()}, recalls={"RC-0001": recall(lot="L-1")}).production

    def told(day):
        production = settled(written, day)
        return {each.batch for each in reach_of(production.recalls["RC-0001"], production).spots}, gaps_of(production)

    assert told(TODAY) == ({"B-1", "B-2"}, (FileGap(file="fitted/2026.csv", lines=(3, 4), why="to come"),))
    assert told(date(2026, 7, 1)) == ({"B-2"}, (FileGap(file="fitted/2026.csv", lines=(4,), why="to come"),))
    assert told(date(2026, 7, 2)) == (set(), ())


def test_batches_that_say_something_else_and_files_that_say_less_are_gaps():
    production = replace(depot(row("2026-03-01", "B-1")).production, rewritten=frozenset({"B-1"}), shortened=frozenset({"fitted/2026.csv"}))
    less, changed = FileGap(file="fitted/2026.csv", why="less"), FileGap(file="batches/B-1.yml", why="changed")
    assert gaps_of(production) == (less, changed)
    assert gaps_of(production, parts={"EX-0003"}) == (less, changed)  # it may have said another part
