"""What a label says can be read: by people whatever its text is, and by a machine through a dirty bag."""

import json
import os
import re
import subprocess
import sys
from dataclasses import replace
from itertools import pairwise

import pytest

from generator.pages.wording import wording
from generator.papers.codes import GOOD_MODULE_MM, LEAST_MODULE_MM
from generator.papers.formats import GRIDS, ROLLS, Format, pair_of, roll, sheet, size_of
from generator.papers.kinds import LabelCount, NotPrinted, PaperRefusal
from generator.papers.label import drawn
from generator.papers.labels import MOST, labels
from generator.papers.lettering import ADVANCE, LEAST_SIZE_MM, PITCH, cut, letters
from tests.papers.printed import codes_on, page, page_count, read_in_a_dirty_bag, text_of, told, words_of
from tests.papers.samples import LINKED, LONGEST, PLAIN, UNBROKEN, label

W = wording("en")
FORMATS = {**{name: sheet(*size) for name, size in GRIDS.items()}, **{name: roll(*pair_of(name)) for name in ROLLS}}
every_format = pytest.mark.parametrize("format_", FORMATS.values(), ids=FORMATS)
CUNNING = [
    '#read("/etc/passwd")',
    "$x^2$ *bold* _it_ `raw`",
    "= Heading <label> @ref",
    r'"quote" \n \u{41} \ ',
    "// gone /* too */ ~ -- ...",
    '#import "@preview/x:1.0.0"',
    "{number} [a {missing} b]",
    "</path><script>1</script>",
    "fi ffl 'single' https://x.y",
]  # fmt: skip


def printed(*wanted, format_=None, start=1):
    made = labels([each if isinstance(each, LabelCount) else LabelCount(label=each) for each in wanted], format_ or sheet(70, 37), W, start=start)
    assert isinstance(made, bytes), made
    return made


def squeezed(text):
    return re.sub(r"\s+", "", text)


@pytest.mark.parametrize("text", CUNNING)
def test_what_looks_like_program_text_is_shown_as_it_is(text):
    pdf = printed(label(name=text, number="#x", revision="$y", batch="*z*", code="plain"), format_=roll(100, 60))
    shown = text_of(pdf)
    assert squeezed(text) in squeezed(shown)
    assert all(each in squeezed(shown) for each in ("#x", "Rev.$y", "*z*"))


def test_letters_of_german_danish_and_polish_come_out():
    text = "Türöffner ÄÖÜß æøå ÆØÅ łż éñ µ± Ω"
    assert squeezed(text) in squeezed(text_of(printed(label(name=text), format_=roll(200, 60))))


@pytest.mark.parametrize("name", ["שלום עולם", "مقبض الباب", "窓の取っ手", "🙂🚂", "ﷺ" * 40, "e\u0301" * 90, "\u200d" * 30, "ก็" * 20])
def test_any_script_is_taken(name):
    assert "TV-0417" in text_of(printed(label(name=name)))


@pytest.mark.parametrize("unseen", ["\x00", "\x1b[31m", "\u202e", "\u2066", "\ud800", "\x7f", "\ufeff"])
def test_what_cannot_be_seen_is_seen(unseen):
    """A name that reads backwards from a hidden mark on could say another part."""
    shown = text_of(printed(label(name=f"knob {unseen}bonk")))
    assert "\ufffd" in shown
    assert unseen not in shown


def test_line_ends_in_a_name_are_spaces():
    assert "Window latch knob" in text_of(printed(label(name="Window\nlatch\tknob"), format_=roll(200, 60)))


def test_the_same_labels_give_the_same_bytes_in_any_process():
    program = (
        "import sys, hashlib; from tests.papers.test_labels import *;"
        "print(hashlib.sha256(printed(LINKED, LabelCount(label=LONGEST, count=30))).hexdigest(), 'typst' in sys.modules)"
    )
    other = {**os.environ, "TZ": "Asia/Tokyo", "LANG": "de_DE.UTF-8", "PYTHONHASHSEED": "7", "SOURCE_DATE_EPOCH": "1000000000"}
    runs = [subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True, env=env) for env in (dict(os.environ), other)]
    assert runs[0].stdout == runs[1].stdout
    assert "True" in runs[0].stdout


def test_no_day_stands_in_the_file():
    pdf = printed(LINKED)
    assert "Date" not in told(pdf)
    assert b"Date" not in pdf


