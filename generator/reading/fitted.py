"""The files fitted/<year>.csv, line by line; each line that cannot be read is a problem, and is left out."""

import re
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date

from generator.reading.csv_rows import RowError, numbered_rows
from generator.reading.disk import Disk
from generator.reading.handed_table import TableError, handed_table, parts_otherwise
from generator.reading.placing import MOST_ALIKE, more_like_it
from generator.reading.strayed_records import Strayed
from generator.reading.typed_cells import (
    is_counted_day,
    is_shaped_as_day,
    meant_count,
    possible_days,
    written_day,
)
from generator.records.base import FIRST_DAY
from generator.records.batches import BATCH_NAME
from generator.records.fitted import AS_FOUND, COLUMNS, FOUND, FileGap, FittedRow, Why
from generator.records.harmless import as_said
from generator.records.problems import Problem, Where, doubt, wrong

_NAME = re.compile(r"fitted/([0-9]{4})\.csv")
_BATCH = re.compile(BATCH_NAME)
_COUNT = re.compile(r"[0-9]{1,4}")
_ABOVE_NONE = re.compile(r"[1-9][0-9]{0,3}")
_MOST = 9999
_LONGEST = 80
# What a spreadsheet takes for a formula; after a minus people write a text.
_FORMULA = ("=", "+", "@", "＝", "＋", "＠")
_BY = COLUMNS.index("by")
_COUNTS = ("count", "removed")
_NEEDED = ("day", "fleet", "vehicle", "place", "by")
_WHY = {each.value: each for each in Why}
_HEADS = (COLUMNS, (*COLUMNS, AS_FOUND))


@dataclass(slots=True)
class FittedFile:
    """One file: its lines that can be read, and what is wrong with it."""

    file: str
    rows: list[FittedRow] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    unread: list[int] = field(default_factory=list)
    """Lines that are there and tell nothing."""
    stops_at: int | None = None
    """From which line on nothing could be read; 1 of a whole file."""

    @property
    def gap(self) -> FileGap | None:
        if not self.unread and self.stops_at is None:
            return None
        return FileGap(file=self.file, lines=tuple(sorted(self.unread)), from_line=self.stops_at)

    @property
    def year(self) -> int | None:
        """None of a file that bears no year's name: whatever it holds is not read."""
        found = _NAME.fullmatch(self.file)
        return int(found[1]) if found else None


def read_fitted(disk: Disk, strays: Collection[Strayed] = ()) -> tuple[FittedFile, ...]:
    """Every file of fitted/, by year. strays: those among them that may hold such lines under another name or elsewhere tell nothing."""
    found = [FittedFile(each.file, stops_at=1) for each in strays if each.kind == "lines"]
    for name in disk.names("fitted"):
        file = f"fitted/{name}"
        if not _NAME.fullmatch(file):
            if not name.lower().startswith("readme") and not any(each.lies_in(file) for each in strays):
                disk.add(file, doubt("FITTED01", "other name"))
            continue
        raw = disk.lines(file)
        found.append(FittedFile(file, stops_at=1) if raw is None else fitted_file(file, raw))
    _once(found)
    return tuple(found)


def _once(files: Iterable[FittedFile]) -> None:
    """A line that says the same as one before it counts once, as does a row of the tablet; it is told and left out."""
    seen: dict[object, FittedRow] = {}
    for file in files:
        kept, again = once(file.rows, seen)
        if again:
            file.rows = list(kept)
            file.problems += shortened(again)
            file.unread += [each.where.line for each in again if each.key == "other with that row" and each.where.line]


def once(rows: Iterable[FittedRow], seen: dict[object, FittedRow] | None = None) -> tuple[tuple[FittedRow, ...], list[Problem]]:
    """The lines without those that were there before, and what is told of these. seen: lines of before, to which these are added."""
    before = {} if seen is None else seen
    kept, again = [], []
    for row in rows:
        first = before.setdefault(row.row or row.alike, row)
        if first is row:
            kept.append(row)
        else:
            again.append(said_before(row, first))
    return tuple(kept), again


def said_before(row: FittedRow, first: FittedRow) -> Problem:
    """That a line says the same as the first one, or has its row and says otherwise."""
    here, where = Where(row.file, row.line), f"{first.file}:{first.line}"
    if row.alike == first.alike:
        return wrong("FITTED12", "twice", where=here, first=where)
    return wrong("FITTED12", "other with that row", where=here, first=where, id=row.row)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Form:
    """How the lines of a file are taken."""

    year: int | None = None
    """Of which all of them must be."""
    by: str = ""
    """The role of lines that name none."""
    is_handed: bool = False
    """Whether people or spreadsheets wrote them, and a day may be written otherwise."""
    most: int = len(COLUMNS)
    """Cells, as the head has them."""

    def day(self, text: str) -> date | None:
        found = written_day(text)
        if found is None and self.is_handed and len(meant := possible_days(text)) == 1:
            found = meant[0]
        return found if found and found >= FIRST_DAY else None


