"""Does a part answer a request? Not one whose way has ended, nor one that nobody can be shown yet: the request stays open."""

from collections.abc import Iterable

from generator.records.approvals import (
    AcceptanceRefused,
    Approval,
    ApprovalRefused,
    Approved,
    Superseded,
    TakenOver,
    Withdrawn,
)
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.parts import Part
from generator.records.problems import Problem, Severity
from generator.records.requests import Request
from generator.rules.history import OPENS


def has_ended(approval: Approval | None) -> bool:
    """Whether nothing has begun anew since a withdrawal, or since a refusal beside which no approval stands; on any day."""
    stages = [event for event in approval.events if type(event) in OPENS] if approval else []
    if not stages or not isinstance(stages[-1], Withdrawn | AcceptanceRefused | ApprovalRefused):
        return False
    settled = [each for each in stages if isinstance(each, Approved | TakenOver | Withdrawn | Superseded)]
    return not settled or isinstance(settled[-1], Withdrawn | Superseded)


def answers(part: Part | None, approval: Approval | None, problems: Iterable[Problem]) -> bool:
    """Whether a part with these records answers what it was made for."""
    return _is_shown(part, problems) and not has_ended(approval)


def answer(request: Request, catalogue: Catalogue) -> str | None:
    """The number of the part that answers it; None of an open one."""
    folder = _folder(request, catalogue)
    return folder.number if folder and answers(folder.part, folder.approval, folder.problems) else None


def worked_on(request: Request, catalogue: Catalogue) -> str | None:
    """Of an open one, the number of the part that is to answer it and whose records are unfinished or broken."""
    folder = _folder(request, catalogue)
    if folder is None or has_ended(folder.approval) or _is_shown(folder.part, folder.problems):
        return None
    return folder.number


def _folder(request: Request, catalogue: Catalogue) -> PartFolder | None:
    return catalogue.folder(request.answered_by) if request.answered_by else None


def _is_shown(part: Part | None, problems: Iterable[Problem]) -> bool:
    return part is not None and not any(each.severity is Severity.ERROR for each in problems)
