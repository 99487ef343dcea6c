"""What did the pieces save that were fitted? For each the price of what had to be bought before, less its own.

Own price of a piece: that of its batch in one order at the maker who printed it, by that maker's rule, divided by the pieces
of the batch; where nobody knows the maker, the cheapest offer of one piece. All prices are those of now. A piece that came off as
`wrong` takes back one that was fitted. What costs more than what it replaces saves less than nothing, and is told so.
"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from generator.planning.offers import Offer, cheapest_one, offers_for
from generator.records.batches import Batch
from generator.records.catalogue import Catalogue
from generator.records.fitted import FittedRow, Why
from generator.rules.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class Saved:
    """The pieces of one part, in the depot's currency."""

    number: str
    pieces: int
    whole: float
    """What the assembly cost for each of them."""
    own: float
    """What they cost together."""

    @property
    def saved(self) -> float:
        """Below nothing where they cost more."""
        return self.pieces * self.whole - self.own


@dataclass(frozen=True, slots=True, kw_only=True)
class Savings:
    lines: tuple[Saved, ...]
    unpriced: tuple[tuple[str | None, int], ...]
    """Pieces without a price to compare, by part; None of a batch that nobody knows."""

    @property
    def total(self) -> float:
        return sum(each.saved for each in self.lines)


def savings(rows: Iterable[FittedRow], sheets: Iterable[Sheet], catalogue: Catalogue) -> Savings:
    """Of the pieces that these rows tell of."""
    pieces: Counter[str] = Counter()
    for row in rows:
        if row.batch:
            pieces[row.batch] += row.count
        if row.removed_batch and row.why is Why.WRONG:
            pieces[row.removed_batch] -= row.removed
    by_number = {sheet.number: sheet for sheet in reversed(tuple(sheets))}
    unpriced: Counter[str | None] = Counter()
    priced: dict[str, Saved] = {}
    for name, count in sorted(pieces.items()):
        batch = catalogue.production.batches.get(name)
        sheet = by_number.get(batch.part) if batch else None
        whole = sheet.part.assembly.price if sheet and sheet.part and sheet.part.assembly else None
        own = own_price(batch, sheet, catalogue) if batch and sheet else None
        if batch is None or whole is None or own is None:
            unpriced[batch.part if batch else None] += count
            continue
        before = priced.get(batch.part, Saved(number=batch.part, pieces=0, whole=whole, own=0.0))
        priced[batch.part] = Saved(number=batch.part, pieces=before.pieces + count, whole=whole, own=before.own + count * own)
    return Savings(
        lines=tuple(each for _, each in sorted(priced.items()) if each.pieces or each.own),
        unpriced=tuple(sorted(((number, count) for number, count in unpriced.items() if count), key=lambda pair: (pair[0] is None, pair[0] or ""))),
    )


def own_price(batch: Batch, sheet: Sheet, catalogue: Catalogue) -> float | None:
    """Price of one piece of a batch; None while neither its maker's rule nor any offer tells one."""
    machine = catalogue.production.machines.get(batch.machine)
    maker = catalogue.makers.get(machine.maker) if machine else None
    whole = Offer(maker, None, None, sheet.mass_g).price(batch.count) if maker else None
    return whole / batch.count if whole is not None else cheapest_one(offers_for(sheet, catalogue))
