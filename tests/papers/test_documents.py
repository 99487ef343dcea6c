"""Inspection sheets, notices of recall and reports: what they are told stands on them, whatever it looks like."""

import io
import re
import subprocess
from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from PIL import Image

from generator.pages.wording import languages, wording
from generator.papers.inspection import COLUMNS, inspection_sheet
from generator.papers.kinds import (
    BlankInspectionSheet,
    InspectionCheck,
    OffVehicle,
    OnSketch,
    PrintGroup,
    PrintPlate,
    PrintSheet,
    RecallNotice,
    Report,
    Section,
    ToPrint,
    Whereabouts,
)
from generator.papers.lacking import lacking
from generator.papers.print_list import print_list
from generator.papers.recall import recall_notice
from generator.papers.report import _FIGURE, report
from generator.papers.typesetting import TEMPLATES
from tests.papers.printed import codes_on, page, page_count, text_of, told
from tests.papers.samples import ADDRESS

W = wording("en")
CODE = ADDRESS.format("TV-0417", "B-0147")
SHEET = BlankInspectionSheet(
    number="TV-0417",
    revision="C",
    batch="B-0147",
    name="Window-latch knob",
    material="FR-PETG natural",
    lots=("L-26-031", "L-26-032"),
    machine="bench-A",
    started="23 Nov 2026, 07:40",
    count=24,
    left=24,
    pieces=("1", "5", "9"),
    checks=(
        InspectionCheck(name="Bore for the shaft", limits="8.00 +0.05 / −0.00", measured_with="plug gauge"),
        InspectionCheck(name="Height", limits="18.0 ± 0.2"),
    ),
    code=CODE,
)
NOTICE = RecallNotice(
    number="RC-0007",
    stand="catalogue of 28 Nov 2026, version 3f2a91bc",
    what=("TV-0417 Window-latch knob, batch B-0147",),
    why="The snap hook broke off.",
    by="Quality inspector",
    on=date(2026, 11, 26),
    reference="QN-26-014",
    look_for=("TV-0417 Rev. C B-0147",),
    instead="Keep the window shut.",
    found_at=(
        Whereabouts(vehicle="TR4 401", place="Saloon", position="left 3", part="TV-0417 C", batch="B-0147", count="2"),
        Whereabouts(vehicle="W2 21", place="Cab", batch="B-0147", count="unknown"),
    ),
    lying=(OffVehicle(where="On the shelf, cupboard 3", part="TV-0417 C", batch="B-0147", count="11"),),
    unsure=(Whereabouts(vehicle="TR4 409", place="Saloon", position="right 2", batch="B-0999", count="1", why="no record"),),
    asking=(Whereabouts(vehicle="TR7 703", place="Saloon", position="left 9", batch="B-0162", count="3", why="of lot L-0014"),),
    incomplete=("This list is incomplete.", "Line 7 of fitted/2026.csv could not be read."),
    code=CODE,
)
REPORT = Report(
    title="November 2026",
    subtitle="Eastmere depot",
    sections=(
        Section(heading="Fitted", sentences=("41 pieces.",), columns=("Part", "Pieces"), rows=(("TV-0417", "12"), ("TV-0123", "–"))),
        Section(heading="Nothing else"),
    ),
)
PRINTS = PrintSheet(
    title="Print list",
    subtitle="Eastmere depot, 28 Nov 2026",
    sentences=("A code opens the page of the part.",),
    groups=(
        PrintGroup(
            heading="Print: bench-A, FR-PETG",
            sentences=("Two plates.",),
            plates=(
                PrintPlate(
                    heading="Plate 1 of 2",
                    says="about 5 h",
                    parts=(ToPrint(part="24 × TV-0417 C, knob", pose="collar down; +z up", code=CODE), ToPrint(part="1 × TV-0123 A", pose="", code=CODE)),
                    sketch=(OnSketch(x=0.0, y=0.0, wide=40.0, deep=30.0, part=0), OnSketch(x=240.0, y=200.0, wide=10.0, deep=10.0, part=1)),
                    wide_mm=250.0,
                    deep_mm=210.0,
                ),
                PrintPlate(heading="Plate 2 of 2", says="not known", parts=(ToPrint(part="2 × TV-9", pose="lying", code=CODE),), sketch=(), wide_mm=10.0, deep_mm=2000.0),
            ),
        ),
    ),
)
CUNNING = (
    '#read("/etc/passwd") $x$ *b* _i_ `r` @a <l> "q" \\ // ~ -- … [a] {b} #set page(width: 1pt)',
    "= heading\n+ item\n/ term: x",
    "מברג עברי و عربي 漢字 🚂 e\u0301",
    "\x00\x1b[31m\u202ereversed\ud800\ufeff",
    "W" * 120,
    "a " * 200,
)
every_kind = pytest.mark.parametrize(
    ("made", "value"), [(inspection_sheet, SHEET), (recall_notice, NOTICE), (report, REPORT), (print_list, PRINTS)], ids=["inspection", "recall", "report", "prints"]
)


