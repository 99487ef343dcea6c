"""How many of a part are needed in a year: by what was fitted where enough was, else by what its record says; whoever needs it asks this alone."""

import math
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from enum import StrEnum
from functools import lru_cache
from typing import Final

from generator.planning.holding.advice import WINDOW_DAYS, uses
from generator.planning.holding.rate import DAYS_A_YEAR
from generator.planning.money import exact
from generator.records.parts import Part
from generator.records.production import Production

WHOLE: Final = 10
"""From so many a year on they are told without tenths."""
FEWEST: Final = 8
"""Pieces that were fitted, below which the record's own figure counts: common practice, no source."""


ORDERS_A_YEAR: Final = 4
"""What one orders at a time is a quarter's need: common practice, no source."""


class Source(StrEnum):
    FITTED = "fitted"
    """What was fitted in the last 365 days, or since the first piece, half a year at least."""
    RECORD = "record"
    """yearly_demand of part.yml."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    a_year: float
    source: Source
    fitted: int
    """Pieces in the days that are looked at; of a record that counts by itself those that there were all the same."""
    days: int
    """Of which that tells; 0 where it is the record's figure."""
    at_once: int
    """How many went onto one vehicle on one day at most, else how many a vehicle has at most: above 1 they are asked for in lots."""
    record: float | None = None
    """What part.yml says, whichever counts."""

    @property
    def told(self) -> Decimal:
        """Pieces a year as they are told: what was fitted to a piece, below ten to a tenth; the record's own as it stands there."""
        if self.source is Source.RECORD:
            return exact(self.a_year)
        return exact(round(self.a_year, 0 if self.a_year >= WHOLE else 1))

    @property
    def a_quarter(self) -> int:
        """How many one orders at a time: a quarter of what is told, at least one."""
        return max(1, math.ceil(self.told / ORDERS_A_YEAR))

    def over(self, days: float) -> float:
        """Pieces that so many days ask for, on average."""
        return self.a_year * days / DAYS_A_YEAR


def demand_of(part: Part, production: Production, day: date) -> Demand | None:
    """None where nobody says and too little was fitted."""
    use = uses(production, day).get(part.number)
    lots = _at_once(production, day)
    has = max((fit.per_vehicle for fit in part.fits), default=1)
    if use and use.fitted >= FEWEST:
        return Demand(a_year=use.a_year, source=Source.FITTED, fitted=use.fitted, days=use.days, record=part.yearly_demand, at_once=lots.get(part.number, 1))
    if part.yearly_demand is None:
        return None
    return Demand(a_year=part.yearly_demand, source=Source.RECORD, fitted=use.fitted if use else 0, days=0, record=part.yearly_demand, at_once=has)


def typical_count(demand: Demand | None) -> int:
    """A quarter's need; one where nobody knows it."""
    return 1 if demand is None else demand.a_quarter


@lru_cache(4)
def _at_once(production: Production, day: date) -> Mapping[str, int]:
    """By part the most pieces that one vehicle took on one day of the last 365."""
    start = day - timedelta(days=WINDOW_DAYS)
    together: Counter[tuple[str, str, str, date]] = Counter()
    for row in production.fitted:
        batch = production.batches.get(row.batch)
        if batch and start < row.day <= day:
            together[batch.part, row.fleet, row.vehicle, row.day] += row.count
    found: dict[str, int] = {}
    for (number, *_), count in together.items():
        found[number] = max(found.get(number, 0), count)
    return found
