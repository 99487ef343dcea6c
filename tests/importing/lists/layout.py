"""Where in a file the table is."""

import datetime as dt
import re

from tests.importing.lists.making import DE, EN, SHEET, book, bytes_of, case, csv, raw, rewrite, save


def two_heading_rows_10():
    csv("10_two_heading_rows.csv", ["Teil;;Einbau;;Maße;", "Nummer;Name;Flotte;Wagen;Länge;Breite", ";;;;mm;mm", "K-1001;Knopf;K1;401;49,5;43", "K-1002;Kappe;K1;402;10;10"])
    case("10_two_heading_rows.csv", "Group row above, unit row below", 2, ["K-1001", "K-1002"], heading=2, either=["row 3 (units) taken as heading, rows = 2", "row 3 counted as data and refused: no number (rows = 3)"], never=["a part called 'mm' or 'Nummer'"])


def heading_not_first_11():
    wb, _ws = book([["Ersatzteilliste Betriebshof Ostring"], [], ["Stand:", dt.date(2025, 3, 5)], ["bearbeitet: Werkstatt"], [], DE, ["K-1101", "Knopf", "K1", "401-412", "petg-fr", 49.5], ["K-1102", "Kappe", "K1", "401", "petg-fr", 10]])
    save(wb, "11_heading_not_first.xlsx")
    case("11_heading_not_first.xlsx", "Title, blank, date and author above the headings", 2, ["K-1101", "K-1102"], heading=6, never=["rows 1–5 reported as 5 refused parts without saying that the heading was taken from row 6"], note="row numbers in refusals stay those of the sheet (7, 8)")


def blanks_totals_footnotes_12():
    wb, _ws = book(
        [DE, ["K-1201", "Knopf", "K1", "401", "petg-fr", 10], [], [None, None, None, None, "Zwischensumme", 10], [], ["K-1202", "Kappe", "K1", "402", "petg-fr", 20], ["  ", None, "\u00a0", None, None, None], ["Summe", None, None, None, None, 30], ["* = Lieferant erloschen"], ["Ende der Liste"]]
    )
    save(wb, "12_blanks_totals_footnotes.xlsx")
    case(
        "12_blanks_totals_footnotes.xlsx",
        "Blank rows, a subtotal, a total, footnotes",
        6,
        ["K-1201", "K-1202"],
        [(4, "Teilenummer", "no number"), (8, "Benennung", "no name: a total?"), (9, "Benennung", "no name"), (10, "Benennung", "no name")],
        never=["a part with the number 'Summe'", "a row of blanks and no-break spaces counted", "reading stops at the first blank row"],
    )


def merged_cells_13():
    wb, ws = book([DE, ["K-1301", "Knopf", "K1", "401-412", "petg-fr", 10], ["K-1302", "Kappe", None, None, "petg-fr", 20], ["K-1303", "Stab", None, None, "petg-fr", 30], ["K-1304", "Deckel links", "K1", "401", "petg-fr", 40], [None, "Deckel rechts", "K1", "401", "petg-fr", 40]])
    ws.merge_cells("C2:C4")
    ws.merge_cells("D2:D4")
    ws.merge_cells("A5:A6")
    save(wb, "13_merged_cells.xlsx")
    case(
        "13_merged_cells.xlsx",
        "Fleet merged over three rows; one number merged over left and right",
        5,
        ["K-1301", "K-1302", "K-1303"],
        [(6, "Teilenummer", "merged with row 5: one number for two parts", "give each its own number")],
        either=["merged fleet holds for rows 2–4", "rows 3, 4 refused: 'merged cell C2:C4, write it in each row'"],
        never=["rows 3 and 4 written as fitting no vehicle or every vehicle", "K-1304 written for left while right vanishes"],
        note="K-1304 itself: written or refused as one of two",
    )