@pytest.mark.parametrize(
    ("count", "start", "pages"), [(1, 1, 1), (24, 1, 1), (25, 1, 2), (24, 2, 2), (1, 24, 1), (2, 24, 2), (500, 1, 21), (500, 24, 22)]
)
def test_so_many_pages(count, start, pages):
    assert page_count(printed(LabelCount(label=PLAIN, count=count), start=start)) == pages


def test_each_label_stands_in_its_field_and_the_first_ones_stay_free():
    """70 × 37 mm, 3 by 8: field 5 is the second of the second row; 0.5 mm above the first."""
    places = [(x, y) for x, y, word in words_of(printed(LabelCount(label=PLAIN, count=5), start=5)) if word == "TV-0417"]
    fields = [(int(x // 70), int((y - 0.5) // 37)) for x, y in places]
    assert fields == [(1, 1), (2, 1), (0, 2), (1, 2), (2, 2)]
    assert {(round(x % 70, 1), round((y - 0.5) % 37, 1)) for x, y in places} == {(round(places[0][0] - 70, 1), round(places[0][1] - 37.5, 1))}


def test_labels_keep_their_order_and_count():
    wanted = [LabelCount(label=label(number=f"TV-{n:04}"), count=count) for n, count in ((1, 2), (2, 0), (3, 1), (1, 1))]
    assert re.findall(r"TV-\d+", " ".join(word for *_, word in words_of(printed(*wanted, format_=roll(57, 32))))) == ["TV-0001", "TV-0001", "TV-0003", "TV-0001"]


def test_no_line_leaves_its_label():
    """Of the widest there is, on each format; by the letters' own place in the PDF."""
    for name, format_ in FORMATS.items():
        for each in (PLAIN, LINKED, LONGEST, UNBROKEN, label(name="漢字" * 40)):
            made = drawn(each, format_, W)
            if isinstance(made, NotPrinted):
                assert name == "25x25"
                continue
            room = format_.label_width_mm - format_.inset_x_mm - made.lines_x_mm
            assert max(letters(line.text) * ADVANCE * line.size_mm for line in made.lines) <= room + 1e-6
            below = max(made.lines_y_mm + line.top_mm + line.size_mm for line in made.lines)
            assert below <= format_.label_height_mm - format_.inset_y_mm + 1e-6
            assert made.lines_y_mm >= format_.inset_y_mm - 1e-6
            tops = [line.top_mm for line in made.lines]
            assert all(after - before >= PITCH * LEAST_SIZE_MM - 1e-6 for before, after in pairwise(tops))


STOPPED = {
    "de": ("Zurückgerufen, RC-0001", "Trittleuchten-Glashalterung, rechts"),
    "en": ("Lot L-0009 blocked", "Door push-button surround"),
    "da": ("Frigivelsen gælder ikke", "Holder til trinlygteglas, venstre"),
}


@pytest.mark.parametrize("language", STOPPED)
@every_format
def test_why_a_piece_is_not_fitted_is_never_cut_and_its_name_is_whole_where_there_is_room(format_, language):
    """On sheets and rolls, in the language with the longest words: small print that ends in … says nothing of why."""
    stop, name = STOPPED[language]
    made = drawn(replace(label(name=name), stop=stop), format_, wording(language))
    if isinstance(made, NotPrinted):
        assert format_.label_width_mm == 25
        return
    small = " ".join(line.text for line in made.lines if not line.bold)
    assert "…" not in small
    assert squeezed(stop) in squeezed(small) or format_.label_width_mm == 25  # the bar alone has room there
    if format_.label_width_mm >= 62:
        assert squeezed(name) in squeezed(small)
    assert min(line.size_mm for line in made.lines if line.bold) >= LEAST_SIZE_MM


@every_format
def test_a_name_of_usual_length_is_whole(format_):
    made = drawn(label(name="Türtasterumrandung, rechts"), format_, W)
    if format_.label_width_mm == 25:
        return  # not even the number stands there in good letters
    assert squeezed("Türtasterumrandung, rechts") in squeezed("".join(line.text for line in made.lines if not line.bold))


@every_format
def test_number_revision_and_batch_are_never_cut(format_):
    for each in (LINKED, LONGEST, UNBROKEN):
        made = drawn(each, format_, W)
        if isinstance(made, NotPrinted):
            continue
        bold = "".join(line.text for line in made.lines if line.bold)
        assert squeezed(bold) == f"{each.number}Rev.{each.revision}{each.batch}"
        assert min(line.size_mm for line in made.lines if line.bold) >= LEAST_SIZE_MM - 1e-6


def test_the_longest_fit_on_all_but_the_smallest():
    refused = {name for name, each in FORMATS.items() if isinstance(drawn(LONGEST, each, W), NotPrinted)}
    assert refused == {"25x25"}
    assert isinstance(drawn(LINKED, FORMATS["25x25"], W), NotPrinted) is False


def test_a_long_name_is_cut_and_says_so():
    shown = text_of(printed(LONGEST, format_=roll(62, 29)))
    assert "…" in shown
    assert "…" not in text_of(printed(LINKED, format_=roll(62, 29)))


@pytest.mark.parametrize(
    ("text", "most", "count", "lines"),
    [
        ("window latch knob", 12, 2, ("window latch", "knob")),
        ("window latch knob", 11, 2, ("window", "latch knob")),
        ("window latch knob", 11, 1, ("window lat…",)),
        ("windowlatchknob", 8, 2, ("windowla", "tchknob")),
        ("windowlatchknobs!", 8, 2, ("windowla", "tchknob…")),
        ("window", 6, 1, ("window",)),
        ("漢字漢字", 5, 1, ("漢字…",)),
        ("", 5, 2, ()),
        ("   ", 5, 2, ()),
        ("a", 0, 2, ()),
        ("window", 6, 0, ()),
    ],
)
def test_a_text_is_cut_between_words_where_it_can_be(text, most, count, lines):
    assert cut(text, most, count) == lines
    assert all(letters(each) <= max(most, 0) for each in lines)


def least_module(format_, text):
    return drawn(text, format_, W).code.module_mm


@every_format
@pytest.mark.parametrize("each", [PLAIN, LINKED, LONGEST], ids=["plain", "linked", "longest"])
def test_the_code_reads_from_the_printed_label(format_, each):
    """At the dots of a label printer, at 300 dots, and both in a dirty bag."""
    if isinstance(drawn(each, format_, W), NotPrinted):
        assert (format_.label_width_mm, each) == (25.0, LONGEST)
        return
    pdf = printed(each, format_=format_)
    for dpi in (203.2, 300):
        image = page(pdf, dpi)
        image = image.crop((0, 0, *map(min, image.size, (int(each / 25.4 * dpi * 1.4) for each in (format_.label_width_mm, format_.label_height_mm)))))
        assert [read.text for read in codes_on(image)] == [each.code]
        if least_module(format_, each) >= 0.4:
            assert read_in_a_dirty_bag(image, dpi) == {each.code}


def test_every_field_of_a_sheet_has_its_code():
    wanted = [label(number=f"TV-{n:04}") for n in range(24)]
    assert {read.text for read in codes_on(page(printed(*wanted), 203.2))} == {each.code for each in wanted}


@every_format
def test_a_module_is_as_large_as_is_said_and_has_its_quiet_zone(format_):
    """Measured on the rendered page, 20 dots a millimetre; 4 white modules around: ISO/IEC 18004."""
    made = drawn(LINKED, format_, W)
    image = page(printed(LINKED, format_=format_), 508)
    side = len(made.code.rows) * made.code.module_mm
    x, y = format_.corner(1)
    left, top, quiet = x + made.code_x_mm, y + made.code_y_mm, 4 * made.code.module_mm
    around = tuple(round(20 * each) for each in (left - quiet, top - quiet, left + side + quiet, top + side + quiet))
    dark = image.crop(around).point(lambda grey: 255 * (grey < 128)).getbbox()
    assert all(abs(found - 20 * meant) <= 1.5 for found, meant in zip(dark, (quiet, quiet, quiet + side, quiet + side), strict=True))
    assert min(around) >= 0
    assert made.code.module_mm >= LEAST_MODULE_MM


@pytest.mark.parametrize("name", ROLLS)
def test_on_a_roll_a_module_is_of_whole_dots_of_the_printer(name):
    for each in (PLAIN, LINKED):
        made = drawn(each, FORMATS[name], W)
        dots = [made.code.module_mm / 0.125, made.code_x_mm / 0.125, made.code_y_mm / 0.125]
        assert dots == [pytest.approx(round(each)) for each in dots]


def test_where_there_is_room_a_quarter_may_be_dirty():
    """Level Q while modules stay at half a millimetre, else M."""
    assert [drawn(LINKED, FORMATS[name], W).code.level for name in ("3x8", "4x11")] == ["Q", "M"]
    assert least_module(FORMATS["3x8"], LINKED) >= GOOD_MODULE_MM


def why(*wanted, format_=None, start=1):
    return labels([LabelCount(label=each) if not isinstance(each, LabelCount) else each for each in wanted], format_ or sheet(70, 37), W, start=start)


def test_what_cannot_be_printed_is_told_as_a_value():
    assert why() == why(LabelCount(label=PLAIN, count=0)) == why(LabelCount(label=PLAIN, count=-3)) == NotPrinted(why=PaperRefusal.NOTHING)
    assert why(LabelCount(label=PLAIN, count=MOST + 1)).why == PaperRefusal.TOO_MANY
    assert [why(PLAIN, start=start).why for start in (0, -1, 25)] == [PaperRefusal.NO_FIELD] * 3
    assert why(PLAIN, format_=roll(57, 32), start=2).facts == {"start": 2, "fields": 1}
    assert why(label(code="x" * 5000)).why == PaperRefusal.CODE_TOO_LONG
    assert why(label(code="x" * 200), format_=roll(25, 25)).why == PaperRefusal.CODE_TOO_FINE
    assert why(label(number="X" * 400, code="plain")).why == PaperRefusal.LETTERS_TOO_SMALL
    assert why(PLAIN, format_=sheet(211, 37)).why == why(PLAIN, format_=sheet(70, 37, margins_mm=(150, 0))).why == PaperRefusal.OFF_THE_PAGE


@pytest.mark.parametrize("width", [2.0, 1.9, 0.5])
def test_a_label_smaller_than_its_own_edge_is_off_the_page(width):
    assert why(PLAIN, format_=roll(width, 40)).why == PaperRefusal.OFF_THE_PAGE


def test_every_reason_has_its_words():
    keys = {f"papers.not_printed.{each}.{part}" for each in PaperRefusal for part in ("says", "mend")}
    assert {key for key in W.flat if key.startswith("papers.not_printed.")} == keys


@pytest.mark.parametrize(("name", "grid"), [(name, tuple(map(int, name.split("x")))) for name in GRIDS])
def test_a_grid_is_called_by_what_a4_holds(name, grid):
    """12 rows of 25.4 mm would be 304.8 mm: A4 (ISO 216) holds 11."""
    found = FORMATS[name]
    assert (found.columns, found.rows) == grid
    assert found.lies_on_page
    last = found.corner(found.fields)
    assert last[0] + found.label_width_mm + found.left_mm == pytest.approx(210, abs=0.1)
    assert last[1] + found.label_height_mm + found.top_mm == pytest.approx(297, abs=0.1)


def test_margins_and_gaps_are_kept():
    found = sheet(63.5, 38.1, margins_mm=(7.2, 15.1), gaps_mm=(2.5, 0))
    assert (found.columns, found.rows) == (3, 7)
    assert found.corner(5) == pytest.approx((7.2 + 66, 15.1 + 38.1))
    assert (found.inset_x_mm, found.inset_y_mm) == (1.5, 1.5)


def test_nothing_is_put_where_a_printer_does_not_print():
    """4.5 mm of the page, on all four sides (common practice, no source)."""
    for name in GRIDS:
        found = FORMATS[name]
        x, y = found.corner(1)
        right, bottom = (end + size for end, size in zip(found.corner(found.fields), (found.label_width_mm, found.label_height_mm), strict=True))
        inset = found.inset_x_mm, found.inset_y_mm
        assert min(x + inset[0], y + inset[1], 210 - right + inset[0], 297 - bottom + inset[1]) >= 4.5 - 0.05


@pytest.mark.parametrize(
    ("typed", "size"),
    [
        ("3x8", (70, 37)),
        ("4x11", (48.5, 25.4)),
        ("70x37", (70, 37)),
        ("48.5x25.4", (48.5, 25.4)),
        ("48,5×25,4", (48.5, 25.4)),
        ("70X37", (70, 37)),
        ("4x12", None),
        ("0x0", None),
        ("70x", None),
        ("-70x37", None),
        ("1e2x30", None),
        ("70x3700", None),
        ("٣x٨", None),
        ("nanxinf", None),
        ("", None),
    ],
)
def test_a_size_as_it_is_typed(typed, size):
    assert size_of(typed) == size


def test_what_a_format_is_asked_for_is_json_alone():
    """No number of a format is endless, which JSON cannot say."""
    assert not Format(page_width_mm=210, page_height_mm=297, label_width_mm=float("nan"), label_height_mm=30).lies_on_page
    assert json.dumps([1.0], allow_nan=False)
