"""Does each role exist, and may it say what it says? Only some roles speak for the customer or the authority."""

from collections.abc import Iterable

from generator.reading.placing import Finding, must_exist
from generator.records.approvals import (
    AcceptanceGiven,
    AcceptanceRefused,
    Approval,
    ApprovalRefused,
    Approved,
    ChangeAccepted,
    ConditionLifted,
    OlderStockSettled,
    RecordCorrected,
    Renewed,
    Route,
    SafetyAssessmentReport,
    TakeOverConfirmed,
    TrialClosed,
    TrialOpened,
    TrialResult,
    Waiver,
)
from generator.records.base import Record
from generator.records.depot import ActsAs, Depot
from generator.records.fire import Fire
from generator.records.problems import Path, Problem, wrong
from generator.records.screening import Screening
from generator.rules.facts.of_fire import ACCEPTS
from generator.rules.past import GIVES

# Whoever decides on an approval; what only makes it more careful (a condition, a withdrawal) is open to all.
_DECISIONS = (Approved, ApprovalRefused, Renewed, ConditionLifted, ChangeAccepted, OlderStockSettled, TakeOverConfirmed)


def role(depot: Depot | None, name: str, path: Path) -> Iterable[Finding]:
    """The role must exist; a depot.yml that cannot be read is told there."""
    if depot:
        yield from must_exist("role", name, (each.id for each in depot.roles), path)


def fire_roles(depot: Depot | None, fire: Fire, path: Path) -> Iterable[Finding]:
    """Only a fire engineer chooses what the standard asks, and says that no test is asked."""
    engineer = (ActsAs.FIRE_ENGINEER,)
    yield from _acting(depot, fire.chosen_by, engineer, wrong("APPR23", "chooses", "able", path=(*path, "chosen_by")))
    if fire.exemption:
        here = (*path, "exemption", "by")
        yield from _acting(depot, fire.exemption.by, engineer, wrong("APPR23", "exempts", "able", path=here))


def report_role(depot: Depot | None, name: str, path: Path) -> Iterable[Finding]:
    """Who says until when a fire report is accepted: the fire engineer, or who answers for the vehicles."""
    yield from _acting(depot, name, tuple(sorted(ACCEPTS)), wrong("APPR23", "accepts", "able", path=path))


def approval_roles(depot: Depot | None, approval: Approval) -> Iterable[Finding]:
    """Everybody named in approval.yml: in its events, its waiver and its screening."""
    for i, event in enumerate(approval.events):
        found = wrong("APPR23", "says", "able", path=("events", i, "by"), what=event.what)
        may = who_may(type(event), approval.route, passed=isinstance(event, TrialClosed) and event.result is TrialResult.PASSED)
        yield from _acting(depot, event.by, may, found)
        if isinstance(event, RecordCorrected) and not event.evidence and _corrects_a_permit(event, approval):
            yield wrong("PAST06", "no letter", path=("events", i, "corrects"), number=event.corrects)
        if isinstance(event, Approved) and event.carries_over:
            found = wrong("APPR23", "carries", "able", path=("events", i, "carries_over", "by"))
            yield from _acting(depot, event.carries_over.by, may, found)
        if isinstance(event, RecordCorrected):
            yield from _correction(depot, event, i)
    if approval.waiver:
        yield from _waiver_role(depot, approval.waiver)
    if approval.screening:
        yield from _screening_roles(depot, approval.screening)


def who_may(kind: type[Record], route: Route, *, passed: bool = False) -> tuple[ActsAs, ...]:
    """As whom one has to act to say an event of this kind; empty where everybody may. passed: the trial that it closes."""
    if issubclass(kind, AcceptanceGiven | AcceptanceRefused):
        return (ActsAs.CUSTOMER,)
    if issubclass(kind, SafetyAssessmentReport):
        return (ActsAs.ASSESSMENT_BODY,)
    if issubclass(kind, RecordCorrected):
        return (ActsAs.QUALITY,)
    if issubclass(kind, TrialOpened) or (issubclass(kind, TrialClosed) and passed):
        return (ActsAs.CUSTOMER, ActsAs.AUTHORITY)
    if issubclass(kind, _DECISIONS):
        return (ActsAs.AUTHORITY if route is Route.AUTHORITY else ActsAs.CUSTOMER,)
    return ()


def _corrects_a_permit(event: RecordCorrected, approval: Approval) -> bool:
    """Whether it speaks of an event that gives a permission or prolongs it: that is shown by the letter itself."""
    index = event.corrects - 1 if isinstance(event.corrects, int) else -1
    corrected = approval.events[index] if 0 <= index < len(approval.events) else None
    return corrected is not None and not isinstance(corrected, RecordCorrected) and corrected.what in GIVES


def _correction(depot: Depot | None, event: RecordCorrected, index: int) -> Iterable[Finding]:
    """Four eyes, and an event that there was (common practice, no source)."""
    path: Path = ("events", index)
    yield from role(depot, event.checked_by, (*path, "checked_by"))
    if event.checked_by == event.by:
        yield wrong("PAST06", "two eyes", path=(*path, "checked_by"), by=event.by)
    if isinstance(event.corrects, int) and event.corrects > index + 1:
        yield wrong("PAST06", "no such event", path=(*path, "corrects"), number=event.corrects)


def kept_since_role(depot: Depot) -> Iterable[Finding]:
    """Only who acts for quality leaves the older past of the records out."""
    if depot.records_kept_since:
        path: Path = ("records_kept_since", "by")
        yield from _acting(depot, depot.records_kept_since.by, (ActsAs.QUALITY,), wrong("APPR23", "leaves out", "able", path=path))


def _waiver_role(depot: Depot | None, waiver: Waiver) -> Iterable[Finding]:
    may = (ActsAs.CUSTOMER, ActsAs.SAFETY_MANAGER)
    yield from _acting(depot, waiver.by, may, wrong("APPR23", "waives", "able", path=("waiver", "by")))


def _screening_roles(depot: Depot | None, screening: Screening) -> Iterable[Finding]:
    for key in type(screening).model_fields:
        answer = getattr(screening, key)
        if isinstance(answer, Record) and hasattr(answer, "by"):
            yield from role(depot, answer.by, ("screening", key, "by"))
    for name, own in screening.own_answers.items():
        yield from role(depot, own.by, ("screening", "own_answers", name, "by"))
    if screening.authorisation:
        found = wrong("APPR23", "authorises", "able", path=("screening", "authorisation", "by"))
        yield from _acting(depot, screening.authorisation.by, (ActsAs.AUTHORITY,), found)
    if screening.judged_by:
        may = (ActsAs.CUSTOMER, ActsAs.AUTHORITY, ActsAs.SAFETY_MANAGER)
        found = wrong("APPR23", "judges", "able", path=("screening", "judged_by"))
        yield from _acting(depot, screening.judged_by, may, found)


def _acting(
    depot: Depot | None, name: str, may: tuple[ActsAs, ...], otherwise: Problem
) -> Iterable[Finding]:
    """The role must exist and, where `may` names anybody, act as one of them."""
    yield from role(depot, name, otherwise.path)
    found = next((each for each in depot.roles if each.id == name), None) if depot else None
    if depot is None or found is None or not may or set(may) & set(found.acts_as):
        return
    able = [each.id for each in depot.roles if set(may) & set(each.acts_as)]
    told = otherwise.telling(by=name, wanted=tuple(may))
    yield told.mended("able", able=tuple(able)) if able else told.mended("give", line=f"acts_as: [{may[0]}]")
