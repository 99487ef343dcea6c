"""Numbers in words, in each language of the floor, and the words of the floor in the catalogue's own."""

from collections.abc import Iterator
from typing import Any

import pytest

from generator.finder.engine import Finder
from generator.pages.finder.query_words import asked_in
from generator.records.depot import Language
from tests.finder import catalogues

PARTS = {
    "P-1": {"name": "Window-latch knob", "symptoms": ["knob spins"]},
    "P-2": {"name": "Step-light lens retainer"},
    "P-3": {"name": "Cable-duct corner"},
    "P-4": {"name": "Sun-blind end cap, left"},
    "P-5": {"name": "Coat hook", "replaces": [{"number": "70.2388-2", "kind": "maker's number"}]},
}


def catalogue() -> dict[str, Any]:
    data = catalogues.small("en", PARTS, [])
    language, floor = asked_in("en", tuple(map(str, Language)))
    return data | {"language": language, "floor": floor}


@pytest.fixture(scope="module")
def finder() -> Iterator[Finder]:
    with Finder(catalogue(), catalogues.SCRIPTS) as found:
        yield found


@pytest.mark.parametrize(
    ("said", "digits"),
    [
        ("forty nine by forty three", "49 by 43"),
        ("forty-nine by forty-three", "49 by 43"),
        ("a hundred and twenty long", "120 long"),
        ("one hundred and fifty by fifty one", "150 by 51"),
        ("one sixty by fifty seven point four", "160 by 57.4"),
        ("keyway four", "keyway 4"),
        ("two slots seventy two apart", "two slots 72 apart"),
        ("the one with three holes", "the one with three holes"),
        ("ten mil square", "10 mil square"),
        ("digits eight two zero four", "8204"),
        ("double seven zero three one", "77031"),
        ("tango victor zero two one nine", "tv0219"),
        ("seventy dot two three eight eight dash two", "70.2388-2"),
        ("neunundvierzig mal dreiundvierzig", "49 mal 43"),
        ("hundertzwanzig lang", "120 lang"),
        ("zweiundzwanzig Komma fünf", "22.5"),
        ("ni og fyrre gange tre og fyrre", "49 gange 43"),
        ("niogfyrre gange toogtres", "49 gange 62"),
        ("hundrede og tyve lang", "120 lang"),
        ("knob for the golf hotel", "knob for the golf hotel"),
    ],
)
def test_numbers_in_words_are_digits(finder: Finder, said: str, digits: str) -> None:
    assert finder.heard(said) == digits


@pytest.mark.parametrize(
    ("query", "number"),
    [
        ("Fensterknauf", "P-1"),
        ("knauf vom fenster dreht", "P-1"),
        ("Fenstergriffe", "P-1"),
        ("vinduesgreb", "P-1"),
        ("drejegreb til vinduet", "P-1"),
        ("Stufenleuchtenlinse", "P-2"),
        ("trinlyslinse", "P-2"),
        ("Kabelkanalecke", "P-3"),
        ("kabelkanalhjørne", "P-3"),
        ("kabelkanalhjorne", "P-3"),
        ("Sonnenrolloendkappe links", "P-4"),
        ("solgardin endekappe venstre", "P-4"),
        ("Kleiderhacken", "P-5"),
        ("jakkekrog", "P-5"),
        ("siebzig Punkt zwei drei acht acht Strich zwei", "P-5"),
    ],
)
def test_the_words_of_the_floor_are_understood_together(finder: Finder, query: str, number: str) -> None:
    assert finder.find(query, 1)[0].number == number


@pytest.mark.parametrize("query", ["Fensterscheibe", "Bremsklotz", "vinduesvisker", "koblingsbælg", "Türgriff"])
def test_what_is_something_else_in_another_language_is_not_sure(finder: Finder, query: str) -> None:
    assert not any(each.is_sure for each in finder.find(query))


def test_a_depot_without_a_language_of_the_floor_does_not_know_it() -> None:
    with Finder(catalogues.small("en", PARTS, []), catalogues.SCRIPTS) as finder:
        assert finder.find("vinduesgreb") == ()
