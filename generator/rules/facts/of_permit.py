"""What does a permit say, does it still speak of what is there, and how does the part stand with the authority?"""

from collections.abc import Iterable
from datetime import date
from typing import Literal, TypedDict

from generator.records.approvals import Approved, Route, SentToAuthority, TakenOver, TrialResult
from generator.records.conditions import Applies
from generator.records.parts import Fit
from generator.records.placeholders import gives_no_reason
from generator.rules.basis import Basis
from generator.rules.binding import place_changes_of
from generator.rules.changes import Change, Means
from generator.rules.consequences import line_of
from generator.rules.facts.case import Case
from generator.rules.facts.fields import OPEN, Files, PermitFacts
from generator.rules.facts.of_screening import significance
from generator.rules.fingerprint import VERSION, version_of
from generator.rules.permits import Permit, Tried

LETTER_DOUBT = "APPR48"
"""Code of a warning about a letter that was taken over."""
_TOLD = 5
"""Changes that a reason names."""


def permit_facts(
    case: Case, permit: Permit, fit: Fit, basis: Basis, tried: Iterable[Tried] = (), *, own_text: bool = False
) -> PermitFacts:
    """tried: trials on these vehicles that have not passed, or not yet.

    own_text: the pieces are those that the permit binds, whatever the part has become since.
    """
    against = (each for each in tried if each.speaks_against(permit))
    first = min(against, key=lambda each: each.last_day, default=None)
    bound = case.bound[permit.index]
    there = place_changes_of(permit, fit.fleet, fit.place, case.catalogue, case.part)
    found = (*(basis.changes if own_text else bound.changes), *(there or ()), *_older_form(permit))
    void, asked, free = (tuple(each for each in found if each.means is means) for means in (Means.VOID, Means.ASK, Means.FREE))
    return PermitFacts(
        route=case.history.route,
        permit="trial" if permit.is_trial else "approval",
        permit_on=permit.event.on,
        permit_from=permit.begins,
        permit_until=OPEN if permit.open_ended else permit.valid_until,
        permit_reference=permit.event.reference,
        permit_revision=permit.event.revision,
        permit_evidence="kept" if permit.evidence_kept else None,
        **_taken_over(case, permit),
        same_as_approved=None if bound.text is None else "no" if void else "taken over" if permit.awaits else "yes",
        changed=_lines(void),
        changed_why=_reasons(void),
        place_as_approved=_place(case, permit, fit, is_told=there is not None),
        asked_about=_lines(asked),
        asked_why=_reasons(asked),
        changed_freely=_lines(free),
        authority=_authority(case, permit, basis),
        significance=significance(case, is_assessed=bool(permit.assessment)),
        question_open_since=permit.question_since,
        trial_until=first.last_day if first else OPEN,
        trial_result=_result(first),
        **_conditions(permit),
        reviewed=_reviewed(permit),
        permit_by=_by(case, permit),
        **_files(case, permit),
    )


class _Conditions(TypedDict):
    conditions: tuple[str, ...]
    before_fitting: tuple[str, ...]
    unplanned: tuple[str, ...]
    in_service: tuple[str, ...]


def _conditions(permit: Permit) -> _Conditions:
    """By when they apply, and whether the maintenance plan keeps them."""
    before = tuple(each.text for each in permit.conditions if each.applies is Applies.BEFORE_FITTING)
    unplanned = tuple(
        each.text for each in permit.conditions if each.applies is Applies.IN_SERVICE and not each.is_planned
    )
    return _Conditions(
        conditions=before + unplanned,
        before_fitting=before,
        unplanned=unplanned,
        in_service=tuple(f"{each.text} ({each.maintenance_plan})" for each in permit.conditions if each.is_planned),
    )


class _Files(TypedDict):
    permit_files: Files
    assessment_files: Files
    permit_letters: Files
    lasting_files: Files
    condition_files: Files
    authority_files: Files


def _files(case: Case, permit: Permit) -> _Files:
    """Behind each of its facts."""
    return _Files(
        permit_files=case.files_of(permit.event.evidence),
        assessment_files=case.files_of(permit.assessment),
        permit_letters=case.files_of(permit.letters),
        lasting_files=case.files_of((*permit.event.evidence, *permit.prolonged)),
        condition_files=case.files_of(file for each in permit.conditions for file in permit.set_by[each.text]),
        authority_files=_sent_to_the_authority(case, permit),
    )


