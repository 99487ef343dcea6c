"""Fitting notes beyond what notes are: refused with their line, by one look at each letter."""

import pytest

from generator.pages.part.notes import cleaned
from generator.reading import notes_bounds as bounds
from generator.reading.notes_bounds import too_much
from generator.records.fitting import FittingNotes
from tests.fixtures import told
from tests.fixtures.tiny import CLIP, DEPOT, KNOB, copied, sheets

NOTES = "## Tools\n\n- a key\n\n## Steps\n\n1. Turn it.\n\n## Cautions\n\nNone.\n\n## Check after fitting\n\n- It holds.\n"
TABLE = "| bolt | torque |\n|---|---|\n" + "| M6 | 8 Nm |\n" * 60


@pytest.mark.parametrize("file", sorted(DEPOT.rglob("fitting.md")), ids=lambda file: file.parent.name)
def test_notes_as_people_write_them_are_read(file):
    assert too_much(file.read_text()) is None


@pytest.mark.parametrize(
    "text",
    [
        "",
        NOTES,
        NOTES + TABLE,
        "- a\n  - b\n    - c\n      - d\n",
        "> > a\n",
        "a\r\n" * 700,
        "a [b](c) *d* `e` <f> " * 12,
    ],
    ids=["none", "usual", "table", "nested", "quoted", "returns", "marked"],
)
def test_what_is_within_the_bounds_is_read(text):
    assert too_much(text) is None


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ("[" * 20_000, "a line of 20,000 letters"),
        ("[\n" * 301, "signs such as"),
        ("```\n" * 101, "signs such as"),
        (">" * 17 + " a", "nested too deeply"),
        ("- " * 17 + "a", "nested too deeply"),
        ("1. " * 17 + "a", "nested too deeply"),
        (" " * 34 + "- a", "nested too deeply"),
        ("\t" * 9 + "- a", "nested too deeply"),
        ("<b>\n\n" * (bounds.MOST_TAGS + 1), "signs <"),
        ("word " * 399 + "\n" + "word " * 399 + "\n" + "word " * 399 + "\n" + "word " * 399, "without an empty line"),
        ("\n" * 1500, "lines"),
        ("[a]: b\n\n" * 700, "signs such as"),
        ("é" * 40_000, "bytes long"),
    ],
)  # fmt: skip
def test_beyond_them_the_first_place_is_told(more, says):
    found = too_much(f"{NOTES}\n{more}")
    assert found is not None
    assert says in told.says(found)
    assert told.fix(found)
    assert 1 <= found.where.line <= f"{NOTES}\n{more}".count("\n") + 1


def test_a_line_is_told_where_it_stands():
    assert too_much("a\n\nb\n" + "x" * (bounds.LONGEST_LINE + 1)).where.line == 4


def test_what_is_read_can_be_made_a_page():
    """The worst that the bounds let through, of each kind: it ends, at once (figures: tests/benchmarks)."""
    for unit in ("[", "![", "[a](", "`", "*a ", "<a ", "- a\n", "[$", "---\n", "> "):
        text = unit
        while too_much(f"{NOTES}\n{text}{unit * 20}") is None:
            text += unit * 20
        notes = FittingNotes.from_markdown(f"{NOTES}\n{text}")
        assert cleaned(notes.check_after_fitting, {})


def test_refused_notes_leave_the_part_its_page_and_the_others_alone(tmp_path):
    root = copied(tmp_path / "depot")
    file = next(root.glob(f"parts/{CLIP}-*")) / "fitting.md"
    file.write_text(file.read_text() + "[" * 20_000)
    found = {sheet.number: sheet for sheet in sheets(root)[0]}
    assert found[CLIP].is_broken
    assert found[CLIP].folder.fitting is None
    assert not found[KNOB].problems
