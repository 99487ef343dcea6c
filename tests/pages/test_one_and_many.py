"""No words file says "1 pieces": where a number stands before a noun, the noun agrees with it.

What is a noun of many things is told by the words files themselves: whatever differs between the words for one and for many.
"""

import re
from itertools import takewhile
from pathlib import Path

import pytest
from py_mini_racer import MiniRacer

from generator.pages.language import is_filled_alike
from generator.pages.placeholders import PLACEHOLDER
from generator.pages.problems.said import said
from generator.pages.wording import from_tree, wording
from generator.records.problems import wrong

LANGUAGES = ("en", "de", "da")
_NEXT = 3  # so many words behind a number are looked at: "2 more recorded prints"
_NO_NUMBER = {"at", "day", "element", "file", "folder", "lot", "number", "report", "test", "until", "verdict", "year"}
_APART = {"on", "of", "and", "no", "an", "auf", "und", "keine", "på", "nogle", "og", "ingen", "af", "har"}  # what begins another piece of the sentence
_NO_NOUN = {  # verbs, pronouns and what else changes beside a noun
    "en": "are come do have were sit lie stand go count follow belong wait rest other each all they their them answers points",
    "de": "sind haben hätten waren werden wurden können müssen sitzen liegen stehen gehen zählen folgen gehören warten beruhen fehlen kommen kämen nehmen ergeben "
    "fanden saßen sollten die den denen deren ihrer sie alle von weitere ausgebaute ändern weiteren",
    "da": "er de dem deres sine hver flere deles mangler afmonterede planlagte forkerte signifikante åbne",
}
# What is never one, and why.
NEVER_ONE = {
    "approvals.within": "30, 60 and 90",
    "problem.BAL05.says.no record": "of one line the line itself is told",
    "problem.BATCH01.says.too long": "more than a bound",
    "problem.RECALL04.says.no recall": "of one line no count is told",
    "true_size.enlarged": "what is drawn once as large is not told so",
    "holds.said.some": "a rate, which has its decimals",
    "offline.keeping": "a site has many files",
    "offline.kept": "a site has many files",
    "offline.whole": "a site has many files",
    "papers.not_printed.too_many.says": "more than a bound",
    "related.similar_kind.scaled": "the same size is not told so",
    "problem.YAML01.says.too long": "more than a bound",
    "problem.REC03.says.too many vehicles": "a bound",
    "problem.OUTL02.says.proportions": "out of all proportion",
    "problem.FIT03.says.too long": "more than a bound",
    "problem.FIT03.says.too many lines": "a bound",
    "problem.MESH03.says.polygon tangled": "a tangle has four corners at least",
    "problem.MESH03.says.too many triangles": "more than a bound",
    "problem.MESH03.says.too many corners": "more than a bound",
    "problem.MESH03.says.package bomb": "a bound",
    "problem.MESH03.says.ply list too long": "more than there are",
    "problem.MESH03.says.coordinates no numbers": "a mesh has three corners at least",
    "problem.MESH03.says.package too many files": "more than a bound",
    "problem.LIKE01.says.scaled": "a slip of the unit",
    "problem.LIKE03.says.scaled": "a slip of the unit",
    "problem.LIST02.says.many files": "more than a bound",
    "problem.LIST03.says.rows": "a bound",
    "problem.LIST03.says.columns": "a bound",
    "problem.LIST03.says.cells": "a bound",
    "stock.joined": "two parts at least",
    "stock.chart.rest": "a chart that leaves out some",
    "submission.title.several": "two parts at least",
    "submission.family.minutes": "a guess of ours",
    "today.tasks.remind.do": "fourteen",
    "today.tasks.release.do": "fourteen",
}


def _flat(language):
    for key, value in wording(language).flat.items():
        for text in value if isinstance(value, list) else [value]:
            yield key, str(text)


def _pairs(language):
    """The words for one and for many of a thing, wherever a words file has both."""
    flat = wording(language).flat
    for key, text in _flat(language):
        if key.endswith(".other") and f"{key[:-6]}.one" in flat:
            yield flat[f"{key[:-6]}.one"], text
        yield from ((found[3], found[4]) for found in PLACEHOLDER.finditer(text) if found[3])