def squeezed(text):
    return re.sub(r"\s+", "", text)


def with_text(value, text):
    """The value with this text in place of each text in it."""
    if isinstance(value, str):
        return text
    if isinstance(value, tuple):
        return tuple(with_text(each, text) for each in value)
    if hasattr(value, "__dataclass_fields__"):
        return replace(value, **{name: with_text(getattr(value, name), text) for name in value.__dataclass_fields__})
    return value


@pytest.mark.parametrize("file", sorted(TEMPLATES.iterdir(), key=str), ids=lambda file: file.name)
def test_no_template_runs_reads_or_fetches_anything(file):
    """Data come by one door; a package would be asked for over the network."""
    text = re.sub("//.*", "", file.read_text("utf-8"))
    assert re.findall(r"\b(?:eval|read|plugin|import|include|csv|yaml|toml|xml|cbor|json|datetime)\b", text) == (["json"] if file.name == "common.typ" else [])


@every_kind
@pytest.mark.parametrize("text", CUNNING, ids=range(len(CUNNING)))
def test_any_text_is_taken_everywhere(made, value, text):
    pdf = made(with_text(value, text), W)
    assert pdf.startswith(b"%PDF")
    assert "root:" not in text_of(pdf)
    assert page_count(pdf) < 200


@every_kind
def test_what_looks_like_program_text_is_shown_as_it_is(made, value):
    shown = squeezed(text_of(made(with_text(value, "#read(x) $x$ *b* _i_"), W)))
    assert "#read(x)$x$*b*_i_" in shown


@every_kind
def test_the_same_value_gives_the_same_bytes_and_no_day_of_printing(made, value):
    assert made(value, W) == made(value, W)
    assert "Date" not in told(made(value, W))
    assert b"CreateDate" not in made(value, W)


@every_kind
@pytest.mark.parametrize("language", languages())
def test_in_every_language_the_values_stand_there(made, value, language):
    pdf = made(value, wording(language))
    for text in texts_of(value):
        assert squeezed(text) in squeezed(text_of(pdf)) or text == CODE
    title = {"en": {"Called back", "Inspection sheet"}, "de": {"Rückruf", "Prüfblatt"}, "da": {"Kaldt tilbage", "Måleskema"}}
    assert value in {REPORT, PRINTS} or any(each in text_of(pdf) for each in title[language])


def texts_of(value):
    if isinstance(value, str):
        yield value
    for each in value if isinstance(value, tuple) else ():
        yield from texts_of(each)
    for name in getattr(value, "__dataclass_fields__", ()):
        yield from texts_of(getattr(value, name))


@every_kind
def test_nothing_leaves_the_page(made, value):
    """No ink in the outer 8 mm, also of the longest words and many of them."""
    for each in (value, with_text(value, "W" * 80), with_text(value, "long words " * 7)):
        pdf = made(each, W)
        for number in range(1, min(page_count(pdf), 3) + 1):
            ink = np.asarray(page(pdf, 50, number)) < 200
            border = round(8 / 25.4 * 50)
            inside = ink[border:-border, border:-border].sum()
            assert (ink.sum() - inside, inside > 0) == (0, True)


@every_kind
def test_papers_are_without_colour(made, value):
    """ISO 3864-1 keeps its colours for safety signs; and a printer may have none."""
    run = subprocess.run(["pdftoppm", "-r", "40", "-"], input=made(value, W), capture_output=True, check=True)
    pixels = np.asarray(Image.open(io.BytesIO(run.stdout)))
    assert (pixels == pixels[..., :1]).all()


