"""When does a part no longer answer what it was made for?"""

from dataclasses import dataclass

import pytest

from generator.records.approvals import (
    AcceptanceGiven,
    AcceptanceRefused,
    ApprovalRefused,
    Approved,
    DesignStarted,
    PrototypePrinted,
    QuestionAsked,
    SentForAcceptance,
    Superseded,
    TakenOver,
    Withdrawn,
)
from generator.rules.answering import has_ended

WALKED = (DesignStarted, PrototypePrinted, SentForAcceptance)


@dataclass(frozen=True)
class Told:
    """An approval of events of which only the kinds are asked."""

    events: tuple[object, ...]


def approval_of(*kinds):
    return Told(tuple(kind.model_construct() for kind in kinds))


@pytest.mark.parametrize(
    "kinds",
    [
        (*WALKED, AcceptanceRefused),
        (*WALKED, AcceptanceRefused, QuestionAsked),
        (*WALKED, AcceptanceGiven, ApprovalRefused),
        (*WALKED, Approved, Withdrawn),
        (*WALKED, Approved, Withdrawn, *WALKED, AcceptanceRefused),
        (*WALKED, Approved, Superseded, *WALKED, ApprovalRefused),
        (TakenOver, Withdrawn),
    ],
)
def test_a_way_that_ended_answers_nothing(kinds):
    assert has_ended(approval_of(*kinds))


@pytest.mark.parametrize(
    "kinds",
    [
        (),
        WALKED,
        (*WALKED, AcceptanceRefused, PrototypePrinted),
        (*WALKED, AcceptanceGiven, ApprovalRefused, DesignStarted),
        (*WALKED, Approved, *WALKED, AcceptanceRefused),  # a later revision was refused: the approved one stands
        (TakenOver, *WALKED, ApprovalRefused),
        (*WALKED, Approved, Superseded),  # its page names the part that takes its place
        (*WALKED, Approved, Withdrawn, DesignStarted),
    ],
)
def test_a_way_that_goes_on_or_stands_still_answers(kinds):
    assert not has_ended(approval_of(*kinds))


def test_a_part_without_an_approval_has_not_ended():
    assert not has_ended(None)
