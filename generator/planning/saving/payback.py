"""Is the work paid back that went into a part: what design and approval took, by the minutes that were written down, against what it saved?

Minutes stand at events of approval.yml. Where none stands, nothing is guessed. What an hour costs the depot says (`costs_per_hour`);
until it does, minutes are told as minutes.
"""

from dataclasses import dataclass
from decimal import Decimal

from generator.planning.money import cents, exact
from generator.planning.months import Month
from generator.planning.saving.rows import Savings, Unknown
from generator.records.catalogue import Catalogue
from generator.rules.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class Payback:
    number: str
    minutes: int | None
    """Of all events together; None where none is written down."""
    events: int
    """At how many of them minutes stand."""
    cost: Decimal | None
    """None without minutes, or where nobody says what an hour costs."""
    saved: Decimal | None
    """None where pieces were fitted and of none is known what it saved."""
    unknown: Unknown | None
    """Why not."""
    since: Month | None
    """The month at whose end what was saved came to the cost; None where it has not yet, or nobody knows."""

    @property
    def net(self) -> Decimal | None:
        return None if self.cost is None or self.saved is None else self.saved - self.cost


def payback(sheet: Sheet, found: Savings, catalogue: Catalogue) -> Payback:
    """Of one part, by all that was saved of it."""
    minutes = [each for event in (sheet.folder.approval.events if sheet.folder.approval else ()) if (each := getattr(event, "minutes", None))]
    an_hour = catalogue.depot.costs_per_hour if catalogue.depot else None
    cost = cents(sum(minutes) * exact(an_hour) / 60) if minutes and an_hour is not None else None
    rows = [row for row in found.rows if row.number == sheet.number]
    reached, since = Decimal(0), None
    for month in sorted({row.month for row in rows}):
        reached += sum((row.saved for row in rows if row.month == month), Decimal(0))
        is_paid = cost is not None and reached >= cost
        since = (since or month) if is_paid else None  # what comes off as wrong may undo it
    _, unknown = found.unknown_by(lambda row: row.number).get(sheet.number, (0, None)) if not rows else (0, None)
    return Payback(
        number=sheet.number, minutes=sum(minutes) if minutes else None, events=len(minutes), cost=cost, saved=None if unknown else reached,
        unknown=unknown, since=since,
    )  # fmt: skip
