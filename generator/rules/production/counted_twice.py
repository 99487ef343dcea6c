"""A part's own count beside those of its batches: which of them stands, and do they agree?

The record tells one number of all that lay there under a label, each batch its own. The later day stands: a count of the record that is newer
than every one of the batches printed by then is of all of them, and on the same day or before these tell it themselves. Of batches that
nobody counted on that day as many may have lain there as can have; what is stopped may have been left out. What agrees with neither is no
number to plan with: somebody counts again.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from generator.records.batches import Batch, Rejected
from generator.records.catalogue import Catalogue
from generator.records.parts import Part, Stock
from generator.records.problems import Problem, Where, doubt
from generator.rules.production.ledger import balance_of
from generator.rules.production.states import stops_of


@dataclass(frozen=True, slots=True, kw_only=True)
class WholeCount:
    """What a part's record counted, where batches that it speaks of were counted too."""

    found: int
    on: date
    earlier: tuple[str, ...]
    """Batches of these that were counted before that day and not since."""
    same_day: Mapping[str, int]
    """Those that were counted on it, with how many."""
    batches: frozenset[str]
    """Those that it speaks of: of its label, printed by that day."""
    stands: bool
    """Whether it is newer than every count of these batches."""
    least: int
    most: int
    """How many can have lain there that day by the batches."""
    is_settled: bool
    """Whether all that can have lain there was counted again since, batch by batch."""

    @property
    def contradicts(self) -> bool:
        return not self.is_settled and not self.least <= self.found <= self.most

    @property
    def is_no_number(self) -> bool:
        """Whether it leaves nothing to plan with: the later count may find fewer than were written down, but not more than can be."""
        return self.contradicts and (not self.stands or self.found > self.most)


def whole_count(part: Part, catalogue: Catalogue, day: date) -> WholeCount | None:
    """As known by the end of `day`; None where the record tells no day by then, or no batch that it speaks of was counted."""
    stock = part.stock
    if stock is None or stock.counted_on is None or stock.counted_on > day:
        return None
    return _beside(part, stock, stock.counted_on, catalogue, day)


def _beside(part: Part, stock: Stock, on: date, catalogue: Catalogue, day: date) -> WholeCount | None:
    production, label = catalogue.production, stock.revision or part.revision
    named = {name: batch for name, batch in production.of_part(part.number).items() if batch.revision == label and batch.ended.date() <= on}
    same_day: dict[str, int] = {}
    earlier: list[str] = []
    newest_days: list[date] = []
    least, most, is_settled = 0, 0, True
    for name, batch in named.items():
        then, now = balance_of(name, production, on), balance_of(name, production, day)
        of_day = then.newest.found if then.newest and then.newest.on == on else None
        can = then.most if of_day is None else of_day
        is_recounted = now.newest is not None and now.newest.on > on
        if of_day is not None:
            same_day[name] = of_day
        elif then.newest and not is_recounted:
            earlier.append(name)
        if now.newest:
            newest_days.append(now.newest.on)
        if then.newest and not is_recounted and not _is_stopped(name, batch, catalogue, on):
            least += then.least if of_day is None else of_day
        most += can
        is_settled = is_settled and (is_recounted or not can)
    if not newest_days:
        return None
    newest = max(newest_days)
    return WholeCount(
        found=stock.on_shelf,
        on=on,
        earlier=tuple(sorted(earlier)),
        same_day=same_day,
        batches=frozenset(named),
        stands=newest < on,
        least=least,
        most=most,
        is_settled=is_settled and newest > on,
    )


def twice_counted(catalogue: Catalogue) -> Iterator[Problem]:
    """At the part's record, of each that says something else."""
    for folder in catalogue.parts:
        part = folder.part
        found = whole_count(part, catalogue, date.max) if part else None
        if found and found.contradicts:
            where = Where(f"{folder.folder}/part.yml")
            if found.same_day:
                counted = sum(found.same_day.values())
                yield doubt("STOCK02", "counted twice", where=where, found=found.found, counted=counted, batches=sorted(found.same_day), on=found.on)
            elif found.earlier:
                least = found.least if found.least < found.most else None  # one number is no span
                what = "counted later" if found.stands else "counted between"
                yield doubt("STOCK02", what, where=where, found=found.found, on=found.on, batches=found.earlier, least=least, most=found.most)


def _is_stopped(name: str, batch: Batch, catalogue: Catalogue, day: date) -> bool:
    return any(isinstance(each, Rejected) for each in batch.events) or bool(stops_of(name, batch, catalogue.production, day))