@pytest.mark.parametrize("made", [(inspection_sheet, SHEET), (recall_notice, NOTICE), (print_list, PRINTS)], ids=["inspection", "recall", "prints"])
def test_the_code_leads_to_the_page(made):
    paper, value = made
    assert {read.text for read in codes_on(page(paper(value, W), 203.2))} == {CODE}


def test_a_paper_whose_code_cannot_be_has_none():
    assert codes_on(page(inspection_sheet(replace(SHEET, code="x" * 5000), W), 150)) == []
    assert codes_on(page(recall_notice(replace(NOTICE, code=None), W), 150)) == []


@pytest.mark.parametrize(("count", "pages"), [(0, [0]), (1, [1]), (10, [10]), (11, [6, 5]), (24, [8, 8, 8]), (100, [10] * 10)])
def test_a_sheet_has_so_many_columns_and_its_head_on_each_page(count, pages):
    pieces = tuple(f"P{n}" for n in range(count))
    pdf = inspection_sheet(replace(SHEET, pieces=pieces, count=250, left=240), W)
    shown = text_of(pdf).split("\f")[:-1]
    assert [len(set(re.findall(r"P[0-9]+", each))) for each in shown] == pages
    assert max(pages) <= COLUMNS
    assert all("B-0147" in each and "Bore for the shaft" in each for each in shown)
    assert [each.count("Signature") for each in shown] == [0] * (len(pages) - 1) + [1]
    assert f"To be measured: {count} of 240 pieces" in shown[0]


def test_a_sheet_of_many_checks_goes_on_under_its_columns():
    checks = tuple(InspectionCheck(name=f"Dimension {n}", limits="1.0 ± 0.1") for n in range(30))
    shown = text_of(inspection_sheet(replace(SHEET, checks=checks), W)).split("\f")[:-1]
    assert len(shown) > 1
    assert all("Calibrated" in each for each in shown if "Dimension" in each)
    assert {f"Dimension {n}" for n in range(30)} <= {" ".join(each.split()) for each in re.findall(r"Dimension +[0-9]+", "".join(shown))}


def test_a_sheet_says_of_each_dimension_on_how_many_pieces_and_has_a_line_in_mm_for_each_of_these():
    checks = (InspectionCheck(name="Bore", limits="1 – 2", pieces=3), InspectionCheck(name="Height", limits="1 – 2", pieces=1), InspectionCheck(name="All", limits="1 – 2", pieces=12))
    pieces = tuple(map(str, range(1, 13)))
    shown = text_of(inspection_sheet(replace(SHEET, checks=checks, pieces=pieces, count=13, left=12), W)).split("\f")[:-1]
    assert all("Calibrated" in each for each in shown)
    assert [len(re.findall(r"\bmm\b", each.partition("measure")[2])) for each in shown] == [1 + 3 + 1 + 6, 1 + 6]  # one stands above the limits
    assert all("all 12" in each for each in shown)


def test_a_part_without_a_check_says_so():
    assert "No critical dimension is recorded" in text_of(inspection_sheet(replace(SHEET, checks=()), W))


def test_a_notice_has_a_row_and_a_box_for_each_place_and_says_who_decides():
    shown = text_of(recall_notice(NOTICE, W))
    assert "26 Nov 2026" in shown
    assert "Local codes" in shown
    assert "cannot be read, counts as called back" in " ".join(shown.split())
    assert [line.split()[0] for line in shown.splitlines() if re.search(r"\bB-0147 +(2|unknown)\b", line)] == ["TR4", "W2"]
    assert re.search(r"TV-0417\s+C\s+B-0147\s+11", shown)


def test_a_notice_that_is_short_says_so_before_its_lists_and_each_page_tells_what_it_is_of():
    many = tuple(Whereabouts(vehicle=f"TR4 {n}", place="Saloon", part="TV-0417 C", batch="B-0147", count="1") for n in range(60))
    shown = text_of(recall_notice(replace(NOTICE, found_at=many), W))
    assert shown.index("This list is incomplete.") < shown.index("Line 7 of fitted/2026.csv") < shown.index("On vehicles, as recorded")
    assert shown.index("Batch unknown: look") < shown.index("B-0999")
    assert shown.index("Ask about these, too") < shown.index("B-0162")
    pages = shown.split("\f")[:-1]
    assert len(pages) > 1
    for at, each in enumerate(pages, 1):
        assert all(told in each for told in ("RC-0007", "28 Nov 2026, version 3f2a91bc", f"page {at} of {len(pages)}"))


