"""Which step does a submission ask for, of a part as its record stands, and which records does it rest on?"""

from collections.abc import Iterator, Mapping
from enum import StrEnum
from typing import Final

from generator.planning.overview import Lapsing, Missing, OverviewRow
from generator.records.accompanying import Submitted
from generator.records.approvals import (
    ChangeAccepted,
    Renewed,
    Route,
    SentForAcceptance,
    SentToAuthority,
    SentToTechnicalReview,
    TakeOverConfirmed,
)
from generator.records.base import Record
from generator.records.catalogue import Catalogue
from generator.records.problems import Problem, Severity
from generator.rules.consequences import asks
from generator.rules.history import Holder, Stage
from generator.rules.production.incomplete import gaps_of
from generator.rules.sheet import Sheet


class Asks(StrEnum):
    """What a reviewer is asked for."""

    ACCEPTANCE = "acceptance"
    """The customer's acceptance of the prototype."""
    REVIEW = "review"
    """The technical review, and on the customer route the approval."""
    AUTHORITY = "authority"
    """The authority's approval."""
    RENEWAL = "renewal"
    """A new last day for what was approved and has not changed."""
    CHANGE = "change"
    """That a change is accepted which voids nothing."""
    CONFIRMATION = "confirmation"
    """That an approval of before this record speaks of what lies here."""


_ON_THE_WAY = {
    Stage.DESIGN: Asks.ACCEPTANCE,
    Stage.PROTOTYPE: Asks.ACCEPTANCE,
    Stage.ACCEPTANCE: Asks.ACCEPTANCE,
    Stage.AUTHORITY_REVIEW: Asks.AUTHORITY,
    Stage.TAKEN_OVER: Asks.CONFIRMATION,
}


def asked_of(sheet: Sheet) -> Asks:
    """The step that is next; what was withdrawn or has changed for good begins with a review."""
    told, stage = sheet.history, sheet.stage
    if stage in _ON_THE_WAY:
        return _ON_THE_WAY[stage]
    if stage is Stage.LAPSED:
        return Asks.CONFIRMATION if told.awaits else Asks.RENEWAL
    if stage is Stage.APPROVED:
        return Asks.CHANGE if any(map(asks, sheet.changes)) else Asks.RENEWAL
    is_reviewed = stage is Stage.TECHNICAL_REVIEW and not told.question_open and told.route is Route.AUTHORITY
    return Asks.AUTHORITY if is_reviewed else Asks.REVIEW


_WAY = (Asks.ACCEPTANCE, Asks.REVIEW, Asks.AUTHORITY)


def can_be_asked(sheet: Sheet) -> tuple[Asks, ...]:
    """The steps for which a submission can ask: the next one, those that lie ahead of it on the part's route, and of what has lapsed or
    changed the way from its beginning. What nobody can answer (an authority beside its route, a letter that nobody took over) is none of them.
    """
    usual, told = asked_of(sheet), sheet.history
    ways = _WAY if told.route is Route.AUTHORITY else _WAY[:-1]
    found = {usual}
    if usual in _WAY:
        begins_anew = sheet.stage in (Stage.CHANGED, Stage.WITHDRAWN, Stage.SUPERSEDED)
        found |= set(ways if begins_anew else ways[ways.index(usual) :])
    elif sheet.stage is Stage.LAPSED:
        found |= set(ways)
    if told.approval and not told.approval.awaits and sheet.stage in (Stage.APPROVED, Stage.LAPSED):
        found.add(Asks.RENEWAL)
    return tuple(each for each in Asks if each in found)


GOES_OUT = frozenset({Missing.SEND_FOR_ACCEPTANCE, Missing.COMPLETE_DOCUMENTS, Missing.SEND_TO_REVIEW, Missing.RESUBMISSION, Missing.SEND_TO_AUTHORITY, Missing.RENEWAL})
"""What is done by handing somebody the documents."""


def goes_out_next(row: OverviewRow) -> bool:
    """Whether what comes next is a submission: of documents that are gathered, a step, the renewal of what ends soon, or a change to be accepted."""
    if row.sheet.is_broken:
        return False
    if row.stage is Stage.APPROVED:
        return any(each.what is Lapsing.APPROVAL for each in row.lapses) or any(map(asks, row.sheet.changes))
    return row.stage is Stage.DOCUMENTS or not GOES_OUT.isdisjoint(row.missing)


RECORDED_AS: Final[Mapping[Asks, type[Record]]] = {
    Asks.ACCEPTANCE: SentForAcceptance,
    Asks.REVIEW: SentToTechnicalReview,
    Asks.AUTHORITY: SentToAuthority,
    Asks.RENEWAL: Renewed,
    Asks.CHANGE: ChangeAccepted,
    Asks.CONFIRMATION: TakeOverConfirmed,
}
"""The event that is written down once the step is asked for, or answered where nobody writes down that it was asked."""


def keeps_sum(asked: Asks) -> bool:
    """Whether that event keeps the sum of what is submitted: a trial of a prototype or a renewal binds nothing, and an accepted change or a
    confirmed letter binds a text of its own, with the places of that approval.
    """
    return issubclass(RECORDED_AS[asked], Submitted)


def whom(asked: Asks, route: Route) -> Holder:
    """Who answers: the customer tries the prototype and reviews first on either route."""
    if asked in (Asks.ACCEPTANCE, Asks.REVIEW):
        return Holder.CUSTOMER
    return Holder.AUTHORITY if asked is Asks.AUTHORITY or route is Route.AUTHORITY else Holder.CUSTOMER


def unread_for(sheet: Sheet, catalogue: Catalogue) -> tuple[Problem, ...]:
    """What is wrong with the records that a submission of this part rests on, where one cannot be read: nobody knows what it says.

    A mistake that leaves a record whole is told as a gap.
    """
    files = frozenset(_unread_files(sheet, catalogue))
    every = dict.fromkeys((*sheet.folder.problems, *catalogue.problems))
    return tuple(each for each in every if each.severity is Severity.ERROR and each.where.file in files)


def _unread_files(sheet: Sheet, catalogue: Catalogue) -> Iterator[str]:
    folder, part = sheet.folder, sheet.part
    own = {"part.yml": part, "approval.yml": folder.approval, "fitting.md": folder.fitting}
    yield from (f"{folder.folder}/{name}" for name, record in own.items() if record is None)
    yield from (f"materials/{each}.yml" for each in (part.materials if part else ()) if each not in catalogue.materials)
    yield from (gap.file for gap in gaps_of(catalogue.production, parts={sheet.number}, recalls=False))