def fitted_file(file: str, raw: bytes) -> FittedFile:
    """The lines of fitted/<year>.csv, in its strict form, with every mistake at its line."""
    read = FittedFile(file)
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        return _unread(read, wrong("FITTED02", "encoding", where=Where(file, raw[: error.start].count(b"\n") + 1)))
    rows = numbered_rows(text)
    try:
        head = next(rows, (1, []))[1]
    except RowError as error:
        return _unread(read, wrong("FITTED02", "csv", where=Where(file, error.line), reason=str(error)))
    if tuple(head) not in _HEADS:
        otherwise = wrong("FITTED02", "delimiter", where=Where(file, 1))
        return _unread(read, otherwise if parts_otherwise(text, *_HEADS) else wrong("FITTED02", "head", where=Where(file, 1), columns=",".join(COLUMNS)))
    return _with_rows(read, rows, _Form(year=read.year, most=len(head)))


def handed_file(file: str, raw: bytes, *, by: str | None) -> FittedFile:
    """The lines of a table that somebody hands over, however it was saved. by: the role of lines that name none."""
    read = FittedFile(file)
    try:
        rows = handed_table(raw, *_HEADS)
    except TableError as error:
        return _unread(read, error.problem)
    _, head = next(rows)
    return _with_rows(read, rows, _Form(by=by or "", is_handed=True, most=len(head)))


def _unread(read: FittedFile, problem: Problem) -> FittedFile:
    read.problems.append(problem.at(Where(read.file, problem.where.line)))
    read.stops_at = 1
    return read


def _with_rows(read: FittedFile, rows: Iterator[tuple[int, list[str]]], form: _Form) -> FittedFile:
    try:
        _read_lines(read, rows, form)
    except RowError as error:
        read.problems.append(wrong("FITTED02", "csv", where=Where(read.file, error.line), reason=str(error)))
        read.stops_at = error.line
    read.problems = shortened(read.problems)
    return read


def _read_lines(read: FittedFile, lines: Iterable[tuple[int, list[str]]], form: _Form) -> None:
    """What is plainly right is taken as it is; only of the others every mistake is looked for."""
    days: dict[str, date | None] = {}
    for line, cells in lines:
        if not any(cells):
            continue
        if len(cells) not in {len(COLUMNS), form.most}:
            read.problems.append(wrong("FITTED03", "cells", where=Where(read.file, line), given=len(cells), needed=form.most))
            read.unread.append(line)
            continue
        told_cells = [as_said(cell.strip()) for cell in cells]
        stripped, found = told_cells[: len(COLUMNS)], "".join(told_cells[len(COLUMNS) :])
        stripped[_BY] = stripped[_BY] or form.by
        if stripped[0] not in days:
            days[stripped[0]] = form.day(stripped[0])
        day = days[stripped[0]]
        formulas = _formulas(cells) if form.is_handed else frozenset()
        is_plain = found in {"", FOUND} and not formulas and _is_plain(stripped)
        if day is None or (form.year is not None and day.year != form.year) or not is_plain:
            told = dict(zip(_HEADS[1], (*stripped, found), strict=True))
            mistakes = [each.at(Where(read.file, line)) for each in _mistakes(told, day, form.year, formulas)]
            read.problems += mistakes
            if mistakes or day is None:
                read.unread.append(line)
                continue
        read.rows.append(_row(stripped, day, read.file, line, as_found=found == FOUND))


def _formulas(cells: Iterable[str]) -> frozenset[str]:
    """Which columns hold a formula; a count with a plus is told as a count."""
    return frozenset(name for name, cell in zip(_HEADS[1], cells, strict=False) if cell.strip().startswith(_FORMULA) and name not in _COUNTS)


def _is_plain(cells: list[str]) -> bool:
    """Whether nothing is wrong with a line besides its day; False where it has to be looked at."""
    _, fleet, vehicle, place, _, batch, count, off, removed, why, by, _ = cells
    text = "".join(cells)
    return (
        bool(fleet and vehicle and place and by)
        and bool(count or removed)
        and (not batch) == (not count)
        and (not removed) == (not why)
        and (not off or bool(removed))
        and (not why or why in _WHY)
        and (not batch or (_BATCH.fullmatch(batch) is not None and _ABOVE_NONE.fullmatch(count) is not None))
        and (not removed or _ABOVE_NONE.fullmatch(removed) is not None)
        and (not off or _BATCH.fullmatch(off) is not None)
        and text.isprintable()
        and (len(text) <= _LONGEST or max(map(len, cells)) <= _LONGEST)
    )


