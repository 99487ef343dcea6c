"""Which pieces sit on a vehicle, or came off one, against what else is written down, and what speaks against each?

Worked out of the records as they are: a line that was found so and is right by now, since its batch was recorded or its
recall lifted, contradicts nothing any more.
"""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from generator.records.catalogue import Catalogue
from generator.records.fitted import FittedRow
from generator.records.problems import Problem
from generator.rules.production.balances import unread_since, year_of
from generator.rules.production.batch_told import batch_told
from generator.rules.production.crowded import found_crowded
from generator.rules.production.moves import compared
from generator.rules.production.on_vehicles import may_be_found
from generator.rules.production.standing_lines import standing_problems
from generator.rules.production.tracing import CameOff, Carried

_OF_REMOVAL = "FITTED10"
_MAY_FOLLOW = (_OF_REMOVAL, "FITTED15")
_At = tuple[str, str, str, str, str]
"""Fleet, vehicle, place, position as it is compared, and batch."""


@dataclass(frozen=True, slots=True)
class Contradictions:
    """What speaks against pieces, by where they sit, and by where and when they came off."""

    sitting: Mapping[_At, tuple[Problem, ...]] = field(default_factory=dict)
    off: Mapping[tuple[date, _At], tuple[Problem, ...]] = field(default_factory=dict)

    def of(self, each: Carried | CameOff) -> tuple[Problem, ...]:
        """Of pieces of a list; none where nothing speaks against them."""
        at = (*each.spot[:3], compared(each.spot.position), each.batch)
        return self.sitting.get(at, ()) if isinstance(each, Carried) else self.off.get((each.on, at), ())


def line_problems(catalogue: Catalogue) -> list[Problem]:
    """What speaks against the lines that stand.

    As long as lines cannot be read, or a file says less than it did, nothing that may follow from that alone: what came off may have gone
    on by such a line, and what sits in another's place may have taken it. That is the mistake, and it is told as such.
    """
    production = catalogue.production
    if not production.fitted:
        return []
    unread = min((unread_since(production), *map(year_of, production.shortened)))
    every = (*standing_problems(catalogue), *found_crowded(production))
    return [each for each in every if each.code not in _MAY_FOLLOW or year_of(each.where.file) < unread]


def contradictions(catalogue: Catalogue) -> Contradictions:
    """Of all lines that stand; asked once for all lists, since it walks through every line."""
    production = catalogue.production
    if not production.fitted:
        return Contradictions()
    told: defaultdict[tuple[str, int | None], list[Problem]] = defaultdict(list)
    for each in line_problems(catalogue):
        if may_be_found(each):
            told[each.where.file, each.where.line].append(each)
    sitting: defaultdict[_At, dict[Problem, None]] = defaultdict(dict)
    off: defaultdict[tuple[date, _At], dict[Problem, None]] = defaultdict(dict)
    for row in production.fitted if told else ():
        for each in told.get((row.file, row.line), ()):
            if _speaks_of(each, row.batch, is_removal=False):
                sitting[_at(row, row.batch)][each] = None
            if _speaks_of(each, row.removed_batch, is_removal=True):
                off[row.day, _at(row, row.removed_batch)][each] = None
    return Contradictions({at: tuple(each) for at, each in sitting.items()}, {at: tuple(each) for at, each in off.items()})


def _speaks_of(problem: Problem, batch: str, *, is_removal: bool) -> bool:
    """Whether it speaks of what went on by its line, or of what came off."""
    return bool(batch) and batch_told(problem) in (None, batch) and (is_removal if problem.code == _OF_REMOVAL else not is_removal or problem.key == "no batch")


def _at(row: FittedRow, batch: str) -> _At:
    return (row.fleet, row.vehicle, row.place, compared(row.position), batch)
