"""A German and a Danish depot are spoken to in their own language: what commands print, refuse and write beside records."""

import re
from pathlib import Path

import pytest

from generator.pages.problems.said import said
from generator.pages.wording import wording
from generator.reading.validating import record
from generator.reading.yaml_places import read_yaml
from generator.records.depot import Language
from generator.records.fitting import FittingNotes, headings
from generator.records.problems import wrong
from generator.records.requests import AddedVoice, Request
from generator.records.schemas import FILES
from generator.writing.comments import comments
from tests.fixtures.tiny import CLIP, KNOB

OTHERS = (Language.GERMAN, Language.DANISH)
# Little words that no German or Danish sentence has.
ENGLISH = re.compile(r"\b(?:the|is|are|of|and|with|nothing|says|(?<![.\w])by(?=\s)|your|until|mend|it)\b", re.IGNORECASE)
# Commands, options, names of files and what a record says are the same in every language.
KEPT = re.compile(r"`[^`]*`|'[^']*'|\"[^\"]*\"|spares [-\w ]+|\S+\.(?:yml|md)|--[-\w]+|\{.*\}|^ *(?:- )?\w+: .*$|EX-0\w+.*?(?=\s\s|$)", re.MULTILINE)


@pytest.fixture(params=OTHERS)
def language(request, depot):
    depot_yml = depot / "catalogue/depot.yml"
    kept = re.sub("(?m)^language:.*\n", "", depot_yml.read_text("utf-8"))
    depot_yml.write_text(f"language: {request.param}\n{kept}", "utf-8")
    return request.param


COMMANDS = (
    ("role",), ("role", "keeper"), ("role",), ("role", "--forget"), ("role", "--forget"), ("role", "boss"),
    ("record", KNOB, "withdrawn"), ("record", KNOB, "withdrawn", "--by", "keeper"), ("record", KNOB, "withdrawn", "renewed", "--note", "x", "--by", "keeper"),
    ("record", KNOB, "question asked", "--by", "reviewer", "--question", "tried", "--evidence", "none.pdf"),
    ("record", CLIP, "sent for customer acceptance", "--by", "specialist", "--dry-run"),
    ("record", CLIP, "approval refused", "--by", "reviewer", "--reason", "tried"),
    ("next",), ("next", CLIP), ("next", KNOB), ("next", "EX-9"), ("next", "EX-0004"), ("check",), ("explain", KNOB, "--fleet", "B9"), ("fire", "zz"),
    ("migrate",), ("migrate", "--dry-run"), ("new", KNOB, "x", "--no-model", "bought"), ("new", "EX-0200", "--no-model", "bought"),
    ("new", "EX-0200", "x", "--no-model", "bought", "--fleet", "A2"), ("new", "EX-0200", "x", "--no-model", "bought", "--from", "R-0404"),
    ("new", "../X", "x", "--no-model", "bought"), ("new", "EX-0200", "n" * 90, "--no-model", "bought"), ("new", "EX-0200", "x", "--mesh", "none.stl"),
    ("new", "EX-0200", "Teil", "--no-model", "bought"), ("check",), ("init", "catalogue/x"), ("check", "--catalogue", "nowhere"),
    ("schema", "--to", "catalogue/depot.yml/x"), ("record", KNOB, "withdrawn", "renewed", "--letter", "x.pdf", "--by", "keeper"),
    ("record", KNOB, "condition added", "--condition", "x", "--in-service", "y", "z", "--by", "reviewer"),
)  # fmt: skip


def test_no_command_answers_in_english(depot, spares, language):
    left = []
    for command in COMMANDS:
        _, out, err = spares(*command)
        lines = (line for line in KEPT.sub("", out + err).splitlines() if ENGLISH.search(line))
        left += [f"{' '.join(command)}: {line}" for line in lines if command[0] != "init" and "nowhere" not in command]
    assert left == []


def test_an_older_depot_is_lifted_in_its_own_language(depot, spares, language):
    for file in ("depot.yml", *(each.relative_to("catalogue") for each in Path("catalogue/parts").glob("*/approval.yml"))):
        place = Path("catalogue", file)
        place.write_text(place.read_text("utf-8").replace("format: 2\n", ""), "utf-8")
    out = spares("migrate")[1]
    assert out.splitlines()[-1].startswith({"de": "4 geschrieben", "da": "4 skrevet"}[language])
    assert ENGLISH.search(KEPT.sub("", out)) is None


