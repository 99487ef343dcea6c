"""Ranges of vehicles, written and read back."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from generator.records.approvals import Scope
from generator.records.fleets import as_ranges, vehicles_in


@given(st.sets(st.integers(0, 99999), max_size=40))
def test_ranges_give_the_same_vehicles_back(vehicles):
    assert vehicles_in(as_ranges(vehicles)) == tuple(sorted(vehicles))


@pytest.mark.parametrize(
    ("vehicles", "ranges"),
    [
        ((), ()),
        ((403,), ("403",)),
        ((401, 402, 403, 407), ("401-403", "407")),
        ((402, 401, 401), ("401-402",)),
        ((9, 10, 11), ("9-11",)),
    ],
)
def test_as_short_as_they_go(vehicles, ranges):
    assert as_ranges(vehicles) == ranges


@pytest.mark.parametrize("text", ["401-412", "401", "7", "00401"])
def test_ranges_that_are_ranges(text):
    assert Scope(fleet="TR4", vehicles=(text,)).vehicles == (text,)


@pytest.mark.parametrize(
    "text",
    ["", "412-401", "401-", "-401", "401–412", "401 - 412", "a", "401,402", "1-9999", "123456", "٤٠١", "4.5"],
)
def test_what_is_no_range(text):
    with pytest.raises(ValidationError):
        Scope(fleet="TR4", vehicles=(text,))
