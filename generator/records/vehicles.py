"""Vehicles as depots number them: 401, 0401, B31, 31.02, 31a. A number is a text; leading zeros and letters are kept.

A number is an optional word of letters, groups of digits parted by dots, and an optional letter behind them. A range has a first
and a last vehicle that differ in the last group of digits alone: 401-412, B31-B35 (or B31-35), 31.02-31.09 (or 31.02-09).
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import Annotated, Self

from pydantic import AfterValidator

from generator.records.problems import Unfit

MOST = 2000
"""Vehicles in one range: more are a slip of the pen."""
_LETTER = "A-Za-zÀ-ÖØ-öø-ž"
_NUMBER = re.compile(rf"([{_LETTER}]{{0,4}})([0-9]{{1,6}}(?:\.[0-9]{{1,6}}){{0,3}})([{_LETTER}]?)")
_DASHES = re.compile(r"\s*[-‐‑–—]\s*")
_LONGEST = 40


@dataclass(frozen=True, slots=True)
class Designation:
    """The number of one vehicle, taken apart: 'B31.02a' → stem 'B31.', last '02', behind 'a'."""

    stem: str
    last: str
    behind: str

    @classmethod
    def of(cls, text: str) -> Self | None:
        """None where the text is no number of a vehicle."""
        match = _NUMBER.fullmatch(text)
        if not match or len(text) > _LONGEST:
            return None
        before, _, last = match[2].rpartition(".")
        return cls(match[1] + (f"{before}." if before else ""), last, match[3])

    def __str__(self) -> str:
        return self.stem + self.last + self.behind

    @property
    def order(self) -> tuple[tuple[str, ...], tuple[int, ...], str, str]:
        """As people sort them: numbers by their size, those without letters first."""
        letters, digits = re.fullmatch(r"(\D*?)([0-9.]*)", self.stem + self.last).groups()  # type: ignore[union-attr]
        return (letters.casefold(),) if letters else (), tuple(map(int, digits.split("."))), self.behind.casefold(), str(self)

    def precedes(self, other: Self) -> bool:
        """Whether the other is the next one, written alike."""
        if (self.stem, self.behind) != (other.stem, other.behind) or int(other.last) != int(self.last) + 1:
            return False
        return len(self.last) == len(other.last) or not (self.last.startswith("0") or other.last.startswith("0"))


def read_alike(number: str) -> str:
    """The same for two numbers that one takes for each other: without case, spaces and leading zeros."""
    return re.sub(r"(?<![0-9])0+(?=[0-9])", "", re.sub(r"\s", "", number.casefold()))


def _ends(text: str) -> tuple[Designation, Designation] | None:
    """First and last of a range; of a single vehicle the same twice. None where it is neither."""
    first, _, last = text.partition("-")
    begin = Designation.of(first)
    if begin is None or not last:
        return (begin, begin) if begin and "-" not in text else None
    if re.fullmatch(r"[0-9]{1,6}", last):
        last = begin.stem + last + begin.behind
    end = Designation.of(last)
    return (begin, end) if end else None


def _vehicle_range(text: str) -> str:
    """The range with a plain dash. Raises Unfit with what is wrong."""
    plain = _DASHES.sub("-", text.strip())
    ends = _ends(plain)
    if ends is None:
        raise Unfit("no range")
    first, last = ends
    if (first.stem, first.behind) != (last.stem, last.behind):
        raise Unfit("other stem", first=str(first), last=str(last))
    if int(last.last) < int(first.last):
        raise Unfit("backwards", range=f"{last}-{first}")
    if len(first.last) != len(last.last) and "0" in (first.last[0], last.last[0]) and first.last != "0":
        raise Unfit("other zeros", first=str(first), last=str(last))
    if int(last.last) - int(first.last) > MOST:
        raise Unfit("too many vehicles", most=MOST)
    return plain


VehicleRange = Annotated[str, AfterValidator(_vehicle_range)]


def _of_range(text: str) -> Iterable[str]:
    ends = _ends(text)
    if ends is None:
        return
    first, last = ends
    width = len(first.last) if len(first.last) == len(last.last) else 1
    for number in range(int(first.last), int(last.last) + 1):
        yield f"{first.stem}{number:0{width}d}{first.behind}"


def order_of(number: str) -> tuple[object, ...]:
    """A sort key of a vehicle's number, as people sort them; what is none comes last."""
    found = Designation.of(number)
    return found.order if found else (("￿",), (), "", number)


def vehicles_in(ranges: Iterable[str]) -> tuple[str, ...]:
    """The numbers in ranges such as '401-412' and 'B15', each once, in the order in which people sort them."""
    return _numbers_in(tuple(ranges))


@lru_cache(4096)
def _numbers_in(ranges: tuple[str, ...]) -> tuple[str, ...]:
    """Remembered, for every permit asks it for every vehicle."""
    return tuple(sorted({number for text in ranges for number in _of_range(text)}, key=order_of))


def as_ranges(vehicles: Iterable[str]) -> tuple[str, ...]:
    """Numbers written as short as they go: 401, 402, 403, 407 → '401-403', '407'."""
    runs: list[list[Designation]] = []
    for number in sorted(set(vehicles), key=order_of):
        found = Designation.of(number)
        if found is None:
            continue
        if runs and runs[-1][-1].precedes(found):
            runs[-1].append(found)
        else:
            runs.append([found])
    return tuple(str(run[0]) if len(run) == 1 else f"{run[0]}-{run[-1]}" for run in runs)
