"""What does the use of a part say about its record: its yearly demand, its symptoms, and when somebody looks again?

Hints for the specialist, never mistakes: campaigns, a young record or a change of the fleet can each be the reason.
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from functools import lru_cache
from typing import Final

from generator.planning.holding.gamma import gamma_point
from generator.planning.holding.parts import PartHolding, holding_parts
from generator.planning.holding.pieces import fitted_pieces
from generator.planning.holding.rate import DAYS_A_YEAR
from generator.records.fitted import FittedRow
from generator.records.parts import Part
from generator.records.production import Production

WINDOW_DAYS: Final = 365
LEAST_DAYS: Final = 180
"""Of use, below which no year is foretold: common practice, no source."""
_TAIL: Final = 0.025


class AdviceReason(StrEnum):
    """Why somebody looks again."""

    WORSE = "worse"
    """Something holds worse: at once."""
    TRIAL = "trial"
    """A trial that runs ends on that day."""
    YEARLY = "yearly"


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """What was fitted of a part in the last 365 days, or since its first piece."""

    since: date
    days: int
    fitted: int
    for_failed: int
    """Where the old one, whoever made it, was worn or broken."""

    @property
    def a_year(self) -> float:
        return self.fitted / self.days * DAYS_A_YEAR


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    use: Use | None
    """None where its first piece is too young."""
    demand: float | None
    """As part.yml says it."""
    demand_is_off: bool
    """Whether chance alone hardly gives what was fitted (exact limits of a Poisson count, 95 %), or part.yml says none."""
    no_symptoms: bool
    """Pieces failed, and part.yml names no symptom by which one finds it."""
    look_again: date | None
    """None where nothing of it is on the vehicles any more, and nothing holds worse."""
    because: AdviceReason
    """Of which look_again is the day."""


def advice_on(part: Part, holds: PartHolding, production: Production, day: date, trial_until: date | None = None) -> Advice:
    """What `day` suggests of a part of which pieces were fitted. trial_until: the last day of a trial that runs."""
    use = uses(production, day).get(part.number)
    when, because = _when(holds, day, trial_until)
    return Advice(
        use=use,
        demand=part.yearly_demand,
        demand_is_off=use is not None and _is_off(part.yearly_demand, use),
        no_symptoms=bool(holds.figures.failed) and not part.symptoms,
        look_again=when,
        because=because,
    )


def _when(holds: PartHolding, day: date, trial_until: date | None) -> tuple[date | None, AdviceReason]:
    if holds.is_worse:
        return day, AdviceReason.WORSE
    yearly = look_again(holds.revisions[0].first_fitted, day) if holds.figures.in_use else None
    if trial_until and (yearly is None or trial_until <= yearly):
        return trial_until, AdviceReason.TRIAL
    return yearly, AdviceReason.YEARLY


@lru_cache(4)
def uses(production: Production, day: date) -> Mapping[str, Use]:
    """Of each part that was fitted, by number; not of one whose first piece is younger than half a year."""
    fitted = fitted_pieces(production, day)
    start = day - timedelta(days=WINDOW_DAYS)
    pieces, failed = _counted((row for row in fitted.rows if row.day > start), production)
    found = {}
    for number, holds in holding_parts(production, day).items():
        since = max(start, min(each.first_fitted for each in holds.revisions))
        if (day - since).days >= LEAST_DAYS:
            found[number] = Use(since=since, days=(day - since).days, fitted=pieces[number], for_failed=failed[number])
    return found


def _counted(rows: Iterable[FittedRow], production: Production) -> tuple[Counter[str], Counter[str]]:
    pieces: Counter[str] = Counter()
    failed: Counter[str] = Counter()
    for row in rows:
        batch = production.batches.get(row.batch)
        if batch:
            pieces[batch.part] += row.count
            failed[batch.part] += min(row.count, row.removed) if row.why and row.why.is_failure else 0
    return pieces, failed


def _is_off(demand: float | None, use: Use) -> bool:
    """Whether what was foretold for these days lies outside the exact limits of what was fitted."""
    if demand is None:
        return True
    expected = demand * use.days / DAYS_A_YEAR
    low = gamma_point(use.fitted, _TAIL) if use.fitted else 0.0
    return not low <= expected <= gamma_point(use.fitted + 1, 1 - _TAIL)


def look_again(first: date, day: date) -> date:
    """The next day, after `day`, that lies whole years behind the first piece's: once a year (common practice, no source)."""
    for year in range(day.year, day.year + 2):
        try:
            turn = first.replace(year=year)
        except ValueError:  # 29 February
            turn = date(year, 3, 1)
        if turn > max(day, first):
            return turn
    return first.replace(year=first.year + 1) if (first.month, first.day) != (2, 29) else date(first.year + 1, 3, 1)
