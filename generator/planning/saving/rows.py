"""What did the pieces save that were fitted? For each the price of what had to be bought before, less its own, batch by batch.

Bought before: the piece alone where one of its old numbers has a price (the lowest of them), else the whole assembly that it was part of:
of those at most one a visit, however many pieces of it were fitted there (visits.py).

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
from generator.planning.saving.visits import assemblies
from generator.records.base import as_compared
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
    """What had to be bought: the price of one piece alone, or of one assembly."""
    bought: int
    """How many times: once a piece, or the assemblies of which visits.py tells."""
    instead: Instead
    own: Decimal
    """What each of the pieces costs."""

    @property
    def own_together(self) -> Decimal:
        return self.pieces * self.own

    @property
    def saved(self) -> Decimal:
        return self.bought * self.before - self.own_together


class Unknown(StrEnum):
    """Why nobody knows what pieces saved."""

    PRICE = "price"
    """There is no price to compare."""
    UNREAD = "unread"
    """A record with a mistake may tell it."""
    BATCH = "batch"
    """Nobody knows the batch."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Unpriced:
    """Pieces of which nobody knows what they saved."""

    month: Month
    fleet: str
    number: str | None
    """None of a batch that nobody knows."""
    batch: str
    pieces: int
    why: Unknown


@dataclass(frozen=True, slots=True, kw_only=True)
class UnpricedPart:
    """Such pieces of one part together; None of a batch that nobody knows."""

    number: str | None
    why: Unknown
    pieces: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Saved:
    """Rows together; `before` and `instead` are None where they differ in what was bought."""

    pieces: int
    bought: int
    """How many times it had to be bought for them."""
    before: Decimal | None
    instead: Instead | None
    own_each: Decimal | None
    """What each of them cost; None where they differ, or where as many came off as went on."""
    own: Decimal
    """What they cost together."""
    saved: Decimal
    """Below nothing where they cost more."""

    @property
    def saved_each(self) -> Decimal | None:
        """On average, to a cent; None where as many came off as went on."""
        return cents(self.saved / self.pieces) if self.pieces > 0 else None


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

    def unknown_by(self, key: Callable[[Unpriced], K]) -> dict[K, tuple[int, Unknown]]:
        """Pieces of which nobody knows what they saved, and why: a mistake rather than a price that lacks; none where as many came off as went on."""
        pieces: Counter[K] = Counter()
        whys: defaultdict[K, set[Unknown]] = defaultdict(set)
        for each in self.unpriced_rows:
            pieces[key(each)] += each.pieces
            whys[key(each)].add(each.why)
        order = (Unknown.UNREAD, Unknown.PRICE, Unknown.BATCH)
        return {name: (count, next(why for why in order if why in whys[name])) for name, count in pieces.items() if count}

    @property
    def unknown_parts(self) -> dict[str, tuple[int, Unknown]]:
        """As unknown_by, of the parts that are known and of no piece of which it is known what it saved."""
        known = {row.number for row in self.rows}
        return {number: each for number, each in self.unknown_by(lambda row: row.number).items() if number and number not in known}

    @property
    def unpriced_for(self) -> tuple[UnpricedPart, ...]:
        """Pieces of which nobody knows what they saved, by part, with the reason."""
        found: Counter[tuple[str | None, Unknown]] = Counter()
        for each in self.unpriced_rows:
            found[each.number, each.why] += each.pieces
        known = sorted(((key, count) for key, count in found.items() if count), key=lambda pair: (pair[0][0] is None, pair[0][0] or "", pair[0][1]))
        return tuple(UnpricedPart(number=number, why=why, pieces=count) for (number, why), count in known)


def _together(rows: list[SavedRow]) -> Saved:
    instead = {row.instead for row in rows}
    before, own, pieces = {row.before for row in rows}, {row.own for row in rows}, sum(row.pieces for row in rows)
    return Saved(
        pieces=pieces,
        bought=sum(row.bought for row in rows),
        before=before.pop() if len(before) == 1 else None,
        instead=instead.pop() if len(instead) == 1 else None,
        own_each=own.pop() if len(own) == 1 and pieces else None,
        own=sum((row.own_together for row in rows), Decimal(0)),
        saved=sum((row.saved for row in rows), Decimal(0)),
    )


