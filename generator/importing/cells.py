"""One cell → what a record may hold; what a spreadsheet has changed, or what can be read in two ways, is refused."""

import re
import unicodedata
from collections.abc import Iterator
from datetime import date

from generator.importing.map_file import Dates, Decimal, ListMap, Unit
from generator.importing.tables import LONGEST_CELL, Cell, CellKind
from generator.records.base import FIRST_DAY
from generator.records.placeholders import says_nothing
from generator.records.problems import Problem, wrong

# Common practice, no source: an approval is rarely given for longer; see the same bound in the rules.
_MOST_YEARS = 30
_MONTH = "jan|feb|mar|mär|mrz|apr|may|mai|maj|jun|jul|aug|sep|oct|okt|nov|dec|dez"
# How spreadsheets show the day or the number that they made of 3-5, 1E5 or 12345678901234567.
_MADE_A_DAY = re.compile(rf"\d{{1,4}}[-. /]+(?:{_MONTH})[a-zä]*\.?(?:[-. /]+\d{{2,4}})?|(?:{_MONTH})[a-zä]*\.?[-. /]+\d{{1,4}}|\d{{1,2}}[./]\d{{1,2}}[./](?:\d{{4}}|\d{{2}})?", re.IGNORECASE)  # fmt: skip
_MADE_A_NUMBER = re.compile(r"\d[.,]\d+E\+?\d+|\d+E\+\d+", re.IGNORECASE)
# Windows keeps these names for devices, with any ending (from memory).
_RESERVED = re.compile(r"(?:CON|PRN|AUX|NUL|COM[0-9]|LPT[0-9])(?:\..*)?")
# A day as a spreadsheet counts it, in a text that came out of one; four digits may be a year.
_DAYS_COUNTED = re.compile(r"[1-9][0-9]{4}(?:[.,][0-9]+)?")
_REQUEST = re.compile(r"R-\d{1,6}")
# A count may have come with tenths that are none, such as 2,0; 2.000 may be thousands.
_COUNT = re.compile(r"([0-9]{1,9})(?:[.,]0{1,2})?")
_UNIT_SIGNS = {"mm": Unit.MILLIMETRE, "cm": Unit.CENTIMETRE, "m": Unit.METRE, "in": Unit.INCH, "inch": Unit.INCH, '"': Unit.INCH, "″": Unit.INCH}


