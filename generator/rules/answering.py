"""Does a part answer a request? Not one that was withdrawn: whoever asked has nothing to fit, so the request is open again."""

from generator.records.approvals import Approval, Withdrawn
from generator.records.catalogue import Catalogue
from generator.records.requests import Request
from generator.rules.history import OPENS


def is_withdrawn(approval: Approval | None) -> bool:
    """Whether nothing has begun anew since a withdrawal, which counts on any day."""
    stages = [event for event in approval.events if type(event) in OPENS] if approval else []
    return bool(stages) and isinstance(stages[-1], Withdrawn)


def answer(request: Request, catalogue: Catalogue) -> str | None:
    """The number of the part that answers it; None of an open one."""
    folder = catalogue.folder(request.answered_by) if request.answered_by else None
    return None if folder and is_withdrawn(folder.approval) else request.answered_by