def _many(language):
    """The nouns of many things: 'pieces', where one is 'piece'."""
    found = set()
    for one, many in _pairs(language):
        ours, theirs = one.split(), many.split()
        if len(ours) == len(theirs):
            found |= {b.strip(".,:;()") for a, b in zip(ours, theirs, strict=True) if a != b}
    return {each for each in found if each.isalpha()} - set(_NO_NOUN[language].split())


def _told(language):
    """(key, words) where a number stands before a noun of many things and no other words are there for one."""
    many, flat = _many(language), wording(language).flat
    for key, text in _flat(language):
        has_one = key.endswith((".other", ".one")) and f"{key.rpartition('.')[0]}.one" in flat
        for found in PLACEHOLDER.finditer(text):
            if found[3] or found[1] in _NO_NUMBER or found[2] in ("date", "word", "and", "or", "list") or (has_one and found[1] == "n"):
                continue
            behind = re.match(rf"(?: [^\W\d]+){{1,{_NEXT}}}", text[found.end() :])
            near = takewhile(lambda word: word not in _APART, behind[0].split()) if behind else ()
            if many & set(near):
                yield key, f"{found[0]}{behind[0]}"


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_number_and_its_noun_agree(language):
    assert [(key, told) for key, told in _told(language) if key not in NEVER_ONE] == []


def test_what_is_never_one_is_still_told():
    told = {key for language in LANGUAGES for key, _ in _told(language)}
    assert set(NEVER_ONE) <= told


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_nouns_are_found(language):
    known = {"en": {"pieces", "batches", "minutes"}, "de": {"Tage", "Tagen", "Dateien"}, "da": {"dage", "stykker", "minutter"}}
    assert known[language] <= _many(language)


@pytest.mark.parametrize(("value", "en", "de", "da"), [
    ("1", "1 percentage point", "1 Prozentpunkt", "1 procentpoint"),
    ("2", "2 percentage points", "2 Prozentpunkte", "2 procentpoint"),
    ("0", "0 percentage points", "0 Prozentpunkte", "0 procentpoint"),
    ("1.5", "1.5 percentage points", "1.5 Prozentpunkte", "1.5 procentpoint"),
    ("11", "11 percentage points", "11 Prozentpunkte", "11 procentpoint"),
])  # fmt: skip
def test_percentage_points(value, en, de, da):
    told = [wording(language)("fire.margin.points", value=value) for language in LANGUAGES]
    assert told == [en, de, da]


def test_a_problem_agrees_with_its_number():
    def told(count, most):
        return said(wrong("BATCH03", "issued", count=count, most=most), wording("en")).says

    assert (told(1, 2), told(2, 1)) == ("issues 1 piece, and there are 2 to issue", "issues 2 pieces, and there is 1 to issue")


def test_words_are_printed_where_nothing_is_known_and_left_out_in_a_bracket():
    w = from_tree("en", {"x": "{n} {n?piece|pieces}[, {m} {m?day|days}]", "missing": "–", "list_separator": ", "})
    assert (w("x", n=1), w("x"), w("x", n="1", m=2)) == ("1 piece", "– pieces", "1 piece, 2 days")


@pytest.mark.parametrize(("own", "fits"), [
    ("{n} {n?Tag|Tage}", True), ("{n} Tage", True), ("{n?Tag|Tage}", False), ("{n} {m?Tag|Tage}", False), ("{n} {n?Tag}", False), ("{n} {n?|Tage}", False),
])  # fmt: skip
def test_another_language_prints_the_number_that_english_prints(own, fits):
    assert is_filled_alike("{n} {n?day|days}", own) is fits


def test_the_browser_agrees_with_the_pages():
    script = Path(__file__).parents[2] / "site_src/assets/js/judge/wording.js"
    words = {"missing": "–", "list_separator": ", "}
    text = "{n} {n?piece|pieces}[, {m} {m?day|days}]"
    facts = [{"n": 1}, {}, {"n": "1", "m": 2}, {"n": "1.0"}, {"n": 0, "m": 1}]
    with MiniRacer() as engine:
        engine.eval(f"var spares = {{ judge: {{}} }};\n{script.read_text('utf-8')}")
        told = [engine.call("spares.judge.filled", text, each, words) for each in facts]
    w = from_tree("en", {"x": text, **words})
    assert told == [w("x", **each) for each in facts]
    assert told[0] == "1 piece"