def hidden_sheets_14():
    wb, ws = book([["altes Zeug"], ["X-1"]], "alt")
    ws.sheet_state = "hidden"
    w2 = wb.create_sheet("Teile")
    [w2.append(r) for r in (DE, ["K-1401", "Knopf", "K1", "401", "petg-fr", 10])]
    w3 = wb.create_sheet("geheim")
    [w3.append(r) for r in (DE, ["K-1499", "gestrichen", "K1", "401", "petg-fr", 10])]
    w3.sheet_state = "veryHidden"
    wb.active = 1
    save(wb, "14_hidden_sheets.xlsx")
    case("14_hidden_sheets.xlsx", "First sheet hidden, third very hidden", 1, ["K-1401"], never=["K-1499 written", "hidden sheets passed over without a word"])
    wb, ws = book([[*DE, "gesperrt"]] + [[f"K-15{i:02d}", f"Teil {i}", "K1", "401", "petg-fr", 10 + i, "x" if i == 3 else None] for i in range(1, 6)])
    ws.row_dimensions[4].hidden = True
    ws.column_dimensions["G"].hidden = True
    ws.auto_filter.ref = "A1:G6"
    save(wb, "15_hidden_row_and_column.xlsx")
    case(
        "15_hidden_row_and_column.xlsx",
        "A filter hides the blocked part; the column that says so is hidden too",
        5,
        ["K-1501", "K-1502", "K-1504", "K-1505"],
        [(4, "(row)", "hidden in the sheet", "show it or delete it")],
        either=["hidden row refused and named", "hidden row read like the others, and the dry run says 'row 4 is hidden in the sheet'"],
        never=["rows = 4 with no word of row 4"],
    )
    wb, ws = book([DE, ["K-1701", "Knopf", "K1", "401", "petg-fr", 10]], "K1")
    w2 = wb.create_sheet("K3")
    [w2.append(r) for r in (DE, ["K-1702", "Kappe", "K3", "B31", "petg-fr", 10], ["K-1701", "Knopf", "K3", "B32", "petg-fr", 10])]
    save(wb, "17_two_sheets.xlsx")
    case(
        "17_two_sheets.xlsx",
        "One sheet per fleet, the same part on both",
        3,
        ["K-1701", "K-1702"],
        [("K3!3", "Teilenummer", "same number as K1!2")],
        either=["all sheets read, refusals name the sheet", "first or mapped sheet read, the other named as not read (rows = 1)"],
        never=["second sheet passed over without a word"],
    )
    csv("54_same_heading_twice.csv", ["Nummer;Name;Nummer;Länge mm", "K-5401;Knopf;ALT-77;10", "K-5402;Kappe;ALT-78;10"])
    case("54_same_heading_twice.csv", "'Nummer' twice: ours and the old maker's", 2, [], either=["map names columns by letter (A, C), the map is asked for", "whole file refused: heading twice, columns A and C"], never=["the last column silently wins: part ALT-77 written"])
    csv("55_empty_heading_with_data.csv", ["Nummer;Name;;Länge mm", "K-5501;Knopf;K1;10"])
    case("55_empty_heading_with_data.csv", "Column C without a heading", 1, ["K-5501"], never=["column shift: length K1", "crash in the proposal of the map"], note="proposal names 'column C (no heading)'")
    csv("56_headings_only.csv", [";".join(DE)])
    case("56_headings_only.csv", "Headings and nothing else", 0, [], never=["success without a word: must say '0 rows'"])
    raw("57_empty.csv", b"")
    case("57_empty.csv", "Nothing at all", 0, [], either=["refused: the file is empty"], never=["traceback", "a map written from nothing"], heading=0)
    raw("57_bom_only.csv", b"\xef\xbb\xbf")
    case("57_bom_only.csv", "A byte order mark only", 0, [], never=["traceback"], heading=0)
    raw("58_mixed_line_ends.csv", (";".join(DE) + "\rK-5801;Knopf;K1;401;petg-fr;1\nK-5802;Kappe;K1;401;petg-fr;2\r\nK-5803;Stab;K1;401;petg-fr;3\r").encode("utf-8"))
    case("58_mixed_line_ends.csv", "CR, LF and CRLF in one file", 3, ["K-5801", "K-5802", "K-5803"], never=["rows = 1 or 2"])
    csv("59_sep_line.csv", ["sep=;", ";".join(DE), "K-5901;Knopf;K1;401;petg-fr;10"])
    case("59_sep_line.csv", "'sep=;' as first line", 1, ["K-5901"], heading=2, never=["a heading 'sep='"])
    csv("60_ragged_rows.csv", [";".join(DE), "K-6001;Knopf;K1;401;petg-fr", "K-6002;Kappe;K1;401;petg-fr;10;Bemerkung;noch eine", "K-6003", "K-6004;Stab;K1;401;petg-fr;10;;;;"])
    case("60_ragged_rows.csv", "Too few and too many cells", 4, ["K-6001", "K-6004"], [(3, "G", "cell beyond the last heading: 'Bemerkung'"), (4, "Benennung", "no name")], never=["KeyError None", "surplus text thrown away unsaid"])
    csv("61_comma_both_ways.csv", ["Part no.,Description,Length mm,Fleet", "K-6101,Knob,49,5,K1", 'K-6102,Cap,"10,5",K1', "K-6103,Plug,10,K1"])
    case("61_comma_both_ways.csv", "Comma separates columns and decimals", 3, ["K-6102", "K-6103"], [(2, "E", "5 cells for 4 headings: decimal comma without quotes?")], never=["K-6101 with length 49 and fleet '5'"])
    wb, ws = book([EN, ["K-6701", "Knob", "K1", "401", "petg-fr", 10]])
    rewrite("67_dimension_lies.xlsx", bytes_of(wb), {SHEET: lambda b: b.replace(b'ref="A1:F2"', b'ref="A1:XFD1048576"').replace(b"</sheetData>", b'<row r="1048576"><c r="XFD1048576" s="0"/></row></sheetData>')})
    case("67_dimension_lies.xlsx", "Somebody formatted the whole sheet: used range to the last cell", 1, ["K-6701"], never=["more than 5 s or 300 MB", "a million blank rows in the report"])
    wb, ws = book([EN] + [[f"K-73{i:02d}", f"Cap {i}", "K1", "401", "petg-fr", i] for i in range(1, 4)])
    rewrite("73_rows_without_r.xlsx", bytes_of(wb), {SHEET: lambda b: re.sub(rb' r="[A-Z]*\d+"', b"", b)})
    case("73_rows_without_r.xlsx", "Another writer's xlsx: rows and cells carry no addresses", 3, ["K-7301", "K-7302", "K-7303"], either=["read in order", "refused as a damaged workbook"], never=["all three rows on row 1", "traceback"])
    rewrite("74_rows_out_of_order.xlsx", bytes_of(wb), {SHEET: lambda b: b.replace(b'<row r="3"', b'<row r="2"').replace(b'"A3"', b'"A2"')})
    case("74_rows_out_of_order.xlsx", "Two rows say that they are row 2", 3, [], either=["refused as damaged", "3 rows, each accounted for"], never=["one row vanishes: written + refused = 2"])


STORIES = (
    two_heading_rows_10,
    heading_not_first_11,
    blanks_totals_footnotes_12,
    merged_cells_13,
    hidden_sheets_14,
)