class CellError(ValueError):
    """The cell cannot be taken; it carries the problem, without its place."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem)
        self.problem = problem


def plain(cell: Cell, most: int = LONGEST_CELL, *, lines: bool = False) -> str:
    """What the cell says; empty where it says nothing. Without `lines` a break in it counts as a space."""
    _refuse_lost(cell)
    if cell.kind is CellKind.DAY:
        raise CellError(wrong("LIST06", "day", given=cell.text))
    if cell.kind is CellKind.TRUTH:
        raise CellError(wrong("LIST06", "truth", given=cell.text.upper()))
    return as_text(cell.text, most, lines=lines)


def as_text(text: str, most: int = LONGEST_CELL, *, lines: bool = False) -> str:
    said = unicodedata.normalize("NFC", text)
    said = said if lines else " ".join(said.split())
    unseen = next((sign for sign in said if unicodedata.category(sign) in ("Cc", "Cf", "Zl", "Zp", "Cn", "Co", "Cs") and sign != "\n"), None)
    if unseen:
        raise CellError(wrong("LIST06", "unseen", sign=_code(unseen)))
    if len(said) > most:
        raise CellError(wrong("LIST06", "too long", letters=len(said), most=most))
    return said


def _refuse_lost(cell: Cell) -> None:
    """What is not in the list at all, though something is shown there or meant."""
    if cell.covered:
        raise CellError(wrong("LIST06", "merged"))
    if cell.kind is CellKind.FORMULA:
        raise CellError(wrong("LIST06", "formula", formula=_shown(cell.text)))
    if cell.kind is CellKind.ERROR:
        raise CellError(wrong("LIST06", "error", given=_shown(cell.text)))


def number_text(cell: Cell, listed: ListMap) -> str:
    """A number that is a name, such as that of a part: as it was typed, or refused."""
    if cell.kind is CellKind.NUMBER and cell.number is not None:
        whole = cell.number.is_integer() and 0 <= cell.number < 1e15 and cell.text.isdecimal()
        if not whole:
            raise CellError(wrong("LIST06", "number lost", given=cell.text))
        if listed.numbers is None:
            raise CellError(wrong("LIST06", "made a number", given=cell.text))
    elif cell.kind is CellKind.NUMBER:
        raise CellError(wrong("LIST06", "number lost", given=cell.text))
    text = plain(cell, 80, lines=True)
    if "\n" in text:
        raise CellError(wrong("LIST06", "break in a number"))
    if _MADE_A_DAY.fullmatch(text):
        raise CellError(wrong("LIST06", "looks like a day", given=text))
    if _MADE_A_NUMBER.fullmatch(text):
        raise CellError(wrong("LIST06", "number lost", given=text))
    return text


def part_number(cell: Cell, listed: ListMap) -> str:
    """The number of a part in capital letters, as a folder may be called on every system; empty where there is none."""
    text = number_text(cell, listed)
    if not text:
        return ""
    strange = next((sign for sign in text if not re.fullmatch(r"[A-Za-z0-9.-]", sign)), None)
    if strange:
        sign = f"'{strange}' ({_code(strange)})" if strange.isprintable() else _code(strange)
        raise CellError(wrong("LIST06", "sign in a number", given=text, sign=sign))
    number = text.upper()
    if not re.fullmatch(r"[A-Z0-9][A-Z0-9.-]{1,23}", number) or number[-1] in ".-":
        raise CellError(wrong("LIST06", "no part number", given=_shown(text)))
    if _RESERVED.fullmatch(number) or _REQUEST.fullmatch(number):
        raise CellError(wrong("LIST06", "reserved number", given=text))
    return number


def revision(cell: Cell, listed: ListMap) -> str:
    text = number_text(cell, listed).upper()
    if text and not re.fullmatch(r"[A-Z0-9]{1,4}", text):
        raise CellError(wrong("LIST06", "no revision", given=_shown(text)))
    return text


def whole(cell: Cell, least: int, most: int) -> int | None:
    """A count; None where nothing stands there."""
    _refuse_lost(cell)
    if cell.kind is CellKind.EMPTY:
        return None
    found = _COUNT.fullmatch(cell.text) if cell.kind in (CellKind.TEXT, CellKind.NUMBER) else None
    if not found or not least <= int(found[1]) <= most:
        raise CellError(wrong("LIST06", "no count", given=_shown(cell.text), least=least, most=most))
    return int(found[1])


def amount(cell: Cell, decimal: Decimal | None) -> float | None:
    """A number from nought upwards; None where nothing stands there."""
    _refuse_lost(cell)
    if cell.kind is CellKind.EMPTY:
        return None
    if cell.kind is CellKind.NUMBER and cell.number is not None and cell.number >= 0:
        return cell.number
    if cell.kind is not CellKind.TEXT:
        raise CellError(wrong("LIST06", "no amount", given=_shown(cell.text)))
    return figure(cell.text, decimal)


def figure(text: str, decimal: Decimal | None) -> float:
    """A number that was typed as text, by the sign that the map says stands before its tenths."""
    if text.isascii() and text.isdecimal():
        return float(text)
    if decimal is None and re.fullmatch(r"[0-9.,'’ ]*[0-9][0-9.,'’ ]*", text):
        raise CellError(wrong("LIST06", "decimal unsaid", given=_shown(text)))
    if decimal is not None:
        point, group = ("," if decimal is Decimal.COMMA else "."), ("." if decimal is Decimal.COMMA else ",")
        _refuse_other_sign(text, point, group)
        grouped = rf"[1-9][0-9]{{0,2}}(?P<by>[{group} '’])[0-9]{{3}}(?:(?P=by)[0-9]{{3}})*(?:{re.escape(point)}[0-9]+)?"
        if re.fullmatch(rf"[0-9]+|[0-9]*{re.escape(point)}[0-9]+|{grouped}", text):
            bare = re.sub(rf"[{re.escape(group)} '’]", "", text)
            return float(bare.replace(point, "."))
    raise CellError(wrong("LIST06", "no amount", given=_shown(text)))


def _refuse_other_sign(text: str, point: str, group: str) -> None:
    """What has the other sign alone: thousands where three digits stand behind it, or tenths as nobody said that they are written."""
    if not re.fullmatch(rf"[0-9]+{re.escape(group)}[0-9]+", text):
        return
    thousands, tenths = text.replace(group, ""), text.replace(group, point)
    if re.fullmatch(r"[1-9][0-9]{0,2}[.,][0-9]{3}", text):
        raise CellError(wrong("LIST06", "tenths or thousands", given=_shown(text), thousands=thousands, tenths=tenths))
    raise CellError(wrong("LIST06", "other sign", given=_shown(text), wanted=point, tenths=tenths))


def length_mm(cell: Cell, unit: Unit | None, decimal: Decimal | None) -> float | None:
    """A length in mm; None where nothing stands there."""
    _refuse_lost(cell)
    if cell.kind is CellKind.EMPTY:
        return None
    if cell.kind is CellKind.NUMBER and cell.number is not None:
        return _in_mm(cell.number, unit, cell.text)
    if cell.kind is not CellKind.TEXT:
        raise CellError(wrong("LIST06", "no length", given=_shown(cell.text)))
    return length_in(cell.text, unit, decimal)


def length_in(text: str, unit: Unit | None, decimal: Decimal | None) -> float:
    found = re.fullmatch(r"(?P<figure>[^A-Za-z\"″]*?)\s*(?P<unit>mm|cm|m|inch|in|\"|″)?", text)
    if not found or not re.fullmatch(r"[0-9.,'’ ]+", found["figure"]):
        raise CellError(wrong("LIST06", "no length", given=_shown(text)))
    own = _UNIT_SIGNS[found["unit"]] if found["unit"] else None
    if own and unit and own is not unit:
        raise CellError(wrong("LIST06", "other unit", given=_shown(text), unit=unit))
    return _in_mm(figure(found["figure"], decimal), own or unit, text)


def _in_mm(value: float, unit: Unit | None, text: str) -> float:
    if unit is None:
        raise CellError(wrong("LIST06", "unit unsaid", given=_shown(text)))
    if not 0 < value * unit.in_mm <= 10_000:
        raise CellError(wrong("LIST06", "no length", given=_shown(text)))
    size = round(value * unit.in_mm, 3)
    return int(size) if size.is_integer() else size


def size_mm(cell: Cell, unit: Unit | None, decimal: Decimal | None) -> tuple[float, float, float] | None:
    """Length × width × height in mm, of a cell such as '62 x 40 x 18'."""
    if cell.kind in (CellKind.EMPTY, CellKind.FORMULA, CellKind.ERROR):
        _refuse_lost(cell)
        return None
    text = cell.text
    ending = re.search(r"(mm|cm|m|inch|in)\s*$", text)
    own = _UNIT_SIGNS[ending[1]] if ending else None
    sides = re.split(r"\s*(?:mm|cm|m|inch|in)?\s*[x×*X]\s*", text[: ending.start()].strip() if ending else text)
    if cell.kind is not CellKind.TEXT or len(sides) != 3:
        raise CellError(wrong("LIST06", "no size", given=_shown(text)))
    if own and unit and own is not unit:
        raise CellError(wrong("LIST06", "other unit", given=_shown(text), unit=unit))
    if own and len(set(re.findall(r"mm|cm|inch|in|m", text))) > 1:
        raise CellError(wrong("LIST06", "no size", given=_shown(text)))
    first, second, third = (length_in(side, own or unit, decimal) for side in sides)
    return first, second, third


def day(cell: Cell, dates: Dates | None, today: date, *, ahead: bool = False) -> date | None:
    """A day; None where nothing stands there. ahead: it may be still to come, within the years that approvals are given for."""
    _refuse_lost(cell)
    if cell.kind is CellKind.EMPTY:
        return None
    found = cell.day if cell.kind is CellKind.DAY else _typed_day(cell.text, dates) if cell.kind is CellKind.TEXT else None
    if found is None:
        if cell.kind is CellKind.TEXT and re.fullmatch(r"\d{1,2}[/-]\d{1,2}[/-]\d{4}", cell.text) and dates is None:
            raise CellError(wrong("LIST06", "day or month", given=cell.text))
        as_number = cell.kind is CellKind.NUMBER or (cell.kind is CellKind.TEXT and _DAYS_COUNTED.fullmatch(cell.text))
        key = "number no day" if as_number else "day without year" if cell.kind is CellKind.DAY else "no day"
        raise CellError(wrong("LIST06", key, given=_shown(cell.text)))
    if found < FIRST_DAY:
        raise CellError(wrong("LIST06", "too early", given=found, first=FIRST_DAY.year))
    if found > today and not ahead:
        raise CellError(wrong("LIST06", "to come", given=found))
    if found.year > today.year + _MOST_YEARS:
        raise CellError(wrong("LIST06", "too far", given=found, years=_MOST_YEARS))
    return found


def _typed_day(text: str, dates: Dates | None) -> date | None:
    if found := re.fullmatch(r"([0-9]{4})-([0-9]{2})-([0-9]{2})", text):
        return _existing(found[1], found[2], found[3])
    if found := re.fullmatch(r"([0-9]{1,2})\.\s?([0-9]{1,2})\.\s?([0-9]{4})", text):
        return _existing(found[3], found[2], found[1])
    if dates and (found := re.fullmatch(r"([0-9]{1,2})([/-])([0-9]{1,2})\2([0-9]{4})", text)):
        one, other = (found[3], found[1]) if dates is Dates.DAY_FIRST else (found[1], found[3])
        return _existing(found[4], one, other)
    return None


def _existing(year: str, month: str, day_of_month: str) -> date | None:
    try:
        return date(int(year), int(month), int(day_of_month))
    except ValueError:
        return None


def entries(text: str, split: str | None) -> Iterator[str]:
    """The entries of a cell that holds several: a semicolon or a new line parts them, or what the map says."""
    pieces = text.split(split) if split else re.split(r"[;\n]", text)
    yield from (entry for piece in pieces if (entry := " ".join(piece.split())))


_MAY_ANSWER = frozenset({"open", "offen", "åben", "åbent", "missing", "fehlt", "mangler", "follows", "folgt", "følger"})
"""Words of a cell that may say how something is or fails."""


def keeps_a_place(text: str) -> bool:
    """Whether it stands where something is still to be written, such as TODO or "?"; a cross or "open" may be an answer."""
    is_path = any(sign.isalpha() for sign in text) and ("/" in text or "\\" in text)
    may_answer = any(sign.isdigit() for sign in text) or set(text.lower()) == {"x"} or text.casefold() in _MAY_ANSWER or is_path
    return bool(text) and says_nothing(text) and not may_answer


def in_a_comment(text: str) -> str:
    """A text as it may stand in a comment: on one line, and nothing in it unseen."""
    seen = " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())
    return f"{seen[:LONGEST_CELL]}…" if len(seen) > LONGEST_CELL else seen


def _code(sign: str) -> str:
    return f"U+{ord(sign):04X}"


def _shown(text: str) -> str:
    """The text as a message may show it: nothing in it turns, hides or steers."""
    seen = "".join(sign if sign.isprintable() else f"<{_code(sign)}>" for sign in text)
    return f"{seen[:60]}…" if len(seen) > 60 else seen
