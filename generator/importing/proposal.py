"""The map that a first run proposes: what is sure is said, what is not is asked."""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.importing.cells import keeps_a_place
from generator.importing.fields import LENGTHS, ONE_WORD, WORDS, Field
from generator.importing.headings import (
    Heading,
    Headings,
    Meaning,
    as_compared,
    meaning_of,
    proposed_meanings,
)
from generator.importing.known import closed_words, likely, listed_names, nearest
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


Words = Callable[..., str]
"""What the depot's language says under a key, with facts; only comments of the map are said by it."""


def map_text(
    table: Table, headings: Headings, columns: Sequence[Understood], catalogue: Catalogue, w: Words, *, name: str, command: str
) -> str:
    """The map as a file. name: of the list; command: what to run next."""
    rows = rows_below(table, headings)
    lines = [
        f"# {w('importing.map.head', name=_short(name))}",
        f"#   {_short_line(command)}",
        *([f"sheet: {quoted(table.name)}"] if table.name else []),
        f"heading_row: {headings.row}",
        *([f"encoding: {table.encoding}   # {w('importing.map.encoding')}"] if table.encoding else []),
        *([f"delimiter: {quoted(table.delimiter)}"] if table.delimiter else []),
        *_decimal_lines(columns, rows, w),
        f"# dates: day first       # {w('importing.map.dates')}",
        f"# numbers: as shown      # {w('importing.map.numbers')}",
        f"# mesh_units: mm         # {w('importing.map.mesh_units')}",
        "columns:",
        *_column_lines(columns, w),
        *_word_lines(columns, rows, catalogue, w),
        *_default_lines(columns, catalogue, w),
    ]
    return "\n".join(lines) + "\n"


def only_fleet(columns: Sequence[Understood], catalogue: Catalogue) -> str | None:
    """The fleet of a depot that has one alone, where the list has vehicles and no fleet: each of them is looked up in it."""
    told = {each.field for each in columns}
    return next(iter(catalogue.fleets)) if len(catalogue.fleets) == 1 and Field.VEHICLES in told and Field.FLEET not in told else None


def _default_lines(columns: Sequence[Understood], catalogue: Catalogue, w: Words) -> Iterator[str]:
    fleet = only_fleet(columns, catalogue)
    yield f"# {w('importing.map.defaults')}"
    yield "defaults:" if fleet else "# defaults:"
    if fleet:
        yield f"  fleet: {scalar(fleet)}   # {w('importing.map.only_fleet')}"
    yield "#   revision: A"
    for field in (Field.MATERIAL, Field.NO_MODEL) if fleet else (Field.FLEET, Field.MATERIAL, Field.NO_MODEL):
        yield f"#   {field.value}: {_choices(catalogue, field)}"
    yield "#   vehicles: all"


def _short_line(text: str) -> str:
    return "".join(sign if sign.isprintable() else "?" for sign in text)


def _choices(catalogue: Catalogue, field: Field) -> str:
    names = sorted(listed_names(field, catalogue))
    return names[0] if names else "…"


def _decimal_lines(columns: Sequence[Understood], rows: Sequence[Row], w: Words) -> list[str]:
    found = decimal_of(columns, rows)
    if found:
        return [f"decimal: {quoted(found.value)}"]
    return [f'# decimal: ","           # {w("importing.map.decimal")}']


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


def _column_lines(columns: Sequence[Understood], w: Words) -> Iterator[str]:
    unknown = [each for each in columns if each.field is None and each.doubted is None]
    noise = unknown if len(unknown) > _MOST_UNKNOWN else []
    for each in columns:
        if each in noise:
            continue
        yield f"  - heading: {scalar(each.heading.name)}"
        yield f"    field: {_field_line(each, w)}"
        if each.kind:
            yield f"    kind: {scalar(each.kind)}"
        if each.field in LENGTHS:
            unit = each.heading.unit
            yield f"    unit: {unit}" if unit else f"    unit: TODO             # {w('importing.map.unit')}"
    if noise:
        yield f"# {w('importing.map.more_columns', count=str(len(noise)))}"


def _field_line(each: Understood, w: Words) -> str:
    """What a column tells, with an example; what is not known is said to be so."""
    example = f"{w('importing.columns.example')} {each.examples[0]}" if each.examples else w("importing.map.empty")
    if each.doubted:
        return f"TODO            # {w('importing.map.doubted', field=each.doubted.value)}; {example}"
    unknown = f"{w('importing.map.unknown')}; " if each.field is None else ""
    return f"{each.field.value if each.field else Field.LEFT_OUT.value:<16}  # {unknown}{example}"


def _word_lines(columns: Sequence[Understood], rows: Sequence[Row], catalogue: Catalogue, w: Words) -> Iterator[str]:
    """The words that nobody here knows yet, each as a line to be filled in."""
    yield f"# {w('importing.map.words')}"
    yield "# words:"
    for each in columns:
        strange = list(_strange(each, rows, catalogue)) if each.field in WORDS else []
        if not strange:
            continue
        yield f"#   {scalar(each.heading.name)}:"
        for text, near in strange[:_MOST_WORDS]:
            yield f"#     {quoted(text)}: {near}"
        if len(strange) > _MOST_WORDS:
            yield f"#     # {w('importing.map.more_words', count=str(len(strange) - _MOST_WORDS))}"


def _strange(each: Understood, rows: Sequence[Row], catalogue: Catalogue) -> Iterator[tuple[str, str]]:
    """The texts of a column that mean nothing here, with what they could mean."""
    if each.field is None or each.field is Field.PLACE:
        return
    texts = (text for text in _values(each.heading.column, rows) if not keeps_a_place(text))
    if each.field in ONE_WORD:
        yield from ((text, meant) for text in texts if (meant := likely(each.field, text)))
        return
    names = listed_names(each.field, catalogue)
    known = {as_compared(text) for pair in names.items() for text in pair}
    for text in texts:
        if as_compared(text) not in known:
            choices = " or ".join(closed_words(each.field))
            yield text, choices or nearest(text, names) or "…"
