"""What did the pieces save that were fitted? For each the price of what had to be bought before, less its own, batch by batch.

Bought before: the piece alone where one of its old numbers has a price (the lowest of them), else the whole assembly that it was part of.

Own price of a piece: that of its batch in one order at the maker who printed it, by that maker's rule, with what setting up costs the depot
where it says so, divided by the pieces of the batch and taken to whole cents; where nobody knows the maker, the cheapest offer of one piece. All prices
are those of now. A piece that came off as `wrong` takes back one that was fitted. What costs more than what it replaces saves less
than nothing, and is told so. Both prices of a row are whole cents, so every sum of rows is exact however they are put together.
"""

from collections import Counter, defaultdict
from collections.abc import Callable, Hashable, Iterable
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import TypeVar

from generator.planning.money import cents, exact
from generator.planning.months import Month
from generator.planning.offers import Offer, cheapest_one, offers_for
from generator.records.batches import Batch
from generator.records.catalogue import Catalogue
from generator.records.fitted import FittedRow, Why
from generator.rules.sheet import Sheet

K = TypeVar("K", bound=Hashable)


class Instead(StrEnum):
    """What was bought before."""

    PART = "part"
    """The piece alone: it is printed and not bought."""
    ASSEMBLY = "assembly"
    """A whole assembly: a component takes its place."""


@dataclass(frozen=True, slots=True)
class Before:
    price: Decimal
    instead: Instead


@dataclass(frozen=True, slots=True, kw_only=True)
class SavedRow:
    """The pieces of one batch that one fleet took in one month, in the depot's currency."""

    month: Month
    fleet: str
    number: str
    batch: str
    pieces: int
    """Below nothing where more came off as wrong than were fitted."""
    before: Decimal
    """What had to be bought for each of them."""
    instead: Instead
    own: Decimal
    """What each of them costs."""

    @property
    def own_together(self) -> Decimal:
        return self.pieces * self.own

    @property
    def saved(self) -> Decimal:
        return self.pieces * (self.before - self.own)


