"""The file of a list, whatever it is called, by what it really is."""

from dataclasses import dataclass

from generator.importing.csv_list import read_text_list
from generator.importing.headings import Headings, found_headings, headings_in
from generator.importing.map_file import ListMap
from generator.importing.tables import Table
from generator.importing.workbook import read_workbook
from generator.records.problems import Problem, wrong

TEXTS = ("csv", "txt", "tsv")
SPREADSHEETS = ("xlsx", "xlsm")
_ZIP, _OLE = b"PK\x03\x04", b"\xd0\xcf\x11\xe0"
# Some hundred times a list of 2,000 parts; what is larger holds pictures, which are not read.
LARGEST_LIST_BYTES = 20_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class ListFile:
    """The bytes of a list, its name's ending, and what the map says of its letters."""

    content: bytes
    ending: str
    encoding: str | None = None
    delimiter: str | None = None


def tables_in(file: ListFile) -> tuple[Table, ...] | Problem:
    """Every table of a list, or why it cannot be read. Run it in a guarded child process."""
    if not file.content.strip(b"\xef\xbb\xbf\xff\xfe \t\r\n"):
        return wrong("LIST01", "empty")
    packed = file.content.startswith((_ZIP, _OLE))
    if file.ending in SPREADSHEETS:
        if not packed and b"\x00" not in file.content[:1000] and not file.content.startswith(b"PK"):
            return wrong("LIST01", "text under another name")
        return read_workbook(file.content)
    if packed:
        return wrong("LIST01", "spreadsheet under another name")
    return read_text_list(file.content, file.encoding, file.delimiter)


def chosen(tables: tuple[Table, ...], listed: ListMap | None) -> tuple[Table, Headings] | Problem:
    """The sheet with its headings: as the map says, else the first one that is shown and has headings."""
    if listed is None or listed.sheet is None:
        shown = [each for each in tables if not each.hidden]
        known = [(each, found) for each in shown if (found := found_headings(each))]
        if not known and listed and listed.heading_row == 0:
            known = [(each, found) for each in shown if (found := headings_in(each, 0))]
        if not known or listed is None:
            return known[0] if known else wrong("LIST01", "no rows")
        table = known[0][0]
    else:
        named = next((each for each in tables if each.name == listed.sheet), None)
        if named is None:
            return wrong("LIST05", "no sheet", sheet=listed.sheet, sheets=[each.name for each in tables])
        table = named
    found = headings_in(table, listed.heading_row)
    return (table, found) if found else wrong("LIST05", "nothing in row", heading_row=listed.heading_row)