class _TakenOver(TypedDict):
    taken_over: Literal["no", "confirmed", "awaiting", "doubtful"]
    letter_of: date | None
    letter_by: str | None
    confirmer: Route | None


def _taken_over(case: Case, permit: Permit) -> _TakenOver:
    """What is doubtful about the letter asks, until whoever confirms it says in a note what it says."""
    if not isinstance(taken := permit.event, TakenOver):
        return _TakenOver(taken_over="no", letter_of=None, letter_by=None, confirmer=None)
    note = permit.confirmed.note if permit.confirmed else None
    is_explained = note is not None and not gives_no_reason(note)
    is_doubtful = not is_explained and any(each.code == LETTER_DOUBT for each in case.problems)
    stands: Literal["confirmed", "awaiting", "doubtful"] = "awaiting" if permit.awaits else "doubtful" if is_doubtful else "confirmed"
    return _TakenOver(
        taken_over=stands,
        letter_of=taken.letter_of,
        letter_by=taken.approved_by,
        confirmer=None if stands == "confirmed" else taken.approver,
    )


def _place(case: Case, permit: Permit, fit: Fit, *, is_told: bool) -> Literal["yes", "taken over"] | None:
    """Whether the place is told by what the permit binds; a letter that binds nothing yet names it alone."""
    if permit.awaits and case.catalogue.place(fit.fleet, fit.place):
        return "taken over"
    return "yes" if is_told else None


def _reviewed(permit: Permit) -> Literal["yes", "trial", "taken over"] | None:
    if isinstance(permit.event, TakenOver):
        return "taken over"
    return "trial" if permit.is_trial else "yes" if permit.reviewed else None


def _by(case: Case, permit: Permit) -> str:
    """Who gave it, or who has confirmed it; of a letter that awaits that, who approved it, as it says."""
    if isinstance(permit.event, TakenOver):
        return case.name_of(permit.confirmed.by) if permit.confirmed else permit.event.approved_by
    return case.name_of(permit.event.by)


def _older_form(permit: Permit) -> tuple[Change, ...]:
    """A text of an older form binds no papers, documents or notes: whether they are the same nobody can tell."""
    if permit.awaits or version_of(permit.text) == VERSION:
        return ()
    return (Change("spares fingerprint", None, None, Means.ASK, "older form"),)


def _lines(changes: Iterable[Change]) -> tuple[str, ...]:
    """The first few: the reason is read in half a minute, and the page lists all of them."""
    found = tuple(dict.fromkeys(line_of(change) for change in changes))
    return found if len(found) <= _TOLD else (*found[: _TOLD - 1], "more")


def _reasons(changes: Iterable[Change]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(change.reason for change in changes))


def _result(tried: Tried | None) -> Literal["failed", "broken off", "not said"] | None:
    match tried and tried.result:
        case TrialResult.FAILED:
            return "failed"
        case TrialResult.BROKEN_OFF:
            return "broken off"
        case _:
            return "not said" if tried else None


def no_permit_facts(case: Case, label_revision: str | None = None) -> PermitFacts:
    said = significance(case, is_assessed=bool(case.history.assessment))
    return PermitFacts(
        route=case.history.route,
        label_revision=label_revision,
        significance=said,
        asked_about=(),
        question_open_since=None,
        trial_until=OPEN,
        conditions=(),
    )


def _authority(
    case: Case, permit: Permit, basis: Basis
) -> Literal["not needed", "approved", "asked", "waived", "missing", "taken over"]:
    """How a safety-role part stands with the authority: the customer's word alone is never enough.

    A customer's letter of before this record is not, whatever was waived since: who waived it did not read that letter.
    """
    if not basis.is_safety:
        return "not needed"
    if isinstance(permit.event, TakenOver):
        if not Route.AUTHORITY is permit.event.approver is case.history.route:
            return "missing"
        return "taken over" if permit.awaits else "approved"
    if permit.authority_asked:
        return "approved" if isinstance(permit.event, Approved) else "asked"
    return "waived" if case.folder.approval and case.folder.approval.waiver else "missing"


def _sent_to_the_authority(case: Case, permit: Permit) -> Files:
    """What the last sending before the permit enclosed, of a permit for which the authority was asked."""
    events = case.folder.approval.events[: permit.index] if case.folder.approval else ()
    sent = [event for event in events if isinstance(event, SentToAuthority)]
    return case.files_of(sent[-1].evidence) if permit.authority_asked and sent else ()
