"""Each cell is taken as it stands, or refused with its reason; nothing is read in two ways."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.importing.cells import (
    CellError,
    day,
    figure,
    keeps_a_place,
    length_in,
    part_number,
    size_mm,
    whole,
)
from generator.importing.fields import Field
from generator.importing.map_file import Column, Dates, Decimal, ListMap, Numbers, Unit
from generator.importing.tables import Cell, CellKind, day_cell, number_cell, text_cell

TODAY = date(2026, 11, 26)
COLUMNS = (Column(heading="a", field=Field.NUMBER), Column(heading="b", field=Field.NAME))
LISTED = ListMap(heading_row=1, columns=COLUMNS)
AS_SHOWN = LISTED.model_copy(update={"numbers": Numbers.AS_SHOWN})


def reason(take, *given, **more):
    """Which sentence says why a cell is refused; None where it is taken."""
    try:
        take(*given, **more)
    except CellError as error:
        return error.problem.key
    return None


@pytest.mark.parametrize(
    ("text", "decimal", "value"),
    [
        ("49,5", Decimal.COMMA, 49.5),
        ("1.234,5", Decimal.COMMA, 1234.5),
        ("1.234.567", Decimal.COMMA, 1234567),
        ("1.234,0", Decimal.COMMA, 1234),
        ("1,234", Decimal.COMMA, 1.234),
        ("1 234", Decimal.COMMA, 1234),
        ("1 234,5", Decimal.COMMA, 1234.5),
        ("1'234.5", Decimal.POINT, 1234.5),
        (",5", Decimal.COMMA, 0.5),
        ("12", None, 12),
    ],
)
def test_a_figure_is_read_by_the_sign_that_the_map_says(text, decimal, value):
    assert figure(text, decimal) == value


@pytest.mark.parametrize(
    ("text", "decimal", "why"),
    [
        ("49,5", None, "decimal unsaid"),
        ("1.234", None, "decimal unsaid"),
        ("1.234", Decimal.COMMA, "tenths or thousands"),
        ("1,234", Decimal.POINT, "tenths or thousands"),
        ("0.125", Decimal.COMMA, "other sign"),
        ("0.125,5", Decimal.COMMA, "no amount"),
        ("49.5", Decimal.COMMA, "other sign"),
        ("1,234.5", Decimal.COMMA, "no amount"),
        ("1.23,5", Decimal.COMMA, "no amount"),
        ("12.34.5", Decimal.POINT, "no amount"),
        ("1.234 567,8", Decimal.COMMA, "no amount"),
        ("1e3", Decimal.POINT, "no amount"),
        ("-5", Decimal.POINT, "no amount"),
        ("NaN", None, "no amount"),
        ("٢", None, "no amount"),
    ],
)
def test_a_figure_that_can_be_read_in_two_ways_is_refused(text, decimal, why):
    assert reason(figure, text, decimal) == why


@given(st.floats(min_value=0.01, max_value=9999.99).map(lambda value: round(value, 2)))
def test_a_figure_comes_back_in_either_way_of_writing(value):
    english = f"{value:,.2f}"
    german = english.translate(str.maketrans(",.", ".,"))
    assert figure(english, Decimal.POINT) == figure(german, Decimal.COMMA) == value


@pytest.mark.parametrize(
    ("text", "unit", "why"),
    [
        ("42 mm", Unit.MILLIMETRE, None),
        ("42", Unit.CENTIMETRE, None),
        ("42", None, "unit unsaid"),
        ("4.2 cm", Unit.MILLIMETRE, "other unit"),
        ("0", Unit.MILLIMETRE, "no length"),
        ("approx. 40", Unit.MILLIMETRE, "no length"),
        ('1 5/8"', Unit.INCH, "no length"),
    ],
)
def test_a_length_has_one_unit(text, unit, why):
    assert reason(length_in, text, unit, Decimal.POINT) == why


def test_lengths_are_in_millimetres():
    assert length_in("2", Unit.INCH, None) == 50.8
    assert size_mm(text_cell("6,2 x 4 × 1,8 cm"), None, Decimal.COMMA) == (62, 40, 18)


@pytest.mark.parametrize("text", ["62 x 40", "Ø 12 x 300", "6 cm x 40 mm x 18 mm", "62 x 40 x ?"])
def test_a_size_has_three_sides_of_one_unit(text):
    assert reason(size_mm, text_cell(text), Unit.MILLIMETRE, None) in ("no size", "no length", "other unit")


@pytest.mark.parametrize(
    ("text", "dates", "found"),
    [
        ("2019-03-04", None, date(2019, 3, 4)),
        ("4.3.2019", None, date(2019, 3, 4)),
        ("03/04/2019", Dates.DAY_FIRST, date(2019, 4, 3)),
        ("03/04/2019", Dates.MONTH_FIRST, date(2019, 3, 4)),
        ("13/04/2019", Dates.MONTH_FIRST, None),
        ("03/04/2019", None, None),
        ("13/04/2019", None, None),
        ("31.02.2019", None, None),
        ("17.03.19", None, None),
        ("2019", None, None),
        ("1989-12-31", None, None),
        ("2026-11-27", None, None),
    ],
)
def test_a_day_is_read_in_one_way_or_refused(text, dates, found):
    if found:
        assert day(text_cell(text), dates, TODAY) == found
    else:
        assert reason(day, text_cell(text), dates, TODAY)


@pytest.mark.parametrize(("text", "count"), [("2", 2), ("2,0", 2), ("2.0", 2), ("12,00", 12), ("0,0", 0)])
def test_a_count_may_be_written_with_tenths_that_are_none(text, count):
    assert whole(text_cell(text), 0, 100) == whole(number_cell(float(count)), 0, 100) == count


@pytest.mark.parametrize("text", ["2,5", "2.5", "2,000", "2.000", "1.000,0", "2,", ",0", "-2,0", "2,0 St."])
def test_what_is_no_count_or_could_be_thousands_is_refused(text):
    assert reason(whole, text_cell(text), 0, 100_000) == "no count"
    assert reason(whole, number_cell(2.5), 0, 100_000) == "no count"


def test_a_number_is_no_day_and_a_day_is_no_number():
    assert reason(day, number_cell(43541), None, TODAY) == "number no day"
    assert reason(day, text_cell("43588"), None, TODAY) == "number no day"
    assert reason(day, text_cell("2019"), None, TODAY) == "no day"
    assert reason(part_number, day_cell(date(2025, 5, 3)), LISTED) == "day"
    assert reason(whole, day_cell(date(2025, 5, 3)), 1, 10) == "no count"


def test_the_last_day_may_be_ahead_within_thirty_years():
    assert day(text_cell("2056-01-01"), None, TODAY, ahead=True) == date(2056, 1, 1)
    assert reason(day, text_cell("9999-12-31"), None, TODAY, ahead=True) == "too far"


@pytest.mark.parametrize("text", ["3-5", "1E5", "0401", "12.3456-7", "TV-0101"])
def test_a_number_that_was_typed_as_text_stays_as_it_is(text):
    assert part_number(text_cell(text), LISTED) == text


@pytest.mark.parametrize(
    "text", ["03. Mai", "Feb 31", "03.05.2025", "5-May", "1.23E+11", "1E+15", "A/B", "CON", "nul.x", "R-0031", "-rf", "K.", "K-1 L", "TÜR-1"]
)
def test_a_number_that_was_changed_or_can_be_no_folder_is_refused(text):
    assert reason(part_number, text_cell(text), LISTED)


def test_a_number_that_is_one_to_the_spreadsheet_waits_for_a_word_of_the_map():
    assert reason(part_number, number_cell(4711), LISTED) == "made a number"
    assert part_number(number_cell(4711), AS_SHOWN) == "4711"
    for lost in (number_cell(31.1), number_cell(1e15), number_cell(-5), Cell(CellKind.NUMBER, "1.00E+05")):
        assert reason(part_number, lost, AS_SHOWN) == "number lost"


@given(st.text(max_size=30))
def test_whatever_is_taken_as_a_number_can_name_a_folder_anywhere(text):
    try:
        number = part_number(text_cell(text), LISTED)
    except CellError:
        return
    assert number == number.upper()
    assert number.isascii()
    assert not set(number) & set('/\\:*?"<>| ')
    assert not number.startswith((".", "-"))
    assert not number.endswith((".", "-"))


def test_a_path_is_no_place_kept_free():
    assert not keeps_a_place("../x")
    assert keeps_a_place("-/-")
