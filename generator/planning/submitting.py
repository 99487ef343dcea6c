"""Which step does a submission ask for, of a part as its record stands?"""

from enum import StrEnum

from generator.records.approvals import Route
from generator.rules.consequences import asks
from generator.rules.history import Holder, Stage
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


def whom(asked: Asks, route: Route) -> Holder:
    """Who answers: the customer tries the prototype and reviews first on either route."""
    if asked in (Asks.ACCEPTANCE, Asks.REVIEW):
        return Holder.CUSTOMER
    return Holder.AUTHORITY if asked is Asks.AUTHORITY or route is Route.AUTHORITY else Holder.CUSTOMER
