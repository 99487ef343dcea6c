"""What offices hand over as a table: however it was saved it says the same, or one sentence says how to save it; nothing is guessed."""

from datetime import date

import pytest

from generator.pages.problems.said import one_line
from generator.pages.wording import wording
from generator.reading.fitted import fitted_file
from generator.reading.fitted_list import handed_csv
from generator.records.fitted import COLUMNS

TODAY = date(2026, 11, 28)
HEAD = ",".join(COLUMNS)
ROW = "2026-11-26,A1,11,cab,Tür links,B-0001,2,,,,fitter,"
TEXT = f"{HEAD}\n{ROW}\n"
GERMAN = TEXT.replace(",", ";")


def handed(raw, by=None):
    rows, problems = handed_csv("list.csv", raw if isinstance(raw, bytes) else raw.encode(), by, TODAY)
    return rows, [(each.where.line, one_line(each, wording("en"))) for each in problems]


def of(**cells):
    told = dict(zip(COLUMNS, ROW.split(","), strict=True)) | cells
    return f"{HEAD.replace(',', ';')}\n{';'.join(told.values())}\n"


@pytest.mark.parametrize("letters", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"])
@pytest.mark.parametrize(
    "text",
    [
        TEXT, GERMAN, TEXT.replace(",", "\t"), GERMAN.replace("\n", "\r\n"), GERMAN.replace("\n", ";;;\r\n"), GERMAN.replace("day;", "Day ;"),
        "sep=;\r\n" + GERMAN, GERMAN.replace("2026-11-26", "26.11.2026"), GERMAN.replace("2026-11-26", "26-11-2026"), GERMAN + ";" * 11 + "\n\n",
        TEXT.replace("2026-11-26", "11/26/2026"), TEXT.replace("2026-11-26", "2026-11-26 00:00:00"), TEXT.replace("cab", '"cab"'),
    ],
)  # fmt: skip
def test_however_it_was_saved_it_says_the_same(text, letters):
    rows, problems = handed(text.encode(letters))
    assert problems == []
    (row,) = rows
    told = (row.day, row.fleet, row.vehicle, row.place, row.position, row.batch, row.count, row.by)
    assert told == (date(2026, 11, 26), "A1", "11", "cab", "Tür links", "B-0001", 2, "fitter")


@pytest.mark.parametrize(
    ("raw", "mend"),
    [
        (b"PK\x03\x04" + bytes(100), "save its sheet as CSV"),
        (b"\xd0\xcf\x11\xe0" + bytes(100), "save its sheet as CSV"),
        (GERMAN.encode().replace("Tür".encode(), b"T\x81r"), "save it as CSV in UTF-8"),  # a sign that no set of letters has
        (GERMAN.encode("cp850"), "save it as CSV in UTF-8"),  # else the door were called T•r or worse
        (GERMAN.encode() + GERMAN.encode("cp1252"), "save it as CSV in UTF-8"),
        (b"\x00\x01\x02\x03" * 50, "save it as CSV in UTF-8"),
        (b"", "write day,fleet,"),
        (b"\xef\xbb\xbf", "write day,fleet,"),
        (GERMAN.replace(";", ":").encode(), "write day,fleet,"),
        (b'"day', "write day,fleet,"),
    ],
)
def test_what_cannot_be_read_is_told_once_and_how_to_save_it(raw, mend):
    rows, problems = handed(raw)
    assert rows == ()
    assert len(problems) == 1
    assert mend in problems[0][1]


@pytest.mark.parametrize(
    ("day", "told"),
    [
        ("03/04/2026", "write 2026-03-04 or 2026-04-03"),
        ("03-04-2026", "write 2026-03-04 or 2026-04-03"),
        ("26.11.26", "as year-month-day"),
        ("11-26", "as year-month-day"),
        ("31.02.2026", "is not a day that exists"),
        ("2026-02-30", "is not a day that exists"),
        ("32/13/2026", "is not a day that exists"),
        ("26.11.1826", "is not a day that exists"),
        ("46352", "as a spreadsheet counts it"),
        ("46352,5", "as a spreadsheet counts it"),
        ("=TODAY()", "begins with ="),
        ("Thursday", "as year-month-day"),
        ("２０２６-１１-２６", "as year-month-day"),
    ],
)
def test_a_day_that_can_be_read_in_two_ways_or_in_none_is_not_guessed(day, told):
    rows, problems = handed(of(day=day))
    assert rows == ()
    assert [told in each for _, each in problems] == [True]


@pytest.mark.parametrize(
    ("count", "told"),
    [
        ("1.0", "write 1"), ("1,0", "write 1"), ("+1", "write 1"), ("１", "write 1"), ("+2,00", "write 2"), ("-1", "without a sign"), ("−1", "without a sign"),
        ("1.000", "a whole number"), ("2,5", "a whole number"), ("1e3", "a whole number"), ("two", "a whole number"), ("99999999", "more than a line can tell"),
        ("10000", "at most 9999"), ("9" * 5000, "a whole number"), ("=1", "a whole number"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("column", ["count", "removed"])
def test_a_count_that_is_none_is_told_once_with_what_is_wanted(column, count, told):
    other = {"batch": "", "count": "", "removed": count, "why": "worn"} if column == "removed" else {"count": count}
    rows, problems = handed(of(**other))
    assert rows == ()
    assert [(told in each, column in each) for _, each in problems] == [(True, True)]


def test_spaces_around_a_count_are_none_of_it():
    rows, problems = handed(of(count="\u00a01 "))
    assert (rows[0].count, problems) == (1, [])


@pytest.mark.parametrize("sign", ["\n", "\r\n", "\r", "\n\n\n"])
def test_a_cell_over_several_lines_moves_no_line_below_it(sign):
    text = f'{HEAD}\n2026-11-26,A1,11,cab,"a{sign}b",B-0001,1,,,,fitter,\n2026-11-99,A1,11,cab,,B-0001,1,,,,fitter,\n'
    _, problems = handed(text)
    below = 3 + len(sign.replace("\r\n", "\n"))
    assert [line for line, _ in problems] == [2, below]
    _, problems = handed(text.replace("2026-11-99", '"2026-11-99'))  # a quotation mark that nobody closes is told where its row begins
    assert [line for line, _ in problems] == [2, below]


def test_a_comma_too_many_shifts_no_cell():
    rows, problems = handed(f"{HEAD}\n2026-11-26,A1,11,cab,,B-0001,1,0,,,,fitter,\n")
    assert rows == ()
    assert "has 13 cells" in problems[0][1]


def test_a_formula_is_told_and_one_with_an_apostrophe_is_a_text():
    rows, problems = handed(of(position="=HYPERLINK(1)"))
    assert rows == ()
    assert "position begins with =" in problems[0][1]
    (row,), problems = handed(of(position="'=left"))
    assert (row.position, problems) == ("=left", [])


@pytest.mark.parametrize("raw", [GERMAN.encode(), TEXT.encode("cp1252"), TEXT.encode("utf-16"), TEXT.replace("day", "Day").encode()])
def test_a_years_own_file_keeps_its_form_and_says_how_to_save_it(raw):
    found = fitted_file("fitted/2026.csv", raw)
    assert found.rows == []
    (told,) = (one_line(each, wording("en")) for each in found.problems)
    assert "as CSV in UTF-8" in told
    assert "commas between the cells" in told
    assert "spares fitted add" in told


def test_a_day_of_a_years_file_is_written_as_records_have_it():
    found = fitted_file("fitted/2026.csv", TEXT.replace("2026-11-26", "26.11.2026").encode())
    assert found.rows == []
    assert "write 2026-11-26" in one_line(found.problems[0], wording("en"))
