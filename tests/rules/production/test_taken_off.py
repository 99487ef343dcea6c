"""What came off and was scrapped since is told as scrapped; all else has to be found. As somebody would write it who hides a piece."""

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given

from generator.rules.production.ledger import ledger
from generator.rules.production.recalling import reach_of
from generator.rules.production.taken_off import fates_of
from generator.rules.production.tracing import of_all
from tests.fixtures.production import RELEASED, batch, depot, recall, row
from tests.rules.production.test_balances import histories, is_possible


def scrap(on, count=1):
    return {"what": "scrapped", "on": on, "by": "keeper", "count": count, "why": "called back"}


def counted(on, on_shelf):
    return {"what": "counted", "on": on, "by": "keeper", "on_shelf": on_shelf}


def reached(*rows, count=10, events=(), **more):
    batches = {"B-1": batch(count, events=[*RELEASED, *events])} | more
    production = depot(*rows, batches=batches, recalls={"RC-0001": recall(lot="L-1")}).production
    return reach_of(production.recalls["RC-0001"], production)


def off_in(reach):
    """Pieces to find of what came off, by batch, with the vehicles of each line."""
    return [(each.batch, each.count, [spot.site.vehicle for spot in each.off.spots]) for each in reach.elsewhere if each.kind == "came_off"]


def done_in(reach):
    return [(each.batch, [spot.site.vehicle for spot in each.spots], [(on.isoformat(), n) for on, n in each.scrapped]) for each in reach.scrapped]


FITTED = row("2026-02-01", "B-1", 2), row("2026-02-01", "B-1", 2, vehicle="12")
OFF_11, OFF_12 = row("2026-06-02", off="B-1", removed=2), row("2026-06-04", off="B-1", removed=2, vehicle="12")
CASES = {
    "nothing scrapped": ([OFF_11, OFF_12], [], [("B-1", 2, ["11"]), ("B-1", 2, ["12"])], []),
    "all scrapped": ([OFF_11, OFF_12], [scrap("2026-06-05", 4)], [], [("B-1", ["11", "12"], [("2026-06-05", 4)])]),
    "scrapped before anything came off": ([OFF_11], [scrap("2026-06-01", 2)], [("B-1", 2, ["11"])], []),
    "scrapped before the next came off": ([OFF_11, OFF_12], [scrap("2026-06-03", 2)], [("B-1", 2, ["12"])], [("B-1", ["11"], [("2026-06-03", 2)])]),
    "one of one vehicle": ([OFF_11], [scrap("2026-06-03")], [("B-1", 1, ["11"])], []),
    "nobody knows of which vehicle": ([OFF_11, OFF_12], [scrap("2026-06-05", 3)], [("B-1", 1, ["11", "12"])], []),
    "one of the first, then the next came off": ([OFF_11, OFF_12], [scrap("2026-06-03")], [("B-1", 1, ["11"]), ("B-1", 2, ["12"])], []),
    "scrapped on the day on which it came off": ([OFF_11], [scrap("2026-06-02", 2)], [], [("B-1", ["11"], [("2026-06-02", 2)])]),
    "in two goes": ([OFF_11], [scrap("2026-06-02"), scrap("2026-06-08")], [], [("B-1", ["11"], [("2026-06-02", 1), ("2026-06-08", 1)])]),
    "all of the first, then one of the next": (
        [OFF_11, OFF_12], [scrap("2026-06-03", 2), scrap("2026-06-05")], [("B-1", 1, ["12"])], [("B-1", ["11"], [("2026-06-03", 2)])],
    ),
    "in two goes, the later written first": (
        [OFF_11, OFF_12], [scrap("2026-06-08"), scrap("2026-06-05", 3)], [], [("B-1", ["11", "12"], [("2026-06-05", 3), ("2026-06-08", 1)])],
    ),
    "all of it, and one more was found on a vehicle and came off": (
        [OFF_11, OFF_12, row("2026-06-07", off="B-1", vehicle="13", as_found=True)], [scrap("2026-06-05", 4), scrap("2026-06-05", 6)], [],
        [("B-1", ["11", "12"], [("2026-06-05", 4)]), ("B-1", ["13"], [])],
    ),
    "more scrapped than came off": ([OFF_11], [scrap("2026-06-03", 5)], [], [("B-1", ["11"], [("2026-06-03", 2)])]),
}


@pytest.mark.parametrize("case", CASES)
def test_what_came_off_is_to_be_found_until_it_is_scrapped(case):
    off, events, to_find, done = CASES[case]
    reach = reached(*FITTED, *off, events=events)
    assert (off_in(reach), done_in(reach)) == (to_find, done)


