"""Python and the browser read the numbers of vehicles alike, and find the one that is meant."""

import json

import pytest
from py_mini_racer import MiniRacer

from generator.finder.scripts import read_scripts
from generator.records.vehicles import as_ranges, vehicles_in
from generator.systems.own_site import SCRIPTS as WHERE
from generator.systems.own_site import SITE

RANGES = [
    "401", "401-412", "0401-0404", "098-101", "8-11", "0-2", "00-02", "B31-33", "B31-B33", "31.02-04", "31.02-31.04", "7a-9a",
    "Æ7", "1.001-1.005", "VT2-VT4", "9-10", "09-10", "412-401", "31.02-32.05", "B31-C35", "401-", "-", "", "a",
]  # fmt: skip


@pytest.fixture(scope="module")
def browser():
    with MiniRacer() as engine:
        engine.eval(read_scripts(SITE / WHERE).room("vehicles"))
        yield lambda call, *given: json.loads(
            engine.eval(f"JSON.stringify(spares.vehicles.{call}({', '.join(map(json.dumps, given))}))")
        )


@pytest.mark.parametrize("written", RANGES)
def test_a_range_names_the_same_vehicles_in_both(browser, written):
    expected = () if written in {"412-401", "31.02-32.05", "B31-C35", "401-", "-", "", "a"} else vehicles_in((written,))
    assert tuple(browser("vehiclesIn", [written])) == expected
    assert browser("isAmong", [written], expected[-1] if expected else "401") == bool(expected)


K1, K3, L2, W = [{"vehicles": [each]} for each in ("401-412", "B31-B39", "31.01-31.12", "0401-0404")]


@pytest.mark.parametrize(
    ("typed", "fleets", "meant"),
    [
        ("405", [K1], "405"),
        ("b31", [K3], "B31"),
        ("B 31", [K3], "B31"),
        ("31.07", [L2], "31.07"),
        ("31.7", [L2], "31.07"),
        ("0401", [K1, W], "0401"),
        ("401", [K1, W], "401"),
        ("401", [W], "0401"),
        ("00401", [K1, W], ""),  # either may be meant
        ("31", [K3, L2], ""),
        ("3107", [L2], ""),
        ("B9", [K3], ""),
        ("", [K1], ""),
        ("401-412", [K1], ""),
        ("В31", [K3], ""),  # a letter of another alphabet
        ("4" * 10_000, [K1], ""),
    ],
)
def test_the_vehicle_that_is_meant(browser, typed, fleets, meant):
    assert browser("meantBy", typed, fleets) == meant


def test_what_looks_as_the_fleets_own_numbers_do(browser):
    assert browser("isLikeOneOf", "799", K1["vehicles"])
    assert browser("isLikeOneOf", "b99", K3["vehicles"])
    assert browser("isLikeOneOf", "31.99", L2["vehicles"])
    assert not browser("isLikeOneOf", "35", K1["vehicles"])
    assert not browser("isLikeOneOf", "m8", K3["vehicles"])
    assert not browser("isLikeOneOf", "knob", K1["vehicles"])


def test_what_python_writes_short_the_browser_reads(browser):
    numbers = vehicles_in(("1-12", "098-104", "B7-B12", "31.08-31.11", "5a"))
    assert sorted(browser("vehiclesIn", list(as_ranges(numbers)))) == sorted(numbers)
