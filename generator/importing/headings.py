"""Which columns does a list have, in which row do they stand, and what is each likely to tell?"""

import re
import unicodedata
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

import yaml

from generator.importing.fields import SEVERAL, Field
from generator.importing.tables import CellKind, Row, Table, column_letters
from generator.records.parts import NumberKind

# A title, a date, an author: what stands above the headings is short.
_FIRST_ROWS = 30
# As long as a line of a map may be.
_LONGEST = 160
# As German and Danish are written where their letters are not at hand.
_SPELT_OUT = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "æ": "ae", "ø": "oe", "å": "aa"})
UNITS = {"mm": "mm", "millimetre": "mm", "millimeter": "mm", "cm": "cm", "zentimeter": "cm", "centimeter": "cm", "m": "m", "in": "in", "inch": "in",
         "inches": "in", "zoll": "in", "tommer": "in", '"': "in", "″": "in"}  # fmt: skip
# What stands alone in a row of units below the headings.
_UNIT_WORDS = frozenset(UNITS) | {"g", "kg", "%", "€", "kr", "stk", "stück", "pcs", "pc", "-"}


@dataclass(frozen=True, slots=True)
class Heading:
    """A column by its heading; `name` is how a map calls it, also where the heading is empty or stands twice."""

    column: int
    text: str
    name: str
    unit: str | None = None
    """Of the heading itself or of a row of units below it."""

    @property
    def letters(self) -> str:
        return column_letters(self.column)


