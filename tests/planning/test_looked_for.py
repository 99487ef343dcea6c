"""What was looked for in vain: what counts together, and which words are proposed."""

from datetime import date

import pytest

from generator.planning.looked_for import sought, spellings, vocabulary
from generator.records.depot import Words
from generator.records.queries import LookedFor, Queries

DAY = date(2026, 11, 24)
RECORDS = [{"kind": "part", "page": "parts/zirkon.html", "name": "Latch bracket", "checks": [{"name": "spindle", "mm": 8.0}]}]
WORDS = Words(synonyms=(("louvre", "vane"),), spellings={"braket": "bracket"})


def queries(*texts, day=DAY):
    return Queries(collected=day, looked_for=tuple(LookedFor(text=text, times=1, last=day) for text in texts))


@pytest.mark.parametrize(
    ("one", "other", "together"),
    [
        pytest.param("Window knob", "window  KNOB", True, id="case and white space"),
        pytest.param("Tu\u0308r", "T\u00fcr", True, id="two forms of a letter"),
        pytest.param("STRASSE", "straße", True, id="ss and sharp s"),
        pytest.param("window knob", "window knobs", False, id="another word"),
        pytest.param("8.5", "85", False, id="another number"),
    ],
)
def test_only_case_and_white_space_make_no_difference(one, other, together):
    assert len(sought([queries(one, other)])) == (1 if together else 2)


def test_of_those_as_frequent_the_latest_comes_first():
    older = queries("old", day=date(2026, 11, 1))
    assert [each.text for each in sought([older, queries("new")])] == ["new", "old"]


@pytest.mark.parametrize(
    ("word", "near"),
    [
        pytest.param("latcj", "latch", id="a letter exchanged"),
        pytest.param("lacth", "latch", id="neighbours swapped"),
        pytest.param("latc", "latch", id="a letter left out"),
        pytest.param("spinddel", "spindle", id="two slips in a long word"),
        pytest.param("lotcj", None, id="two slips in a short word"),
        pytest.param("vanes", "vane", id="a word of words.yml"),
        pytest.param("latch", None, id="the catalogue has it"),
        pytest.param("braket", None, id="words.yml has it"),
        pytest.param("please", None, id="people say it when they ask"),
        pytest.param("vale", "vane", id="near to one word"),
        pytest.param("zirkan", None, id="an address is no word"),
        pytest.param("lat", None, id="too short"),
        pytest.param("4-117-0418", None, id="a number"),
    ],
)
def test_a_word_that_nothing_has_is_held_against_the_catalogue(word, near):
    has = vocabulary(RECORDS, WORDS, {"empty": ["please"], "numbers": {"seven": 7}})
    assert [each.words for each in spellings(sought([queries(f"{word} 8 mm")]), has)] == ([(word, near)] if near else [])


def test_between_two_words_as_near_nothing_is_proposed():
    has = vocabulary([{"name": "latch", "purpose": "hatch"}], Words(), {})
    assert spellings(sought([queries("catch")]), has) == ()