def savings(
    rows: Iterable[FittedRow], sheets: Iterable[Sheet], catalogue: Catalogue, *, asked: Callable[[FittedRow], bool] = lambda _: True
) -> Savings:
    """Of the pieces that these lines tell of. asked: of these lines alone; the others say of which visits pieces came."""
    listed = tuple(rows)
    pieces: Counter[tuple[Month, str, str]] = Counter()
    for row in filter(asked, listed):
        month = Month.of(row.day)
        if row.batch:
            pieces[month, row.fleet, row.batch] += row.count
        if row.removed_batch and row.why is Why.WRONG:
            pieces[month, row.fleet, row.removed_batch] -= row.removed
    prices = _Prices({sheet.number: sheet for sheet in reversed(tuple(sheets))}, catalogue)
    bought = _bought(listed, asked, prices)
    priced, unpriced = [], []
    for key in sorted({*(each for each, count in pieces.items() if count), *(each for each, times in bought.items() if times)}):
        month, fleet, name = key
        batch, found = catalogue.production.batches.get(name), prices.of(name)
        if batch and found:
            before, own = found
            times = bought[key] if before.instead is Instead.ASSEMBLY else pieces[key]
            priced.append(
                SavedRow(
                    month=month, fleet=fleet, number=batch.part, batch=name, pieces=pieces[key], before=before.price, bought=times, instead=before.instead,
                    own=own,
                )
            )  # fmt: skip
        else:
            why = prices.why_not(name)
            unpriced.append(Unpriced(month=month, fleet=fleet, number=batch.part if batch else None, batch=name, pieces=pieces[key], why=why))
    return Savings(rows=tuple(sorted(priced, key=lambda row: (row.month, row.fleet, row.number, row.batch))), unpriced_rows=tuple(unpriced))


def _bought(rows: tuple[FittedRow, ...], asked: Callable[[FittedRow], bool], prices: "_Prices") -> Counter[tuple[Month, str, str]]:
    """How many assemblies would have been bought, by month, fleet and batch."""
    names = {name for row in rows for name in (row.batch, row.removed_batch) if name}
    of = {name: each for name in names if (each := prices.assembly_of(name))}
    found: Counter[tuple[Month, str, str]] = Counter()
    for one in assemblies(rows, of):
        if asked(one.row):
            found[Month.of(one.row.day), one.row.fleet, one.batch] += one.times
    return found


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

    def assembly_of(self, name: str) -> str | None:
        """What names the assembly that was bought for pieces of a batch; None where none was, or nobody knows a price."""
        found, sheet = self.of(name), self._sheet(name)
        assembly = sheet.part.assembly if sheet and sheet.part else None
        return None if found is None or assembly is None or found[0].instead is not Instead.ASSEMBLY else as_compared(assembly.number or assembly.name)

    def why_not(self, name: str) -> Unknown:
        """Why of a batch one of both is not known."""
        batch, sheet = self._catalogue.production.batches.get(name), self._sheet(name)
        if batch is None:
            return Unknown.UNREAD if self._catalogue.is_mistaken(f"batches/{name}.yml") else Unknown.BATCH
        if sheet is None or sheet.part is None:
            return Unknown.UNREAD
        files = ("makers.yml", f"machines/{batch.machine}.yml", *(f"materials/{each}.yml" for each in sheet.part.materials))
        is_unread = bought_before(sheet) is not None and any(map(self._catalogue.is_mistaken, files))
        return Unknown.UNREAD if is_unread else Unknown.PRICE

    def _sheet(self, name: str) -> Sheet | None:
        batch = self._catalogue.production.batches.get(name)
        return self._sheets.get(batch.part) if batch else None

    def _found(self, name: str) -> tuple[Before, Decimal] | None:
        batch, sheet = self._catalogue.production.batches.get(name), self._sheet(name)
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
