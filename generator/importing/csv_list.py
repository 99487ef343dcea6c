"""A list as text (.csv, .txt, .tsv) → a table: in which letters it was written, what stands between its cells."""

import csv
import re
from collections import Counter
from collections.abc import Iterator
from io import StringIO

from generator.importing.tables import (
    LONGEST_CELL,
    MOST_COLUMNS,
    MOST_ROWS,
    Cell,
    Kind,
    Row,
    Table,
    text_cell,
)
from generator.records.problems import Problem, Where, wrong

DELIMITERS = (";", ",", "\t", "|")
_MARKS = ((b"\xef\xbb\xbf", "utf-8"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))
# How many lines are looked at to find what stands between the cells.
_SAMPLE_LINES = 200
_SEPARATOR_SAID = re.compile(r"\s*sep=(.)\s*(?:\n|$)", re.IGNORECASE)


def read_text_list(
    content: bytes, encoding: str | None = None, delimiter: str | None = None
) -> tuple[Table, ...] | Problem:
    """The one table of a text file, or why it cannot be read; `encoding` and `delimiter` as the map says, else found."""
    decoded = _decoded(content, encoding)
    if isinstance(decoded, Problem):
        return decoded
    text, taken = decoded
    if "\x00" in text:
        return wrong("LIST04", "no text")
    said = _SEPARATOR_SAID.match(text)
    lines_before = 0
    if said:
        text, lines_before = text[said.end() :], 1
    between = delimiter or (said[1] if said else None) or _delimiter(text)
    if between is None:
        return wrong("LIST04", "no delimiter")
    rows = _rows(text, between, lines_before)
    if isinstance(rows, Problem):
        return rows
    return (Table(rows=rows, encoding=taken, delimiter=between),)


def _decoded(content: bytes, encoding: str | None) -> tuple[str, str] | Problem:
    """The text and in which letters it was written: by its mark, as UTF-8 where it is that, else as Windows wrote it."""
    marked = next((name for mark, name in _MARKS if content.startswith(mark)), None)
    if encoding and marked and encoding != marked:
        return wrong("LIST04", "other mark", said=encoding, marked=marked)
    wanted = marked or encoding
    try:
        if wanted:
            return content.decode("utf-8-sig" if wanted == "utf-8" else wanted), wanted
        if wide := _wide(content):
            return content.decode(wide), wide
        try:
            return content.decode("utf-8"), "utf-8"
        except UnicodeDecodeError:
            return _of_windows(content)
    except UnicodeDecodeError as error:
        line = content[: error.start].count(b"\n") + 1
        byte = f"{content[error.start]:#04x}"
        return wrong("LIST04", "other letters", where=Where("", line), encoding=wanted or "cp1252", byte=byte)


def _wide(content: bytes) -> str | None:
    """UTF-16 without its mark: every second byte of a European text is nought."""
    sample = content[:400]
    high, low = sample[::2].count(0), sample[1::2].count(0)
    return "utf-16-be" if high > len(sample) / 4 > low else "utf-16-le" if low > len(sample) / 4 > high else None


# Letters of other code pages, read as Windows-1252, are signs that no word has inside: D›rgreb, T„r.
_NO_WORD = re.compile("[A-Za-zÀ-ÿ][†‡‰‹›ˆ˜‚“”„‘ƒ][A-Za-zÀ-ÿ]")


def _of_windows(content: bytes) -> tuple[str, str] | Problem:
    """A text that is not UTF-8: of Windows-1252 alone, and with words in it. Raises UnicodeDecodeError."""
    lines = [(number, line) for number, line in enumerate(content.split(b"\n"), start=1) if not line.isascii()]
    utf8 = [number for number, line in lines if _is_utf8(line)]
    if utf8:
        other = next(number for number, line in lines if number not in utf8)
        return wrong("LIST04", "mixed letters", utf8=utf8[0], other=other)
    text = content.decode("cp1252")
    strange = _NO_WORD.search(text)
    if strange:
        at = text[: strange.start()].count("\n") + 1
        words = re.split(r"[\s;,|]", text[max(0, strange.start() - 30) : strange.end() + 30])
        sample = next(word for word in words if _NO_WORD.search(word))
        return wrong("LIST04", "no word", where=Where("", at), sample=sample)
    return text, "cp1252"


def _is_utf8(line: bytes) -> bool:
    try:
        line.decode("utf-8")
    except UnicodeDecodeError:
        return False
    return True


def _delimiter(text: str) -> str | None:
    """What parts most lines into the same number of cells; None where two do it alike, or none does."""
    scores = sorted(((_score(text, sign), sign) for sign in DELIMITERS), reverse=True)
    best, second = scores[0], scores[1]
    return None if best[0] == (0, 0) or best[0] == second[0] else best[1]


def _score(text: str, sign: str) -> tuple[int, int]:
    """How many lines have the most usual number of cells, and that number; one cell a line is no list."""
    widths: Counter[int] = Counter()
    try:
        for number, row in enumerate(csv.reader(StringIO(text, newline=""), delimiter=sign)):
            if number >= _SAMPLE_LINES:
                break
            widths[len(row)] += any(cell.strip() for cell in row)
    except csv.Error:
        return (0, 0)
    fit = [(count, width) for width, count in widths.items() if width > 1]
    return max(fit, default=(0, 0))


def _rows(text: str, delimiter: str, lines_before: int) -> tuple[Row, ...] | Problem:
    rows: list[Row] = []
    try:
        for number, (_, cells) in enumerate(_read(text, delimiter, lines_before), start=1 + lines_before):
            if not any(cell.strip() for cell in cells):
                continue
            if len(cells) > MOST_COLUMNS:
                return wrong("LIST03", "columns", most=MOST_COLUMNS)
            rows.append(Row(number, tuple(_cell(each) for each in cells)))
            if len(rows) > MOST_ROWS:
                return wrong("LIST03", "rows", most=MOST_ROWS)
    except _QuoteError as error:
        return wrong("LIST04", "quotes", where=Where("", error.line))
    return tuple(rows)


class _QuoteError(ValueError):
    """A quotation mark that is not closed, or stands where none may; it carries the line that its row begins on."""

    def __init__(self, line: int) -> None:
        super().__init__(line)
        self.line = line


def _read(text: str, delimiter: str, lines_before: int) -> Iterator[tuple[int, list[str]]]:
    """Each row with the line that it begins on. Raises _QuoteError."""
    csv.field_size_limit(10_000_000)  # what is too long is told with its row and column
    reader = csv.reader(StringIO(text, newline=""), delimiter=delimiter, strict=True)
    begins = 1 + lines_before
    while True:
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error:
            raise _QuoteError(begins) from None
        yield begins, cells
        begins = reader.line_num + 1 + lines_before


def _cell(text: str) -> Cell:
    if text.startswith("="):
        return Cell(Kind.FORMULA, text[:LONGEST_CELL])
    return text_cell(text)