def test_a_notice_tells_which_lots_ask_too():
    shown = " ".join(text_of(recall_notice(replace(NOTICE, beside=("Ask about lot L-0013", "Ask about lot L-0014")), W)).split())
    assert "Perhaps also Ask about lot L-0013 Ask about lot L-0014" in shown


def test_a_notice_that_nobody_is_found_by_says_to_search_all_the_same():
    shown = text_of(recall_notice(replace(NOTICE, found_at=()), W))
    assert "Search the shelves all the same" in " ".join(shown.split())


def test_a_notice_of_a_finished_recall_says_so_first_and_sends_nobody_to_search():
    said = "Done. Nothing of it is left since 25 Nov 2026: 4 × B-0147 scrapped by Quality"
    shown = " ".join(text_of(recall_notice(replace(NOTICE, found_at=(), lying=(), unsure=(), asking=(), incomplete=(), done=said), W)).split())
    assert shown.index(said) < shown.index("Look for this on the label")
    assert "Search the shelves" not in shown
    assert "A piece that turns up all the same is not fitted" in shown


def test_a_long_notice_repeats_its_columns():
    many = tuple(Whereabouts(vehicle=f"TR4 {n}", place="Saloon", count="1") for n in range(300))
    shown = text_of(recall_notice(replace(NOTICE, found_at=many), W)).split("\f")[:-1]
    assert all("Position" in each for each in shown if "TR4" in each)
    assert {f"TR4 {n}" for n in range(300)} <= set(re.findall(r"TR4 [0-9]+", " ".join(shown)))


def test_figures_stand_to_the_right():
    words = text_of(report(REPORT, W)).splitlines()
    row = next(each for each in words if "TV-0417" in each)
    assert row.index("12") > row.index("TV-0417") + 20


@pytest.mark.parametrize(
    ("text", "is_figure"),
    [
        *((each, True) for each in ("12", "1,204.50", "1.204,50", "−3 %", "12 mm", "–", "", "≤ 5 d")),
        *((each, False) for each in ("TV-0417", "4-117-0417", "B31", "12 pieces", "2026-11-26", "26 Nov 2026")),
    ],
)
def test_what_reads_as_a_figure(text, is_figure):
    assert bool(_FIGURE.fullmatch(text)) is is_figure


def test_a_row_of_another_length_is_a_fault_of_the_caller():
    with pytest.raises(ValueError, match="Fitted"):
        report(Report(title="x", sections=(Section(heading="Fitted", columns=("a", "b"), rows=(("1",),)),)), W)


def test_a_report_of_nothing_is_a_page():
    assert page_count(report(Report(title="November", sections=()), W)) == 1


@pytest.mark.parametrize(
    ("text", "lacks"),
    [
        ("Löß, Ærø, Şăț, Ω ± ≤ − – …", ""),
        ("Кран Ж, κλειδί, עברי, عربي, ქარ", ""),  # another of the fonts that the typesetter carries has them
        ("漢字 and 漢 again", "漢字"),
        ("e\u0301 \u200d \ufe0f \u3000", ""),
        ("train \U0001f682", "\U0001f682"),
    ],
)
def test_letters_that_no_font_has_are_named(text, lacks):
    assert lacking(replace(NOTICE, why=text), [SHEET]) == tuple(lacks)


def test_a_letter_that_is_said_to_be_there_is_drawn():
    shown = text_of(recall_notice(replace(NOTICE, why="Кран κλειδί ქარ"), W))
    assert "Кран κλειδί ქარ" in shown


def test_no_heading_of_a_print_list_stands_at_the_foot_of_a_page_without_a_plate():
    """However long what stands before it is."""
    group = replace(PRINTS.groups[0], sentences=("One plate.", "Qualified for it today: M-2."), plates=PRINTS.groups[0].plates[:1])
    for lines in range(20, 48, 2):
        text = text_of(print_list(replace(PRINTS, sentences=("A line.",) * lines, groups=(group,)), wording("en")))
        for each in text.split("\f"):
            assert "Print: bench-A" not in each or "Plate 1 of 2" in each, lines
