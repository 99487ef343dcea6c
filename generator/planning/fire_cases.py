"""A judged part asked about fire once more: with other papers, of another material, or for its rows."""

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, replace

from generator.records.catalogue import Catalogue
from generator.records.parts import Part
from generator.rules.contested import contested
from generator.rules.facts.case import Case, Copy
from generator.rules.facts.fields import Facts
from generator.rules.facts.of_fire import FireFound
from generator.rules.history import Stage
from generator.rules.sheet import Sheet
from generator.rules.verdicts import Outcome, Verdict, judged

FIRE_STEPS = frozenset({"fire_set", "fire_report", "fire_results", "fire_asked"})
"""Questions of the table that speak of fire."""
_GONE = (Stage.WITHDRAWN, Stage.SUPERSEDED)


def planned(sheets: Iterable[Sheet]) -> Iterator[tuple[Sheet, Part]]:
    """Parts that somebody may still want to fit, and whose record can be read."""
    for sheet in sheets:
        if sheet.part and sheet.grounds and sheet.mistake is None and sheet.stage not in _GONE:
            yield sheet, sheet.part


@dataclass(frozen=True, slots=True)
class Books:
    """The catalogue on a day, with the papers that are recorded as what they cannot all be (rules/contested.py)."""

    catalogue: Catalogue
    copy: Copy
    contested: Collection[str]

    @classmethod
    def of(cls, catalogue: Catalogue, copy: Copy) -> "Books":
        return cls(catalogue, copy, contested(catalogue.materials))


def case_of(sheet: Sheet, part: Part, books: Books) -> Case:
    """The part under no permit: what all papers of its materials are worth, approved or not."""
    return Case(
        folder=sheet.folder,
        part=part,
        catalogue=books.catalogue,
        history=sheet.history,
        copy=books.copy,
        bound={},
        problems=sheet.problems,
        walls=sheet.walls,
        contested=books.contested,
    )


def word_of(found: FireFound, sheet: Sheet, copy: Copy) -> Verdict:
    """What the fire questions of the one table say by themselves of what was found."""
    told = replace(
        sheet.grounds[0].permits[0],
        built_on=copy.built_on,
        fire_set="known" if found.need else None,
        fire_until=found.until,
        fire_failed=found.failed,
        fire_asked=found.asked,
    )
    return fire_word(told, copy)


def fire_word(facts: Facts, copy: Copy, steps: Collection[str] = FIRE_STEPS) -> Verdict:
    """The same of facts as they are."""
    taken = (each for each in judged(facts, copy.built_on).steps if each.step.id in steps)
    return max((each.step.otherwise for each in taken if each.outcome is not Outcome.PASSED), default=Verdict.FIT_IT)
