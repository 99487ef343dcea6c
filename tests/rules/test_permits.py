"""What a permit speaks of, and until when: only what it names, and only where it says that it has no end."""

from datetime import date, timedelta

import pytest

from generator.records.approvals import Scope
from generator.rules.permits import covers, overlap
from tests.rules.test_history import WAY, told

LAST = date(2030, 1, 1)


def scope(fleet="A1", vehicles=("11-13",), places=("cab", "door")):
    return Scope(fleet=fleet, vehicles=vehicles, places=places)


@pytest.mark.parametrize(
    ("fleet", "place", "vehicle", "spoken_of"),
    [
        ("A1", "cab", "11", True),
        ("A1", "door", "13", True),
        ("A1", "cab", 14, False),
        ("A1", "bogie", "11", False),
        ("B2", "cab", "11", False),
    ],
)
def test_a_permit_speaks_of_what_it_names(fleet, place, vehicle, spoken_of):
    assert covers((scope("C3"), scope()), fleet, place, vehicle) is spoken_of


@pytest.mark.parametrize("nothing", [scope(vehicles=()), scope(places=())])
def test_what_is_not_named_is_not_spoken_of(nothing):
    """"All" would grow with every vehicle and place that comes later."""
    assert not covers((nothing,), "A1", "cab", "11")


@pytest.mark.parametrize(
    ("other", "meet"),
    [
        (scope(vehicles=("13-20",), places=("door", "roof")), True),
        (scope(vehicles=("14-20",)), False),
        (scope(places=("roof",)), False),
        (scope("B2"), False),
    ],
    ids=["one vehicle and place", "other vehicles", "other places", "another fleet"],
)
def test_two_permits_meet_on_a_vehicle_at_a_place(other, meet):
    assert bool(overlap((scope("C3"), scope()), (other, scope("D4")))) is meet


def permit(*more, what="approved", **details):
    return told(*WAY, what, *more, **details).permits[-1]


def test_the_last_day_is_a_day_of_the_permit():
    days = [permit().lasts_on(LAST + timedelta(days=shift)) for shift in (-1, 0, 1)]
    assert days == [True, True, False]


def test_only_an_approval_that_says_so_has_no_end():
    assert permit(approved={"valid_until": None, "open_ended": True}).open_ended
    assert not permit(approved={"valid_until": None}).open_ended
    assert not permit().open_ended
    assert not permit(what="trial opened").open_ended


def test_a_renewal_that_says_an_end_gives_it_one():
    renewed = permit("renewed", approved={"valid_until": None, "open_ended": True})
    assert (renewed.open_ended, renewed.valid_until) == (False, date(2031, 1, 1))
    assert permit(approved={"valid_until": None, "open_ended": True}).lasts_on(date(2200, 1, 1))
