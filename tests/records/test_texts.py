"""Which texts, days and file names a record takes."""

from functools import cache
from typing import Annotated

import pytest
from pydantic import Field, TypeAdapter, ValidationError, create_model

from generator.records.base import Day, Line, Name, PartNumber, Record, RelativeFile, each_once
from generator.records.fitting import FittingNotes

DAY: TypeAdapter = TypeAdapter(Day)


@cache
def model_of(kind):
    return create_model("One", __base__=Record, value=(kind, ...))


def taken(kind, value):
    return model_of(kind).model_validate({"value": value}).value


@pytest.mark.parametrize(
    "name", ["Knob", "<script>", "a | b", "Knob 🔧", "ידית", "مقبض", "é", "👩‍🔧", "0417", "  trimmed  "]
)
def test_names_that_are_names(name):
    assert taken(Name, name) == name.strip()


@pytest.mark.parametrize("letter", [*map(chr, (0, 7, 11, 12, 13, 27, 127, 133)), *"\u202a\u202e\u2066\u2069"])
def test_no_unseen_control_in_any_text(letter):
    with pytest.raises(ValidationError, match=f"U\\+{ord(letter):04X}"):
        taken(Name, f"a{letter}b")


@pytest.mark.parametrize("text", ["two\nlines", "a\ttab", "", "   ", "x" * 201])
def test_a_line_is_one_line(text):
    with pytest.raises(ValidationError):
        taken(Line, text)


@pytest.mark.parametrize("day", ["2026-02-28", "2024-02-29", "1999-12-31"])
def test_days(day):
    assert DAY.validate_json(f'"{day}"', strict=True).isoformat() == day


@pytest.mark.parametrize(
    "day",
    ['"2026-02-30"', '"2026-2-3"', '"20260203"', '"2026-W05-1"', '"0"', '"86400"', "86400", "0", '"0000000000"', '"1764028800"',
     '"2026-02-03T00:00:00"', '"2026-02-03T00:00:00Z"', '"today"', '""', "null", "true", '" 2026-02-03"', '"２０２６-02-03"'],
)  # fmt: skip
def test_what_is_no_day(day):
    with pytest.raises(ValidationError):
        DAY.validate_json(day, strict=True)


@pytest.mark.parametrize("file", ["documents/x.pdf", "photos/a b.jpg", "x", "documents/sub/ø.pdf"])
def test_files_inside(file):
    assert taken(RelativeFile, file) == file


@pytest.mark.parametrize(
    "file",
    [
        "/etc/passwd",
        "../x",
        "a/../b",
        "a//b",
        "./a",
        "a/.",
        "C:/x",
        "a\\b",
        "",
        "documents/",
        "a\nb",
        "file:x",
    ],
)
def test_files_that_lead_out(file):
    with pytest.raises(ValidationError):
        taken(RelativeFile, file)


@pytest.mark.parametrize("number", ["TV-0417", "4.118", "A1", "0417"])
def test_part_numbers(number):
    assert taken(PartNumber, number) == number


@pytest.mark.parametrize(
    "number", ["tv-0417", "T", "TV 0417", "TV/0417", "-1", "..", "TV-0417\n\n x", "É1", "A" * 25]
)
def test_what_is_no_part_number(number):
    with pytest.raises(ValidationError):
        taken(PartNumber, number)


class Named(Record):
    id: str


@pytest.mark.parametrize("pair", [("a", "a"), ("a", "A"), ("a b", "a  b"), ("é", "e\u0301")])
def test_entries_that_must_differ(pair):
    kind = Annotated[tuple[Named, ...], Field(strict=False), each_once("id")]
    with pytest.raises(ValidationError, match="twice"):
        taken(kind, tuple(Named(id=name) for name in pair))
    assert len(taken(kind, (Named(id="a"), Named(id="b")))) == 2


NOTES = "intro\n\n## Tools\nSpanner\n\n## steps ##\n1. Do.\n\n## Cautions\n- Hot.\n\n## Check after fitting\nTurns.\n\n## Extra\nmore\n"


def test_fitting_notes_are_cut_at_their_headings():
    notes = FittingNotes.from_markdown(NOTES)
    assert (notes.tools, notes.steps, notes.cautions, notes.check_after_fitting) == (
        "Spanner",
        "1. Do.",
        "- Hot.",
        "Turns.",
    )
    assert notes.more == "intro\n\n### Extra\n\nmore"
    assert notes.missing == ()


@pytest.mark.parametrize("line_end", ["\n", "\r\n"])
@pytest.mark.parametrize("heading", ["Tools", "Steps", "Cautions", "Check after fitting"])
def test_a_heading_left_out_is_missing(heading, line_end):
    text = NOTES.replace("steps ##", "Steps").replace(f"## {heading}\n", "## Other\n").replace("\n", line_end)
    assert FittingNotes.from_markdown(text).missing == (heading,)


def test_nothing_is_lost_from_fitting_notes():
    notes = FittingNotes.from_markdown(NOTES + "## Tools\nHammer\n")
    said = f"{notes.tools} {notes.steps} {notes.cautions} {notes.check_after_fitting} {notes.more}"
    assert all(word in said for word in ("Spanner", "Hammer", "Do.", "Hot.", "Turns.", "intro", "more"))
