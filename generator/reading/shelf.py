"""Does the label of what lies on the shelf say which revision it is, and did anybody approve that one?"""

from collections.abc import Iterable

from generator.records.approvals import Approval, Approved, TakenOver, TrialOpened
from generator.records.parts import Part
from generator.records.problems import Problem, wrong


def shelf(part: Part, approval: Approval | None) -> Iterable[Problem]:
    """Once another revision than the part's own was approved or tried, the label of the stock has to be written down."""
    if part.stock is None or part.stock.on_shelf == 0:
        return
    known = _revisions(approval)
    label = part.stock.revision
    if label is None and not set(known) <= {part.revision}:
        yield wrong("STOCK01", "no label", path=("stock",), known=known)
    elif label is not None and label not in (known or [part.revision]):
        yield wrong("STOCK01", "strange label", path=("stock", "revision"), label=label)


def _revisions(approval: Approval | None) -> list[str]:
    permits = (
        (event for event in approval.events if isinstance(event, Approved | TrialOpened | TakenOver)) if approval else ()
    )
    return list(dict.fromkeys(permit.revision for permit in permits))
