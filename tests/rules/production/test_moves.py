"""What sits where after each day? Nobody knows the order within a day, and the order of lines in a file tells nothing.

Each case is a vehicle's cab: what went on and came off, what sits there in the end, how many of each removal could come off, and how
many must have gone on without a word. It is asked in every order in which the lines of a day can stand.
"""

from dataclasses import replace
from datetime import date
from itertools import permutations, product

import pytest

from generator.rules.production.moves import Sitting, VehiclePlace, days
from tests.fixtures.production import row

CAB = VehiclePlace("A1", "11", "cab")


def on(day, position="", count=1, name="B-1"):
    return row(f"2026-02-{day:02d}", name, count, position=position)


def off(day, position="", count=1, name="B-1", **more):
    return row(f"2026-02-{day:02d}", off=name, removed=count, position=position, **more)


CASES = {
    "on and off on one day": ([on(1), off(1)], {}, [1], 0),
    "off before it went on": ([off(1), on(2)], {"": 1}, [0], 0),
    "from the position that is named": ([on(1, "left"), on(1, "right"), off(2, "left")], {"right": 1}, [1], 0),
    "from another position nothing comes off": ([on(1, "left"), off(2, "right")], {"left": 1}, [0], 0),
    "then from those of which nobody said where": ([on(1, "left"), on(1), off(2, "left", 2)], {}, [2], 0),
    "at a position of which nothing is told they are all there is": ([on(1), off(2, "left")], {}, [1], 0),
    "who names none takes what nobody placed": ([on(1, "left"), on(2), off(3)], {"left": 1}, [1], 0),
    "then what was told first": ([on(1, "right"), on(2, "left"), off(3)], {"left": 1}, [1], 0),
    "of one day by name": ([on(1, "right"), on(1, "left"), off(3)], {"right": 1}, [1], 0),
    "by name, whatever the letters' case": ([on(1, "B"), on(1, "a"), off(3)], {"B": 1}, [1], 0),
    "what is written in two ways is one position, as it was first written": ([on(1, "Left"), on(1, "left", 2), off(2, "LEFT ")], {"Left": 2}, [1], 0),
    "who names a position is asked first": ([on(1, "left"), on(1, "right"), off(2, "left"), off(2)], {}, [1, 1], 0),
    "and what somebody found so last": ([on(1), off(2, as_found=True), off(2)], {}, [1, 1], 1),
    "and of these the lesser first": ([on(1, count=2), off(2, count=1), off(2, count=2)], {}, [1, 1], 0),
    "and at last by name": ([on(1), off(2, "left"), off(2, "right")], {}, [1, 0], 0),
    "more than sit there": ([on(1), off(2, count=3)], {}, [1], 0),
    "more than sit there, and somebody found it so": ([on(1), off(2, count=3, as_found=True)], {}, [3], 2),
    "of another batch nothing comes off": ([on(1, name="B-2"), off(2)], {"": 1}, [0], 0),
    "two batches at one position": ([on(1, "left"), on(1, "left", name="B-2"), off(2, "left", name="B-2")], {"left": 1}, [1], 0),
}


@pytest.mark.parametrize("case", CASES)
def test_what_sits_there_and_what_came_off_in_every_order_of_lines(case):
    lines, sits, came_off, unwritten = CASES[case]
    for order in permutations(lines):
        every = list(days(order))
        sitting = {spot.position: sum(batches.values()) for spot, batches in every[-1].sitting.spots().items()}
        taken = {taken: count for day in every for taken, count in day.taken}
        assert sitting == sits
        assert [taken[line] for line in lines if line.removed_batch] == came_off
        assert sum(count for day in every for _, count in day.unwritten) == unwritten


def test_what_cannot_come_off_is_told_with_where_more_of_it_sits():
    (*_, last) = days([on(1, "left"), on(1, "right", 2), on(1, "door", name="B-2"), off(2, "roof", 2)])
    (told,) = last.missing
    assert (told.row.position, told.sat, told.elsewhere) == ("roof", 0, ("left", "right"))
    (*_, last) = days([on(1, "left", 3), off(2, "left", 2), off(3, "left", 2)])
    assert [(each.sat, each.elsewhere) for each in last.missing] == [(1, ())]


def test_one_vehicle_or_place_says_nothing_of_another():
    for other in ({"vehicle": "12"}, {"place": "door"}, {"fleet": "B2"}):
        (*_, last) = days([replace(on(1), **other), off(2)])
        assert [count for _, count in last.taken] == [0]
        assert list(last.sitting.spots().values()) == [{"B-1": 1}]


def test_how_many_of_each_batch_sit_at_a_place_whatever_the_position():
    (*_, last) = days([on(1, "left"), on(1, "right", 2), on(1, name="B-2"), off(2, name="B-2")])
    assert last.sitting.at(CAB) == {"B-1": 3}
    assert last.sitting.at(CAB._replace(vehicle="12")) == {}
    assert Sitting().at(CAB) == {}


def test_each_day_tells_its_own_lines_and_the_oldest_comes_first():
    found = [(each.on, len(each.rows)) for each in days([on(3), on(1), off(3), on(2)])]
    assert found == [(date(2026, 2, 1), 1), (date(2026, 2, 2), 1), (date(2026, 2, 3), 2)]
    assert list(days([])) == []


def test_no_removal_takes_more_than_there_is_or_leaves_less_than_nothing():
    for fitted, first, second in product(range(4), range(1, 4), range(1, 4)):
        lines = [on(1, count=fitted)] if fitted else []
        (*_, last) = days([*lines, off(2, count=first), off(3, "left", second)])
        gone = min(fitted, first + second)
        assert sum(last.sitting.at(CAB).values()) == fitted - gone
        assert sum(each.row.removed - each.sat for each in last.missing) == max(0, second - max(0, fitted - first))