def test_a_new_parts_files_are_begun_in_the_language(depot, spares, language):
    assert spares("new", "EX-0200", "Teil", "--no-model", "bought")[0] == 0
    folder = depot / "catalogue/parts/EX-0200-teil"
    for name in ("part.yml", "approval.yml", "fitting.md"):
        text = (folder / name).read_text("utf-8")
        assert ENGLISH.search("\n".join(line.partition("#")[2] for line in text.splitlines())) is None, name
        assert "Regulation" not in text
    assert f"## {headings(language)[0]}" in (folder / "fitting.md").read_text("utf-8")


@pytest.mark.parametrize("language", Language)
def test_the_headings_of_each_language_are_read(language):
    text = "".join(f"## {each.upper()}\n\nx\n\n" for each in headings(language))
    notes = FittingNotes.from_markdown(text)
    assert (notes.missing, notes.more) == ((), "")


@pytest.mark.parametrize("language", OTHERS)
def test_every_comment_is_another_than_in_english(language):
    own, english = comments(language), comments()
    same = [key for key in english.__slots__ if getattr(own, key) == getattr(english, key)]
    assert same == []


def test_days_in_sentences_are_written_as_on_the_pages(depot, spares, language):
    out = spares("build", "--markdown", "out")[1]
    assert {"de": "25. Nov. 2026", "da": "25. nov. 2026"}[language] in out
    assert "2026-11-25" not in out


def test_a_depot_that_is_there_already_answers_in_its_own_language(depot, spares, language):
    (depot / "catalogue").rename(depot / "catalogue_")
    (depot / "another").mkdir()
    (depot / "catalogue_").rename(depot / "another/catalogue")
    taken = wording(language).flat["commands.refused.init_taken.says"].partition(" {")[0]
    assert taken in spares("init", "another")[2]


@pytest.mark.parametrize(("typed", "key"), [("03.05.2019", "otherwise"), ("2019-02-30", "none"), ("yesterday", "otherwise")])
def test_a_day_typed_wrongly_is_told_why_in_the_language(depot, spares, language, typed, key):
    told = wording(language)(f"commands.day.{key}", given=typed, like="2026-11-25")
    assert told in spares("check", "--on", typed)[2]


@pytest.mark.parametrize("language", OTHERS)
def test_every_field_that_must_be_there_is_explained_in_the_language(language):
    told = wording(language).flat
    kinds = [kind for kind, _ in FILES.values()] + [AddedVoice]
    schemas = [each for kind in kinds for each in (kind.model_json_schema(), *kind.model_json_schema().get("$defs", {}).values())]
    said_of = {
        text.splitlines()[0].rstrip(".")
        for each in schemas
        for key, about in each.get("properties", {}).items()
        if key in each.get("required", ()) and (text := about.get("description"))
    }
    of_comments = {"What it does on the vehicle, in a sentence", "How it stands on the plate, such as 'flat, hook side up'"}
    assert [each for each in sorted(said_of - of_comments) if f"problem_terms.meaning.{each}" not in told] == []
    everything = {text.splitlines()[0].rstrip(".") for each in schemas for text in [about.get("description") or "" for about in each.get("properties", {}).values()] + [each.get("description", "")] if text}
    assert [each for each in wording(Language.ENGLISH).tree["problem_terms"]["meaning"] if each not in everything] == []


@pytest.mark.parametrize("language", OTHERS)
def test_what_is_wanted_in_place_of_todo_is_said_as_beside_it(language):
    source = read_yaml("requests/x.yml", b"on: 2026-11-20\nname: x\n")
    assert record(Request, source) is None
    w = wording(language)
    fixes = [said(each, w).fix for each in source.problems]
    assert any(w.flat["problem_terms.meaning.Role that asks"] in each for each in fixes)
    assert not any(ENGLISH.search(KEPT.sub("", each)) for each in fixes)


@pytest.mark.parametrize("language", Language)
def test_comments_call_the_verdicts_as_the_pages_do(language):
    w, says = wording(language), comments(language)
    assert f"'{w('verdict.no')}'" in says.without_these
    assert w("verdict.ask") in says.screening[1]


@pytest.mark.parametrize("language", OTHERS)
def test_a_meaning_without_words_is_left_out_rather_than_english(language):
    told = said(wrong("REC04", "left open", "replace", name="x", meaning="What nobody has translated"), wording(language))
    assert "translated" not in told.fix