def _row(cells: list[str], day: date, file: str, line: int, *, as_found: bool) -> FittedRow:
    _, fleet, vehicle, place, position, batch, count, off, removed, why, by, row = cells
    return FittedRow(
        day=day,
        fleet=fleet,
        vehicle=vehicle,
        place=place,
        position=position,
        batch=batch,
        count=int(count or 0),
        removed_batch=off,
        removed=int(removed or 0),
        why=_WHY[why] if why else None,
        by=by,
        row=row,
        file=file,
        line=line,
        as_found=as_found,
    )


def _mistakes(told: Mapping[str, str], day: date | None, year: int | None, formulas: frozenset[str]) -> Iterable[Problem]:
    """All that is wrong with one line of that day."""
    if told["day"] and day is None and "day" not in formulas:
        yield _no_day(told["day"])
    elif day and year is not None and day.year != year:
        yield wrong("FITTED03", "other year", given=told["day"], year=str(year))
    for name in _NEEDED:
        if not told[name]:
            yield wrong("FITTED03", "empty", column=name)
    unread = {name for name in _COUNTS if told[name] and not _COUNT.fullmatch(told[name])}
    yield from (_no_count(name, told[name]) for name in _COUNTS if name in unread)
    for name in ("batch", "removed_batch"):
        if told[name] and name not in formulas and not _BATCH.fullmatch(told[name]):
            yield wrong("FITTED03", "no batch", column=name, given=told[name])
    for name, value in told.items():
        if name in formulas:
            yield wrong("FITTED03", "formula", column=name, sign=value[:1])
        elif name not in unread and (len(value) > _LONGEST or not value.isprintable()):  # what turns the reading direction is no printable sign either
            yield wrong("FITTED03", "unfit", column=name)
    if told[AS_FOUND] not in {"", FOUND}:
        yield wrong("FITTED03", "as found", given=told[AS_FOUND], yes=FOUND)
    if not unread:  # of a count that cannot be read nobody knows what it goes with
        yield from what_moved(told)


def _no_day(text: str) -> Problem:
    """What is wrong with a day, and what to write, as far as that is sure."""
    meant = possible_days(text)
    if len(meant) > 1:
        return wrong("FITTED03", "two days", given=text, one=meant[0], other=meant[1])
    if written_day(text) is None and meant and meant[0] >= FIRST_DAY:
        return wrong("FITTED03", "day otherwise", "write day", given=text, day=meant[0])
    if is_shaped_as_day(text):
        return wrong("FITTED03", "no day", given=text)
    return wrong("FITTED03", "counted day" if is_counted_day(text) else "day otherwise", given=text)


def _no_count(name: str, text: str) -> Problem:
    """What is wrong with a count, and what to write, as far as that is sure."""
    meant = meant_count(text)
    text = text if len(text) <= _LONGEST else f"{text[:20]}…"
    if meant is not None and meant > _MOST:
        return wrong("FITTED03", "large count", "no count", column=name, given=text, most=_MOST)
    if meant:
        return wrong("FITTED03", "no count", "write count", column=name, given=text, count=meant)
    if text.startswith(("-", "−", "–")):
        return wrong("FITTED03", "negative count", column=name, given=text)
    return wrong("FITTED03", "no count", column=name, given=text, most=_MOST)


def what_moved(told: Mapping[str, str]) -> Iterable[Problem]:
    """What went on has a batch and a count, what came off a count and a reason; one of the two there must be."""
    count, removed = (int(told[name]) if _COUNT.fullmatch(told[name]) else 0 for name in ("count", "removed"))
    if told["why"] and told["why"] not in _WHY:
        yield wrong("FITTED03", "no reason", given=told["why"], reasons=tuple(_WHY))
    if bool(told["batch"]) != bool(count):
        yield wrong("FITTED03", "batch and count")
    if bool(removed) != bool(told["why"]) or (told["removed_batch"] and not removed):
        yield wrong("FITTED03", "removed and why")
    if not count and not removed:
        yield wrong("FITTED03", "nothing moved")


def shortened(problems: Iterable[Problem]) -> list[Problem]:
    """Of many mistakes of a kind the first ones, and how many more there are."""
    listed = list(problems)
    count = Counter((each.code, each.key) for each in listed)
    kept: list[Problem] = []
    seen: Counter[tuple[str, str]] = Counter()
    for each in listed:
        kind = each.code, each.key
        seen[kind] += 1
        if seen[kind] <= MOST_ALIKE:
            kept.append(each)
        elif seen[kind] == MOST_ALIKE + 1:
            kept.append(more_like_it(each.code, each.where, count[kind] - MOST_ALIKE, each.severity))
    return kept
