"""Which vehicles a query names, however they are written; and what no fleet has is told and never taken."""

from collections.abc import Iterator

import pytest

from generator.finder.engine import Answered, Finder
from generator.pages.finder.query_words import asked_in
from tests.finder import catalogues

FLEETS = [
    {"id": "AB4", "name": "AB4", "vehicles": ["401-412"]},
    {"id": "AB7", "name": "AB7", "vehicles": ["701-708"]},
    {"id": "C2", "name": "C2", "vehicles": ["21-23"]},
    {"id": "D3", "name": "D3", "vehicles": ["31.02-31.10", "B31-B39"]},
]
PARTS = {
    "P-1": {"name": "Window knob", "replaces": [{"number": "4-117-0431", "kind": "maker's number"}], "box_mm": [43.0, 43.0, 49.0]},
    "P-2": {"name": "Coat hook", "replaces": [{"number": "12-402-495", "kind": "stores number"}], "box_mm": [80.0, 30.0, 20.0]},
    "P-3": {"name": "Fuse box cover", "box_mm": [160.0, 120.0, 30.0]},
    "P-4": {"name": "Door strip", "replaces": [{"number": "S/70915", "kind": "stores number"}], "box_mm": [413.0, 30.0, 20.0]},
}  # fmt: skip


@pytest.fixture(scope="module")
def finder() -> Iterator[Finder]:
    data = catalogues.small("en", PARTS, []) | {"fleets": FLEETS, "places": ["Hall"]}
    data["language"] = asked_in("en", ("en", "de", "da"))[0]
    for record in data["records"]:
        record["grounds"] = [[fleet, 0, [], None, []] for fleet in range(len(FLEETS))]
    with Finder(data, catalogues.SCRIPTS) as found:
        yield found


def vehicles(told: Answered) -> tuple[str, ...]:
    """Those that the first answer is for."""
    return told.found[0].vehicles if told.found else ()


@pytest.mark.parametrize(
    ("query", "meant"),
    [
        ("window knob 405-7", "405 406 407"),
        ("window knob 401-403", "401 402 403"),
        ("window knob 401–403", "401 402 403"),
        ("window knob 401 – 403", "401 402 403"),
        ("window knob car 401 to 403", "401 402 403"),
        ("window knob 405,406", "405 406"),
        ("window knob 405, 406", "405 406"),
        ("405/406 window knob", "405 406"),
        ("405+701 window knob", "405 701"),
        ("window knob 405/", "405"),
        ("window knob ４０５", "405"),
        ("tram 401 window knob", "401"),
        ("window knob 31.02-31.04", "31.02 31.03 31.04"),
        ("window knob 31.02-04", "31.02 31.03 31.04"),
        ("window knob 31.02 31.10", "31.02 31.10"),
        ("window knob 31.02, 31.10", "31.02 31.10"),
        ("window knob 31.02 to 31.03", "31.02 31.03"),
        ("window knob B31-33", "B31 B32 B33"),
        ("wagon B 31 window knob", "B31"),
        ("window knob b 31", "B31"),
        ("window knob 401-412", " ".join(map(str, range(401, 413)))),
    ],
)
def test_what_a_fleet_has_is_understood(finder: Finder, query: str, meant: str) -> None:
    told = finder.answer(query)
    assert catalogues.strange_vehicle(told) == ""
    assert " ".join(vehicles(told)) == meant
    assert told.found[0].number == "P-1"


@pytest.mark.parametrize(
    ("query", "strange"),
    [
        ("car B41 window knob", "B41"),
        ("car Q31 window knob", "Q31"),
        ("wagon Q 31 window knob", "Q31"),
        ("window knob 401–420", "401–420"),
        ("window knob 401 to 420", "401-420"),
        ("401-799 window knob", "401-799"),
        ("401-708 window knob", "401-708"),
        ("window knob 412-401", "412-401"),
        ("window knob 411-4", "411-4"),
        ("405,499 window knob", "499"),
        ("405A window knob", "405A"),
        ("car 4.05 window knob", "4.05"),
        ("set 7-03 window knob", "7-03"),
        ("AB7 405 window knob", "405"),
        ("C2 405 coat hook", "405"),
        ("AB4-799 window knob", "799"),
        ("AB4/413 window knob", "413"),
        ("tram 499 window knob", "499"),
        ("Wagen 799 window knob", "799"),
        ("window knob 31.99", "31.99"),
        ("window knob 31.02-31.12", "31.02-31.12"),
        ("４９９ window knob", "499"),
    ],
)
def test_what_no_fleet_has_is_told_and_nothing_fits_it(finder: Finder, query: str, strange: str) -> None:
    told = finder.answer(query)
    assert catalogues.strange_vehicle(told) == strange
    for each in told.found:
        assert strange in each.vehicles
        assert {number for ground in each.answering for number in ground.vehicles} <= {"405"} - ({"405"} if "405" in strange else set())


def test_a_number_of_another_fleet_is_told_with_the_fleet_that_has_it(finder: Finder) -> None:
    told = finder.answer("AB7 405 window knob").stranger
    assert told is not None
    assert (told.fleets, told.others) == (("AB7",), ("AB4",))
    told = finder.answer("AB4 401-420 window knob").stranger
    assert told is not None
    assert told.is_range


@pytest.mark.parametrize(
    "query",
    [
        "fuse box cover hinge distance 120",
        "hundrede og otte og tredive over tappene",
        "cover 120,160",
        "cover 120/160/30",
        "cover 160-170 mm",
        "hook 12-402-495",
        "402-495",
        "4-117-0431",
        "strip 413",
        "M8 screw car",
        "110V lamp",
        "cover 405 x 20",
        "120 high cover",
    ],
)
def test_a_size_or_a_number_of_a_part_is_no_vehicle(finder: Finder, query: str) -> None:
    assert catalogues.strange_vehicle(finder.answer(query)) == ""


def test_another_writing_is_told(finder: Finder) -> None:
    assert finder.answer("window knob 31.2").taken == (("31.2", "31.02"),)
    assert finder.answer("window knob 31.02").taken == ()
    assert finder.answer("window knob b31").taken == ()
