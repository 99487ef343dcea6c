"""Lines of what was fitted → pieces with their days in use: which came off, when nobody numbers pieces."""

from collections import Counter
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.planning.holding.pieces import fitted_pieces
from generator.rules.production.ledger import ledger
from tests.planning.holding.histories import DAY, batch, line, produced


def told(*lines, day=DAY):
    """Each piece as its first day (before the last), its days in use, and why it came off."""
    found = fitted_pieces(produced(*lines), day)
    return [((DAY - each.fitted_on).days, each.until(day).days, each.why and each.why.value) for name in found.pieces for each in found.pieces[name]]


def test_a_piece_is_in_use_until_it_comes_off_or_until_the_day():
    assert told(line(100, on="B-1"), line(80, on="B-1"), line(30, off="B-1", why="worn")) == [(100, 70, "worn"), (80, 80, None)]


@pytest.mark.parametrize(("why", "failed"), [("worn", True), ("broken", True), ("wrong", False), ("campaign", False)])
def test_what_was_wrong_or_called_back_did_not_fail(why, failed):
    (piece,) = fitted_pieces(produced(line(9, on="B-1"), line(2, off="B-1", why=why)), DAY).pieces["B-1"]
    assert (piece.failed, piece.until(DAY).failed, piece.until(DAY).days) == (failed, failed, 7)


def test_the_piece_at_the_position_came_off_though_another_is_older():
    lines = (line(100, on="B-1", position="bin 1"), line(50, on="B-1", position="bin 2"), line(10, off="B-1", why="broken", position="Bin  2"))
    assert told(*lines) == [(100, 100, None), (50, 40, "broken")]


def test_without_a_position_one_without_a_position_came_off_and_else_the_first_that_was_told():
    lines = (line(90, on="B-1", position="bin 1"), line(50, on="B-1"), *(line(day, off="B-1", why="broken") for day in (10, 5)))
    assert told(*lines) == [(90, 85, "broken"), (50, 40, "broken")]


def test_of_several_at_one_position_the_oldest_came_off():
    lines = (line(60, on="B-1"), line(90, on="B-1"), line(50, on="B-1"), line(10, off="B-1", why="worn"))
    assert told(*lines) == [(90, 80, "worn"), (60, 60, None), (50, 50, None)]


def test_a_position_of_another_name_means_one_of_which_nobody_said_it_and_else_counts_nowhere():
    lines = (line(100, on="B-1", position="bin 1"), line(50, on="B-1"), *(line(day, off="B-1", why="worn", position="flap 7") for day in (20, 10)))
    assert (told(*lines), dict(fitted_pieces(produced(*lines), DAY).unpaired)) == ([(100, 100, None), (50, 30, "worn")], {"B-1": 1})


def test_another_place_vehicle_fleet_or_batch_is_another_piece():
    elsewhere = ({"place": "cab"}, {"vehicle": "402"}, {"fleet": "TR7"})
    lines = [line(9, on="B-1"), *(line(3, off="B-1", why="worn", **each) for each in elsewhere), line(3, off="B-2", why="worn")]
    found = fitted_pieces(produced(*lines), DAY)
    assert (told(*lines), dict(found.unpaired)) == ([(9, 9, None)], {"B-1": 3, "B-2": 1})


def test_off_and_on_in_one_line_is_the_old_piece_and_then_the_new():
    assert told(line(100, on="B-1"), line(40, off="B-1", why="worn", on="B-1")) == [(100, 60, "worn"), (40, 40, None)]


@pytest.mark.parametrize("turned", [False, True])
def test_on_and_off_on_one_day_is_no_day_in_use_in_whichever_order_it_is_written(turned):
    lines = [line(5, on="B-1"), line(5, off="B-1", why="broken")]
    assert told(*(reversed(lines) if turned else lines)) == [(5, 0, "broken")]


def test_what_came_off_before_it_was_fitted_is_another_piece_and_counts_nowhere():
    lines = (line(50, off="B-1", why="worn"), line(40, on="B-1"))
    found = fitted_pieces(produced(*lines), DAY)
    assert (told(*lines), dict(found.unpaired)) == ([(40, 40, None)], {"B-1": 1})


def test_of_more_that_came_off_than_went_on_the_rest_counts_nowhere():
    found = fitted_pieces(produced(line(50, on="B-1", count=2), line(40, off="B-1", removed=5, why="worn")), DAY)
    assert ([each.off_on is None for each in found.pieces["B-1"]], dict(found.unpaired)) == ([False, False], {"B-1": 3})


def test_days_to_come_do_not_count():
    lines = (line(9, on="B-1"), line(-1, off="B-1", why="broken"), line(-2, on="B-1"))
    assert told(*lines) == [(9, 9, None)]
    assert told(*lines, day=DAY + timedelta(days=1)) == [(9, 10, "broken")]


def test_an_earlier_day_knows_no_later_failure():
    (piece,) = fitted_pieces(produced(line(9, on="B-1"), line(2, off="B-1", why="broken")), DAY).pieces["B-1"]
    assert (piece.until(DAY - timedelta(days=5)).days, piece.until(DAY - timedelta(days=5)).failed) == (4, False)


def test_originals_that_came_off_are_no_piece_and_files_need_no_order():
    lines = (line(3, on="B-1", removed=1, why="worn"), line(80, on="B-1"))
    assert told(*lines) == [(80, 80, None), (3, 3, None)]


_MOVES = st.lists(
    st.tuples(st.integers(-3, 40), st.sampled_from(["401", "402"]), st.sampled_from(["", "a", "b"]), st.sampled_from(["B-1", "B-2"]), st.integers(0, 3), st.integers(0, 3), st.sampled_from(["worn", "campaign"])),
    max_size=25,
)  # fmt: skip


@settings(max_examples=150)
@given(_MOVES)
def test_days_in_use_are_conserved_and_the_ledger_counts_the_same_pieces(moves):
    lines = [
        line(day, on=name if on else "", count=on, off=name if off else "", removed=off, why=why if off else None, vehicle=vehicle, position=position)
        for day, vehicle, position, name, on, off, why in moves
        if on or off
    ]
    made = produced(*lines, B_1=batch(), B_2=batch())
    found = fitted_pieces(made, DAY)
    balances = ledger(made, DAY).balances
    for name in ("B-1", "B-2"):
        pieces, rows = found.pieces.get(name, ()), [row for row in lines if row.day <= DAY]
        assert len(pieces) == sum(row.count for row in rows if row.batch == name)
        sitting = sum(each.off_on is None for each in pieces)
        assert sitting == balances[name].on_vehicles
        # Every piece that sits adds the days to DAY, every one that came off takes away those since; which one it was is no matter.
        assert Counter(each.spot[:3] for each in pieces if each.off_on is None) == Counter(spot[:3] for spot, there in ledger(made, DAY).sitting.items() for _ in range(there.get(name, 0)))
        until = sum((DAY - each.fitted_on).days for each in pieces) - sum((DAY - each.off_on).days for each in pieces if each.off_on)
        assert sum(each.days for each in found.observed([name])) == until
        assert all(each.days >= 0 for each in found.observed([name]))
        assert sum(each.failed for each in pieces) <= sum(row.removed for row in rows if row.removed_batch == name and row.why.is_failure)


def test_what_broke_on_the_very_day_has_failed():
    (piece,) = fitted_pieces(produced(line(9, on="B-1"), line(0, off="B-1", why="broken")), DAY).pieces["B-1"]
    assert (piece.until(DAY).days, piece.until(DAY).failed) == (9, True)
