"""A judgement in the mechanic's words: the verdict, its one-line reason and every step."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from generator.pages.evidence import OpenFile, files_behind
from generator.pages.wording import Wording
from generator.records.catalogue import Catalogue
from generator.rules.facts.fields import OF_THE_TABLET, Facts, Text
from generator.rules.grounds import Ground
from generator.rules.history import Stage
from generator.rules.verdicts import Judgement, Outcome, Taken, Verdict, judged

# Questions about the permit itself; the same in site_src/assets/js/judge/reasons.js.
OF_THE_PERMIT = frozenset(
    {"begun", "lasts", "unchanged", "taken_over", "reviewed", "place", "asked_about", "evidence", "authority", "authority_alone"}
)

_FAILED_FIRST = (Outcome.FAILED, Outcome.UNKNOWN, Outcome.PASSED)


@dataclass(frozen=True, slots=True, kw_only=True)
class StepLine:
    outcome: str
    question: str
    found: str
    needed: str
    files: tuple[OpenFile, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class VerdictLines:
    """One verdict as it stands in the page without scripts."""

    ground: int | None
    """Index of the ground whose facts the scripts judge anew; None is fixed."""
    fleet: str
    vehicles: str
    ranges: tuple[str, ...] = ()
    """The vehicles as ranges such as 401-403, for the scripts; none where it speaks of the whole fleet."""
    place: str
    label_revision: str | None
    label_note: str
    """Which labels it speaks of; empty where the part has only one."""
    key: str
    word: str
    reason: str
    question: str = ""
    """What to ask of whoever is to be asked."""
    in_service: tuple[str, ...] = ()
    """What the maintenance plan keeps; nothing of what may not be fitted."""
    steps: tuple[StepLine, ...] = ()


def verdict_lines(
    index: int,
    ground: Ground,
    judgement: Judgement,
    catalogue: Catalogue,
    w: Wording,
    *,
    files: Mapping[str, OpenFile],
) -> VerdictLines:
    """The safe form of a verdict: what was "Fit it" on the build day says "Ask first" and why.

    files: how each file behind its questions is opened, by its path in the catalogue.
    """
    key = Verdict.ASK_FIRST.key if judgement.verdict is Verdict.FIT_IT else judgement.verdict.key
    return VerdictLines(
        ground=index,
        fleet=ground.fleet,
        vehicles=vehicle_words(ground.vehicles),
        ranges=ground.vehicles,
        place=catalogue.place_name(ground.fleet, ground.place),
        label_revision=ground.label_revision,
        label_note=w("part.only_label", revision=ground.label_revision) if ground.label_revision else "",
        key=key,
        word=w(f"verdict.{key}"),
        reason=static_reason(judgement, w),
        in_service=() if judgement.verdict is Verdict.DO_NOT_FIT else in_service(ground, judgement.facts.built_on, w),
        steps=step_lines(judgement, w, files),
    )


def step_lines(judgement: Judgement, w: Wording, files: Mapping[str, OpenFile]) -> tuple[StepLine, ...]:
    """Every question but those that only the tablet can answer, which its scripts add; what has not passed first."""
    asked = (taken for taken in failed_first(judgement) if taken.step.fact not in OF_THE_TABLET)
    return tuple(
        replace(
            step_line(taken, judgement.facts, w),
            files=tuple(files[path] for path in files_behind(taken.step.id, judgement.facts)),
        )
        for taken in asked
    )


def failed_first(judgement: Judgement) -> list[Taken]:
    """Failed, unknown, passed, each in the table's order; the same in site_src/assets/js/judge/reasons.js."""
    return sorted(judgement.steps, key=lambda taken: _FAILED_FIRST.index(taken.outcome))


def in_service(ground: Ground, day: date, w: Wording) -> tuple[str, ...]:
    """What the maintenance plan keeps by any permit in force, each once; the same in site_src/assets/js/judge/reasons.js."""
    in_force = (facts for facts in ground.permits if judged(facts, day).is_in_force)
    kept = dict.fromkeys(condition for facts in in_force for condition in facts.in_service)
    return tuple(w("in_service", condition=condition) for condition in kept)


def vehicle_words(ranges: tuple[str, ...]) -> str:
    """Ranges such as 401-403, 407 with a real dash."""
    return ", ".join(each.replace("-", "–") for each in ranges)


def reason(judgement: Judgement, w: Wording) -> str:
    """The one line that says why, on the day of the judgement."""
    decided = judgement.decided_by
    if decided is None:
        return w.filled(w.flat[f"reasons.{judgement.facts.permit}"], judgement.facts.text)
    return w.filled(w.flat[f"steps.{decided.step.id}.{decided.outcome}"], _told_of(judgement.facts))


def static_reason(judgement: Judgement, w: Wording) -> str:
    """The line for readers without scripts, who cannot know how old the page is."""
    told = reason(judgement, w)
    if judgement.verdict is not Verdict.FIT_IT:
        return told
    return w(
        "static.was_fit",
        built_on=w.day(judgement.facts.built_on),
        verdict=w("verdict.fit"),
        reason=told,
    )


def _has_no_permit(facts: Facts) -> bool:
    return not isinstance(facts.permit, str)


def _told_of(facts: Facts) -> Mapping[str, Text]:
    """The facts as words; where other vehicles alone are approved, the stage does not say "approved" of these."""
    if _has_no_permit(facts) and facts.stage is Stage.APPROVED:
        return {**facts.text, "stage": "approved elsewhere", "stage_since": None}
    return facts.text


def step_line(taken: Taken, facts: Facts, w: Wording) -> StepLine:
    """A question with what was found; without any permit, what asks about the permit has nothing to judge."""
    words = f"steps.{taken.step.id}"
    if _has_no_permit(facts) and taken.outcome is Outcome.UNKNOWN and taken.step.id in OF_THE_PERMIT:
        outcome, question = taken.outcome.value, w.flat[f"{words}.question"]
        return StepLine(outcome=outcome, question=question, found=w("no_permit"), needed="")
    told = _told_of(facts)
    return StepLine(
        outcome=taken.outcome.value,
        question=w.flat[f"{words}.question"],
        found=w.filled(w.flat[f"{words}.{taken.outcome}"], told),
        needed=w.filled(w.flat[f"{words}.needed"], told),
    )
