"""What is known to lie there, and what is on its way? As it was counted, less what went since; never more than was written down.

Where batches were counted they tell it; where none was, what part.yml says somebody counted, less what was fitted since. Nothing counted
is nothing known, and no empty shelf. Beside that stands what nobody has counted: released batches that have pieces left by the ledger, and
batches that were printed and wait for their release.
"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date

from generator.records.catalogue import Catalogue
from generator.records.parts import Part
from generator.rules.production.ledger import fitted_by_day, ledger
from generator.rules.production.releasing import standing
from generator.rules.production.states import stops_of
from generator.rules.production.stock import BatchStock, stock_of
from generator.rules.sheet import Sheet
from generator.rules.verdicts import Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    counted: int | None
    """Pieces that somebody counted and that may be fitted somewhere; None: nobody has counted."""
    first_day: date | None
    """Of the oldest of these counts; None where nobody wrote it."""
    last_day: date | None
    went: int
    """Since these counts; below nothing where more came back."""
    uncounted: int
    """By the ledger alone, of released batches."""
    waiting: int
    """Printed, and not released yet."""
    is_less_than_nothing: bool
    """More went than was counted: the count or what was written since is wrong."""

    @property
    def left(self) -> int | None:
        """What should lie there of what was counted; never below nothing."""
        return None if self.counted is None else max(self.counted - self.went, 0)

    @property
    def position(self) -> int | None:
        """What lies there or is on its way; None where nobody has counted."""
        return None if self.left is None else self.left + self.uncounted + self.waiting


def known(sheet: Sheet, catalogue: Catalogue, day: date) -> Known:
    """Of one part, as written down until the end of `day`."""
    labels = usable_labels(sheet)
    every = stock_of(sheet.number, catalogue, day)
    usable = [each for each in every if not each.is_stopped and each.revision in labels]
    counted = [each for each in usable if each.counted is not None]
    waiting = _waiting(sheet.number, catalogue, day, labels, {each.batch for each in every if each.counted is not None})
    if any(each.counted is not None for each in every):
        days = [each.on for each in counted or every if each.on]
        uncounted = sum(each.remains for each in usable if each.counted is None)
        return _of_batches(counted, days, uncounted, waiting, is_less_than_nothing=any(_is_overdrawn(each, catalogue, day) for each in counted))
    return _of_record(sheet, catalogue, day, usable, waiting)


def usable_labels(sheet: Sheet) -> frozenset[str]:
    """The revisions of which a piece may be fitted somewhere today, if only after asking."""
    own = sheet.part.revision if sheet.part else ""
    judged = zip(sheet.grounds, sheet.judgements, strict=True)
    return frozenset(ground.label_revision or own for ground, said in judged if said.verdict is not Verdict.DO_NOT_FIT)


def _of_batches(counted: list[BatchStock], days: list[date], uncounted: int, waiting: int, *, is_less_than_nothing: bool) -> Known:
    """Of each batch no less than nothing: what one has too few of, another does not make up for."""
    pieces = sum(each.counted or 0 for each in counted)
    return Known(
        counted=pieces,
        first_day=min(days, default=None),
        last_day=max(days, default=None),
        went=pieces - sum(each.remains for each in counted),
        uncounted=uncounted,
        waiting=waiting,
        is_less_than_nothing=is_less_than_nothing,
    )


def _is_overdrawn(stock: BatchStock, catalogue: Catalogue, day: date) -> bool:
    """Whether more went since its newest count than that found."""
    balance = ledger(catalogue.production).balances[stock.batch]
    newest = max((each for each in balance.counts if each.on <= day), key=lambda each: (each.on, each.event))
    return balance.shelf + newest.found - newest.expected < 0


def _of_record(sheet: Sheet, catalogue: Catalogue, day: date, batches: Iterable[BatchStock], waiting: int) -> Known:
    """By the count of part.yml, which is of all that lay there: only batches that were printed later come on top."""
    stock = sheet.part.stock if sheet.part else None
    on = stock.counted_on if stock else None
    is_said = stock is not None and (on is None or on <= day)
    usable = stock is not None and _label(sheet.part, stock.revision) in usable_labels(sheet)
    counted = (stock.on_shelf if usable else 0) if stock and is_said else None
    went = _fitted_since(sheet.number, catalogue, on, day) if counted is not None and on else 0
    newer = (each for each in batches if counted is None or (on and catalogue.production.batches[each.batch].ended.date() > on))
    return Known(
        counted=counted,
        first_day=on if is_said else None,
        last_day=on if is_said else None,
        went=went,
        uncounted=sum(each.remains for each in newer),
        waiting=waiting,
        is_less_than_nothing=counted is not None and went > counted,
    )


def _label(part: Part | None, revision: str | None) -> str:
    return revision or (part.revision if part else "")


def _fitted_since(number: str, catalogue: Catalogue, on: date, day: date) -> int:
    """Of batches that lay there as it was counted: printed by then."""
    fitted, found = fitted_by_day(catalogue.production), 0
    for name, batch in catalogue.production.of_part(number).items():
        if batch.ended.date() <= on:
            found += sum(went for when, went in fitted.get(name, {}).items() if on < when <= day)
    return found


def _waiting(number: str, catalogue: Catalogue, day: date, labels: frozenset[str], counted: Collection[str]) -> int:
    """Pieces of batches that nobody has judged yet and nothing stops, and that are not counted already."""
    production, found = catalogue.production, 0
    for name, batch in production.of_part(number).items():
        if name in counted or batch.ended.date() > day or batch.revision not in labels:
            continue
        if standing(name, batch, catalogue, day).word == "printed" and not stops_of(name, batch, production, day):
            found += max(ledger(production).balances[name].shelf, 0)
    return found
