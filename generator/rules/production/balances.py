"""Does what was counted agree with what was written down, and is no more gone of a batch than was printed?"""

import re
from collections.abc import Iterable
from datetime import MINYEAR
from typing import Final

from generator.records.batches import Batch, Issued, Rejected, Returned, Scrapped
from generator.records.problems import Problem, doubt, wrong
from generator.records.production import Production
from generator.rules.production.ledger import Balance, Moved, issued, ledger
from generator.rules.production.refitted import scrapped_off
from generator.rules.production.states import scrapped
from generator.rules.production.unsaid import unsaid_years

_NEVER: Final = 10_000
"""After every year that there can be."""
_YEAR: Final = re.compile(r"fitted/([0-9]{4})\.csv")


def balance_problems(production: Production) -> Iterable[tuple[str, Problem]]:
    """What is wrong, by the number of the batch, with its path in the batch's record.

    That more was fitted than there is stands at the line that fitted it (on_vehicles.py).
    """
    since = unread_since(production)
    unsaid = unsaid_years(production) if production.keeps_fitted else {}
    for name, balance in ledger(production).balances.items():
        batch = production.batches[name]
        for problem in _of_batch(name, batch, balance, min(since, *unsaid.get(name, ()), _NEVER)):
            yield name, problem


def unread_since(production: Production) -> int:
    """The first year of which lines of what was fitted cannot be read, so that what follows cannot be held against what went before."""
    return min((year_of(gap.file) for gap in production.gaps if gap.why == "unread"), default=_NEVER)


def year_of(file: str) -> int:
    """Of a file of fitted lines; the first that there can be where its name tells none."""
    found = _YEAR.fullmatch(file)
    return int(found[1]) if found else MINYEAR


def _of_batch(name: str, batch: Batch, balance: Balance, unread: int) -> Iterable[Problem]:
    """unread: from that year on nothing is said of counts, for a line that nobody can read may tell what is missing, and that is told."""
    for each in balance.counts:
        if each.on.year >= unread:
            break
        could_be = batch.count - scrapped(one for one in batch.events[: each.event] if one.on <= each.on)
        if each.found != each.expected and each.found <= could_be:  # more than there can be is an error of the batch's record
            yield doubt("BAL01", "counted other", path=("events", each.event, "on_shelf"), found=each.found, expected=each.expected, on=each.on)
    for at, most in balance.short:
        event = batch.events[at]
        if isinstance(event, Issued):
            yield doubt("BAL01", "issued other", path=("events", at, "count"), count=event.count, most=most, on=event.on)
    yield from _over_drawn(batch, balance.moved)
    rejected = next((each for each in batch.events if isinstance(each, Rejected)), None)
    if rejected and balance.on_vehicles:
        at = batch.events.index(rejected)
        yield doubt("BAL03", "rejected and fitted", path=("events", at), count=balance.on_vehicles, on=rejected.on, batch=name)


def _over_drawn(batch: Batch, moved: Moved) -> Iterable[Problem]:
    """The first event that takes pieces which were fitted by then, and are told nowhere else in the record.

    What came off by then may be what was scrapped.
    """
    for at, each in enumerate(batch.events):
        if not isinstance(each, Scrapped | Issued | Returned):
            continue
        before = batch.events[: at + 1]
        scrap, went = scrapped(before) - scrapped_off(before, moved.loose), moved.drawn(each.on)
        if went > issued(before) and scrap + went > batch.count:
            yield wrong("BAL02", "more gone than printed", path=("events", at, "count"), scrap=scrapped(before), fitted=went, printed=batch.count)
            return
