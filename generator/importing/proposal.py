"""The map that a first run proposes: what is sure is said, what is not is asked."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.importing.fields import LENGTHS, WORDS, Field
from generator.importing.headings import (
    Heading,
    Headings,
    Meaning,
    as_compared,
    meaning_of,
    proposed_meanings,
)
from generator.importing.known import closed_words, listed_names, nearest
from generator.importing.map_file import Decimal
from generator.importing.tables import Kind, Row, Table
from generator.importing.whole_list import rows_below
from generator.records.catalogue import Catalogue
from generator.writing.yaml_text import quoted, scalar

# More columns than these are no list of a person's; those that nobody knows are counted and left out.
_MOST_UNKNOWN = 30
_MOST_WORDS = 40
_EXAMPLES = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Understood:
    """One column as the proposal takes it; no field: it is left out, or asked about where `doubted` says what it could be."""

    heading: Heading
    field: Field | None
    kind: str | None
    examples: tuple[str, ...]
    doubted: Field | None = None


def understood(table: Table, headings: Headings) -> tuple[Understood, ...]:
    """Each column with what it tells and values of it."""
    sure = proposed_meanings(headings)
    rows = rows_below(table, headings)
    return tuple(_one(each, sure, rows) for each in headings.columns)


def _one(heading: Heading, sure: Mapping[int, Meaning], rows: Sequence[Row]) -> Understood:
    meaning = sure.get(heading.column)
    likely = meaning_of(heading.text)
    return Understood(
        heading=heading,
        field=meaning.field if meaning else None,
        kind=meaning.kind.value if meaning and meaning.kind else None,
        examples=tuple(_values(heading.column, rows))[:_EXAMPLES],
        doubted=likely.field if likely and not meaning else None,
    )


def _values(column: int, rows: Sequence[Row]) -> Iterator[str]:
    """The different texts of a column, in the list's order."""
    cells = (row.cell(column) for row in rows)
    yield from dict.fromkeys(_short(cell.text) for cell in cells if cell.kind is not Kind.EMPTY)


def _short(text: str) -> str:
    seen = "".join(sign if sign.isprintable() else " " for sign in text)
    return f"{seen[:40]}…" if len(seen) > 40 else seen


def map_text(
    table: Table, headings: Headings, columns: Sequence[Understood], catalogue: Catalogue, *, name: str, command: str
) -> str:
    """The map as a file. name: of the list; command: what to run next."""
    rows = rows_below(table, headings)
    lines = [
        f"# Map of {_short(name)}, proposed by `spares import`: what each column tells. Read every line, then run:",
        f"#   {_short_line(command)}",
        *([f"sheet: {quoted(table.name)}"] if table.name else []),
        f"heading_row: {headings.row}",
        *([f"encoding: {table.encoding}   # so it was read: look at the examples below"] if table.encoding else []),
        *([f"delimiter: {quoted(table.delimiter)}"] if table.delimiter else []),
        *_decimal_lines(columns, rows),
        "# dates: day first       # or month first: of days such as 03/04/2019; 03.04.2019 and 2019-04-03 are understood as they are",
        "# numbers: as shown      # say so when no part number begins with a nought that the spreadsheet has taken away",
        "# mesh_units: mm         # of STL, OBJ and PLY files",
        "columns:",
        *_column_lines(columns),
        *_word_lines(columns, rows, catalogue),
        "# What counts for every row that does not say it; the safety role and approvals are asked of each part.",
        "# defaults:",
        "#   revision: A",
        *(f"#   {field.value}: {_choices(catalogue, field)}" for field in (Field.FLEET, Field.MATERIAL, Field.NO_MODEL)),
        "#   vehicles: all",
    ]
    return "\n".join(lines) + "\n"


def _short_line(text: str) -> str:
    return "".join(sign if sign.isprintable() else "?" for sign in text)


def _choices(catalogue: Catalogue, field: Field) -> str:
    names = sorted(listed_names(field, catalogue))
    return names[0] if names else "…"


def _decimal_lines(columns: Sequence[Understood], rows: Sequence[Row]) -> list[str]:
    found = decimal_of(columns, rows)
    if found:
        return [f"decimal: {quoted(found.value)}"]
    return ['# decimal: ","           # or ".": the sign before tenths, where numbers were typed as text']


def decimal_of(columns: Sequence[Understood], rows: Sequence[Row]) -> Decimal | None:
    """The sign before tenths, where all numbers of the list agree and one shows it beyond doubt."""
    sizes = [each.heading.column for each in columns if each.field in LENGTHS or each.field is Field.YEARLY_DEMAND]
    texts = [row.cell(column).text for row in rows for column in sizes if row.cell(column).kind is Kind.TEXT]
    says = {sign for text in texts for sign in _says(text)}
    return next(iter(says)) if len(says) == 1 else None


def _says(text: str) -> Iterator[Decimal]:
    """Which sign stands before tenths in a text: the later of two, or one with one or two digits or more than three behind."""
    for figure in re.findall(r"[0-9][0-9.,]*|[.,][0-9]+", text):
        if both := re.fullmatch(r"[0-9]{1,3}(?:([.,])[0-9]{3})+([.,])[0-9]+", figure):
            if both[1] != both[2]:
                yield Decimal(both[2])
        elif one := re.fullmatch(r"[0-9]*([.,])(?:[0-9]{1,2}|[0-9]{4,})", figure):
            yield Decimal(one[1])


def _column_lines(columns: Sequence[Understood]) -> Iterator[str]:
    unknown = [each for each in columns if each.field is None and each.doubted is None]
    noise = unknown if len(unknown) > _MOST_UNKNOWN else []
    for each in columns:
        if each in noise:
            continue
        example = f"such as {each.examples[0]}" if each.examples else "empty"
        yield f"  - heading: {scalar(each.heading.name)}"
        if each.doubted:
            yield f"    field: TODO            # {each.doubted.value}? another column is called so too; else left out; {example}"
            continue
        yield f"    field: {each.field.value if each.field else Field.LEFT_OUT.value:<16}  # {example}"
        if each.kind:
            yield f"    kind: {scalar(each.kind)}"
        if each.field in LENGTHS:
            unit = each.heading.unit
            yield f"    unit: {unit}" if unit else "    unit: TODO             # mm, cm, m or in"
    if noise:
        yield f"# {len(noise)} more columns are left out, as is every column that is not named here."


def _word_lines(columns: Sequence[Understood], rows: Sequence[Row], catalogue: Catalogue) -> Iterator[str]:
    """The words that nobody here knows yet, each as a line to be filled in."""
    yield "# What words of the list are called here; a word that is neither here nor in the depot's records is refused."
    yield "# words:"
    for each in columns:
        strange = list(_strange(each, rows, catalogue)) if each.field in WORDS else []
        if not strange:
            continue
        yield f"#   {scalar(each.heading.name)}:"
        for text, near in strange[:_MOST_WORDS]:
            yield f"#     {quoted(text)}: {near}"
        if len(strange) > _MOST_WORDS:
            yield f"#     # and {len(strange) - _MOST_WORDS} more"


def _strange(each: Understood, rows: Sequence[Row], catalogue: Catalogue) -> Iterator[tuple[str, str]]:
    """The texts of a column that mean nothing here, with what they could mean."""
    if each.field is None or each.field in (Field.PLACE, Field.VALID_UNTIL):
        return
    names = listed_names(each.field, catalogue)
    known = {as_compared(text) for pair in names.items() for text in pair}
    for text in _values(each.heading.column, rows):
        if as_compared(text) not in known:
            choices = " or ".join(closed_words(each.field))
            yield text, choices or nearest(text, names) or "…"
