"""All rows of a list: each becomes a draft or is refused, and none is lost between."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date

from generator.importing.drafts import Draft
from generator.importing.fields import ONE_WORD, WORDS, Field
from generator.importing.found_files import FoundFiles
from generator.importing.headings import Headings, as_compared
from generator.importing.map_file import ListMap
from generator.importing.one_row import OneRow, RowAround, columns_of
from generator.importing.rows import name_of, number_of, read_row
from generator.importing.tables import CellKind, Row, Table
from generator.records.catalogue import Catalogue
from generator.records.problems import Problem, doubt, wrong
from generator.writing.new_part import folder_name

# Letters and digits that are taken for each other on a worn part.
_LOOKS = str.maketrans({"O": "0", "Q": "0", "I": "1", "L": "1"})


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadList:
    """What became of every row."""

    rows: int
    drafts: tuple[Draft, ...]
    refused: Mapping[int, tuple[Problem, ...]]
    """Why each refused row is refused, by its number."""
    worked_out: int = 0
    """Cells in use whose value is the result of a formula."""
    words: tuple[tuple[str, str, str], ...] = ()
    """Words that were taken for something called otherwise here: column, word, id."""


def rows_below(table: Table, headings: Headings) -> tuple[Row, ...]:
    """The rows of parts: what stands above the headings, and a row of units below them, is none."""
    return tuple(row for row in table.rows if row.number > headings.row and row.number != headings.units_row)


def around_of(
    table: Table, headings: Headings, listed: ListMap, *, file: str, catalogue: Catalogue, files: FoundFiles, today: date
) -> RowAround:
    """What every row of the table is read with."""
    bare = RowAround(
        file=file,
        listed=listed,
        headings=headings,
        columns=columns_of(listed, headings),
        catalogue=catalogue,
        files=files,
        today=today,
        names={},
    )
    rows = rows_below(table, headings)
    return replace(bare, names=Counter(as_compared(name) for row in rows if (name := name_of(bare, row))))


def read_list(table: Table, around: RowAround) -> ReadList:
    """Every row below the headings."""
    rows = rows_below(table, around.headings)
    drafts: dict[int, Draft] = {}
    refused: dict[int, tuple[Problem, ...]] = {}
    for row in rows:
        found = _unread(around, table, row) or read_row(around, row)
        if isinstance(found, Draft):
            drafts[row.number] = found
        else:
            refused[row.number] = found
    _refuse_twice(around, rows, drafts, refused)
    _refuse_shared_files(around, rows, drafts, refused)
    _doubt_alike(around, rows, drafts)
    used = {heading.column for places in around.columns.values() for _, heading in places}
    return ReadList(
        rows=len(rows),
        drafts=tuple(drafts.values()),
        refused=refused,
        worked_out=sum(cell.worked_out for row in rows for i, cell in enumerate(row.cells) if i in used),
        words=_words(around, [row for row in rows if row.number in drafts]),
    )


def _words(around: RowAround, rows: Iterable[Row]) -> tuple[tuple[str, str, str], ...]:
    """What words of the list were taken for, where they are not called so here: column, word, id."""
    found: dict[tuple[str, str], str] = {}
    for row in rows:
        one = OneRow(around, row)
        fleet = one.word(Field.FLEET)
        for field in WORDS & around.columns.keys() - {Field.MAKERS}:
            heading, text = one.place(field)[1], one.cell(field).text
            if not text or (heading.name, text) in found:
                continue
            taken = around.listed.word(heading.name, text) if field in ONE_WORD else one.word(field, fleet)
            if taken and taken != text:
                found[heading.name, text] = taken
    return tuple((heading, text, here) for (heading, text), here in sorted(found.items()))


def _unread(around: RowAround, table: Table, row: Row) -> tuple[Problem, ...]:
    """Why a row is refused before its cells are looked at."""
    one = OneRow(around, row)
    if row.hidden:
        one.add(wrong("LIST08", "hidden"))
    if row.struck:
        one.add(wrong("LIST08", "struck"))
    beyond = next((cell.text for cell in row.cells[around.headings.last + 1 :] if cell.kind is not CellKind.EMPTY), None)
    if table.delimiter and beyond is not None:
        key = "beyond" if around.headings.row else "beyond most"
        one.add(wrong("LIST08", key, "beyond", given=beyond[:40]))
    named = {each.column: as_compared(each.text) for each in around.headings.columns if each.text}
    if named and all(as_compared(row.cell(column).text) == text for column, text in named.items()):
        one.add(wrong("LIST08", "headings again"))
    return tuple(one.problems)


def _refuse_twice(
    around: RowAround, rows: Iterable[Row], drafts: dict[int, Draft], refused: dict[int, tuple[Problem, ...]]
) -> None:
    """Two rows of one number, or of one folder: which of them counts cannot be known, so none does."""
    by_number: defaultdict[str, list[Row]] = defaultdict(list)
    for row in rows:
        if number := number_of(around, row):
            by_number[number].append(row)
    for same in by_number.values():
        for row in same if len(same) > 1 else ():
            other, others = _one_or_more(each.number for each in same if each is not row)
            _refuse(around, row, wrong("LIST08", "twice", other=other, others=others), drafts, refused)
    by_folder: defaultdict[str, list[int]] = defaultdict(list)
    for draft in drafts.values():
        by_folder[folder_name(draft.number, draft.name).casefold()].append(draft.row)
    numbered = {row.number: row for row in rows}
    for folder, same_rows in by_folder.items():
        for at in same_rows if len(same_rows) > 1 else ():
            other, others = _one_or_more(each for each in same_rows if each != at)
            _refuse(around, numbered[at], wrong("LIST08", "one folder", other=other, others=others, folder=folder), drafts, refused)


def _one_or_more(rows: Iterable[int]) -> tuple[str | None, list[str]]:
    """The one other row, or all of them: a sentence speaks of a row or of rows."""
    others = [str(row) for row in rows]
    return (others[0], []) if len(others) == 1 else (None, others)


def _refuse_shared_files(
    around: RowAround, rows: Iterable[Row], drafts: dict[int, Draft], refused: dict[int, tuple[Problem, ...]]
) -> None:
    """A model belongs to one part: two rows that name the same one are both refused."""
    by_mesh: defaultdict[str, list[int]] = defaultdict(list)
    for draft in drafts.values():
        if draft.mesh:
            by_mesh[draft.mesh].append(draft.row)
    numbered = {row.number: row for row in rows}
    for file, same in by_mesh.items():
        for number in same if len(same) > 1 else ():
            other, others = _one_or_more(each for each in same if each != number)
            _refuse(around, numbered[number], wrong("LIST09", "of several rows", file=file, other=other, others=others), drafts, refused)


def _refuse(
    around: RowAround, row: Row, problem: Problem, drafts: dict[int, Draft], refused: dict[int, tuple[Problem, ...]]
) -> None:
    one = OneRow(around, row)
    one.add(problem, one.place(Field.NUMBER)[1])
    drafts.pop(row.number, None)
    refused[row.number] = (*refused.get(row.number, ()), *one.problems)


def _doubt_alike(around: RowAround, rows: Iterable[Row], drafts: dict[int, Draft]) -> None:
    """Numbers that look alike on a worn part, such as A-104 and A-1O4, are written, and somebody should look."""
    numbered = {row.number: row for row in rows}
    looks: defaultdict[str, list[Draft]] = defaultdict(list)
    for draft in drafts.values():
        looks[draft.number.translate(_LOOKS)].append(draft)
    for alike in looks.values():
        for draft in alike if len(alike) > 1 else ():
            one = OneRow(around, numbered[draft.row])
            others = [other.number for other in alike if other is not draft]
            one.add(doubt("LIST10", "looks like", number=draft.number, others=others), one.place(Field.NUMBER)[1], doubt=True)
            drafts[draft.row] = replace(draft, doubts=(*draft.doubts, *one.doubts))
