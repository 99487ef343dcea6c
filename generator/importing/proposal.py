"""The map that a first run proposes: what is sure is said, what is not is asked."""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.importing.cells import keeps_a_place
from generator.importing.fields import LENGTHS, ONE_WORD, WORDS, Field
from generator.importing.first_row import data_in, none_known
from generator.importing.headings import (
    Heading,
    Headings,
    Meaning,
    as_compared,
    meaning_of,
    proposed_meanings,
)
from generator.importing.known import closed_words, listed_names, nearest
from generator.importing.likely import likely, meant
from generator.importing.map_file import Decimal
from generator.importing.tables import CellKind, Row, Table
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
    rows = rows_below(table, headings)
    sure = proposed_meanings(headings, lambda column: _values(column, rows))
    return tuple(_one(each, sure, rows) for each in headings.columns)


def _one(heading: Heading, sure: Mapping[int, Meaning], rows: Sequence[Row]) -> Understood:
    meaning = sure.get(heading.column)
    called = meaning_of(heading.text)
    return Understood(
        heading=heading,
        field=meaning.field if meaning else None,
        kind=meaning.kind.value if meaning and meaning.kind else None,
        examples=tuple(_values(heading.column, rows))[:_EXAMPLES],
        doubted=called.field if called and not meaning else None,
    )


def _values(column: int, rows: Sequence[Row]) -> Iterator[str]:
    """The different texts of a column, in the list's order."""
    cells = (row.cell(column) for row in rows)
    yield from dict.fromkeys(_short(cell.text) for cell in cells if cell.kind is not CellKind.EMPTY)


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
        *_heading_lines(headings, catalogue, w),
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


def _heading_lines(headings: Headings, catalogue: Catalogue, w: Words) -> list[str]:
    """Which row has the headings; where that is not sure, it is asked."""
    if headings.row == 0:
        return [f"heading_row: 0   # {w('importing.map.no_headings')}"]
    asked = none_known(headings) or data_in(headings, catalogue)
    return [f"heading_row: {headings.row}" + (f"   # {w('importing.map.are_these')}" if asked else "")]


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
    texts = [row.cell(column).text for row in rows for column in sizes if row.cell(column).kind is CellKind.TEXT]
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
    unknown = f"{w('importing.map.unknown' if each.heading.text else 'importing.map.unnamed')}; " if each.field is None else ""
    return f"{each.field.value if each.field else Field.LEFT_OUT.value:<16}  # {unknown}{example}"


def _word_lines(columns: Sequence[Understood], rows: Sequence[Row], catalogue: Catalogue, w: Words) -> Iterator[str]:
    """The words that nobody here knows yet: what has one meaning in the depot's language is proposed, the rest is to be filled in."""
    strange = {each.heading.name: list(_strange(each, rows, catalogue)) for each in columns if each.field in WORDS}
    yield f"# {w('importing.map.words')}"
    yield "words:" if any(word.sure for words in strange.values() for word in words) else "# words:"
    for name, words in strange.items():
        if words:
            yield f"{'' if any(word.sure for word in words) else '# '}  {scalar(name)}:"
        for word in sorted(words, key=lambda word: not word.sure)[:_MOST_WORDS]:
            line = f"    {quoted(word.text)}: {word.near}"
            yield f"{line}   # {w('importing.map.word_proposed')}" if word.sure else f"# {line}"
        if len(words) > _MOST_WORDS:
            yield f"#     # {w('importing.map.more_words', count=str(len(words) - _MOST_WORDS))}"


@dataclass(frozen=True, slots=True)
class _Strange:
    """A word of a list with what it could mean here; sure: it has that meaning alone in the depot's language."""

    text: str
    near: str
    sure: bool = False


def _strange(each: Understood, rows: Sequence[Row], catalogue: Catalogue) -> Iterator[_Strange]:
    """The texts of a column that mean nothing here."""
    if each.field is None or each.field is Field.PLACE:
        return
    texts = [text for text in _values(each.heading.column, rows) if not keeps_a_place(text)]
    names = {} if each.field in ONE_WORD else listed_names(each.field, catalogue)
    known = {as_compared(text) for pair in names.items() for text in pair}
    for text in texts:
        if as_compared(text) in known:
            continue
        if sure := meant(each.field, text, catalogue.language):
            yield _Strange(text, sure, sure=True)
        elif near := likely(each.field, text):
            yield _Strange(text, near)
        elif each.field not in ONE_WORD:
            yield _Strange(text, " or ".join(closed_words(each.field)) or nearest(text, names) or "…")
