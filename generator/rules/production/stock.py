"""What of a part's batches lies on the shelf, as it was counted, and what became of it since? By the ledger (ledger.py)."""

from dataclasses import dataclass
from datetime import date

from generator.records.batches import Batch
from generator.records.catalogue import Catalogue
from generator.rules.production.ledger import Balance, Count, ledger, scrapped_off
from generator.rules.production.releasing import standing
from generator.rules.production.states import scrapped, stops_of


@dataclass(frozen=True, slots=True, kw_only=True)
class BatchStock:
    """One batch: its newest count, the movements since, and what should lie there by both; as in the ledger."""

    batch: str
    revision: str
    counted: int | None
    """None where nobody has counted it yet."""
    on: date | None
    by: str | None
    remains: int
    """How many should lie there by all that is written down; counted less what went since."""
    issued: int = 0
    """Issued or fitted since, less what was returned; as in the ledger, one movement."""
    returned: int = 0
    """Where more came back since than went."""
    scrapped: int = 0
    """Since, of the shelf."""
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
        balance = balances[name]
        newest = max((each for each in balance.counts if each.on <= day), key=lambda each: (each.on, each.event), default=None)
        if newest:
            found.append(_counted(name, batch, newest, balance, is_stopped=is_stopped))
        elif balance.shelf > 0 and (is_stopped or said.is_released):
            found.append(
                BatchStock(batch=name, revision=batch.revision, counted=None, on=None, by=None, remains=balance.shelf, is_stopped=is_stopped)
            )
    return tuple(found)


def _counted(name: str, batch: Batch, count: Count, balance: Balance, *, is_stopped: bool) -> BatchStock:
    """What a count found more or fewer than was written down by then is so ever since."""
    remains = max(balance.shelf + count.found - count.expected, 0)
    since, off = batch.events[count.event + 1 :], balance.moved.off
    of_the_shelf = scrapped(since) - (scrapped_off(batch.events, off) - scrapped_off(batch.events[: count.event + 1], off))
    went = count.found - remains - of_the_shelf
    return BatchStock(
        batch=name,
        revision=batch.revision,
        counted=count.found,
        on=count.on,
        by=count.by,
        remains=remains,
        issued=max(went, 0),
        returned=max(-went, 0),
        scrapped=of_the_shelf,
        is_stopped=is_stopped,
    )