def test_a_place_that_pieces_came_off_tells_its_positions_as_people_count_and_the_last_day():
    rows = [row("2026-02-01", "B-1", position=position) for position in ("window 10", "window 2", "")]
    off = [row(day, off="B-1", position=position) for day, position in (("2026-06-04", "window 10"), ("2026-06-02", "window 2"), ("2026-06-03", ""))]
    (one,) = [each for each in reached(*rows, *off, events=[scrap("2026-06-05")]).elsewhere if each.off]
    (spot,) = one.off.spots
    assert (spot.positions, spot.count, spot.on.isoformat(), one.count) == (("window 2", "window 10"), 3, "2026-06-04", 2)


def test_scrap_of_one_batch_says_nothing_of_another():
    rows = row("2026-02-01", "B-2", vehicle="12"), row("2026-06-04", off="B-2", vehicle="12")
    reach = reached(*FITTED, OFF_11, *rows, events=[scrap("2026-06-05", 3)], **{"B-2": batch(4)})
    assert off_in(reach) == [("B-2", 1, ["12"])]
    assert done_in(reach) == [("B-1", ["11"], [("2026-06-05", 2)])]


def test_what_came_off_long_before_the_recall_is_looked_for_too():
    reach = reached(row("2026-02-01", "B-1"), row("2026-03-01", off="B-1"))
    assert off_in(reach) == [("B-1", 1, ["11"])]
    assert reach.visits == ()


def test_of_a_batch_without_a_record_nobody_scrapped_anything():
    production = depot(row("2026-03-01", "B-77", 2), row("2026-06-02", off="B-77"), recalls={"RC-0001": recall(batch="B-77")}).production
    assert off_in(reach_of(production.recalls["RC-0001"], production)) == [("B-77", 1, ["11"])]


def test_a_piece_that_was_fitted_again_is_no_second_piece_and_hides_none():
    """One piece was printed: it came off 11 and sits on 12 now, or somebody wrote the wrong batch; until 12 is visited both are looked for."""
    there = row("2026-02-01", "B-1"), row("2026-06-02", off="B-1"), row("2026-06-03", "B-1", vehicle="12")
    reach = reached(*there, count=1)
    assert off_in(reach) == [("B-1", 1, ["11"])]
    assert [each.off.refitted for each in reach.elsewhere if each.off] == [1]
    again = row("2026-06-04", off="B-1", vehicle="12")
    (one,) = [each for each in reached(*there, again, count=1).elsewhere if each.off]
    assert (one.count, [spot.site.vehicle for spot in one.off.spots]) == (1, ["11", "12"])
    gone = reached(*there, again, count=1, events=[scrap("2026-06-05")])
    assert (gone.elsewhere, gone.to_find, len(gone.scrapped)) == ((), 0, 1)


def found(*args, **more):
    return row(*args, as_found=True, **more)


def test_a_piece_that_was_found_on_a_vehicle_again_is_looked_for_at_both_ends_until_it_is_off():
    """Somebody put the called-back piece from the drawer onto 12, or took another one for it: then it lies in the drawer still."""
    there = row("2026-02-01", "B-1"), row("2026-06-02", off="B-1"), found("2026-06-03", "B-1", vehicle="12")
    reach = reached(*there, count=1)
    assert (reach.sits, off_in(reach)) == (1, [("B-1", 1, ["11"])])
    off = reached(*there, row("2026-06-04", off="B-1", vehicle="12"), count=1)
    assert (off.sits, off.to_find, off_in(off)) == (0, 1, [("B-1", 1, ["11", "12"])])
    done = reached(*there, row("2026-06-04", off="B-1", vehicle="12"), count=1, events=[scrap("2026-06-05")])
    assert (done.to_find, done.elsewhere, done_in(done)) == (0, (), [("B-1", ["11", "12"], [("2026-06-05", 1)])])


def test_one_that_came_off_and_was_never_written_down_as_fitted_has_to_be_found_too():
    reach = reached(found("2026-06-02", off="B-1", vehicle="12"), count=1)
    assert (reach.to_find, off_in(reach)) == (1, [("B-1", 1, ["12"])])
    done = reached(found("2026-06-02", off="B-1", vehicle="12"), count=1, events=[scrap("2026-06-03")])
    assert (done.to_find, off_in(done)) == (0, [])


def test_one_that_was_found_beyond_all_that_there_were_adds_nothing_to_what_is_looked_for():
    """One was printed and scrapped off the shelf, one found on 12 that day; two came off there the next day, instead of which another was found."""
    on = found("2026-02-01", "B-1", vehicle="12"), found("2026-02-02", "B-2", off="B-1", removed=2, vehicle="12")
    reach = reached(*on, count=1, events=[scrap("2026-02-01")], **{"B-2": batch(1, lots=("L-2",))})
    assert (reach.shelf, reach.out, reach.elsewhere) == (0, 0, ())
    assert [(each.batch, each.came, each.refitted) for each in reach.scrapped] == [("B-1", 2, 2)]


