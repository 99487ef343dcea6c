"""Days, and what spreadsheets make days and numbers of."""

import datetime as dt
import re

from tests.importing.lists.making import book, bytes_of, case, csv, rewrite, save


def dates_all_ways_19():
    wb, ws = book(
        [
            ["Teilenummer", "Benennung", "freigegeben am"],
            ["K-1901", "Text eindeutig", "17.03.2019"],
            ["K-1902", "Text mehrdeutig", "03/04/2019"],
            ["K-1903", "Datum", dt.date(2019, 3, 17)],
            ["K-1904", "Zahl ohne Format", 43541],
            ["K-1905", "Monatsname", "17. März 2019"],
            ["K-1906", "zweistellig", "17.03.19"],
            ["K-1907", "nur Jahr", "2019"],
            ["K-1908", "Jahr als Zahl", 2019],
            ["K-1909", "Kalenderwoche", "KW 12/2019"],
            ["K-1910", "gibt es nicht", "31.02.2019"],
            ["K-1911", "Null", "00.00.0000"],
            ["K-1912", "Zukunft", dt.date(2031, 1, 1)],
            ["K-1913", "mit Uhrzeit", dt.datetime.combine(dt.date(2019, 3, 17), dt.time(23, 59))],
            ["K-1914", "1900 Fehler", 60],
            ["K-1915", "ISO", "2019-03-17"],
            ["K-1916", "Schätzung", "ca. 2018"],
            ["K-1917", "leer", None],
            ["K-1918", "4/5 als Datum", dt.date(2019, 5, 4)],
        ]
    )
    ws["C15"].number_format = "DD.MM.YYYY"
    ws["C19"].number_format = "d-mmm"
    save(wb, "19_dates_all_ways.xlsx")
    case(
        "19_dates_all_ways.xlsx",
        "One column, seventeen ways to say when",
        18,
        ["K-1901", "K-1903", "K-1913", "K-1915", "K-1917"],
        [
            (3, "freigegeben am", "03/04/2019: 3 April or 4 March"),
            (5, "freigegeben am", "43541 is a number, not a date"),
            (8, "freigegeben am", "a year only"),
            (9, "freigegeben am", "2019 as a number"),
            (10, "freigegeben am", "a week is not a day"),
            (11, "freigegeben am", "no such day"),
            (12, "freigegeben am", "no such day"),
            (13, "freigegeben am", "lies ahead"),
            (15, "freigegeben am", "day 60 does not exist (29 Feb 1900)"),
            (17, "freigegeben am", "an estimate"),
        ],
        either=["rows 6, 7: read (German month name; two-digit year with the century said) or refused", "row 19: shown as '4-Mai': refused as perhaps not a date at all, or read as 2019-05-04 and said"],
        never=["2019-01-01 for '2019'", "1905-07-11 for 2019 as a number (day serial)", "today's date", "2019-03-18 or -16 by time zone", "any of these becomes a dated approval step; at most it is the letter's date of a take-over to be confirmed"],
    )


def dates_ambiguous_column_19():
    csv("19_dates_ambiguous_column.csv", ["Part no.;Description;approved", "K-1951;A;03/04/2019", "K-1952;B;13/04/2019", "K-1953;C;04/13/2019", "K-1954;D;05/05/2019"])
    case(
        "19_dates_ambiguous_column.csv",
        "d/m and m/d in one column",
        4,
        [],
        [(2, "approved", "ambiguous"), (4, "approved", "no month 13")],
        either=["all refused until the map says `dates: day first`", "with `dates: day first`: rows 2, 3, 5 written, row 4 refused"],
        never=["row decides for itself: 13/04 as d/m and 04/13 as m/d in one list", "05/05 excused as unambiguous while the column is unclear is acceptable only if said"],
    )


def text_dates_1904_62():
    csv("62_text_dates_1904.csv", ["Part no.;Description;approved", "K-6201;A;1904-01-01", "K-6202;B;0001-01-01", "K-6203;C;9999-12-31", "K-6204;D;2019-3-7"])
    case("62_text_dates_1904.csv", "Placeholder dates", 4, [], [(3, "approved", "year 1"), (4, "approved", "lies ahead: 9999")], either=["row 2: refused as before the fleet's first year, or written and said", "row 5: written as 2019-03-07 or refused"], never=["9999-12-31 as 'valid until'"])


def date_system_1904_62():
    wb, _ws = book([["Part no.", "Description", "approved"], ["K-6251", "A", dt.date(2019, 3, 17)]])
    data = bytes_of(wb)
    rewrite("62_date_system_1904.xlsx", data, {"xl/workbook.xml": lambda b: re.sub(rb"<workbookPr( [^>]*)?/>", b'<workbookPr date1904="1"/>', b)})
    case("62_date_system_1904.xlsx", "The same serial number in a workbook that counts from 1904: the sheet shows 18 March 2023", 1, ["K-6251"], either=["2023-03-18 written", "refused: counts from 1904"], never=["2019-03-17 written (four years kinder or harsher than what the reader sees)"])


def numbers_became_dates_20():
    wb, ws = book([["Teilenummer", "Benennung", "Wagen"], [dt.date(2025, 5, 3), "wurde 3-5", "401"], [dt.date(1931, 2, 1), "wurde 2-31", "401"], ["K-2003", "Wagen wurde Datum", dt.date(2025, 2, 1)], [dt.time(4, 1), "wurde 4:01", "401"]])
    ws["A2"].number_format = "d-mmm"
    ws["A3"].number_format = "mmm-yy"
    ws["C4"].number_format = "d.m"
    save(wb, "20_numbers_became_dates.xlsx")
    case(
        "20_numbers_became_dates.xlsx",
        "Part 3-5 became 3 May, vehicle 1.2 became 1 February",
        4,
        [],
        [(2, "Teilenummer", "a date where a number belongs", "format the column as text and type it again"), (3, "Teilenummer", "same"), (4, "Wagen", "same"), (5, "Teilenummer", "a time")],
        never=["'2025-05-03', '45780' or '3-5' as the number (guessing back is guessing too)"],
    )


