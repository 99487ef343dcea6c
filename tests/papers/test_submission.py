"""The paper of a submission as a reviewer has it: what is on its first page, what can be read, and that it stays the same."""

import io
import re
import subprocess
from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from PIL import Image

from generator.pages.part.story import ChangeLine
from generator.pages.submissions.kinds import (
    Attachment,
    Block,
    Dossier,
    Figure,
    Submission,
    SubmissionGap,
    SubmissionSection,
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
    changes=tuple(ChangeLine(what=f"line {n}", approved=f"before {n}", now=f"after {n}", means="Void", why=f"because {n}") for n in range(9)),
    is_compared=True,
    gaps=tuple(SubmissionGap(says=f"Gap number {n} is told", where=("TR4 401", "TR4 402") if n % 2 else (), section="fire" if n % 3 else "documents") for n in range(20)),
    questions=(),
    numbering="Number questions from Q1 on.",
    sections=(
        SubmissionSection(key="identity", heading="Identity", blocks=(Block(pairs=(("Number", "TV-0417"), ("Name", "Window-latch knob"))), Block(documents=(1,)))),
        SubmissionSection(key="fire", heading="Fire", blocks=(Block(says=("At the window.",), columns=("Test", "Document"), rows=(("T01\nof it", "D1"), ("T02", "D99"))),), nothing="none"),
        SubmissionSection(key="pictures", heading="Pictures", blocks=(Block(figures=(Figure(kind="svg", content=SVG, says="The drawing", is_sheet=True),)),)),
        SubmissionSection(key="cautions", heading="Cautions", blocks=(), nothing="There are no notes"),
    ),
)
VALUE = Submission(
    title="Submission: TV-0417", subtitle="as of 28 Nov 2026", day=date(2026, 11, 28), dossiers=(DOSSIER,), shared=(), answer_to="Answers go to hall 2.",
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
    for text in (DOSSIER.asked, SHA, DOSSIER.against, "line 0: before 0 → after 0. What follows: Void", "3 more in the table", "20 gaps were found", VALUE.answer_to, DOSSIER.numbering):
        assert squeezed(text) in front
    assert all(squeezed(gap.says) in front for gap in DOSSIER.gaps)
    assert squeezed("(TR4 401; TR4 402)") in front


@pytest.mark.parametrize("language", languages())
def test_a_gap_leads_to_its_section_by_number_and_page(language):
    w = wording(language)
    pdf = written(w=w).content
    fire, documents = ([at for at, text in enumerate(map(squeezed, text_of(pdf).split("\f")), 1) if squeezed(of) in text and at > 1] for of in ("At the window.", SHA))
    front, told_of = first_page(pdf), [each.section for each in DOSSIER.gaps]
    assert front.count(squeezed(w("submission.gap_at", number="2", page=str(fire[0])))) == told_of.count("fire")
    assert front.count(squeezed(w("submission.gap_at_documents", page=str(documents[0])))) == told_of.count("documents")
    assert fire[0] < documents[0]


def test_a_long_change_is_not_cut_on_the_first_page_but_led_to_its_table():
    long = replace(DOSSIER.changes[0], what="the certificate", now='file "documents/' + "long name " * 30 + '"')
    pdf = written(replace(VALUE, dossiers=(replace(DOSSIER, changes=(long,)),))).content
    assert squeezed("the certificate: before and after are in the table. What follows: Void") in first_page(pdf)
    assert text_of(pdf).count("long name") + text_of(pdf).count("name long") >= 30


def test_of_many_parts_the_first_page_names_each_and_tells_every_gap_once():
    """What is the same of several parts is one line, with the parts that it speaks of."""
    own = [replace(DOSSIER, number=f"TV-{at:04}", name=f"Part {at}", gaps=(DOSSIER.gaps[0], SubmissionGap(says=f"Only of {at}", section="fire"))) for at in range(20)]
    pdf = written(replace(VALUE, dossiers=tuple(own), shared=(Block(says=("What they share",)),))).content
    front = first_page(pdf)
    assert "Contents" not in front
    assert front.count(squeezed(DOSSIER.gaps[0].says)) == 1
    for each in own:
        assert front.count(squeezed(f"{each.number} {each.name}")) == 1
        assert squeezed(each.gaps[1].says) in front
        assert squeezed(each.asked) in squeezed(text_of(pdf))


def test_of_each_part_the_first_page_says_what_is_asked_and_what_has_changed():
    changed = replace(DOSSIER, number="TV-0001", name="A", changes=DOSSIER.changes[:3], gaps=())
    renewed = replace(DOSSIER, number="TV-0002", name="B", asks=Asks.RENEWAL, revision="D", until="10.02.2027", changes=(), gaps=())
    late = replace(renewed, number="TV-0004", name="F", revision="G", until="31.08.2026", is_over=True)
    new = replace(DOSSIER, number="TV-0003", name="E", changes=(), is_compared=False, gaps=())
    front = first_page(written(replace(VALUE, dossiers=(DOSSIER, changed, renewed, late, new))).content)
    for text in ("review and approval, revision C", "line 0; line 1; line 2; 6 more", "line 0; line 1; line 2", "renewal, revision D, ends on 10.02.2027", "renewal, revision G, ended on 31.08.2026", "none", "not compared"):
        assert squeezed(text) in front
    assert squeezed("line 0; line 1; line 2; 0 more") not in front


@pytest.mark.parametrize("parts", [2, 40])
def test_the_first_page_of_a_family_leads_to_its_gaps_wherever_they_stand(parts):
    """By their pages, counted in the paper itself."""
    gaps = [tuple(SubmissionGap(says=f"Only this of {at}, {n}: {'words of it ' * 12}", section="identity") for n in "ab") for at in range(parts)]
    own = [replace(DOSSIER, number=f"TV-{at:04}", name=f"Part {at}", gaps=gaps[at], sections=DOSSIER.sections[:1], changes=()) for at in range(parts)]
    pages = text_of(written(replace(VALUE, dossiers=tuple(own))).content).split("\f")
    last = next(number for number, page in enumerate(pages, 1) if "Contents" in page) - 1
    holding = [number for number, page in enumerate(pages[:last], 1) if "Only this of" in page.replace("\n", " ")]
    assert squeezed(f"{parts * 2} gaps were found: " + ("page 1" if parts == 2 else f"pages {holding[0]} to {holding[-1]}")) in squeezed(pages[0])
    assert "{" not in pages[0]


def test_no_gap_is_lost_where_there_are_more_than_a_page_holds():
    many = tuple(SubmissionGap(says=f"Gap {n} of very many that are told, each at some length so that no page holds all of them together", section="fire") for n in range(150))
    told_all = squeezed(text_of(written(replace(VALUE, dossiers=(replace(DOSSIER, gaps=many),))).content))
    before = told_all.split("Contents")[0]
    assert all(squeezed(f"Gap {n} of very many") in before for n in range(150))


def test_what_has_no_gap_and_no_change_says_so():
    front = first_page(written(replace(VALUE, dossiers=(replace(DOSSIER, gaps=(), changes=()),))).content)
    assert squeezed("No gap was found.") in front
    assert squeezed("Nothing has changed.") in front
    new = first_page(written(replace(VALUE, dossiers=(replace(DOSSIER, is_compared=False, changes=()),))).content)
    assert squeezed("Nothing has changed") not in new


@pytest.mark.parametrize("value", [VALUE, FAMILY], ids=["part", "family"])
@pytest.mark.parametrize("asks", [Asks.REVIEW, Asks.RENEWAL])
def test_that_the_record_keeps_the_sum_is_said_only_where_it_does(asks, value):
    """Of a part in front, of a family where the part begins."""
    text = squeezed(text_of(written(replace(value, dossiers=tuple(replace(each, asks=asks) for each in value.dossiers))).content))
    said = {key: text.count(squeezed(W(f"submission.fingerprint_{key}", number=DOSSIER.number))) for key in ("kept", "unkept")}
    assert said == {"kept": int(asks is Asks.REVIEW), "unkept": int(asks is Asks.RENEWAL)}


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


LONG = ("Sicherheitsbehörde", "bound/TV-0219.txt", "person-independent", "documents/D004-report.pdf")


def test_a_long_word_is_found_and_copied_where_one_line_holds_it():
    """No sign stands between its letters, and it is not broken before it must be: asked, a gap, a fact, a table, a document."""
    pairs, rows = tuple(("Name", word) for word in LONG), tuple((str(at), f"It is {word}") for at, word in enumerate(LONG))
    fire = SubmissionSection(key="fire", heading="Fire", blocks=(Block(pairs=pairs), Block(columns=("No.", "What"), rows=rows)))
    gaps = tuple(SubmissionGap(says=f"{word} lacks", section="fire") for word in LONG)
    dossier = replace(DOSSIER, sections=(fire,), changes=(), gaps=gaps, asked=" ".join(LONG[::2]), against=" ".join(LONG[1::2]))
    attached = tuple(replace(FILE, number=at, name=word) for at, word in enumerate(LONG, 1))
    run = subprocess.run(["pdftotext", "-", "-"], input=written(replace(VALUE, dossiers=(dossier,), attachments=attached)).content, capture_output=True, check=True)
    shown = re.sub("(?<=[-/])\n", "", run.stdout.decode())
    assert [shown.count(word) for word in LONG] == [5] * len(LONG)
    assert not set(shown) & set("\u200b\u00ad")


# As German and Danish say them, in tables of six columns.
COLUMNS = (
    ("Art (EN 10204)", "Zeichen", "Über", "Ausgestellt", "Bis", "Zählt sie?"),
    ("3.1", "coupons printed by the sinter bureau", "Ausgangsmaterial", "Eastmere depot, quality inspection, 19. März 2024", "nicht festgelegt", "ja"),
    ("Dokumenttype", "LS 23-511, EN 60695-11-10", "udgangsmateriale, pulverbettbasiertes Schmelzen", "letter FE-26-0398", "ikke fastsat", "nej: på prøver"),
)


def tabled(rows):
    fire = SubmissionSection(key="fire", heading="Fire", blocks=(Block(columns=rows[0], rows=rows[1:]),))
    return written(replace(VALUE, dossiers=(replace(DOSSIER, sections=(fire,), changes=(), gaps=()),), attachments=())).content


def test_in_a_table_no_word_is_broken_that_finds_room():
    run = subprocess.run(["pdftotext", "-", "-"], input=tabled(COLUMNS), capture_output=True, check=True)
    words = {word for row in COLUMNS for cell in row for word in cell.split()}
    assert words - set(run.stdout.decode().split()) == set()


@pytest.mark.parametrize("rows", [
    (("W" * 40,) * 6, ("W" * 40,) * 6), (("Test", "W" * 300), ("short", "W" * 300)), (("", "What"), ("", "It is")), (("a",) * 12, ("Ausgangsmaterial",) * 12),
], ids=["six wide", "one endless", "an empty column", "twelve"])  # fmt: skip
def test_what_no_page_holds_is_broken_and_stays_on_the_page(rows, tmp_path):
    (tmp_path / "it.pdf").write_bytes(tabled(rows))
    run = subprocess.run(["pdftotext", "-bbox", tmp_path / "it.pdf", "-"], capture_output=True, check=True)
    assert max(float(each) for each in re.findall(r'xMax="([\d.]+)"', run.stdout.decode())) <= 595 - 18 / 25.4 * 72 + 1
    plain = subprocess.run(["pdftotext", tmp_path / "it.pdf", "-"], capture_output=True, check=True).stdout.decode()
    assert re.sub(r"\s", "", plain).count("W") >= "".join(cell for row in rows for cell in row).count("W")


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
    broken = SubmissionSection(key="x", heading="x", blocks=(Block(columns=("a", "b"), rows=(("1",),)),))
    with pytest.raises(ValueError, match="not as many cells"):
        written(replace(VALUE, dossiers=(replace(DOSSIER, sections=(broken,)),)))