@given(histories())
def test_once_nothing_sits_any_more_what_came_off_is_what_the_ledger_says(history):
    """Also of lines that were found so."""
    rows, batches = history
    production = depot(*(replace(each, as_found=True) for each in rows), batches=batches, recalls={"RC-0001": recall(lot="L-1")}).production
    reach = reach_of(production.recalls["RC-0001"], production)
    for name, balance in ledger(production).balances.items():
        listed = sum(each.count for each in reach.elsewhere if each.off and each.batch == name)
        more = max(0, balance.on_vehicles + balance.removed + balance.scrapped - balance.printed)
        if balance.on_vehicles == 0:
            assert listed == balance.removed - min(balance.removed, more)
        assert listed >= balance.removed - more
        assert all(each.count > 0 for each in reach.elsewhere)


def test_a_count_above_the_books_is_looked_for():
    reach = reached(row("2026-02-01", "B-1", 10), events=[counted("2026-06-03", 2)])
    (one,) = reach.elsewhere
    assert (one.kind, one.count, one.more, one.on.isoformat()) == ("shelf", 2, 2, "2026-06-03")
    assert reach.to_find == 12


@pytest.mark.parametrize(
    ("events", "shelf", "more"),
    [
        ([counted("2026-06-03", 12)], 12, 2),
        ([counted("2026-06-03", 12), scrap("2026-06-04", 12)], 0, 0),
        ([counted("2026-06-03", 12), scrap("2026-06-04", 10)], 2, 2),
        ([counted("2026-06-03", 12), counted("2026-06-04", 10)], 10, 0),  # a wrong count is counted again
        ([counted("2026-06-03", 7)], 10, -3),  # fewer than written down: the others lie somewhere
        ([counted("2026-06-03", 7), scrap("2026-06-04", 7)], 3, -3),
        ([counted("2026-06-03", 0), scrap("2026-06-04", 10)], 0, 0),
    ],
)
def test_the_shelf_is_what_the_books_say_or_what_was_counted_whichever_is_more(events, shelf, more):
    reach = reached(events=events)
    assert [(each.count, each.more) for each in reach.elsewhere] == ([(shelf, more)] if shelf else [])
    assert reach.shelf == shelf


def test_the_list_is_in_one_order_vehicles_then_batches_then_what_came_off():
    rows = (
        row("2026-02-01", "B-2", vehicle="12"), row("2026-02-01", "B-1", vehicle="12"), row("2026-02-01", "B-1"),
        row("2026-06-02", off="B-2", vehicle="12"), row("2026-06-03", off="B-1"),
    )  # fmt: skip
    reach = reached(*rows, events=[{"what": "issued", "on": "2026-03-01", "by": "keeper", "count": 4}], **{"B-2": batch(4)})
    assert [(each.kind, each.batch) for each in reach.elsewhere] == [
        ("shelf", "B-1"), ("out", "B-1"), ("shelf", "B-2"), ("came_off", "B-1"), ("came_off", "B-2"),
    ]  # fmt: skip


@given(histories())
def test_whatever_is_written_no_piece_is_lost_from_the_list(history):
    """Printed less scrapped has to be found, wherever the books say it is: never fewer."""
    rows, batches = history
    production = depot(*rows, batches=batches, recalls={"RC-0001": recall(lot="L-1")}).production
    reach = reach_of(production.recalls["RC-0001"], production)
    listed = Counter({name: reach.about(name) for name in batches})
    for name, balance in ledger(production).balances.items():
        came = sum(spot.count for each in reach.elsewhere if each.off and each.batch == name for spot in each.off.spots)
        came += sum(spot.count for each in reach.scrapped if each.batch == name for spot in each.spots)
        assert came == balance.moved.came(None)
        if is_possible(batches[name]):
            assert listed[name] >= balance.printed - balance.scrapped


def test_each_batch_of_which_pieces_came_off_stands_by_its_number_and_what_carries_none_does_not():
    rows = row("2026-02-01", "B-2", 2), row("2026-02-01", "B-1"), row("2026-03-01", off="B-2", removed=2), row("2026-03-02", off="B-1"), row("2026-03-03", removed=1)
    fates = fates_of(of_all(depot(*rows, batches={"B-1": batch(), "B-2": batch()}).production))
    assert [(name, [(each.came, each.count) for each in own]) for name, own in fates.items()] == [("B-1", [(1, 1)]), ("B-2", [(2, 2)])]
