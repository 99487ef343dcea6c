"""The paper of a submission as a reviewer has it: what is on its first page, what can be read, and that it stays the same."""

import io
import re
import subprocess
from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from PIL import Image

from generator.pages.submissions.kinds import (
    Attachment,
    Block,
    Change,
    Dossier,
    Figure,
    Gap,
    Section,
    Submission,
)
from generator.pages.wording import languages, wording
from generator.papers.letters import lacking, letters_in, spelled
from generator.papers.submission.paper import submission_paper
from generator.planning.submitting import Asks
from tests.papers.printed import page_count, text_of, told
from tests.papers.test_documents import CUNNING, squeezed, texts_of, with_text

W = wording("en")
SHA = "0123456789abcdef" * 4
SVG = b'<svg xmlns="http://www.w3.org/2000/svg" width="420mm" height="297mm" viewBox="0 0 420 297"><path d="M20 20L400 280" stroke="#000"/><text x="50" y="50">Sheet of it</text></svg>'
FILE = Attachment(number=1, path="parts/x/documents/a.pdf", name="Drawing", what="document", of=("TV-0417",), size_bytes=9000, sha256=SHA, doubt="", same_as=None, stored_as="documents/D001-a.pdf")
DOSSIER = Dossier(
    number="TV-0417",
    name="Window-latch knob",
    revision="C",
    asks=Asks.REVIEW,
    asked="The customer: review it.",
    fingerprint=SHA,
    text="number: 1\n",
    against="Against the approval of 1 May 2024:",
    changes=tuple(Change(what=f"line {n}", approved=f"before {n}", now=f"after {n}", means="Void", why=f"because {n}") for n in range(9)),
    is_compared=True,
    gaps=tuple(Gap(says=f"Gap number {n} is told", where=("TR4 401", "TR4 402") if n % 2 else (), section="fire" if n % 3 else "documents") for n in range(20)),
    questions=(),
    sections=(
        Section(key="identity", heading="Identity", blocks=(Block(pairs=(("Number", "TV-0417"), ("Name", "Window-latch knob"))), Block(documents=(1,)))),
        Section(key="fire", heading="Fire", blocks=(Block(says=("At the window.",), columns=("Test", "Document"), rows=(("T01\nof it", "D1"), ("T02", "D99"))),), nothing="none"),
        Section(key="pictures", heading="Pictures", blocks=(Block(figures=(Figure(kind="svg", content=SVG, says="The drawing", is_sheet=True),)),)),
        Section(key="cautions", heading="Cautions", blocks=(), nothing="There are no notes"),
    ),
)
VALUE = Submission(
    title="Submission: TV-0417", subtitle="as of 28 Nov 2026", day=date(2026, 11, 28), dossiers=(DOSSIER,), shared=(),
    attachments=(FILE, replace(FILE, number=2, doubt="it is empty", same_as=1, path="b")),
)  # fmt: skip
OTHER = replace(DOSSIER, number="TV-0418", name="Window-latch cover", gaps=DOSSIER.gaps[:1])
FAMILY = replace(VALUE, dossiers=(replace(DOSSIER, gaps=DOSSIER.gaps[:3]), OTHER), shared=(Block(says=("What they share",)),))


def written(value=VALUE, w=W):
    return submission_paper(value, w)


def first_page(pdf):
    run = subprocess.run(["pdftotext", "-layout", "-l", "1", "-", "-"], input=pdf, capture_output=True, check=True)
    return squeezed(re.sub("[\u200b\u200e\u200f\u202a-\u202e]", "", run.stdout.decode()))


PDF = written().content


def test_the_first_page_asks_and_tells_the_worst_changes_and_every_gap():
    front = first_page(PDF)
    for text in (DOSSIER.asked, SHA, DOSSIER.against, "line 0: before 0", "3 more in the table", "20 gaps were found"):
        assert squeezed(text) in front
    assert all(squeezed(gap.says) in front for gap in DOSSIER.gaps)
    assert squeezed("(TR4 401; TR4 402)") in front


def test_no_gap_is_lost_where_there_are_more_than_a_page_holds():
    many = tuple(Gap(says=f"Gap {n} of very many that are told, each at some length so that no page holds all of them together", section="fire") for n in range(150))
    told_all = squeezed(text_of(written(replace(VALUE, dossiers=(replace(DOSSIER, gaps=many),))).content))
    before = told_all.split("Contents")[0]
    assert all(squeezed(f"Gap {n} of very many") in before for n in range(150))


def test_what_has_no_gap_and_no_change_says_so():
    front = first_page(written(replace(VALUE, dossiers=(replace(DOSSIER, gaps=(), changes=()),))).content)
    assert squeezed("No gap was found.") in front
    assert squeezed("Nothing has changed.") in front
    new = first_page(written(replace(VALUE, dossiers=(replace(DOSSIER, is_compared=False, changes=()),))).content)
    assert squeezed("Nothing has changed") not in new


@pytest.mark.parametrize("language", languages())
def test_everything_it_is_told_stands_in_it(language):
    shown = squeezed(text_of(written(VALUE, wording(language)).content))
    for text in texts_of(replace(VALUE, attachments=(FILE,))):
        is_inner = text in (FILE.path, DOSSIER.text, "fire", "identity", "documents", "pictures", "cautions", "svg", "none", "review", DOSSIER.revision, "The drawing")
        assert is_inner or all(squeezed(line) in shown for line in text.split("\n")), text


def test_a_sum_can_be_copied_whole():
    """No sign is put into it where a line could break."""
    run = subprocess.run(["pdftotext", "-", "-"], input=PDF, capture_output=True, check=True)
    assert run.stdout.decode().split().count(SHA) == 3  # of the text, and of each file