@dataclass(frozen=True, slots=True, kw_only=True)
class Unpriced:
    """Pieces without a price to compare."""

    month: Month
    fleet: str
    number: str | None
    """None of a batch that nobody knows."""
    batch: str
    pieces: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Saved:
    """Rows together; `before` and `instead` are None where they differ in what was bought."""

    pieces: int
    before: Decimal | None
    instead: Instead | None
    own_each: Decimal | None
    """What each of them cost; None where they differ, or where as many came off as went on."""
    own: Decimal
    """What they cost together."""
    saved: Decimal
    """Below nothing where they cost more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Savings:
    rows: tuple[SavedRow, ...]
    """By month, fleet, part and batch."""
    unpriced_rows: tuple[Unpriced, ...]

    @property
    def total(self) -> Decimal:
        return sum((each.saved for each in self.rows), Decimal(0))

    @property
    def by_part(self) -> dict[str, Saved]:
        return self.by(lambda row: row.number)

    def by(self, key: Callable[[SavedRow], K]) -> dict[K, Saved]:
        """The rows put together by what `key` says of each, in the order in which that is first said; sums of the same rows, whichever way."""
        found: defaultdict[K, list[SavedRow]] = defaultdict(list)
        for row in self.rows:
            found[key(row)].append(row)
        return {name: _together(rows) for name, rows in found.items()}

    @property
    def unpriced(self) -> tuple[tuple[str | None, int], ...]:
        """Pieces without a price to compare, by part; None of a batch that nobody knows."""
        found: Counter[str | None] = Counter()
        for each in self.unpriced_rows:
            found[each.number] += each.pieces
        known = sorted(((number, count) for number, count in found.items() if count), key=lambda pair: (pair[0] is None, pair[0] or ""))
        return tuple(known)


def _together(rows: list[SavedRow]) -> Saved:
    before, instead = {row.before for row in rows}, {row.instead for row in rows}
    before, own, pieces = {row.before for row in rows}, {row.own for row in rows}, sum(row.pieces for row in rows)
    return Saved(
        pieces=pieces,
        before=before.pop() if len(before) == 1 else None,
        instead=instead.pop() if len(instead) == 1 else None,
        own_each=own.pop() if len(own) == 1 and pieces else None,
        own=sum((row.own_together for row in rows), Decimal(0)),
        saved=sum((row.saved for row in rows), Decimal(0)),
    )


def savings(rows: Iterable[FittedRow], sheets: Iterable[Sheet], catalogue: Catalogue) -> Savings:
    """Of the pieces that these lines tell of."""
    pieces: Counter[tuple[Month, str, str]] = Counter()
    for row in rows:
        month = Month.of(row.day)
        if row.batch:
            pieces[month, row.fleet, row.batch] += row.count
        if row.removed_batch and row.why is Why.WRONG:
            pieces[month, row.fleet, row.removed_batch] -= row.removed
    prices = _Prices({sheet.number: sheet for sheet in reversed(tuple(sheets))}, catalogue)
    priced, unpriced = [], []
    for (month, fleet, name), count in pieces.items():
        batch = catalogue.production.batches.get(name)
        found = prices.of(name)
        if count and batch and found:
            before, own = found
            priced.append(
                SavedRow(month=month, fleet=fleet, number=batch.part, batch=name, pieces=count, before=before.price, instead=before.instead, own=own)
            )
        elif count:
            unpriced.append(Unpriced(month=month, fleet=fleet, number=batch.part if batch else None, batch=name, pieces=count))
    return Savings(
        rows=tuple(sorted(priced, key=lambda row: (row.month, row.fleet, row.number, row.batch))),
        unpriced_rows=tuple(sorted(unpriced, key=lambda row: (row.month, row.fleet, row.batch))),
    )


class _Prices:
    """What was bought before and what a piece costs, of each batch, worked out once."""

    def __init__(self, sheets: dict[str, Sheet], catalogue: Catalogue) -> None:
        self._sheets, self._catalogue = sheets, catalogue
        self._known: dict[str, tuple[Before, Decimal] | None] = {}

    def of(self, name: str) -> tuple[Before, Decimal] | None:
        """None where one of both is not known."""
        if name not in self._known:
            self._known[name] = self._found(name)
        return self._known[name]

    def _found(self, name: str) -> tuple[Before, Decimal] | None:
        batch = self._catalogue.production.batches.get(name)
        sheet = self._sheets.get(batch.part) if batch else None
        if batch is None or sheet is None:
            return None
        before, own = bought_before(sheet), own_price(batch, sheet, self._catalogue)
        return None if before is None or own is None else (before, own)


def bought_before(sheet: Sheet) -> Before | None:
    """What had to be bought before, and its last price; None where nobody says it."""
    part = sheet.part
    alone = min((exact(old.price) for old in part.replaces if old.price is not None), default=None) if part else None
    if alone is not None:
        return Before(cents(alone), Instead.PART)
    assembly = part.assembly if part else None
    return None if assembly is None or assembly.price is None else Before(cents(exact(assembly.price)), Instead.ASSEMBLY)


def own_price(batch: Batch, sheet: Sheet, catalogue: Catalogue) -> Decimal | None:
    """Price of one piece of a batch in whole cents; None while neither its maker's rule nor any offer tells one."""
    machine = catalogue.production.machines.get(batch.machine)
    maker = catalogue.makers.get(machine.maker) if machine else None
    whole = share_of_order(Offer(maker, None, None, sheet.mass_g), batch.count) if maker else None
    return whole if whole is not None else cheapest_one(offers_for(sheet, catalogue))


def share_of_order(offer: Offer, count: int) -> Decimal | None:
    """What each piece of an order or run of so many costs, with the depot's own set-up where it is said."""
    price = offer.price(count)
    return None if price is None else cents((price + cents(exact(offer.maker.set_up or 0.0))) / count)
