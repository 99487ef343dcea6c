"""Words, days, numbers and money, as the words file says."""

from datetime import date

import pytest

from generator.pages.wording import from_tree, wording

W = from_tree(
    "xx",
    {
        "missing": "–",
        "list_separator": "; ",
        "dates": {
            "format": "{day}. {month} {year}",
            "months": [f"M{n}" for n in range(1, 13)],
            "open_end": "none",
        },
        "numbers": {"decimal": ",", "thousands": ".", "money": "{amount} {currency}"},
        "terms": {"stage": {"approved": "approved!"}},
        "words": {
            "plain": "plain",
            "name": "a {name} b",
            "day": "on {name:date}",
            "word": "{name:word}",
            "stage": "{stage:word}",
            "group": "a[, since {name}][ by {who}]",
            "things": {"one": "{n} thing", "other": "{n} things"},
        },
    },
)


@pytest.mark.parametrize(
    ("key", "facts", "words"),
    [
        ("plain", {}, "plain"),
        ("name", {"name": "x"}, "a x b"),
        ("name", {}, "a – b"),
        ("name", {"name": ("x", "y")}, "a x; y b"),
        ("name", {"name": ("X is met.", "Y is.")}, "a X is met; Y is. b"),
        ("name", {"name": "{name} [x]"}, "a {name} [x] b"),  # a value is never read as words
        ("day", {"name": "2026-11-05"}, "on 5. M11 2026"),
        ("day", {"name": "open"}, "on none"),
        ("day", {"name": "soon"}, "on soon"),
        ("stage", {"stage": "approved"}, "approved!"),
        ("stage", {"stage": "new"}, "new"),
        ("group", {}, "a"),
        ("group", {"name": "1", "who": None}, "a, since 1"),
        ("group", {"name": (), "who": "z"}, "a by z"),
    ],
)
def test_placeholders(key: str, facts: dict[str, str], words: str) -> None:
    assert W(f"words.{key}", **facts) == words


def test_numbers_follow_the_language() -> None:
    assert W.number(12345.678, 1) == "12.345,7"
    assert W.measure(12.50) == "12,5"
    assert W.measure(100) == "100"
    assert W.money(1234.5, "EUR") == "1.234,50 EUR"
    assert W.day(date(2026, 1, 31)) == "31. M1 2026"


def test_counts() -> None:
    assert W.count("words.things", 1) == "1 thing"
    assert W.count("words.things", 0) == "0 things"
    assert W.count("words.things", 2000) == "2.000 things"


def test_english_has_words_for_every_term_of_the_records() -> None:
    """A value without a word would print as the record spells it."""
    from generator.geometry.facts import DefectKind
    from generator.records.fleets import Area
    from generator.records.makers import MakerKind, Process
    from generator.records.parts import NumberKind, SafetyRole
    from generator.rules.history import Holder, Stage

    terms = wording("en").tree["terms"]
    for kind, values in {
        "defect": DefectKind, "area": Area, "maker_kind": MakerKind, "process": Process, "number_kind": NumberKind,
        "safety_role": SafetyRole, "holder": Holder, "stage": Stage,
    }.items():  # fmt: skip
        # "approved elsewhere" is no stage of a part: a reason says it to vehicles that the approval does not name.
        besides = {"approved elsewhere"} if kind == "stage" else set()
        assert set(terms[kind]) == {value.value for value in values} | besides, kind


def test_every_question_of_the_table_has_its_words() -> None:
    from generator.rules.verdicts import TABLE

    steps = wording("en").tree["steps"]
    assert list(steps) == [step.id for step in TABLE]
    assert all(
        set(words) == {"question", "needed", "passed", "failed", "unknown"} for words in steps.values()
    )


def test_every_event_has_its_word() -> None:
    from typing import get_args

    from generator.records.approvals import Event

    kinds = get_args(get_args(Event)[0])
    words = {get_args(kind.model_fields["what"].annotation)[0] for kind in kinds}
    assert words == set(wording("en").tree["terms"]["event"])


@pytest.mark.parametrize("language", ["en", "de", "da"])
def test_every_word_of_a_piece_has_its_words(language: str) -> None:
    """A value without a term is printed as it is, in English."""
    from typing import get_args, get_type_hints

    from generator.rules.facts.fields import PieceFacts

    hints, terms = get_type_hints(PieceFacts), wording(language).tree["terms"]
    for fact in ("piece", "piece_released", "piece_revision", "piece_same"):
        values = {value for each in get_args(hints[fact]) for value in (get_args(each) or (each,)) if isinstance(value, str)}
        assert values == set(terms[fact]) != set(), fact


def test_a_language_without_words_falls_back_to_english() -> None:
    assert wording("nn").language == "en"