@pytest.mark.parametrize("value", [VALUE, FAMILY], ids=["part", "family"])
def test_it_claims_to_be_kept_for_long_and_has_bookmarks_and_links(value, tmp_path):
    """The metadata claim PDF/A-2b (ISO 19005-2, 6.6.4); the typesetter refuses what it knows to be against it. No validator is at hand."""
    paper = written(value)
    assert (paper.refused, paper.lacking) == ("", ())
    assert re.search(rb"<pdfaid:part>2</pdfaid:part>\s*<pdfaid:conformance>B", paper.content)
    (tmp_path / "it.pdf").write_bytes(paper.content)
    xml = subprocess.run(["pdftohtml", "-xml", "-i", "-stdout", tmp_path / "it.pdf"], capture_output=True, check=True).stdout.decode()
    for dossier in value.dossiers:
        assert len(value.dossiers) == 1 or f"{dossier.number} {dossier.name}" in xml
    for heading in ("1 Identity", "Documents", *(["Gaps"] if len(value.dossiers) == 1 else [])):
        assert re.search(rf"<item page=\"\d+\">{heading}", xml)
    assert xml.count("<a href=") >= 10


@pytest.mark.parametrize("value", [VALUE, FAMILY], ids=["part", "family"])
def test_the_same_value_gives_the_same_bytes_and_another_day_only_another_date(value):
    assert written(value).content == written(value).content
    assert "28 Nov 2026" not in told(written(value).content)
    assert re.search("CreationDate: +Sat Nov 28 00:00:00 2026", told(written(value).content))
    assert written(replace(value, day=date(2026, 11, 29))).content != written(value).content


@pytest.mark.parametrize("text", CUNNING, ids=range(len(CUNNING)))
def test_any_text_is_taken_everywhere(text):
    paper = written(keyed(VALUE, text))
    assert "root:" not in text_of(paper.content)
    assert page_count(paper.content) < 200
    assert paper.refused == ""
    assert {*"漢字🚂"} >= set(paper.lacking)


def test_a_letter_that_no_font_has_is_written_by_its_number():
    paper = written(replace(VALUE, title="漢 Knob Ж מ"))
    assert paper.lacking == ("漢",)
    assert "[U+6F22] Knob Ж מ" in " ".join(text_of(paper.content).split()) or squeezed("[U+6F22]Knob") in squeezed(text_of(paper.content))


def test_letters_are_asked_for_by_halves():
    asked = []

    def can(text):
        asked.append(text)
        return not {"x", "q"} & set(text)

    assert lacking("abcdefghijklmnopqrstuvwx", can) == {"x", "q"}
    assert len(asked) < 24
    assert lacking("", can) == frozenset()
    assert letters_in({"a": ["Ж", {"b": "é漢"}], "c": [1, 2], "d": 3.0}) == {"Ж", "漢"}
    assert spelled({"a": ["x漢", 1], "b": [7, 7]}, frozenset("漢")) == {"a": ["x[U+6F22]", 1], "b": [7, 7]}


def test_a_drawing_keeps_its_own_size():
    """A sheet is true to scale only where nothing shrinks it: A3 lying, 420 × 297 mm (ISO 216)."""
    run = subprocess.run(["pdfinfo", "-l", "99", "-"], input=PDF, capture_output=True, check=True).stdout.decode()
    sizes = {tuple(round(float(side) * 25.4 / 72) for side in found) for found in re.findall(r"size: +([0-9.]+) x ([0-9.]+)", run)}
    assert sizes == {(210, 297), (420, 297)}


def test_it_is_read_in_black_and_white():
    """Nothing is told by a colour alone: text, lines and drawing have none."""
    run = subprocess.run(["pdftoppm", "-r", "30", "-l", "3", "-"], input=PDF, capture_output=True, check=True)
    pixels = np.asarray(Image.open(io.BytesIO(run.stdout)))
    assert (pixels == pixels[..., :1]).all()


def keyed(value, text):
    """With this text in place of every other, but for what no record can say: keys, labels, drawings."""
    dossier = with_text(value.dossiers[0], text)
    blocks = (Block(heading=text, says=(text,), pairs=(("Name", text),), documents=(1,)), Block(columns=(text, text), rows=((text, text), (text, "D1"))))
    sections = tuple(replace(each, heading=text, blocks=blocks if each.key == "fire" else each.blocks) for each in value.dossiers[0].sections)
    gaps = tuple(replace(each, says=text, where=(text,)) for each in value.dossiers[0].gaps)
    attached = tuple(replace(each, name=text, what=text, stored_as=text, of=(text, text)) for each in value.attachments)
    told_as = replace(dossier, asks=Asks.REVIEW, gaps=gaps, sections=sections)
    return replace(with_text(value, text), dossiers=(told_as,), attachments=attached, day=value.day)


def test_nothing_leaves_the_page():
    for each in (VALUE, keyed(VALUE, "W" * 80), keyed(VALUE, "long words " * 9)):
        pdf = written(each).content
        for number in (1, 2):
            run = subprocess.run(["pdftoppm", "-gray", "-r", "50", "-f", str(number), "-l", str(number), "-"], input=pdf, capture_output=True, check=True)
            ink = np.asarray(Image.open(io.BytesIO(run.stdout))) < 200
            border = round(8 / 25.4 * 50)
            assert ink.sum() == ink[border:-border, border:-border].sum() > 0


def test_a_row_of_another_length_is_no_table():
    broken = Section(key="x", heading="x", blocks=(Block(columns=("a", "b"), rows=(("1",),)),))
    with pytest.raises(ValueError, match="not as many cells"):
        written(replace(VALUE, dossiers=(replace(DOSSIER, sections=(broken,)),)))