@dataclass(frozen=True, slots=True)
class Headings:
    """The row of headings, with the row of units below it, where there is one."""

    row: int
    """Its number; 0 of a list without headings, whose columns are called A, B, C."""
    columns: tuple[Heading, ...]
    units_row: int | None = None
    last: int = 0
    """The last column that a row may fill: that of the last heading, or as far as most rows of a list without headings go."""

    def named(self, name: str) -> Heading | None:
        """By what stands in the list, else by the letters of the column: '(C)'."""
        wanted = as_compared(name)
        by_name = next((each for each in self.columns if as_compared(each.name) == wanted), None)
        return by_name or next((each for each in self.columns if f"({each.letters})".lower() == wanted), None)


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a heading is likely to tell."""

    field: Field
    kind: NumberKind | None = None
    otherwise: Field | None = None
    """What it tells where its cells are not of the kind that the field takes: on some lists Lager is a place, on others a count."""


def as_compared(text: str) -> str:
    """A heading so that letters' case, white space, hyphens that are not seen and Unicode's form make no difference."""
    seen = "".join(sign for sign in unicodedata.normalize("NFKC", text) if unicodedata.category(sign) != "Cf")
    return " ".join(seen.split()).lower()  # not casefold(): Maße and Masse are two things


def found_headings(table: Table) -> Headings | None:
    """The row among the first that tells most fields; the first row with two cells where no word is known."""
    rows = table.rows[:_FIRST_ROWS]
    known = [(len({meaning.field for cell in row.cells if (meaning := meaning_of(cell.text))}), row) for row in rows]
    best = max((count for count, _ in known), default=0)
    if best >= 2:
        return headings_in(table, next(row.number for count, row in known if count == best))
    several = next((row for row in rows if sum(cell.kind is not CellKind.EMPTY for cell in row.cells) >= 2), None)
    return headings_in(table, several.number) if several else None


def headings_in(table: Table, number: int) -> Headings | None:
    """The headings in the row of that number, or the columns by letter where it is 0; None where the table has nothing there."""
    if number == 0:
        return _without_headings(table)
    at = next((i for i, row in enumerate(table.rows) if row.number == number), None)
    if at is None:
        return None
    row = table.rows[at]
    below = table.rows[at + 1] if at + 1 < len(table.rows) else None
    units = below if below and _is_of_units(below) else None
    width = max((len(each.cells) for each in table.rows[at:]), default=0)
    texts = [" ".join(row.cell(column).text.split()) for column in range(width)]
    twice = Counter(as_compared(text) for text in texts if text)
    columns = [
        Heading(i, text, _name(i, text, twice), _unit(text) or (_unit_word(units.cell(i).text) if units else None))
        for i, text in enumerate(texts)
    ]
    filled = {i for each in table.rows[at + 1 :] for i, cell in enumerate(each.cells) if cell.kind is not CellKind.EMPTY}
    last = max((each.column for each in columns if each.text), default=0)
    return Headings(number, tuple(each for each in columns if each.text or each.column in filled), units.number if units else None, last)


def _without_headings(table: Table) -> Headings | None:
    filled = sorted({i for row in table.rows for i, cell in enumerate(row.cells) if cell.kind is not CellKind.EMPTY})
    widths = Counter(len(row.cells) for row in table.rows)
    most = max(widths.values(), default=0)
    width = min((each for each, count in widths.items() if count == most), default=0)  # of two, a row may be too wide
    columns = tuple(Heading(i, "", column_letters(i)) for i in filled)
    return Headings(0, columns, last=width - 1) if columns else None


def _name(column: int, text: str, twice: Counter[str]) -> str:
    letters = column_letters(column)
    if not text or len(text) > _LONGEST:
        return f"({letters})"
    return f"{text} ({letters})" if twice[as_compared(text)] > 1 else text


def _is_of_units(row: Row) -> bool:
    texts = [cell.text.strip("[]()").casefold() for cell in row.cells if cell.kind is not CellKind.EMPTY]
    return bool(texts) and all(text in _UNIT_WORDS for text in texts)


def _unit_word(text: str) -> str | None:
    return UNITS.get(text.strip("[]() .").casefold())


def _unit(heading: str) -> str | None:
    """The unit that a heading ends with: 'Länge [cm]', 'L in mm', 'Length mm', 'Width (in)'."""
    bracketed = re.search(r"[\[(]\s*(?:in\s+)?([^\])]+?)\s*[\])]", heading)
    if bracketed and (unit := UNITS.get(bracketed[1].casefold())):
        return unit
    last = heading.rsplit(maxsplit=1)[-1] if len(heading.split()) > 1 else ""
    return UNITS.get(last.casefold()) if last != "m" else None


def meaning_of(heading: str) -> Meaning | None:
    """What a heading tells for sure; None where one has to ask."""
    return _meanings().get(_bare(heading)) if heading else None


def _bare(heading: str) -> str:
    """The letters of a heading without its unit, its signs and the places where it is broken."""
    text = re.sub(r"[\[(][^\])]*[\])]", " ", as_compared(heading))
    words = re.findall(r"[^\W_]+(?:'[^\W_]+)?", text.replace("×", " x "))
    while len(words) > 1 and (words[-1] in UNITS or words[-2:-1] == ["in"]):
        words.pop()
    return "".join(word for word in words if word != "in" or len(words) == 1)


@cache
def _meanings() -> dict[str, Meaning]:
    raw = (files("generator.importing") / "headings.yml").read_text(encoding="utf-8")
    found: dict[str, Meaning] = {}
    for key, phrases in yaml.safe_load(raw).items():
        name, _, kind = str(key).partition(" (")
        name, _, otherwise = name.partition(" or ")
        meaning = Meaning(Field(name), NumberKind(kind.rstrip(")")) if kind else None, Field(otherwise) if otherwise else None)
        for phrase in phrases:
            bare = _bare(str(phrase))
            found.setdefault(bare, meaning)
            found.setdefault(bare.translate(_SPELT_OUT), meaning)
    return found


def _no_cells(_column: int) -> tuple[str, ...]:
    return ()


def proposed_meanings(headings: Headings, cells: Callable[[int], Iterable[str]] = _no_cells) -> dict[int, Meaning]:
    """What each column tells, by its place; where two columns would tell one thing of which there is one, neither is guessed.
    cells: the texts of a column, which decide where its heading can be one of two things.
    """
    known = {each.column: _by_cells(meaning, tuple(cells(each.column))) for each in headings.columns if (meaning := meaning_of(each.text))}
    counts = Counter(meaning.field for meaning in known.values())
    return {i: meaning for i, meaning in known.items() if counts[meaning.field] == 1 or meaning.field in SEVERAL}


# What the cells of a field look like, where a heading can be one of two.
_LOOKS = {
    Field.ON_SHELF: re.compile(r"[0-9]+(?:[.,]0+)?"),
    Field.LETTER_FILE: re.compile(r".*\.[A-Za-z]{3,4}"),
    Field.VALID_UNTIL: re.compile(r"[0-9]{1,4}[-./][0-9]{1,2}[-./][0-9]{1,4}|[a-z]*ubegrænset", re.IGNORECASE),
}


def _by_cells(meaning: Meaning, texts: tuple[str, ...]) -> Meaning:
    if meaning.otherwise is None or not texts or any(_LOOKS[meaning.field].fullmatch(text) for text in texts):
        return meaning
    return Meaning(meaning.otherwise)
