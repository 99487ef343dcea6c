"""Does the label of what lies on the shelf say which revision it is, and did anybody approve that one?"""

from collections.abc import Iterable

from generator.reading.placing import Finding
from generator.records.approvals import Approval, Approved, TrialOpened
from generator.records.parts import Part


def shelf(part: Part, approval: Approval | None) -> Iterable[Finding]:
    """Once another revision than the part's own was approved or tried, the label of the stock has to be written down."""
    if part.stock is None or part.stock.on_shelf == 0:
        return
    known = _revisions(approval)
    label = part.stock.revision
    if label is None and not set(known) <= {part.revision}:
        says = f"does not say which revision the labels name; {', '.join(known)} was approved or tried"
        yield Finding("STOCK01", ("stock",), says, "add 'revision: …' as the labels say")
    elif label is not None and label not in (known or [part.revision]):
        says = f"says that the labels name revision {label}, which nobody approved or tried"
        fix = "write what the labels say; take what nobody approved off the shelf"
        yield Finding("STOCK01", ("stock", "revision"), says, fix)


def _revisions(approval: Approval | None) -> list[str]:
    permits = (
        (event for event in approval.events if isinstance(event, Approved | TrialOpened)) if approval else ()
    )
    return list(dict.fromkeys(permit.revision for permit in permits))
