"""Does the ranking keep its rules? Each on a few parts made for it, in the engine that `spares find` uses."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from generator.finder.engine import Finder
from generator.pages.finder import query_words
from tests.finder import catalogues

PARTS: dict[str, Any] = {
    "P-0001": {
        "name": "Lamp ring",
        "other_names": ["bezel of the lamp"],
        "purpose": "Holds the lamp in the wall.",
        "symptoms": ["ring cracked at the screw"],
        "replaces": [{"number": "12-345-678", "kind": "maker's number"}],
        "box_mm": [90.0, 60.0, 16.0],
        "checks": [{"name": "Hole for the lamp", "mm": 38.4, "round": True}],
        "grounds": [[0, 0, [], None, []]],
    },
    "P-0002": {
        "name": "Lamp ring",
        "purpose": "For the large lamp.",
        "box_mm": [120.0, 80.0, 16.0],
        "grounds": [[1, 0, [], None, []]],
    },
    "P-0003": {"name": "Straße Türgriff Smørkrukke", "box_mm": [42.5, 18.0, 9.0]},
    "P-0010": {"name": "Old valve", "over": "P-0011"},
    "P-0011": {"name": "New valve"},
}


@pytest.fixture(scope="module")
def finder() -> Iterator[Finder]:
    data = catalogues.small("en", PARTS, [["valve", "stopcock"]]) | {
        "fleets": [
            {"id": "AB3", "name": "AB3 tram", "vehicles": ["31-39"]},
            {"id": "CD4", "name": "CD4 tram", "vehicles": ["41-49"]},
        ],
        "places": ["Cabin"],
    }
    with Finder(data, catalogues.SCRIPTS) as found:
        yield found


def first(finder: Finder, query: str) -> str | None:
    found = finder.find(query, 1)
    return found[0].number if found else None


@pytest.mark.parametrize(
    "query",
    ["42.5 x 18", "18 x 42,5", "42,5×18 mm", "9 x 18 x 42.5", "42.5*18*9", "4.25 cm x 1.8 cm", '1.673" x 0.709"',
     "42.5 by 18", "42.5mm x 18mm", "42.5 long x 18 wide", "42,3 x 17,9"],
)  # fmt: skip
def test_a_size_is_found_in_every_writing_and_order(finder: Finder, query: str) -> None:
    assert first(finder, query) == "P-0003"


@pytest.mark.parametrize(("query", "sure"), [("42.5 x 18.1 x 9.2", True), ("42.5 x 18.1", False), ("42 x 18 x 9", False), ("42.5 x 18.1 x 9.6", False)])
def test_sizes_alone_are_sure_off_a_caliper_and_whole(finder: Finder, query: str, sure: bool) -> None:
    assert [(each.number, each.is_sure) for each in finder.find(query, 1)] == [("P-0003", sure)]


@pytest.mark.parametrize("query", ["Ø38.4", "ø 38,4", "38.4 dia", "38.4mm hole", "hole of 38", "bore 38.4", "⌀38.4"])
def test_a_diameter_is_looked_for_among_holes(finder: Finder, query: str) -> None:
    assert first(finder, query) == "P-0001"


@pytest.mark.parametrize("query", ["90 by 60 round", "round 90", "90 mm round", "90 mm across", "dia 90", "90 diameter"])
def test_a_word_for_a_diameter_speaks_against_no_size(finder: Finder, query: str) -> None:
    assert [first(finder, query), first(finder, f"cabin lamp {query}")] == ["P-0001", "P-0001"]


@pytest.mark.parametrize(
    ("query", "offered"), [("12-3?5-678", ["P-0001"]), ("P-00?3", ["P-0003"]), ("P-00?1", ["P-0001", "P-0011"]), ("12-3?9-678", [])]
)
def test_a_number_with_an_unreadable_sign_is_offered_and_never_sure(finder: Finder, query: str, offered: list[str]) -> None:
    told = finder.answer(query)
    assert [each.number for each in told.found] == offered
    assert told.said == ("likely" if offered else "none")


def test_a_synonym_of_a_place_is_found_behind_a_name() -> None:
    parts = {
        "P-1": {"name": "Latch", "grounds": [[0, 0, [], None, []]]},
        "P-2": {"name": "Door cam", "grounds": [[0, 1, [], None, []]]},
    }
    data = catalogues.small("en", parts, [["door", "entrance"]]) | {
        "fleets": [{"id": "AB3", "name": "AB3", "vehicles": []}],
        "places": ["Entrance", "Roof"],
    }
    with Finder(data, catalogues.SCRIPTS) as found:
        assert [each.number for each in found.find("ab3 door")] == ["P-2", "P-1"]


def test_a_place_on_another_fleet_is_no_answer() -> None:
    parts = {
        "P-1": {"name": "Gland", "grounds": [[0, 0, [], None, []], [1, 1, [], None, []]]},
        "P-2": {"name": "Lamp", "grounds": [[0, 1, [], None, []]]},
    }
    data = catalogues.small("en", parts, []) | {
        "fleets": [{"id": each, "name": each, "vehicles": []} for each in ("AB3", "CD4")],
        "places": ["Floor", "Roof"],
    }
    with Finder(data, catalogues.SCRIPTS) as found:
        assert found.find("ab3 roof")[0].number == "P-2"
        assert found.find("cd4 roof")[0].number == "P-1"


@pytest.mark.parametrize("query", ["55 x 18", "42.5 x 30", "400 x 300", "Ø90.5 x 200"])
def test_a_size_that_no_part_has_is_no_sure_hit(finder: Finder, query: str) -> None:
    assert not any(each.is_sure for each in finder.find(query))


@pytest.mark.parametrize(
    "query",
    ["12-345-678", "12345678", "12 345 678", "12.345.678", "l2-345-678", "I2-345-67B"],
)
def test_a_number_is_found_in_every_writing(finder: Finder, query: str) -> None:
    found = finder.find(query, 1)
    assert [found[0].number, found[0].is_sure] == ["P-0001", True]

def test_a_number_with_a_piece_missing_is_found_and_never_sure(finder: Finder) -> None:
    found = finder.find("345-678", 1)
    assert [found[0].number, found[0].is_sure] == ["P-0001", False]


@pytest.mark.parametrize("query", ["12-345", "45-67"])
def test_a_number_without_its_end_is_offered(finder: Finder, query: str) -> None:
    told = finder.answer(query)
    assert [told.found[0].number, told.said] == ["P-0001", "likely"]


@pytest.mark.parametrize("query", ["12-345-687", "12-346-678", "P-0004"])
def test_a_number_that_no_part_has_is_no_sure_hit(finder: Finder, query: str) -> None:
    assert not any(each.is_sure for each in finder.find(query))


@pytest.mark.parametrize("query", ["strasse", "straße", "turgriff", "tuergriff", "türgriff", "smorkrukke", "smoerkrukke"])
def test_letters_that_a_keyboard_lacks_are_found_all_the_same(finder: Finder, query: str) -> None:
    assert first(finder, query) == "P-0003"


def test_the_fleet_decides_between_like_parts_and_speaks_against_the_other(finder: Finder) -> None:
    for query in ("lamp ring AB3", "lamp ring ab-3", "lamp ring ab 3", "ring car 35"):
        found = finder.find(query, 2)
        assert [(each.number, each.is_sure) for each in found] == [("P-0001", True), ("P-0002", False)], query


@pytest.mark.parametrize(
    ("query", "vehicles", "grounds"),
    [
        ("valve 105", ("105",), [(0, ("105",))]),
        ("valve car 205", ("205",), [(1, ("205",))]),
        ("valve 305", ("305",), []),  # nobody has it: nothing fits it
        ("valve car 41", ("41",), []),
        ("valve EF6", (), [(1, ()), (0, ())]),
    ],
)
def test_a_vehicle_in_the_query_narrows_to_its_ground_and_a_fleet_goes_first(
    query: str, vehicles: tuple[int, ...], grounds: list[Any]
) -> None:
    parts = {"P-1": {"name": "Valve", "grounds": [[0, 0, ["101-109"], None, []], [1, 0, [], None, []]]}}
    parts["P-2"] = {"name": "Whistle", "grounds": [[2, 0, [], None, []]]}
    fleets = [("AB5", "101-109"), ("EF6", "201-209"), ("CD4", "41-49")]
    data = catalogues.small("en", parts, []) | {
        "fleets": [{"id": each, "name": each, "vehicles": [vehicles]} for each, vehicles in fleets],
        "places": ["Cabin"],
    }
    with Finder(data, catalogues.SCRIPTS) as found:
        hit = next(each for each in found.find(query) if each.number == "P-1")
    assert hit.vehicles == vehicles
    assert [(each.ground, each.vehicles) for each in hit.answering] == grounds


def test_a_superseded_part_stands_behind_its_successor(finder: Finder) -> None:
    assert [each.number for each in finder.find("valve", 2)] == ["P-0011", "P-0010"]
    assert first(finder, "P-0010") == "P-0010"


def test_a_synonym_is_found_and_says_so(finder: Finder) -> None:
    found = finder.find("stopcock", 1)[0]
    assert found.is_sure
    assert [(each.kind, each.asked) for each in found.reasons] == [("synonym", "stopcock")]


def test_every_hit_says_why(finder: Finder) -> None:
    found = finder.find("cracked ring 12-345 90 x 60 ab3", 1)[0]
    kinds = {each.asked: each.kind for each in found.reasons}
    assert kinds == {"cracked": "symptoms", "ring": "name", "12-345": "number", "90 x 60": "size", "AB3": "fleet"}


@pytest.mark.parametrize(
    "query",
    [
        "", " ", "\x00", "(((", "[a-z]+", "\\", "a\\b", "$&", "%", "__proto__", "constructor", "toString", "hasOwnProperty x",
        "<script>alert(1)</script>", "' OR 1=1 --", "😀 🚃", "مقبض الباب", "\u202eknob", "0/0", '1/0"', "x x x", "× × ×", "Ø",
        "1e999 x 1e999", "NaN mm", "-5 mm", "....", "1" * 400, "x" * 10_000, "lamp " * 3000, "9 x " * 3000,
    ],
)  # fmt: skip
def test_whatever_is_typed_is_answered(finder: Finder, query: str) -> None:
    found = finder.find(query, 10)
    assert len(found) <= 10
    assert all(0 <= each.score < 2 for each in found)


def test_the_same_query_gives_the_same_answer_whatever_was_asked_before(finder: Finder) -> None:
    before = finder.find("lmap rign")
    for query in ("lamp", "lamp r", "rign", "12 345", "valve"):
        finder.find(query)
    assert finder.find("lmap rign") == before


def test_a_finder_answers_only_inside_its_with_block() -> None:
    finder = Finder(catalogues.small("en", PARTS, []), catalogues.SCRIPTS)
    with pytest.raises(ValueError, match="with"):
        finder.find("lamp")


def test_the_data_is_plain_json(finder: Finder) -> None:
    assert json.loads(json.dumps(finder._data)) == finder._data


def test_a_field_that_the_finder_gives_no_weight_is_an_error() -> None:
    data = catalogues.small("en", {"P-1": {"name": "Lamp", "colour": "grey"}}, [])
    with pytest.raises(Exception, match="does not know the field colour"), Finder(data, catalogues.SCRIPTS):
        pass


def test_every_field_of_the_index_is_known_to_the_finder(warm_store: Path) -> None:
    data = catalogues.demo(warm_store)
    fields = {field for record in data["records"] for field in record}
    assert {"thumb", "box_mm", "what_changed", "on_shelf", "assembly", "over"} <= fields  # the demo has them all
    with Finder(data, catalogues.SCRIPTS) as found:
        assert found.find("knob")


def test_a_new_language_is_data_alone() -> None:
    own = {
        "plurals": [["^(.*o)j$", "$1"]],
        "links": ["u"],
        "between": ["inter"],
        "and": ["kaj"],
        "respelled": [["k/d", "kd"]],
    }
    words = catalogues.query_words("en")
    data = catalogues.small("en", {"P-1": {"name": "Butono lampo", "box_mm": [95.0, 40.0, 9.0]}}, [])
    data["language"] = {key: [*words[key], *own.get(key, [])] if key in own else words[key] for key in words}
    with Finder(data, catalogues.SCRIPTS) as found:
        for query in ("butonoj", "lampoubutono", "inter 92 kaj 98"):
            assert [each.number for each in found.find(query)] == ["P-1"], query
    with Finder(data | {"language": words}, catalogues.SCRIPTS) as found:
        assert found.answer("inter 92 kaj 98").said == "none"


def test_a_words_file_may_leave_out_what_adds_nothing_but_not_invent(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    english = query_words.query_words("en")
    assert query_words.query_words("da")["plurals"] == english["plurals"]
    (tmp_path / "eo.yml").write_text("links: [o]\n")
    (tmp_path / "xx.yml").write_text("linkz: [o]\nlinks: o\nbetween: [inter]\n")
    kept = query_words._file
    monkeypatch.setattr(query_words, "_file", lambda name: kept(name) if name == "en" else tmp_path / f"{name}.yml")
    assert query_words.query_words("eo") == english | {"links": ["o"]}
    assert query_words.query_words("xx") == english | {"between": [*english["between"], "inter"]}
    told = [(each.key, dict(each.facts)["words"]) for each in query_words.problems_of_query_words("xx")]
    assert told == [("unknown", "linkz"), ("other form", "links")]
