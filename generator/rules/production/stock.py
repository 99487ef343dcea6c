"""What of a part's batches lies on the shelf, as it was counted, and what became of it since? By the ledger of a day (ledger.py)."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date

from generator.records.batches import Batch
from generator.records.catalogue import Catalogue
from generator.rules.production.ledger import Balance, Count, balances_on
from generator.rules.production.refitted import scrapped_off
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
    """How many should lie there by all that is written down; counted less what went since, where what was fitted came out of hands."""
    least: int
    """How many must lie there at least, whichever pieces were fitted and scrapped: the number to plan with."""
    most: int
    """How many can lie there at most."""
    is_overdrawn: bool = False
    """More went since than was counted: the count, or what was written since, is wrong."""
    issued: int = 0
    """Issued or fitted since, less what was returned; as in the ledger, one movement."""
    returned: int = 0
    """Where more came back since than went."""
    scrapped: int = 0
    """Since, of the shelf."""
    is_stopped: bool = False
    """Called back, blocked, rejected, released by a word that does not hold, or printed otherwise than what is approved: nothing of it is to be taken."""


def stock_of(number: str, catalogue: Catalogue, day: date, unlike: Collection[str]) -> tuple[BatchStock, ...]:
    """Of every batch of a part that may lie on the shelf, the oldest first; unlike: those printed otherwise than what is approved (rules/unlike.py).

    Those that were counted, by their newest count up to `day`, where more than none lay there or something should; and those
    that were released or stopped, were never counted, and of which pieces are left by the ledger.
    """
    production = catalogue.production
    balances = balances_on(production, day)
    found = []
    for name, batch in production.of_part(number).items():
        said = standing(name, batch, catalogue, day)
        is_stopped = said.word in {"void", "rejected"} or name in unlike or bool(stops_of(name, batch, production, day))
        balance = balances[name]
        if balance.newest or (balance.most > 0 and (is_stopped or said.is_released)):
            found.append(_of_batch(name, batch, balance, day, is_stopped=is_stopped))
    return tuple(found)


def _of_batch(name: str, batch: Batch, balance: Balance, day: date, *, is_stopped: bool) -> BatchStock:
    """What a count found more or fewer than was written down by then is so ever since."""
    newest = balance.newest
    remains = min(max(balance.shelf + (newest.found - newest.expected if newest else 0), balance.least), balance.most)
    scrap = _scrap_since(batch, balance, newest, day) if newest else 0
    went = newest.found - remains - scrap if newest else 0
    return BatchStock(
        batch=name,
        revision=batch.revision,
        counted=newest.found if newest else None,
        on=newest.on if newest else None,
        by=newest.by if newest else None,
        remains=remains,
        least=balance.least,
        most=balance.most,
        is_overdrawn=balance.is_overdrawn,
        issued=max(went, 0),
        returned=max(-went, 0),
        scrapped=scrap,
        is_stopped=is_stopped,
    )


def _scrap_since(batch: Batch, balance: Balance, newest: Count, day: date) -> int:
    """Of the shelf, as the ledger takes it."""
    events, off = [each for each in batch.events if each.on <= day], balance.moved.loose
    before = batch.events[: newest.event + 1]
    return scrapped(events) - scrapped(before) - (scrapped_off(events, off) - scrapped_off(before, off))
