"""Lines of what was fitted go behind those of their year: all of them or none, and no line that stands is touched."""

from collections import defaultdict
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from generator.edge.disk import done
from generator.edge.disk.atomic import ChangedMeanwhileError, exchanged_whole, tidied, written_whole
from generator.edge.disk.request_files import read_from_outside
from generator.edge.disk.unbroken import unbroken
from generator.edge.refusals import disk_refusal, reason_of, refused
from generator.reading.disk import LARGEST_LINES_BYTES, megabytes
from generator.reading.fitted import fitted_file
from generator.reading.fitted_list import Handed, handed_csv, handed_yaml
from generator.records.catalogue import Catalogue
from generator.records.fitted import AS_FOUND, COLUMNS, FOUND, FittedRow
from generator.records.problems import Where, wrong
from generator.writing.tables import table_text

FOLDER = "fitted"
# A workbook is no such table; as one it is told how to be saved.
_TABLES = (".csv", ".tsv", ".xlsx", ".xlsm", ".xls", ".ods")


@dataclass(frozen=True, slots=True, kw_only=True)
class YearFile:
    """One file as it was, and as it will be."""

    file: str
    """Its path in the catalogue."""
    before: bytes | None
    content: bytes
    added: str
    """The lines that come in."""
    count: int


def handed(file: Path, catalogue: Catalogue, by: str | None, today: date, *, as_found: bool = False) -> Handed:
    """The lines of a file from outside; whatever is wrong is told with the file as it was named."""
    if file.suffix.lower() not in _TABLES:
        return handed_yaml(read_from_outside(file), catalogue, today, as_found=as_found)
    name = file.as_posix()
    try:
        if not file.is_file():
            return (), (wrong("DISK02", "no file" if file.exists() else "not there", "name the file", where=Where(name)),)
        with file.open("rb") as stream:
            raw = stream.read(LARGEST_LINES_BYTES + 1)
    except OSError as error:
        return (), (wrong("DISK02", "unreadable", "may be read", where=Where(name), reason=reason_of(error)),)
    if len(raw) > LARGEST_LINES_BYTES:
        size = max(len(raw), file.stat().st_size)
        return (), (wrong("DISK03", "too large", "below 16 MB", where=Where(name), megabytes=megabytes(size)),)
    return handed_csv(name, raw, by, today)


def year_files(rows: Sequence[FittedRow], root: Path) -> list[YearFile]:
    """What the files of their years become. Raises Refusal where one cannot be read, or cannot be added to."""
    by_year: defaultdict[int, list[FittedRow]] = defaultdict(list)
    for row in rows:
        by_year[row.day.year].append(row)
    return [_year_file(f"{FOLDER}/{year}.csv", own, root) for year, own in sorted(by_year.items())]


def _year_file(file: str, rows: list[FittedRow], root: Path) -> YearFile:
    try:
        before = (root / file).read_bytes() if (root / file).exists() else None
    except OSError as error:
        raise disk_refusal(error, "reading", root / file) from error
    line_end = "\r\n" if before and b"\r\n" in before else "\n"
    is_wide = bool(before and _is_wide(before)) or any(row.as_found for row in rows)
    stands = _widened(before) if before and is_wide else before or b""
    head = table_text([_columns(is_wide=is_wide)], line_end) if not before else ""
    glue = line_end if before and not before.endswith(b"\n") else ""
    added = table_text([_cells(row, is_wide=is_wide) for row in rows], line_end)
    content = stands + (head + glue + added).encode("utf-8")
    if len(content) > LARGEST_LINES_BYTES:  # it would be written, and none of the year be read any more
        raise refused("fitted_full", file=str(root / file), most=LARGEST_LINES_BYTES // 1_000_000)
    was, becomes = fitted_file(file, before) if before else None, fitted_file(file, content)
    own = becomes.rows[-len(rows) :]
    if [row.said for row in own] != [row.said for row in rows] or (was and len(becomes.rows) != len(was.rows) + len(rows)):
        raise refused("fitted_form", file=str(root / file), problems=[each for each in becomes.problems if each.code == "FITTED02"], below=root)
    return YearFile(file=file, before=before, content=content, added=added, count=len(rows))


def _columns(*, is_wide: bool) -> tuple[str, ...]:
    return (*COLUMNS, AS_FOUND) if is_wide else COLUMNS


def _is_wide(content: bytes) -> bool:
    """Whether the head names the column of what was found so."""
    return AS_FOUND.encode() in content.splitlines()[0]


def _widened(content: bytes) -> bytes:
    """With that column's name behind the others in the first line; no byte of any line is touched."""
    if _is_wide(content):
        return content
    end = len(content.splitlines()[0])
    return content[:end] + f",{AS_FOUND}".encode() + content[end:]


def _cells(row: FittedRow, *, is_wide: bool) -> tuple[str, ...]:
    count, removed = (str(each) if each else "" for each in (row.count, row.removed))
    why = row.why.value if row.why else ""
    return (
        row.day.isoformat(), row.fleet, row.vehicle, row.place, row.position, row.batch, count, row.removed_batch, removed, why,
        row.by, row.row, *((FOUND if row.as_found else "",) if is_wide else ()),
    )  # fmt: skip


def write_years(files: Sequence[YearFile], root: Path) -> None:
    """Write all of them or none. Raises Refusal."""
    tidied(root / FOLDER)
    written: list[YearFile] = []
    try:
        with unbroken():
            (root / FOLDER).mkdir(exist_ok=True)
            for each in files:
                exchanged_whole(root / each.file, each.before, each.content)
                written.append(each)
            done.wrote(f"{sum(each.count for each in files)} line(s) are added in {root / FOLDER}")
    except ChangedMeanwhileError as error:
        _put_back(written, root)
        raise refused("changed", file=str(root / FOLDER)) from error
    except OSError as error:
        _put_back(written, root)
        raise disk_refusal(error, "writing", root / FOLDER) from error


def _put_back(written: Sequence[YearFile], root: Path) -> None:
    """Nobody else has written them meanwhile: the lock is held, and what an editor saved is found before the exchange."""
    for each in written:
        with suppress(OSError):
            if each.before is None:
                (root / each.file).unlink()
            else:
                written_whole(root / each.file, each.before)
