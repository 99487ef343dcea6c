"""The three words, the one table of questions behind them, and how it is read.

The browser reads the same table (as JSON) with the same six tests, by the tablet's own clock; both are held
to the vectors in tests/rules/vectors.json.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from enum import IntEnum, StrEnum

from generator.rules.facts.fields import OPEN, UNSAID, Facts, FactValue


class Verdict(IntEnum):
    """What a mechanic may do, from best to worst."""

    FIT_IT = 0
    ASK_FIRST = 1
    DO_NOT_FIT = 2

    @property
    def key(self) -> str:
        return ("fit", "ask", "no")[self]


class Outcome(StrEnum):
    PASSED = "passed"
    FAILED = "failed"
    UNKNOWN = "unknown"


class Look(StrEnum):
    """How a step looks at its fact. A fact that is missing or malformed is unknown, whatever the test."""

    ABSENT = "absent"  # nothing may be noted
    ONE_OF = "one of"  # one of the needed words
    BEGUN = "begun"  # a day, today or earlier
    LASTS = "lasts"  # a day, today or later, or "open"
    CLOCK = "clock"  # today is not before the day the copy was built
    YOUNG = "young"  # the copy is not older than it may get


@dataclass(frozen=True, slots=True)
class Step:
    """One question of the table: the fact it looks at, how, and what follows where it does not pass."""

    id: str
    fact: str
    test: Look
    needed: tuple[str, ...] = ()
    otherwise: Verdict = Verdict.DO_NOT_FIT
    tells_force: bool = False
    """Whether a permit that fails here is not in force, so that it has no say beside one that is."""
    open_by: tuple[str, ...] = ()
    """Facts of which each, where it notes something, leaves open what would pass here: it is unknown, to be asked about, and whoever else asks is the reason."""


TABLE: tuple[Step, ...] = (
    Step("record", "mistake", Look.ABSENT),
    Step("piece_recalled", "piece_recalled_on", Look.ABSENT, open_by=("piece_recalls", "piece_strange")),
    Step("withdrawn", "withdrawn_on", Look.ABSENT),
    Step("forgotten", "forgotten", Look.ABSENT),
    Step("superseded", "superseded_on", Look.ABSENT),
    Step("permit", "permit", Look.ONE_OF, ("approval", "trial"), tells_force=True),
    Step("begun", "permit_from", Look.BEGUN, tells_force=True),
    Step("lasts", "permit_until", Look.LASTS, tells_force=True),
    Step("unchanged", "same_as_approved", Look.ONE_OF, ("yes", "taken over")),
    Step("evidence", "permit_evidence", Look.ONE_OF, ("kept",)),
    Step("authority", "authority", Look.ONE_OF, ("approved", "not needed", "waived", "asked", "taken over")),
    Step("authorisation", "authorisation", Look.ONE_OF, ("not needed", "not judged", "kept")),
    Step("certificate", "certificate_until", Look.LASTS, open_by=("piece_unpapered",)),
    Step("fire_set", "fire_set", Look.ONE_OF, ("known",)),
    Step("fire_report", "fire_until", Look.LASTS),
    Step("fire_results", "fire_failed", Look.ABSENT),
    Step("stock_stopped", "stock_stopped", Look.ABSENT),
    Step("stock_until", "stock_until", Look.LASTS),
    Step("piece_released", "piece_released", Look.ONE_OF, ("any", "released"), open_by=("piece_strange",)),
    Step("piece_revision", "piece_revision", Look.ONE_OF, ("any", "own"), open_by=("piece_strange",)),
    Step("piece_same", "piece_same", Look.ONE_OF, ("any", "yes"), open_by=("piece_strange",)),
    Step("taken_over", "taken_over", Look.ONE_OF, ("no", "confirmed"), Verdict.ASK_FIRST),
    Step("authority_alone", "authority", Look.ONE_OF, ("approved", "not needed"), Verdict.ASK_FIRST),
    Step("reviewed", "reviewed", Look.ONE_OF, ("yes", "trial", "taken over"), Verdict.ASK_FIRST),
    Step("place", "place_as_approved", Look.ONE_OF, ("yes", "taken over"), Verdict.ASK_FIRST),
    Step("asked_about", "asked_about", Look.ABSENT, (), Verdict.ASK_FIRST),
    Step("fire_asked", "fire_asked", Look.ABSENT, (), Verdict.ASK_FIRST),
    Step("older_stock", "older_stock", Look.ONE_OF, ("own", "use up", "stop", "call back"), Verdict.ASK_FIRST),
    Step("question", "question_open_since", Look.ABSENT, (), Verdict.ASK_FIRST),
    Step("trial_result", "trial_until", Look.LASTS, (), Verdict.ASK_FIRST),
    Step("conditions", "conditions", Look.ABSENT, (), Verdict.ASK_FIRST),
    Step("screening", "screening_judged", Look.ONE_OF, ("yes",), Verdict.ASK_FIRST),
    Step("significance", "significance", Look.ONE_OF, ("not significant", "assessed"), Verdict.ASK_FIRST),
    Step("proven", "unproven", Look.ABSENT, (), Verdict.ASK_FIRST),
    Step("model", "model_doubt", Look.ABSENT, (), Verdict.ASK_FIRST),
    Step("piece", "piece", Look.ONE_OF, ("not kept", "any", "known"), Verdict.ASK_FIRST),
    Step("piece_asked", "piece_asked", Look.ABSENT, (), Verdict.ASK_FIRST, open_by=("piece_strange",)),
    Step("clock", "built_on", Look.CLOCK, (), Verdict.ASK_FIRST),
    Step("copy_age", "built_on", Look.YOUNG, (), Verdict.ASK_FIRST),
    Step("whole", "copy", Look.ONE_OF, ("whole",), Verdict.ASK_FIRST),
    Step("newest", "newer_copy", Look.ONE_OF, ("none", "same"), Verdict.ASK_FIRST),
)


@dataclass(frozen=True, slots=True)
class Taken:
    """A step as it went."""

    step: Step
    outcome: Outcome
    found: FactValue
    limit: date | int | None = None
    """What a number or day was held against; None of the other looks."""
    margin: int | None = None
    """How much is left before it fails, in days; below nothing it has failed by as much."""
    is_open: bool = False
    """Unknown only because another fact leaves it open."""

    @property
    def otherwise(self) -> Verdict:
        return Verdict.ASK_FIRST if self.is_open else self.step.otherwise


@dataclass(frozen=True, slots=True)
class Judgement:
    """The verdict, the step that decided it (None when all passed) and every step; `facts` is what was judged."""

    verdict: Verdict
    decided_by: Taken | None
    steps: tuple[Taken, ...]
    facts: Facts

    @property
    def is_in_force(self) -> bool:
        """Whether the permit that was judged speaks on that day at all."""
        return all(taken.outcome is Outcome.PASSED for taken in self.steps if taken.step.tells_force)


def judged(facts: Facts, day: date) -> Judgement:
    """Ask every question of the table on `day`; the worst answer is the verdict, unknown never passes."""
    steps = tuple(_left_open(_taken(step, facts, day), facts) for step in TABLE)
    bad = [taken for taken in steps if taken.outcome is not Outcome.PASSED]
    worst = max((taken.otherwise for taken in bad), default=Verdict.FIT_IT)
    first = sorted(bad, key=lambda taken: taken.is_open)
    decided_by = next((taken for taken in first if taken.otherwise is worst), None)
    return Judgement(worst, decided_by, steps, facts)


def judged_together(permits: Iterable[Facts], day: date) -> Judgement:
    """The most careful of the permits in force that speak of the same vehicle; the first where they are equal.

    Where none is in force, none speaks: then the kindest tells what is missing. Raises ValueError when there is no
    permit at all: a vehicle without one still has facts, with `permit` None.
    """
    judgements = [judged(facts, day) for facts in permits]
    in_force = [judgement for judgement in judgements if judgement.is_in_force]
    if in_force:
        return max(in_force, key=lambda judgement: judgement.verdict)
    return min(judgements, key=lambda judgement: judgement.verdict)


def _left_open(taken: Taken, facts: Facts) -> Taken:
    noted = (getattr(facts, name) for name in taken.step.open_by)
    is_open = taken.outcome is Outcome.PASSED and any(by is not UNSAID and bool(by) for by in noted)
    return replace(taken, outcome=Outcome.UNKNOWN, is_open=True) if is_open else taken


def _taken(step: Step, facts: Facts, day: date) -> Taken:
    value: FactValue = getattr(facts, step.fact)
    match step.test:
        case _ if value is UNSAID:
            return Taken(step, Outcome.UNKNOWN, None)
        case Look.ABSENT:
            return Taken(step, _passed(value is None or value == ()), value)
        case Look.ONE_OF:
            return Taken(step, Outcome.UNKNOWN if value is None else _passed(value in step.needed), value)
        case Look.BEGUN | Look.CLOCK:
            return _held(step, value, day, 1)
        case Look.LASTS:
            return Taken(step, Outcome.PASSED, value) if value is OPEN else _held(step, value, day, -1)
        case Look.YOUNG:
            return _young(step, value, facts.max_copy_age_days, day)


def _held(step: Step, value: FactValue, day: date, sign: int) -> Taken:
    """A noted day against today: it passes where today is not before it (sign 1), or not after it (-1)."""
    if type(value) is not date:
        return Taken(step, Outcome.UNKNOWN, value, day)
    margin = sign * (day - value).days
    return Taken(step, _passed(margin >= 0), value, day, margin)


def _young(step: Step, value: FactValue, most_days: FactValue, day: date) -> Taken:
    if type(value) is not date or type(most_days) is not int or most_days < 0:
        return Taken(step, Outcome.UNKNOWN, value)
    margin = most_days - (day - value).days
    return Taken(step, _passed(margin >= 0), value, most_days, margin)


def _passed(does: bool) -> Outcome:  # noqa: FBT001
    return Outcome.PASSED if does else Outcome.FAILED


def table_for_browser() -> list[dict[str, object]]:
    """The table as plain JSON data."""
    return [
        {
            "id": step.id,
            "fact": step.fact,
            "test": step.test,
            "needed": list(step.needed),
            "otherwise": step.otherwise.key,
            "tells_force": step.tells_force,
            "open_by": list(step.open_by),
        }
        for step in TABLE
    ]
