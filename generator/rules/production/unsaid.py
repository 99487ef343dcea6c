"""Is a whole year of fitted lines missing? What batches say is gone, and no line nor event tells where it went.

A count below what can have lain there, a removal of what never went on, or pieces that were issued long ago and never fitted are
a slip where the year's file is there. Where fitted/<year>.csv is not, they are its lines that are missing: nobody knows then on
which vehicles the pieces of these batches sit. A depot that has nothing in fitted/ may keep no such lines: it is only told.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from datetime import date, timedelta
from functools import lru_cache

from generator.records.batches import Batch, Issued
from generator.records.problems import Problem, Where, doubt, wrong
from generator.records.production import Production
from generator.rules.production.ledger import Balance, issued, ledger, moved_days

PATIENCE = timedelta(days=30)
"""Longer than anything lies issued before its line comes in (common practice, no source)."""


@lru_cache(8)
def unsaid_years(production: Production) -> Mapping[str, tuple[int, ...]]:
    """The years without a file of which lines of a batch are missing, by the batch's number."""
    there = production.fitted_years | {row.day.year for row in production.fitted}
    balances, newest = ledger(production).balances, _newest(production)
    first = min(there, default=0)  # before it the depot may not have kept any, but what comes off and never went on tells of one
    found: defaultdict[str, set[int]] = defaultdict(set)
    for name, batch in production.batches.items():
        for began, ended in (*_of_counts(batch, balances[name]), *_of_issues(batch, balances[name], newest, is_kept=production.keeps_fitted)):
            found[name] |= {year for year in range(max(began.year, first), ended.year + 1) if year not in there}
    for day in moved_days(production):
        for each in day.missing:
            gone = production.batches.get(each.row.removed_batch)
            if gone:
                found[each.row.removed_batch] |= {year for year in range(gone.ended.year, day.on.year + 1) if year not in there}
    return {name: tuple(sorted(years)) for name, years in found.items() if years}


def missing_files(production: Production) -> Iterator[Problem]:
    """Each file that seems to be missing, with the batches that say so; a warning where the depot has no such file of any year."""
    by_year: defaultdict[int, list[str]] = defaultdict(list)
    for name, years in sorted(unsaid_years(production).items()):
        for year in years:
            by_year[year].append(name)
    for year, names in sorted(by_year.items()):
        where = Where(f"fitted/{year}.csv")
        if production.keeps_fitted:
            yield wrong("BAL04", "no file", where=where, year=str(year), batches=names)
        else:
            yield doubt("BAL04", "no file", where=where, year=str(year), batches=names)


def _of_counts(batch: Batch, balance: Balance) -> Iterator[tuple[date, date]]:
    """Between which days pieces went of which nothing is said, by counts that found too few."""
    began, known = batch.ended.date(), 0
    for each in balance.counts:
        gone = each.least - each.found
        if gone > known:
            yield began, each.on
        began, known = each.on, max(gone, 0)


def _of_issues(batch: Batch, balance: Balance, newest: date, *, is_kept: bool) -> Iterator[tuple[date, date]]:
    """Pieces that were issued a while ago and never fitted, where the depot writes down what is fitted at all."""
    old = [each for each in batch.events if each.on <= newest - PATIENCE]
    if is_kept and issued(old) > balance.moved.went(None):
        for each in old:
            if isinstance(each, Issued):
                yield each.on, each.on


def _newest(production: Production) -> date:
    events: Iterable[date] = (each.on for batch in production.batches.values() for each in batch.events)
    return max((*events, *(row.day for row in production.fitted)), default=date.min + PATIENCE)
