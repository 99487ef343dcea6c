"""What of the lines of what was fitted cannot be? Cases from the side of who types them wrongly, one neighbour after the other."""

from datetime import date

import pytest

from generator.records.lots import Blocked, Lot, Unblocked
from generator.records.problems import Severity
from generator.rules.production.on_vehicles import row_problems, to_come
from tests.fixtures.production import batch, depot, recall, row
from tests.fixtures.tiny import LEVER

ERROR, DOUBT = Severity.ERROR, Severity.WARNING


def told(catalogue):
    """Line, code and key of each problem; a warning with a question mark."""
    return sorted(
        f"{each.where.line} {each.code} {each.key}{'?' if each.severity is DOUBT else ''}" for each in row_problems(catalogue)
    )


def events(*said):
    return [{"what": what, "on": on, "by": "specialist", **more} for what, on, more in said]


REJECTED = ("rejected", "2026-05-01", {"why": "corners lifted"})

CASES = {
    "all is well": (depot(row("2026-02-01", "B-1", 2)), []),
    "put on and taken off": (depot(row("2026-02-01", "B-1", 2), row("2026-03-01", off="B-1", removed=2)), []),
    "another fleet's vehicle": (depot(row("2026-02-01", "B-1", vehicle="21")), ["2 FITTED04 no vehicle"]),
    "one above the range": (depot(row("2026-02-01", "B-1", vehicle="15")), ["2 FITTED04 no vehicle"]),
    "a zero before the number": (depot(row("2026-02-01", "B-1", vehicle="011")), ["2 FITTED04 no vehicle"]),
    "a fleet in small letters": (depot(row("2026-02-01", "B-1", fleet="a1")), ["2 FITTED04 no fleet"]),
    "a place of the other fleet": (depot(row("2026-02-01", "B-1", place="bogie")), ["2 FITTED04 no place"]),
    "a role that there is not": (depot(row("2026-02-01", "B-1", by="fitters")), ["2 FITTED04 no role"]),
    "a batch that there is not": (depot(row("2026-02-01", "B-2")), ["2 FITTED04 no batch"]),
    "the same batch off and on is told once": (
        depot(row("2026-02-01", "B-2", off="B-2")), ["2 FITTED04 no batch"],
    ),
    "a removed batch that there is not": (depot(row("2026-02-01", off="B-2")), ["2 FITTED04 no batch", "2 FITTED10 never there"]),
    "an original without a batch": (depot(row("2026-02-01", "B-1", removed=1)), []),
    "a place where the part does not sit": (depot(row("2026-02-01", "B-1", place="door")), ["2 FITTED05 no fit"]),
    "the same, off since": (
        depot(row("2026-02-01", "B-1", place="door"), row("2026-02-02", off="B-1", place="door")), ["2 FITTED05 no fit?"],
    ),
    "one of two off since": (
        depot(row("2026-02-01", "B-1", 2, place="door"), row("2026-02-02", off="B-1", place="door")), ["2 FITTED05 no fit"],
    ),
    "three where two sit": (depot(row("2026-02-01", "B-1", 3)), ["2 FITTED06 too many"]),
    "three by and by": (depot(row("2026-02-01", "B-1", 2), row("2026-02-09", "B-1")), ["3 FITTED06 too many"]),
    "three at two positions": (
        depot(row("2026-02-01", "B-1", 2, position="left"), row("2026-02-01", "B-1", position="right")), ["3 FITTED06 too many"],
    ),
    "three of two batches": (
        depot(row("2026-02-01", "B-1", 2), row("2026-02-09", "B-2"), batches={"B-1": batch(), "B-2": batch()}),
        ["3 FITTED06 too many"],
    ),
    "two on each of two vehicles": (depot(row("2026-02-01", "B-1", 2), row("2026-02-01", "B-1", 2, vehicle="12")), []),
    "changed in one line": (depot(row("2026-02-01", "B-1", 2), row("2026-02-09", "B-1", 2, off="B-1", removed=2)), []),
    "changed in two lines of one day, the new ones first": (
        depot(row("2026-02-01", "B-1", 2), row("2026-02-09", "B-1", 2), row("2026-02-09", off="B-1", removed=2)), [],
    ),
    "too many for a while": (
        depot(row("2026-02-01", "B-1", 2), row("2026-02-09", "B-1", 2), row("2026-02-10", off="B-1", removed=2)),
        ["3 FITTED06 too many?"],
    ),
    "one more than was printed": (
        depot(*(row("2026-02-01", "B-1", 2, vehicle=str(each)) for each in (11, 12)), batches={"B-1": batch(3)}),
        ["3 FITTED07 none left"],
    ),
    "the last one": (
        depot(row("2026-02-01", "B-1", 2), row("2026-02-01", "B-1", vehicle="12"), batches={"B-1": batch(3)}), [],
    ),
    "scrap is not fitted": (
        depot(
            row("2026-02-01", "B-1", 2),
            batches={"B-1": batch(3, events=events(("released", "2026-01-10", {}), ("scrapped", "2026-01-11", {"count": 2, "why": "tried"})))},
        ),
        ["2 FITTED07 none left"],
    ),
    "what came off is not fitted again": (
        depot(row("2026-02-01", "B-1"), row("2026-02-02", off="B-1"), row("2026-02-03", "B-1"), batches={"B-1": batch(1)}),
        ["4 FITTED07 none left"],
    ),
    "the day before its release": (depot(row("2026-01-09", "B-1")), ["2 FITTED08 before release?"]),
    "the day of its release": (depot(row("2026-01-10", "B-1")), []),
    "never released": (depot(row("2026-02-01", "B-1"), batches={"B-1": batch(events=[])}), ["2 FITTED08 never released"]),
    "rejected instead": (
        depot(row("2026-06-01", "B-1"), batches={"B-1": batch(events=events(REJECTED))}), ["2 FITTED08 rejected"],
    ),
    "released, rejected, then fitted": (
        depot(row("2026-06-01", "B-1"), batches={"B-1": batch(events=events(("released", "2026-01-10", {}), REJECTED))}),
        ["2 FITTED08 rejected"],
    ),
    "released, fitted, then rejected": (
        depot(row("2026-04-30", "B-1"), batches={"B-1": batch(events=events(("released", "2026-01-10", {}), REJECTED))}), [],
    ),
    "the day after the recall": (
        depot(row("2026-06-02", "B-1"), recalls={"RC-0001": recall(batch="B-1")}), ["2 FITTED09 called back"],
    ),
    "the day of the recall": (depot(row("2026-06-01", "B-1"), recalls={"RC-0001": recall(batch="B-1")}), []),
    "after the recall, and off since": (
        depot(row("2026-06-02", "B-1"), row("2026-06-09", off="B-1"), recalls={"RC-0001": recall(lot="L-1")}),
        ["2 FITTED09 called back?"],
    ),
    "before a recall that came later": (depot(row("2026-05-01", "B-1"), recalls={"RC-0001": recall(part="EX-0001", revision="A")}), []),
    "after the recall was lifted": (
        depot(row("2026-07-02", "B-1"), recalls={"RC-0001": recall(lifted="2026-07-01", batch="B-1")}), [],
    ),
    "between the recall and its lifting": (
        depot(row("2026-06-20", "B-1"), recalls={"RC-0001": recall(lifted="2026-07-01", batch="B-1")}), ["2 FITTED09 called back"],
    ),
    "a recall of another revision": (depot(row("2026-06-20", "B-1"), recalls={"RC-0001": recall(part="EX-0001", revision="B")}), []),
    "its lot was blocked": (
        depot(row("2026-06-20", "B-1"), lots={"L-1": Lot(material="petg", supplier_lot="S", events=(
            Blocked(what="blocked", on=date(2026, 6, 1), by="keeper", why="smells"),
        ))}),
        ["2 FITTED09 lot blocked"],
    ),
    "its lot was blocked and unblocked": (
        depot(row("2026-06-20", "B-1"), lots={"L-1": Lot(material="petg", supplier_lot="S", events=(
            Blocked(what="blocked", on=date(2026, 6, 1), by="keeper", why="smells"),
            Unblocked(what="unblocked", on=date(2026, 6, 20), by="keeper", why="aired"),
        ))}),
        [],
    ),
    "off where it never sat": (depot(row("2026-02-01", "B-1"), row("2026-02-02", off="B-1", vehicle="12")), ["3 FITTED10 never there"]),
    "off before it went on": (depot(row("2026-02-02", "B-1"), row("2026-02-01", off="B-1")), ["3 FITTED10 never there"]),
    "off on the day on which it went on, told first": (depot(row("2026-02-02", off="B-1"), row("2026-02-02", "B-1")), []),
    "two off where one sat": (depot(row("2026-02-01", "B-1"), row("2026-02-02", off="B-1", removed=2)), ["3 FITTED10 more than sits there"]),
    "off twice": (
        depot(row("2026-02-01", "B-1"), row("2026-02-02", off="B-1"), row("2026-02-03", off="B-1")), ["4 FITTED10 off already"],
    ),
    "off at another position": (
        depot(row("2026-02-01", "B-1", position="left"), row("2026-02-02", off="B-1", position="right")), ["3 FITTED10 other position"],
    ),
    "off at the same position, written otherwise": (
        depot(row("2026-02-01", "B-1", position="Left  window"), row("2026-02-02", off="B-1", position="left window")), [],
    ),
    "off at a position, on without one": (depot(row("2026-02-01", "B-1"), row("2026-02-02", off="B-1", position="left")), []),
    "off without a position, on at two": (
        depot(row("2026-02-01", "B-1", position="l"), row("2026-02-01", "B-1", position="r"), row("2026-02-02", off="B-1", removed=2)), [],
    ),
    "off at its position, after one without took it": (
        depot(
            row("2026-02-01", "B-1", position="l"), row("2026-02-02", off="B-1"), row("2026-02-03", off="B-1", position="l"),
        ),
        ["4 FITTED10 off already"],
    ),
    "lines in no order of their days": (
        depot(row("2026-03-01", off="B-1"), row("2026-02-01", "B-1")), [],
    ),
    "a late line makes an earlier one one too many": (
        depot(row("2026-02-09", "B-1", 2), row("2026-02-01", "B-1")), ["2 FITTED06 too many"],
    ),
    "a lever where a knob sits": (
        depot(row("2026-02-01", "B-2"), batches={"B-2": batch(part=LEVER)}), ["2 FITTED05 no fit"],
    ),
    "a part that there is not": (depot(row("2026-02-01", "B-2", 99), batches={"B-2": batch(100, part="EX-9999")}), []),
}  # fmt: skip


@pytest.mark.parametrize("case", CASES)
def test_what_cannot_be_is_told_at_its_line(case):
    catalogue, expected = CASES[case]
    assert told(catalogue) == expected


def test_a_day_to_come_is_told_and_today_is_none():
    rows = depot(row("2026-02-01", "B-1"), row("2026-02-02", "B-1")).production.fitted
    assert [each.where.line for each in to_come(rows, date(2026, 2, 1))] == [3]
