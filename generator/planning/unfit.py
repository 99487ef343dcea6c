"""Approved, yet not to be fitted: which questions are not passed, and for which vehicles?"""

from dataclasses import dataclass
from datetime import date

from generator.records.parts import WithoutModel
from generator.rules.facts.fields import PieceFacts
from generator.rules.grounds import Ground
from generator.rules.history import Stage
from generator.rules.sheet import Sheet
from generator.rules.verdicts import TABLE, Judgement, Look, Outcome, Taken, Verdict, judged

# What fails because somebody who may say so wants it so: nothing is missing, and there is nothing to hurry.
DECIDED = frozenset(
    {
        "withdrawn", "forgotten", "superseded", "begun", "stock_stopped", "stock_until", "conditions", "authority_alone"
    }
)  # fmt: skip


UNRELEASED = "unreleased"
"""What the question of the piece finds where pieces are about that wait for their release: the batch has to be released, not the part."""

# That there is no model and none to come is decided too; a scan to come is still missing.
_NO_MODEL = (WithoutModel.BOUGHT.value, WithoutModel.DRAWING_ONLY.value)


@dataclass(frozen=True, slots=True)
class Lack:
    """Vehicles at a place where a permit speaks and the part is not to be fitted all the same.

    `ground` is None of a part whose record cannot be read: nobody knows where it fits.
    """

    ground: Ground | None
    judgement: Judgement | None
    taken: tuple[Taken, ...]
    """The questions that were not passed, in the table's order."""


def lacks(sheet: Sheet) -> tuple[Lack, ...]:
    """Where a permit of the part does not lead to "Fit it", on the day of the sheet.

    That a letter awaits its confirmation is told on the way, where that is the next step.
    """
    if not sheet.grounds:
        record = Taken(TABLE[0], Outcome.UNKNOWN, None)
        return (Lack(None, None, (record,)),) if sheet.history.permits else ()
    judged = zip(sheet.grounds, sheet.judgements, strict=True)
    told = {"taken_over"} if sheet.history.awaits and sheet.stage in (Stage.TAKEN_OVER, Stage.LAPSED) else set()
    found = (
        Lack(ground, each, tuple(taken for taken in open_steps(each) if taken.step.id not in told))
        for ground, each in judged
        if _speaks(each)
    )
    return tuple(lack for lack in found if lack.taken)


def lacks_of_last_permit(sheet: Sheet, day: date) -> tuple[Lack, ...]:
    """The same of the permit that the record ends with, by itself, whatever else speaks of the same vehicles.

    What lies on the shelf is no matter of a permit: pieces printed before are told apart once it is given.
    """
    last = sheet.history.permits[-1].event if sheet.history.permits else None
    found = (
        Lack(ground, judgement, open_steps(judgement))
        for ground in sheet.grounds
        for facts in ground.permits
        if last and (facts.permit_from, facts.permit_reference) == (last.on, last.reference)
        for judgement in [judged(facts.of_piece(PieceFacts()), day)]
        if not ground.label_revision
    )
    return tuple(lack for lack in found if lack.taken)


def lacks_only_days(sheet: Sheet) -> bool:
    """Whether its own revision may be fitted nowhere, and somewhere only since a day has passed or is to come: of the approval or of a paper.

    A renewal brings that back. What is changed, refused, over for good or unknown it does not, nor a trial that has ended.
    """
    own = [judgement for ground, judgement in zip(sheet.grounds, sheet.judgements, strict=True) if not ground.label_revision]
    return all(each.verdict is Verdict.DO_NOT_FIT for each in own) and any(map(_lacks_only_days, own))


def _lacks_only_days(judgement: Judgement) -> bool:
    stops = [taken for taken in judgement.steps if taken.outcome is not Outcome.PASSED and taken.otherwise is Verdict.DO_NOT_FIT]
    are_days = all(taken.step.test in (Look.LASTS, Look.BEGUN) and taken.margin is not None for taken in stops)
    return judgement.facts.permit == "approval" and bool(stops) and are_days


def open_steps(judgement: Judgement) -> tuple[Taken, ...]:
    """What is missing for "Fit it"; not what was decided, nor what another question leaves open, which is missing itself."""
    bad = (taken for taken in judgement.steps if taken.outcome is not Outcome.PASSED)
    return tuple(taken for taken in bad if not _is_decided(taken) or _is_unplanned(taken, judgement))


def _is_decided(taken: Taken) -> bool:
    return taken.is_open or taken.step.id in DECIDED or (taken.step.id == "model" and taken.found in _NO_MODEL)


def _is_unplanned(taken: Taken, judgement: Judgement) -> bool:
    """A condition in service that no maintenance plan keeps: it lacks its reference."""
    return taken.step.id == "conditions" and bool(judgement.facts.unplanned)


def _speaks(judgement: Judgement) -> bool:
    """Whether there is an approval, in force or over, or a trial in force; a trial that is over asks for nothing."""
    return judgement.facts.permit == "approval" or judgement.is_in_force

