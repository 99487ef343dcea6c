"""The files fitted/<year>.csv, line by line; each line that cannot be read is a problem, and is left out."""

import csv
import io
import re
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from generator.reading.disk import Disk
from generator.reading.placing import MOST_ALIKE, more_like_it
from generator.records.base import FIRST_DAY
from generator.records.batches import BATCH_NAME
from generator.records.fitted import COLUMNS, FittedRow, Gap, Why
from generator.records.problems import Problem, Where, doubt, wrong

_NAME = re.compile(r"fitted/([0-9]{4})\.csv")
_BATCH = re.compile(BATCH_NAME)
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_COUNT = re.compile(r"[0-9]{1,4}")
_ABOVE_NONE = re.compile(r"[1-9][0-9]{0,3}")
_LONGEST = 80
# A spreadsheet takes what begins so for a formula.
_FORMULA = ("=", "+", "@")
_BY = COLUMNS.index("by")
_NEEDED = ("day", "fleet", "vehicle", "place", "by")
_WHY = {each.value: each for each in Why}


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
    def gap(self) -> Gap | None:
        if not self.unread and self.stops_at is None:
            return None
        return Gap(file=self.file, lines=tuple(sorted(self.unread)), from_line=self.stops_at)

    @property
    def year(self) -> int | None:
        """None of a file that bears no year's name: whatever it holds is not read."""
        found = _NAME.fullmatch(self.file)
        return int(found[1]) if found else None


def read_fitted(disk: Disk) -> tuple[FittedFile, ...]:
    """Every file of fitted/, by year."""
    found = []
    for name in disk.names("fitted"):
        file = f"fitted/{name}"
        if not _NAME.fullmatch(file):
            if not name.lower().startswith("readme"):
                disk.add(file, doubt("FITTED01", "other name"))
            if name.lower().endswith(".csv"):  # a year that was renamed tells nothing
                found.append(FittedFile(file, stops_at=1))
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


def fitted_file(file: str, raw: bytes, *, by: str | None = None) -> FittedFile:
    """The lines of one file, with every mistake at its line. by: the role of lines that name none."""
    read = FittedFile(file)
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        read.problems.append(wrong("FITTED02", "encoding", where=Where(file, line)))
        read.stops_at = 1
        return read
    lines = csv.reader(io.StringIO(text, newline=""), strict=True)
    try:
        head: list[str] = next(lines, [])
        if tuple(head) != COLUMNS:
            read.problems.append(wrong("FITTED02", "head", where=Where(file, 1), columns=",".join(COLUMNS)))
            read.stops_at = 1
            return read
        year = int(found[1]) if (found := _NAME.fullmatch(file)) else None
        _read_lines(read, ((lines.line_num, cells) for cells in lines), year, by or "")
    except csv.Error as error:
        read.problems.append(wrong("FITTED02", "csv", where=Where(file, lines.line_num), reason=str(error)))
        read.stops_at = lines.line_num
    read.problems = shortened(read.problems)
    return read


def _read_lines(read: FittedFile, lines: Iterable[tuple[int, list[str]]], year: int | None, by: str) -> None:
    """What is plainly right is taken as it is; only of the others every mistake is looked for."""
    days: dict[str, date | None] = {}
    for line, cells in lines:
        if not any(cells):
            continue
        if len(cells) != len(COLUMNS):
            read.problems.append(wrong("FITTED03", "cells", where=Where(read.file, line), given=len(cells), needed=len(COLUMNS)))
            read.unread.append(line)
            continue
        stripped = [cell.strip() for cell in cells]
        stripped[_BY] = stripped[_BY] or by
        if stripped[0] not in days:
            days[stripped[0]] = _day(stripped[0])
        day = days[stripped[0]]
        if day is None or (year is not None and day.year != year) or not _is_plain(stripped):
            mistakes = [each.at(Where(read.file, line)) for each in _mistakes(dict(zip(COLUMNS, stripped, strict=True)), day, year)]
            read.problems += mistakes
            if mistakes or day is None:
                read.unread.append(line)
                continue
        read.rows.append(_row(stripped, day, read.file, line))


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


def _row(cells: list[str], day: date, file: str, line: int) -> FittedRow:
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
    )


def _mistakes(told: Mapping[str, str], day: date | None, year: int | None) -> Iterable[Problem]:
    """All that is wrong with one line of that day."""
    text = told["day"]
    if text and day is None:
        yield wrong("FITTED03", "no day", given=text)
    elif day and year is not None and day.year != year:
        yield wrong("FITTED03", "other year", given=text, year=str(year))
    for name in _NEEDED:
        if not told[name]:
            yield wrong("FITTED03", "empty", column=name)
    for name in ("count", "removed"):
        if told[name] and not _COUNT.fullmatch(told[name]):
            yield wrong("FITTED03", "no count", column=name, given=told[name])
    for name in ("batch", "removed_batch"):
        if told[name] and not _BATCH.fullmatch(told[name]):
            yield wrong("FITTED03", "no batch", column=name, given=told[name])
    for name, value in told.items():
        if len(value) > _LONGEST or value[:1] in _FORMULA or not value.isprintable():  # what turns the reading direction is no printable sign either
            yield wrong("FITTED03", "unfit", column=name)
    yield from what_moved(told)


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


def _day(text: str) -> date | None:
    try:
        found = date.fromisoformat(text) if _DAY.fullmatch(text) else None
    except ValueError:
        return None
    return found if found and found >= FIRST_DAY else None


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
