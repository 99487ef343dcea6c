"""Does what was measured of a batch keep the limits of what was printed?

The critical dimensions and their limits are those of `printed_as`, which the fingerprint binds: a part.yml that changes
later changes nothing of an older batch. A value that lies out of its limits is answered in one of two ways: where every
piece that was left had been measured, by scrapping as many pieces as were out; else by measuring every piece that is left
once more, with none out (common practice, no source). The last figure of a gauge whose calibration had ended, or that
nobody named, does not count for a piece, only against it.

On how many pieces each is measured the part says (`sample`), else it is every piece of a safety part and the first of
another. One list has to hold that many: of two nobody knows whether they are of the same pieces.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from functools import lru_cache
from types import MappingProxyType
from typing import NamedTuple

from generator.records.batches import Batch, Measured, MeasuredCheck, Scrapped
from generator.records.free_texts import is_void
from generator.rules.canonical import lines_of, text_in

_NOMINAL = re.compile(r'check ("(?:[^"\\]|\\.)*") nominal mm')
_WHOLE_BATCH_AGAIN = 10**9


@dataclass(frozen=True, slots=True)
class Limited:
    """A critical dimension with its limits, in millimetres."""

    name: str
    nominal: Decimal
    least: Decimal
    most: Decimal
    measured_with: str | None
    sample: str | None = None
    """"every", "first", or how many; None where the part does not say."""

    def holds(self, value: float) -> bool:
        """Whether a value lies within the limits, both included."""
        return self.least <= Decimal(repr(value)) <= self.most

    def margin(self, value: float) -> float:
        """How far it lies from the nearer limit; below nothing where it is out."""
        at = Decimal(repr(value))
        return float(min(at - self.least, self.most - at))


@lru_cache(256)
def limits_of(printed: str) -> Mapping[str, Limited]:
    """The critical dimensions of a text of what was printed, by name; one whose figures cannot be read is none that holds anything."""
    lines = lines_of(printed)
    found = {}
    for key in lines:
        at = _NOMINAL.fullmatch(key)
        name = text_in(at[1]) if at else None
        if at is None or name is None:
            continue
        try:
            nominal, plus, minus = (Decimal(lines.get(f"check {at[1]} {each} mm", "")) for each in ("nominal", "plus", "minus"))
        except InvalidOperation:
            nominal, plus, minus = Decimal(0), Decimal(-1), Decimal(0)
        found[name] = Limited(name, nominal, nominal - minus, nominal + plus, text_in(lines.get(f"check {at[1]} measured with")), _sample(lines.get(f"check {at[1]} sample")))
    return MappingProxyType(found)


def in_order(printed: str, names: Iterable[str]) -> tuple[Limited, ...]:
    """The same in the order of these names, as a record tells them; what it does not name comes behind, as the text has it."""
    limits = limits_of(printed)
    return tuple(limits[name] for name in dict.fromkeys((*(name for name in names if name in limits), *limits)))


def wanted_of(limited: Limited, left: int, *, is_safety: bool) -> int:
    """On how many of the pieces that are left it is measured, by the rule of the module; at least one."""
    sample = limited.sample or ("every" if is_safety else "first")
    return max(left if sample == "every" else 1 if sample == "first" else min(int(sample), left), 1)


def _sample(line: str | None) -> str | None:
    """As the text says it; what cannot be read asks for every piece."""
    told = text_in(line) or line
    return told if told is None or told in {"every", "first"} or (told.isdecimal() and int(told)) else "every"


class Lapsed(NamedTuple):
    """A measurement by a gauge whose calibration had ended."""

    event: int
    check: int


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredSoFar:
    """What the measurements up to some event amount to."""

    measured: Mapping[str, int]
    """Dimensions with a result that counts, and on how many pieces the longest list of it was."""
    whole: frozenset[str]
    """Those of which one list held every piece that was left."""
    left: int
    """Pieces that are not scrapped."""
    lapsed: Mapping[str, Lapsed]
    """Of those without one, the measurement that does not count."""
    out: tuple[str, ...]
    """Dimensions that some pieces miss that are still in the batch, for all that is written down."""


@dataclass(slots=True)
class _Owed:
    """Pieces that were out, and are not known to be gone."""

    checks: set[str]
    pieces: int


def found(batch: Batch, upto: int | None = None) -> MeasuredSoFar:
    """Of the events before the one numbered `upto`, from 0; of all by default."""
    limits = limits_of(batch.printed_as)
    measured: dict[str, int] = {}
    whole: set[str] = set()
    lapsed: dict[str, Lapsed] = {}
    owed: list[_Owed] = []
    left = batch.count
    for at, event in enumerate(batch.events[:upto]):
        if isinstance(event, Scrapped):
            left -= event.count
            _pay(owed, event.count)
        elif isinstance(event, Measured):
            _cleared(owed, event, limits, left)
            owed += _owed_by(event, limits, left)
            for nth, each in enumerate(event.checks):
                if each.calibrated_until < event.on:
                    lapsed[each.check] = Lapsed(at, nth)
                elif count_of(each) and not is_void(each):
                    measured[each.check] = max(measured.get(each.check, 0), count_of(each))
                    whole |= {each.check} if count_of(each) >= left else set()
    out = dict.fromkeys(name for each in owed for name in sorted(each.checks))
    return MeasuredSoFar(measured=measured, whole=frozenset(whole), left=max(left, 0), lapsed={name: at for name, at in lapsed.items() if name not in measured}, out=tuple(out))


def short_of(limited: Limited, told: MeasuredSoFar, *, is_safety: bool) -> int | None:
    """On how many pieces it should have been measured, where it was on fewer."""
    if limited.name in told.whole:
        return None
    wanted = wanted_of(limited, told.left, is_safety=is_safety)
    # A list of every piece that is left now may be of others than these.
    is_every = (limited.sample or ("every" if is_safety else "first")) == "every"
    return wanted if is_every or told.measured.get(limited.name, 0) < wanted else None


def count_of(each: MeasuredCheck) -> int:
    """How many pieces it speaks of."""
    return len(each.values_mm) + (each.passed or 0) + (each.failed or 0)


def out_of(each: MeasuredCheck, limits: Mapping[str, Limited]) -> tuple[int, ...]:
    """Which of the values lie out of the limits, from 0; of a dimension that was not printed, all."""
    limited = limits.get(each.check)
    return tuple(at for at, value in enumerate(each.values_mm) if limited is None or not limited.holds(value))


def _owed_by(event: Measured, limits: Mapping[str, Limited], left: int) -> Iterator[_Owed]:
    """One of all lists that hold every piece, in the order in which these lay; one of each that holds some."""
    whole, places, failed = set[str](), set[int](), 0
    for each in event.checks:
        out = out_of(each, limits)
        if not out and not each.failed:
            continue
        if count_of(each) >= left:
            whole.add(each.check)
            places |= set(out)
            failed += each.failed or 0
        else:
            yield _Owed({each.check}, _WHOLE_BATCH_AGAIN)
    if whole:
        yield _Owed(whole, len(places) + failed)


def _cleared(owed: list[_Owed], event: Measured, limits: Mapping[str, Limited], left: int) -> None:
    """Take out what every piece that is left has been measured for again, with a gauge that counts and none out."""
    good = {
        each.check
        for each in event.checks
        if each.calibrated_until >= event.on and not is_void(each) and not out_of(each, limits) and not each.failed and count_of(each) >= left
    }
    for each in owed:
        each.checks -= good
    owed[:] = [each for each in owed if each.checks]


def _pay(owed: list[_Owed], pieces: int) -> None:
    """Scrapped pieces are those that were found out first."""
    for each in owed:
        taken = min(pieces, each.pieces) if each.pieces < _WHOLE_BATCH_AGAIN else 0
        each.pieces -= taken
        pieces -= taken
    owed[:] = [each for each in owed if each.pieces]