def numbers_became_dates_20_again():
    csv("20_numbers_became_dates.csv", ["Teilenummer;Benennung;Wagen", "03. Mai;wurde 3-5;401", "Feb 31;wurde 2-31;401", "03.05.2025;vielleicht;401", "Mai 25;wurde 5-25;401", "3-5;noch heil;401"])
    case("20_numbers_became_dates.csv", "The same after saving as csv: only the looks are left", 5, ["3-5"], [(2, "Teilenummer", "looks like a date that a spreadsheet made"), (3, "Teilenummer", "same"), (4, "Teilenummer", "same"), (5, "Teilenummer", "same")], never=["a folder named '03. Mai-…'"])


def numbers_became_numbers_21():
    wb, ws = book([["Part no.", "Description"], [100000, "was 1E5"], [12345678901234567, "17 digits"], [1e15, "15 zeros"], ["1E5", "still text"], ["1.23E+11", "csv looks"], [4711, "a plain whole number"], [31.1, "was 31.10"], [4711.0, "float"], [-5, "minus"], [0, "zero"], [True, "TRUE"]])
    ws["A2"].number_format = "0.00E+00"
    save(wb, "21_numbers_became_numbers.xlsx")
    case(
        "21_numbers_became_numbers.xlsx",
        "Part numbers that the sheet took for numbers",
        11,
        ["1E5"],
        [(2, "Part no.", "shown as 1.00E+05"), (3, "Part no.", "more than 15 digits: the last are lost"), (4, "Part no.", "1E+15"), (6, "Part no.", "1.23E+11: digits lost"), (8, "Part no.", "31.1 or 31.10?"), (10, "Part no.", "-5"), (12, "Part no.", "TRUE")],
        either=["rows 7, 9 (4711): written as '4711' and said 'a number in the sheet; leading zeros may be lost'", "all plain numbers refused until the map says `numbers: as shown`"],
        never=["'4711.0'", "'100000.0'", "'1e+15'", "'True'", "12345678901234568"],
    )


def leading_zeros_22():
    wb, ws = book([["Teilenummer", "Benennung", "Wagen"], [401, "Format 0000 zeigt 0401", 401], ["0401", "als Text", "0401"], [401, "ohne Format", "401"]])
    ws["A2"].number_format = "0000"
    ws["C2"].number_format = "0000"
    save(wb, "22_leading_zeros.xlsx")
    case(
        "22_leading_zeros.xlsx",
        "0401 shown by format, 0401 as text, 401 as number",
        3,
        [],
        [(3, "Teilenummer", "0401 comes twice (rows 2 and 3)")],
        either=["row 2 read as shown ('0401') and then clashes with row 3: both or the second refused; row 4 written as '401'", "row 2 refused: number with format 0000, type as text; row 3 written 0401; row 4 written 401"],
        never=["0401 and 401 taken for one part or one vehicle", "row 2 silently written as 401, clashing with row 4"],
    )


def leading_zeros_lost_22():
    csv("22_leading_zeros_lost.csv", ["Teilenummer;Benennung;Wagen", "0401;a;0401", "401;b;401", "00401;c;0401", "+401;d;401", "'0402;e;'0402", '="0403";f;401'])
    case(
        "22_leading_zeros_lost.csv",
        "Text tricks that people use to keep zeros",
        6,
        ["0401", "401", "00401", "0403"],
        [(5, "Teilenummer", "+401")],
        either=["row 6: apostrophe stripped and said → 0402, or refused", 'row 7: ="0403" unwrapped → 0403, or refused as a formula'],
        never=["'0402 with the apostrophe", "a number that begins with ="],
    )


def formats_that_change_meaning_77():
    wb, ws = book([["Part no.", "Description", "Infill %", "Price", "Length mm"], ["K-7701", "A", 0.2, 12.5, 42], ["K-7702", "B", "20 %", "12,50 €", "42"], ["K-7703", "C", 20, "kr. 1.250,-", 42], ["K-7704", "D", 0.2, "n. a.", 42]])
    ws["C2"].number_format = "0%"
    ws["D2"].number_format = '#,##0.00 "€"'
    ws["E2"].number_format = '0 "cm"'
    save(wb, "77_formats_that_change_meaning.xlsx")
    case(
        "77_formats_that_change_meaning.xlsx",
        "20 % is 0.2 inside; 42 is shown as 42 cm",
        4,
        ["K-7702"],
        [(2, "Length mm", "shown as '42 cm' under a heading in mm"), (5, "Price", "n. a.")],
        either=["row 2/3 fill 20 % or refused", "row 5: 0.2 without the format: 0.2 % or refused; row 4: kr. against the depot's currency refused or read"],
        never=["infill 0.2 % for what the sheet shows as 20 %", "42 mm written from '42 cm' unsaid"],
    )


STORIES = (
    dates_all_ways_19,
    dates_ambiguous_column_19,
    text_dates_1904_62,
    date_system_1904_62,
    numbers_became_dates_20,
    numbers_became_dates_20_again,
    numbers_became_numbers_21,
    leading_zeros_22,
    leading_zeros_lost_22,
    formats_that_change_meaning_77,
)
