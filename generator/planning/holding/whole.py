"""All that is known of how a part's pieces hold: its figures, its trials, and what they say of its record."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from generator.planning.holding.advice import Advice, advice_on
from generator.planning.holding.parts import PartHolding, holding_parts
from generator.planning.holding.trials import Course, Trial, trials_of
from generator.records.catalogue import Catalogue, PartFolder


@dataclass(frozen=True, slots=True, kw_only=True)
class Holds:
    """One part of which a piece was fitted, or which was tried."""

    number: str
    name: str
    day: date
    part: PartHolding | None
    """None where no piece of it is written down as fitted."""
    trials: tuple[Trial, ...]
    """The newest first."""
    advice: Advice | None


def holds_of(folder: PartFolder, catalogue: Catalogue, day: date) -> Holds | None:
    """None where nothing is known."""
    found = holding_parts(catalogue.production, day).get(folder.number)
    trials = trials_of(folder.number, folder.approval, catalogue, day)
    if found is None and not trials:
        return None
    until = min((each.event.valid_until for each in trials if each.course is Course.RUNNING), default=None)
    advice = advice_on(folder.part, found, catalogue.production, day, until) if folder.part and found else None
    return Holds(number=folder.number, name=folder.name, day=day, part=found, trials=trials, advice=advice)


def every_holds(catalogue: Catalogue, day: date) -> Mapping[str, Holds]:
    """By number: of two parts that share one, the first."""
    found = ((folder.number, holds_of(folder, catalogue, day)) for folder in reversed(catalogue.parts))
    return {number: each for number, each in found if each}


def worst_first(every: Mapping[str, Holds]) -> list[PartHolding]:
    """Parts of which something holds worse, then those that surely fail most often."""
    found = [each.part for each in every.values() if each.part]
    return sorted(found, key=lambda part: (not part.is_worse, -(part.figures.rate.low if part.figures.rate else 0), part.number))
