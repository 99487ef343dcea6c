"""What of a part's batches lies on the shelf, as it was counted, and what became of it since? Never more than was written down."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from generator.records.batches import Batch, Counted, Issued, Returned, Scrapped
from generator.records.catalogue import Catalogue
from generator.records.production import Production
from generator.rules.production.ledger import fitted_by_day, ledger
from generator.rules.production.releasing import standing
from generator.rules.production.states import stops_of


@dataclass(frozen=True, slots=True, kw_only=True)
class BatchStock:
    """One batch: its newest count, and the movements after that day; a count is of the end of its day."""

    batch: str
    revision: str
    counted: int | None
    """None where nobody has counted it yet."""
    on: date | None
    by: str | None
    issued: int = 0
    """Issued or fitted since, less what was returned; as in the ledger, one movement."""
    scrapped: int = 0
    is_stopped: bool = False
    """Called back, blocked, rejected, or released by a word that does not hold: nothing of it is to be taken."""


def stock_of(number: str, catalogue: Catalogue, day: date) -> tuple[BatchStock, ...]:
    """Of every batch of a part that may lie on the shelf, the oldest first.

    Those that were counted, by their newest count up to `day`, where more than none lay there or something should; and those
    that were released or stopped, were never counted, and of which pieces are left by the ledger.
    """
    production = catalogue.production
    balances = ledger(production).balances
    found = []
    for name, batch in production.of_part(number).items():
        said = standing(name, batch, catalogue, day)
        is_stopped = said.word in {"void", "rejected"} or bool(stops_of(name, batch, production, day))
        newest = max((each for each in batch.events if isinstance(each, Counted) and each.on <= day), key=lambda each: each.on, default=None)
        if newest:
            found.append(_counted(name, batch, newest, production, is_stopped=is_stopped))
        elif balances[name].shelf > 0 and (is_stopped or said.is_released):
            found.append(BatchStock(batch=name, revision=batch.revision, counted=None, on=None, by=None, is_stopped=is_stopped))
    return tuple(found)


def _counted(name: str, batch: Batch, count: Counted, production: Production, *, is_stopped: bool) -> BatchStock:
    since = [each for each in batch.events if each.on > count.on]
    fitted = sum(went for day, went in fitted_by_day(production).get(name, {}).items() if day > count.on)
    issued = _sum(since, Issued) - _sum(since, Returned)
    return BatchStock(
        batch=name,
        revision=batch.revision,
        counted=count.on_shelf,
        on=count.on,
        by=count.by,
        issued=max(issued, fitted, 0),
        scrapped=_sum(since, Scrapped),
        is_stopped=is_stopped,
    )


def _sum(events: Iterable[object], kind: type[Issued | Returned | Scrapped]) -> int:
    return sum(each.count for each in events if isinstance(each, kind))
