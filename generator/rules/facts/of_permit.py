"""What does a permit say, does it still speak of what is there, and how does the part stand with the authority?"""

from collections.abc import Iterable
from typing import Literal

from generator.records.approvals import Approved, SentToAuthority, TrialResult
from generator.records.conditions import Applies
from generator.records.parts import Fit
from generator.rules.basis import Basis
from generator.rules.binding import place_changes_of
from generator.rules.changes import Change, Means
from generator.rules.consequences import line_of
from generator.rules.facts.case import Case
from generator.rules.facts.fields import OPEN, Files, PermitFacts
from generator.rules.facts.of_screening import significance
from generator.rules.fingerprint import VERSION, version_of
from generator.rules.permits import Permit, Tried

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
    before = tuple(each.text for each in permit.conditions if each.applies is Applies.BEFORE_FITTING)
    unplanned = tuple(
        each.text for each in permit.conditions if each.applies is Applies.IN_SERVICE and not each.is_planned
    )
    return PermitFacts(
        route=case.history.route,
        permit="trial" if permit.is_trial else "approval",
        permit_on=permit.event.on,
        permit_from=permit.begins,
        permit_until=OPEN if permit.open_ended else permit.valid_until,
        permit_reference=permit.event.reference,
        permit_revision=permit.event.revision,
        permit_evidence="kept" if permit.evidence_kept else None,
        same_as_approved=None if bound.text is None else ("no" if void else "yes"),
        changed=_lines(void),
        changed_why=_reasons(void),
        place_as_approved=None if there is None else "yes",
        asked_about=_lines(asked),
        asked_why=_reasons(asked),
        changed_freely=_lines(free),
        authority=_authority(case, permit, basis),
        significance=significance(case, is_assessed=bool(permit.assessment)),
        question_open_since=permit.question_since,
        trial_until=first.last_day if first else OPEN,
        trial_result=_result(first),
        conditions=before + unplanned,
        before_fitting=before,
        unplanned=unplanned,
        in_service=tuple(f"{each.text} ({each.maintenance_plan})" for each in permit.conditions if each.is_planned),
        reviewed="trial" if permit.is_trial else "yes" if permit.reviewed else None,
        permit_files=case.files_of(permit.event.evidence),
        assessment_files=case.files_of(permit.assessment),
        permit_letters=case.files_of(permit.letters),
        lasting_files=case.files_of((*permit.event.evidence, *permit.prolonged)),
        condition_files=case.files_of(file for each in permit.conditions for file in permit.set_by.get(each.text, ())),
        permit_by=case.name_of(permit.event.by),
        authority_files=_sent_to_the_authority(case, permit),
    )


def _older_form(permit: Permit) -> tuple[Change, ...]:
    """A text of an older form binds no papers, documents or notes: whether they are the same nobody can tell."""
    if version_of(permit.text) == VERSION:
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
    return PermitFacts(route=case.history.route, label_revision=label_revision, significance=said)


def _authority(
    case: Case, permit: Permit, basis: Basis
) -> Literal["not needed", "approved", "asked", "waived", "missing"]:
    """How a safety-role part stands with the authority: the customer's word alone is never enough."""
    if not basis.is_safety:
        return "not needed"
    if permit.authority_asked:
        return "approved" if isinstance(permit.event, Approved) else "asked"
    return "waived" if case.folder.approval and case.folder.approval.waiver else "missing"


def _sent_to_the_authority(case: Case, permit: Permit) -> Files:
    """What the last sending before the permit enclosed, of a permit for which the authority was asked."""
    events = case.folder.approval.events[: permit.index] if case.folder.approval else ()
    sent = [event for event in events if isinstance(event, SentToAuthority)]
    return case.files_of(sent[-1].evidence) if permit.authority_asked and sent else ()
