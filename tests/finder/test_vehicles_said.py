"""What a vehicle, a range of them, or what is denied does to an answer; on parts of our own invention."""

from collections.abc import Iterator

import pytest

from generator.finder.engine import Finder
from tests.finder import catalogues
from tests.finder.test_three_answers import sure

PARTS = {
    "P-1": {"name": "Shutter crank", "symptoms": ["crank does not open the shutter"], "replaces": [{"number": "4-131-0705", "kind": "maker's number"}], "box_mm": [90.0, 41.0, 16.0]},
    "P-2": {"name": "Foot rest", "replaces": [{"number": "S/70915", "kind": "stores number"}], "box_mm": [413.0, 80.0, 30.0]},
    "P-3": {"name": "Lamp crank", "replaces": [{"number": "4-200-0117", "kind": "maker's number"}]},
}  # fmt: skip


@pytest.fixture(scope="module")
def finder() -> Iterator[Finder]:
    fleets = [{"id": "AB4", "name": "AB4", "vehicles": ["401-406"]}, {"id": "AB7", "name": "AB7", "vehicles": ["701-703"]}]
    data = catalogues.small("en", PARTS, []) | {"fleets": fleets, "places": ["Hall"]}
    grounds = {"P-1": [[0, 0, ["401-404"], None, []]], "P-2": [[1, 0, [], None, []]], "P-3": [[1, 0, [], None, []]]}
    for record in data["records"]:
        record["grounds"] = grounds[record["number"]]
    with Finder(data, catalogues.SCRIPTS) as found:
        yield found


@pytest.mark.parametrize(
    ("query", "first", "strange"),
    [
        ("shutter crank 499", "P-1", "499"),
        ("shutter crank 131", "P-1", ""),  # a whole group of its number
        ("shutter crank 313", "P-1", "313"),  # across two groups of it
        ("lamp crank 709", "P-3", "709"),  # the beginning of another part's number
        ("foot rest 413", "P-2", ""),  # its length
        ("foot rest 38", "P-2", ""),  # as likely a size
    ],
)
def test_an_unknown_vehicle_beside_words_is_told_and_finds_nothing(finder: Finder, query: str, first: str, strange: str) -> None:
    told = finder.answer(query)
    assert (told.found[0].number, catalogues.strange_vehicle(told)) == (first, strange)
    assert not (strange and sure(told))


def test_three_digits_are_a_whole_group_of_a_number_or_no_piece_of_it(finder: Finder) -> None:
    assert [each.number for each in finder.answer("117").found] == ["P-3"]
    assert finder.answer("915").found == ()


@pytest.mark.parametrize("query", ["shutter crank 701", "shutter crank AB7", "shutter crank car 702", "shutter crank 405", "shutter crank 401-405"])
def test_the_words_say_what_and_the_vehicle_never_pushes_it_away(finder: Finder, query: str) -> None:
    told = finder.answer(query)
    assert told.found[0].number == "P-1"
    assert sure(told) == []


@pytest.mark.parametrize("query", ["shutter crank 401-404", "shutter crank 401 to 404", "vehicles 401-403 shutter crank", "shutter crank cars 402 until 403"])
def test_a_range_names_all_its_vehicles(finder: Finder, query: str) -> None:
    assert sure(finder.answer(query)) == ["P-1"]


@pytest.mark.parametrize("query", ["shutter crank not 402", "shutter crank not AB4", "crank not for the shutter", "crank, not shutter", "shutter crank not 401-403"])
def test_what_is_denied_is_never_sure(finder: Finder, query: str) -> None:
    assert "P-1" not in sure(finder.answer(query))


def test_a_fault_denies_nothing(finder: Finder) -> None:
    assert sure(finder.answer("crank does not open the shutter")) == ["P-1"]


def test_a_vehicle_that_no_part_is_for_is_no_stranger(finder: Finder) -> None:
    for query in ("car 405", "AB4 406", "405"):
        assert catalogues.strange_vehicle(finder.answer(query)) == "", query


def test_a_number_with_a_point_that_a_fleet_has_is_that_vehicle() -> None:
    fleets = [{"id": "AB4", "name": "AB4", "vehicles": ["31.02", "31.10"]}, {"id": "AB7", "name": "AB7", "vehicles": ["7"]}]
    data = catalogues.small("en", PARTS, []) | {"fleets": fleets, "places": ["Hall"]}
    grounds = {"P-1": [[0, 0, ["31.02"], None, []], [1, 0, [], None, []]], "P-2": [[1, 0, [], None, []]], "P-3": [[1, 0, [], None, []]]}
    for record in data["records"]:
        record["grounds"] = grounds[record["number"]]
    with Finder(data, catalogues.SCRIPTS) as found:
        (crank,) = [each for each in found.answer("shutter crank 31.02").found if each.number == "P-1"]
        assert (crank.vehicles, [each.vehicles for each in crank.answering]) == (("31.02",), [("31.02",)])
        assert catalogues.strange_vehicle(found.answer("vehicle 31.10")) == ""


NO_VEHICLES = ["DIN 912", "DIN 933", "din 403", "ISO 476", "ISO 405", "RAL 703", "ext 214", "ext. 214", "tel 499", "Durchwahl 214", "100 g", "250 kg", "499 N", "230 V", "450 gram", "100 stk", "100 W"]


@pytest.mark.parametrize("way", ["P-1 {said}", "{said} shutter crank", "shutter crank {said}"])
def test_behind_the_letters_of_a_standard_or_before_a_unit_a_number_is_no_vehicle(finder: Finder, way: str) -> None:
    told = {said: finder.answer(way.format(said=said)) for said in NO_VEHICLES}
    assert {said: each.found[0].named for said, each in told.items() if each.stranger or each.found[0].number != "P-1" or each.found[0].named} == {}


@pytest.mark.parametrize(("said", "named"), [("405", "AB4 405"), ("405 g", "AB4 405"), ("403 h", "AB4 403"), ("DIN 912 403", "AB4 403"), ("AB4 402 100 g", "AB4 402")])
def test_a_vehicle_that_there_is_stays_one_beside_a_letter_and_beside_a_standard(finder: Finder, said: str, named: str) -> None:
    assert finder.answer(f"shutter crank {said}").found[0].named == (named,)
