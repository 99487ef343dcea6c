"""Vehicles as depots number them: ranges of them, written and read back."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from generator.records.approvals import Scope
from generator.records.fleets import Fleet
from generator.records.vehicles import Designation, as_ranges, read_alike, vehicles_in

numbers = st.builds(
    lambda letters, groups, behind: letters + ".".join(groups) + behind,
    st.sampled_from(["", "B", "Bx", "Å", "VT"]),
    st.lists(st.from_regex(r"[0-9]{1,4}", fullmatch=True), min_size=1, max_size=3),
    st.sampled_from(["", "", "a", "B"]),
)


@given(st.sets(numbers, max_size=40))
def test_ranges_give_the_same_vehicles_back(vehicles):
    assert set(vehicles_in(as_ranges(vehicles))) == vehicles


@given(st.sets(numbers, max_size=20))
def test_each_range_that_is_written_is_one_that_is_read(vehicles):
    ranges = as_ranges(vehicles)
    assert Scope(fleet="TR4", vehicles=ranges).vehicles == ranges


@pytest.mark.parametrize(
    ("vehicles", "ranges"),
    [
        ((), ()),
        (("403",), ("403",)),
        (("401", "402", "403", "407"), ("401-403", "407")),
        (("402", "401", "401"), ("401-402",)),
        (("9", "10", "11"), ("9-11",)),
        (("09", "10", "11"), ("09-11",)),
        (("9", "010"), ("9", "010")),
        (("B31", "B32", "C33"), ("B31-B32", "C33")),
        (("31.02", "31.03", "32.04"), ("31.02-31.03", "32.04")),
        (("7a", "8a", "8b"), ("7a-8a", "8b")),
    ],
)
def test_as_short_as_they_go(vehicles, ranges):
    assert as_ranges(vehicles) == ranges


@pytest.mark.parametrize(
    ("written", "vehicles"),
    [
        ("401-403", ("401", "402", "403")),
        ("0401-0403", ("0401", "0402", "0403")),
        ("098-101", ("098", "099", "100", "101")),
        ("8-11", ("8", "9", "10", "11")),
        ("0-2", ("0", "1", "2")),
        ("00-02", ("00", "01", "02")),
        ("B31-33", ("B31", "B32", "B33")),
        ("B31-B33", ("B31", "B32", "B33")),
        ("31.02-04", ("31.02", "31.03", "31.04")),
        ("31.02-31.04", ("31.02", "31.03", "31.04")),
        ("7a-9a", ("7a", "8a", "9a")),
        ("B31", ("B31",)),
        ("Æ7", ("Æ7",)),
        ("VT2-4", ("VT2", "VT3", "VT4")),
        ("1.001-1.003", ("1.001", "1.002", "1.003")),
        ("00401", ("00401",)),
    ],
)
def test_what_a_range_names(written, vehicles):
    assert vehicles_in(Scope(fleet="TR4", vehicles=(written,)).vehicles) == vehicles


@pytest.mark.parametrize("written", ["401–412", "401—412", "401 - 412", " 401-412"])
def test_a_dash_may_be_any_dash(written):
    assert Scope(fleet="TR4", vehicles=(written,)).vehicles == ("401-412",)


@pytest.mark.parametrize(
    "text",
    [
        "", " ", "-", "412-401", "401-", "-401", "a", "401,402", "1-9999", "1234567", "٤٠١", "401-402-403", "B31-C35", "B31-31.02",
        "31.02-32.05", "31.-32.", ".31", "31..02", "7a-9b", "0998-1", "098-1002", "98-0102", "B-D", "4 01", "В31",
        "ABCDE1", "1.2.3.4.5", "a" * 400, "1" * 400, "401/402", "401+402", "401-412 except 407", "VT 2", "B31-39x", "31.1-31.012", "0401-412", "４０１", "4\u00ad01", "401*", "<b>1</b>", "94 80 0401 001-5",
    ],
)  # fmt: skip
def test_what_is_no_range(text):
    with pytest.raises(ValidationError):
        Scope(fleet="TR4", vehicles=(text,))


def test_people_sort_numbers_by_their_size():
    mixed = ("B10", "B9", "401", "31.10", "31.9", "0401a", "0400", "A2", "31", "31a", "b9x")
    assert vehicles_in(mixed) == ("31", "31a", "31.9", "31.10", "0400", "401", "0401a", "A2", "B9", "b9x", "B10")


@given(numbers)
def test_a_number_taken_apart_is_whole_again(number):
    assert str(Designation.of(number)) == number


@pytest.mark.parametrize(("one", "other"), [("401", "0401"), ("b31", "B31"), ("31.2", "31.02"), ("000", "0")])
def test_two_that_are_read_alike_are_not_told_apart_in_one_fleet(one, other):
    assert read_alike(one) == read_alike(other)
    with pytest.raises(ValidationError, match="read alike"):
        Fleet.model_validate(
            {"id": "TR4", "name": "TR4", "vehicles": [one, other], "in_service_since": 1983, "operation_category": 2,
             "design_category": "N", "places": [{"id": "cab", "name": "Cab", "area": "interior", "largest_mm": 900}]},
            strict=False,
        )  # fmt: skip


@pytest.mark.parametrize(("one", "other"), [("10", "100"), ("31.10", "31.1"), ("B1", "1"), ("100", "1"), ("1.0", "10")])
def test_what_is_read_otherwise_is_another(one, other):
    assert read_alike(one) != read_alike(other)
