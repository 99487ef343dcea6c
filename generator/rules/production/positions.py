"""What are the positions at a place called in the lines that were written down before?

A removal looks for its batch at the position that it names, so that one place with two names loses track of a piece
(FITTED10): whoever writes a new line is shown the names that are used already.
"""

from collections import Counter, defaultdict
from dataclasses import dataclass

from generator.records.fitted import FittedRow
from generator.records.production import Production
from generator.rules.production.moves import compared

Site = tuple[str, str]
"""Fleet and place."""
MOST = 200
"""Of more names the most frequent: these are then no names but sentences (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Positions:
    """The names of the positions of one part at one place of a fleet, each as it was written last."""

    names: tuple[str, ...]
    one_each: bool
    """Whether no line ever told of more than one piece at a position."""


def positions(production: Production) -> dict[str, dict[Site, Positions]]:
    """By the part's number, then by fleet and place; of lines that name a position and a batch that is known."""
    listed: defaultdict[tuple[str, Site], list[FittedRow]] = defaultdict(list)
    for row in production.fitted:
        batch = production.batches.get(row.batch) or production.batches.get(row.removed_batch)
        if batch and row.position:
            listed[batch.part, (row.fleet, row.place)].append(row)
    found: defaultdict[str, dict[Site, Positions]] = defaultdict(dict)
    for (number, site), rows in listed.items():
        found[number][site] = _of(rows)
    return dict(found)


def _of(rows: list[FittedRow]) -> Positions:
    often = Counter(compared(row.position) for row in rows)
    written = {compared(row.position): row.position for row in rows}
    names = tuple(written[key] for key, _ in often.most_common(MOST))
    return Positions(names, all(max(row.count, row.removed) <= 1 for row in rows))
