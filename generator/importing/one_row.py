"""The cells of one row, each taken as its column says; what cannot be taken is kept as a refusal with its column."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import TypeVar

from generator.importing.cells import CellError, as_text, entries, keeps_a_place, plain
from generator.importing.fields import FREE_TEXT, Field
from generator.importing.found_files import FoundFiles
from generator.importing.headings import Heading, Headings
from generator.importing.known import here, listed_names
from generator.importing.map_file import Column, ListMap, Unit
from generator.importing.tables import EMPTY, Cell, CellKind, Row, text_cell
from generator.records.catalogue import Catalogue
from generator.records.problems import Problem, Where, wrong

T = TypeVar("T")
Place = tuple[Column, Heading]


@dataclass(frozen=True, slots=True, kw_only=True)
class RowAround:
    """What every row is read with."""

    file: str
    """The list, as its rows are told of."""
    listed: ListMap
    headings: Headings
    columns: Mapping[Field, tuple[Place, ...]]
    catalogue: Catalogue
    files: FoundFiles
    today: date
    names: Mapping[str, int]
    """How many rows have a name, to which a file may belong."""


def columns_of(listed: ListMap, headings: Headings) -> dict[Field, tuple[Place, ...]]:
    """The columns that tell each field, in the list's order; a heading that the list lacks is told elsewhere."""
    found: dict[Field, list[Place]] = {}
    for column in listed.columns:
        heading = headings.named(column.heading)
        if heading and column.field is not Field.LEFT_OUT:
            found.setdefault(column.field, []).append((column, heading))
    return {each: tuple(sorted(places, key=lambda place: place[1].column)) for each, places in found.items()}


@dataclass(slots=True)
class OneRow:
    """A row while it is read."""

    around: RowAround
    row: Row
    problems: list[Problem] = field(default_factory=list)
    doubts: list[Problem] = field(default_factory=list)

    def add(self, problem: Problem, heading: Heading | None = None, *, doubt: bool = False) -> None:
        """A refusal, or a doubt, at the row and at the column of that heading."""
        column = heading.column + 1 if heading and heading.column >= 0 else None
        facts = {"row": self.row.number} | ({"column": heading.name} if heading else {})
        told = problem.telling(**facts).at(Where(self.around.file, self.row.number, column))
        (self.doubts if doubt else self.problems).append(told)

    def place(self, field_: Field) -> Place:
        """The column of a field; of one that only has a default, a column that is in no list."""
        found = self.around.columns.get(field_)
        return found[0] if found else (Column(heading=field_.value, field=field_), Heading(-1, "", field_.value))

    def cell(self, field_: Field) -> Cell:
        """What stands in the column of a field, or what the map says where nothing stands there."""
        _, heading = self.place(field_)
        cell = self.row.cell(heading.column) if heading.column >= 0 else EMPTY
        if cell.kind is CellKind.EMPTY and not cell.covered and (default := self.around.listed.default(field_)) is not None:
            return text_cell(default)
        return cell

    def taken(self, field_: Field, take: Callable[[Cell], T]) -> T | None:
        """What `take` makes of the cell; None, with a refusal, where it raises CellError."""
        _, heading = self.place(field_)
        try:
            self._refuse_placeholder(field_, heading)
            return take(self.cell(field_))
        except CellError as error:
            self.add(error.problem, heading)
            return None

    def _refuse_placeholder(self, field_: Field, heading: Heading) -> None:
        """What only keeps a place free tells nothing, and no word of the map should lead it to something."""
        text = self.cell(field_).text
        if field_ in FREE_TEXT or not keeps_a_place(text) or self.around.listed.word(heading.name, text) is not None:
            return
        if field_ is Field.NUMBER:
            raise CellError(wrong("LIST06", "placeholder", "give a number", given=text))
        raise CellError(wrong("LIST06", "placeholder", "leave it empty", given=text))

    def text(self, field_: Field, most: int, *, lines: bool = False) -> str | None:
        return self.taken(field_, lambda cell: plain(cell, most, lines=lines)) or None

    def word(self, field_: Field, fleet: str | None = None) -> str | None:
        """The id that a word of the list means here; None where nothing stands there."""
        _, heading = self.place(field_)

        def known(cell: Cell) -> str | None:
            text = plain(cell, 200)
            names = listed_names(field_, self.around.catalogue, fleet)
            return here(text, heading.name, field_, self.around.listed, names) if text else None

        return self.taken(field_, known)

    def several(self, field_: Field, most: int) -> Iterator[tuple[str, Column]]:
        """The entries of all columns of a field, each with its column."""
        for column, heading in self.around.columns.get(field_, ()):
            try:
                text = plain(self.row.cell(heading.column), lines=True)
                yield from ((as_text(each, most), column) for each in entries(text, column.split))
            except CellError as error:
                self.add(error.problem, heading)

    def unit(self, field_: Field) -> Unit | None:
        """The unit of a size's column: by the map, else by its heading."""
        column, heading = self.place(field_)
        return column.unit or (Unit(heading.unit) if heading.unit else None)
