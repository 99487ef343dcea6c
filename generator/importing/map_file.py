"""The map of a list: what each column tells, and how its numbers and days are written. As strict as every other record."""

import difflib
from enum import StrEnum
from typing import Annotated, Self

from pydantic import AfterValidator, Field, model_validator

from generator.importing import fields
from generator.importing.fields import DEFAULTS, SEVERAL
from generator.importing.headings import Headings, as_compared
from generator.reading.validating import record
from generator.reading.yaml_places import YamlFile, read_yaml
from generator.records.base import Line, Record
from generator.records.mesh_units import MeshUnits
from generator.records.parts import NumberKind
from generator.records.problems import Problem, Unfit, wrong


class Encoding(StrEnum):
    """In which letters a text file was written."""

    UTF_8 = "utf-8"
    UTF_16 = "utf-16"
    UTF_16_LE = "utf-16-le"
    UTF_16_BE = "utf-16-be"
    WINDOWS = "cp1252"
    DOS = "cp850"
    LATIN = "iso-8859-1"


class Delimiter(StrEnum):
    """What stands between the cells of a text file."""

    SEMICOLON = ";"
    COMMA = ","
    TAB = "\t"
    BAR = "|"


class Decimal(StrEnum):
    COMMA = ","
    POINT = "."


class Dates(StrEnum):
    """What 03/04/2019 means; 03.04.2019 is always day first."""

    DAY_FIRST = "day first"
    MONTH_FIRST = "month first"


class Numbers(StrEnum):
    AS_SHOWN = "as shown"
    """Somebody has looked: no number of the list begins with a nought that the spreadsheet has taken away."""


class Unit(StrEnum):
    MILLIMETRE = "mm"
    CENTIMETRE = "cm"
    METRE = "m"
    INCH = "in"

    @property
    def in_mm(self) -> float:
        return {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4}[self.value]


class Column(Record):
    """What one column tells."""

    heading: Line
    """As it stands in the list, or '(C)' of any column, as of one without a heading; 'Number (A)' where it stands twice."""
    field: fields.Field
    kind: NumberKind | None = None
    """Of old numbers: whose they are."""
    unit: Unit | None = None
    """Of a size, where the heading says none."""
    split: Annotated[str, Field(min_length=1, max_length=3)] | None = None
    """What stands between several entries of a cell; a semicolon or a new line by default."""

    @model_validator(mode="after")
    def _fits_its_field(self) -> Self:
        if self.kind and self.field is not fields.Field.OLD_NUMBERS:
            raise Unfit("kind of what", field=self.field)
        if self.unit and self.field not in fields.LENGTHS:
            raise Unfit("unit of what", field=self.field)
        return self


def _tells_a_part(columns: tuple[Column, ...]) -> tuple[Column, ...]:
    for named in ([as_compared(each.heading) for each in columns], [each.field for each in columns if each.field not in SEVERAL]):
        twice = next((name for i, name in enumerate(named) if name in named[:i]), None)
        if twice is not None:
            raise Unfit("column twice", entry=str(twice))
    for wanted in (fields.Field.NUMBER, fields.Field.NAME):
        if wanted not in {each.field for each in columns}:
            raise Unfit("no column", field=wanted)
    return columns


def _of_the_list_alone(given: dict[str, str | int]) -> dict[str, str | int]:
    for name in given:
        if name not in {each.value for each in DEFAULTS}:
            raise Unfit("no default", field=name, choices=tuple(sorted(DEFAULTS)))
    return given


class ListMap(Record):
    """The map of a list"""

    sheet: Line | None = None
    """Which sheet of the spreadsheet; the first one with parts by default."""
    heading_row: Annotated[int, Field(ge=0)]
    """0 where there are no headings; its columns are then called A, B, C."""
    encoding: Encoding | None = None
    delimiter: Delimiter | None = None
    decimal: Decimal | None = None
    """The sign before tenths, where numbers are written as text."""
    dates: Dates | None = None
    numbers: Numbers | None = None
    mesh_units: MeshUnits = MeshUnits.MILLIMETRE
    """Of models whose files do not say it: STL, OBJ, PLY."""
    columns: Annotated[tuple[Column, ...], Field(min_length=1), AfterValidator(_tells_a_part)]
    words: dict[str, dict[str, Line]] = Field(default_factory=dict)
    """Words of the list and what they are called here, by the heading of their column."""
    defaults: Annotated[dict[str, str | int], AfterValidator(_of_the_list_alone)] = Field(default_factory=dict)
    """What counts for every row that does not say it."""

    def default(self, field: fields.Field) -> str | None:
        found = self.defaults.get(field.value)
        return None if found is None else str(found)

    def word(self, heading: str, said: str) -> str | None:
        """What a word of a column is called here, where the map says so."""
        of_column = next((words for name, words in self.words.items() if as_compared(name) == as_compared(heading)), {})
        return next((here for word, here in of_column.items() if as_compared(word) == as_compared(said)), None)


def read_map(name: str, raw: bytes) -> tuple[ListMap | None, YamlFile]:
    """The map, or None with what is wrong with it in its source, with file and line."""
    source = read_yaml(name, raw)
    return record(ListMap, source), source


def unmatched(listed: ListMap, source: YamlFile, headings: Headings) -> list[Problem]:
    """Headings that the map names and the list lacks, each with the nearest one of the list."""
    names = [each.name for each in headings.columns]
    found = []
    for i, column in enumerate(listed.columns):
        if column.field is fields.Field.LEFT_OUT or headings.named(column.heading):
            continue
        where = source.where(("columns", i, "heading"))
        close = difflib.get_close_matches(as_compared(column.heading), [as_compared(name) for name in names], n=1, cutoff=0.6)
        near = next((name for name in names if close and as_compared(name) == close[0]), None)
        if near:
            found.append(wrong("LIST05", "no heading", "near", heading=column.heading, near=near, where=where))
        else:
            found.append(wrong("LIST05", "no heading", "choose", heading=column.heading, names=names[:30], where=where))
    found += [
        wrong("LIST05", "words of nothing", heading=name, where=source.where(("words", name), key=True))
        for name in listed.words
        if as_compared(name) not in {as_compared(column.heading) for column in listed.columns}
    ]
    fields_of = {as_compared(column.heading): column.field for column in listed.columns}
    found += [
        wrong("LIST05", "words unasked", heading=name, field=field.value, where=source.where(("words", name), key=True))
        for name in listed.words
        if (field := fields_of.get(as_compared(name))) and field not in fields.WORDS
    ]
    return found
