"""What speaks against the lines of fitted/ that stand? Worked out once, for the check, for what is remembered and for all lists."""

from dataclasses import dataclass
from functools import lru_cache

from generator.records.catalogue import Catalogue
from generator.records.problems import Problem
from generator.rules.by_identity import ByIdentity
from generator.rules.production.on_vehicles import fleets_are_read, row_problems


def standing_problems(catalogue: Catalogue) -> tuple[Problem, ...]:
    """As `row_problems` tells them; a catalogue that differs only in what no line is held against is not asked again."""
    parts = (each.part for each in catalogue.parts)
    held = (catalogue.production, catalogue.depot, catalogue.fleets, fleets_are_read(catalogue), *parts)
    return _of_all_lines(_Ground(held, catalogue))


@dataclass(frozen=True, slots=True, eq=False)
class _Ground(ByIdentity[*tuple[object, ...]]):
    """All that lines are held against: a walk through tens of thousands of lines is dear."""

    catalogue: Catalogue
    """Which of those that hold the same does not matter."""


@lru_cache(2)
def _of_all_lines(ground: _Ground) -> tuple[Problem, ...]:
    return tuple(row_problems(ground.catalogue))
