"""Does the label of what lies on the shelf say which revision it is, and did anybody approve that one? Are the yearly demand and the prices ones that can be?"""

from collections.abc import Iterable
from typing import Final

from generator.records.approvals import Approval, Approved, TakenOver, TrialOpened
from generator.records.parts import Part
from generator.records.problems import Path, Problem, doubt, wrong

MOST_A_YEAR: Final = 100_000
"""No depot asks for more of one part: common practice, no source."""
_A_CENT: Final = 0.005
"""Below it a price is none in whole cents."""
_MOST_PRICE: Final = 1_000_000
"""No piece that a print takes the place of costs more, in whichever currency: common practice, no source."""


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


def demand(part: Part) -> Iterable[Problem]:
    """A slip of some noughts, which would be ordered by."""
    if part.yearly_demand is not None and part.yearly_demand > MOST_A_YEAR:
        yield doubt("STOCK03", "too many", path=("yearly_demand",), found=round(part.yearly_demand), most=MOST_A_YEAR)


def prices(part: Part) -> Iterable[Problem]:
    """What was bought cost something: a nought stands for a price that nobody knows, and every piece would seem to cost more than it.

    Some noughts too many are a slip as well.
    """
    said: list[tuple[Path, float | None]] = [(("assembly", "price"), part.assembly.price if part.assembly else None)]
    said += [(("replaces", i, "price"), old.price) for i, old in enumerate(part.replaces)]
    yield from (doubt("PART04", "no price", path=path) for path, price in said if price is not None and price < _A_CENT)
    yield from (doubt("PART04", "too much", path=path, found=round(price), most=_MOST_PRICE) for path, price in said if price is not None and price > _MOST_PRICE)
