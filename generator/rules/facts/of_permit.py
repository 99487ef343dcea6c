"""What does a permit say, does it still speak of what is there, and how does the part stand with the authority?"""

from typing import Literal

from generator.records.approvals import Approved, SentToAuthority
from generator.records.parts import Fit
from generator.rules.basis import Basis
from generator.rules.binding import place_changes_of
from generator.rules.changes import Means
from generator.rules.consequences import asks, line_of, voids
from generator.rules.facts.case import Case
from generator.rules.facts.fields import OPEN, Files, PermitFacts
from generator.rules.facts.of_screening import significance
from generator.rules.permits import Permit


def permit_facts(
    case: Case, permit: Permit, fit: Fit, basis: Basis, *, own_text: bool = False
) -> PermitFacts:
    """own_text: the pieces are those that the permit binds, whatever the part has become since."""
    bound = case.bound[permit.index]
    there = place_changes_of(permit, fit.fleet, fit.place, case.catalogue, case.part)
    of_part = basis.changes if own_text else bound.changes
    # Nobody is asked yet about what is to be asked about: it keeps the part from being fitted.
    found = [change for change in of_part if change.means is not Means.FREE]
    found += [change for change in there or () if voids(change)]
    changed = tuple(dict.fromkeys(line_of(change) for change in found))
    named = tuple(line_of(change) for change in there or () if asks(change))
    return PermitFacts(
        route=case.history.route,
        permit="trial" if permit.is_trial else "approval",
        permit_from=permit.event.on,
        permit_until=OPEN if permit.open_ended else permit.valid_until,
        permit_reference=permit.event.reference,
        permit_revision=permit.event.revision,
        permit_evidence="kept" if permit.evidence_kept else None,
        same_as_approved=None if bound.text is None else ("no" if changed else "yes"),
        changed=changed,
        place_as_approved=None if there is None else ("no" if named else "yes"),
        place_changed=named,
        authority=_authority(case, permit, basis),
        significance=significance(case, is_assessed=permit.assessed),
        conditions=tuple(permit.conditions),
        permit_files=case.files_of(permit.event.evidence),
        permit_letters=case.files_of(permit.letters),
        authority_files=_sent_to_the_authority(case, permit),
    )


def no_permit_facts(case: Case, label_revision: str | None = None) -> PermitFacts:
    said = significance(case, is_assessed=case.history.assessed)
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
