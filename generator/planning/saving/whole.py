"""All that printing has saved up to a day, and is expected to: the rows, the work that is paid back, and what nobody fitted yet."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from generator.planning.months import Month
from generator.planning.saving.ahead import Ahead, ahead
from generator.planning.saving.expected import Expected, expected
from generator.planning.saving.payback import Payback, payback
from generator.planning.saving.rows import Saved, Savings, savings
from generator.planning.stock.demand import demand_of
from generator.records.catalogue import Catalogue
from generator.rules.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class WholeSavings:
    day: date
    since: date | None
    """The first day of which a piece is written down as fitted."""
    month: Month | None
    """The one that was asked for; None for all."""
    fleet: str | None
    found: Savings
    ahead: Mapping[str, Ahead]
    """What the next piece saves of each part that is among what was found, by number."""
    paybacks: tuple[Payback, ...]
    """Of parts that saved something or of which minutes are written down; none where a month or a fleet was asked for."""
    expected: tuple[Expected, ...]
    """None either: a demand is of neither."""


def whole_savings(sheets: Iterable[Sheet], catalogue: Catalogue, day: date, *, month: Month | None = None, fleet: str | None = None) -> WholeSavings:
    """Of the lines up to `day`; of two parts that share a number the first. month, fleet: of these alone."""
    once = {sheet.number: sheet for sheet in reversed(tuple(sheets))}
    rows = [row for row in catalogue.production.fitted if row.day <= day]
    found = savings(rows, once.values(), catalogue, asked=lambda row: (month is None or Month.of(row.day) == month) and (fleet is None or row.fleet == fleet))
    all_of = savings(rows, once.values(), catalogue).by_part
    is_whole = month is None and fleet is None
    batches = catalogue.production.batches
    fitted = {batches[row.batch].part for row in rows if row.batch in batches}
    paid = (payback(once[number], found, catalogue) for number in sorted(once)) if is_whole else ()
    return WholeSavings(
        day=day,
        since=min((row.day for row in rows if row.batch), default=None),
        month=month,
        fleet=fleet,
        found=found,
        ahead={number: each for number in found.by_part if (each := _ahead(once[number], catalogue, day, all_of.get(number)))},
        paybacks=tuple(each for each in paid if each.saved or each.minutes),
        expected=expected(once.values(), catalogue, fitted, day) if is_whole else (),
    )


def _ahead(sheet: Sheet, catalogue: Catalogue, day: date, fitted: Saved | None) -> Ahead | None:
    return ahead(sheet, catalogue, demand_of(sheet.part, catalogue.production, day) if sheet.part else None, fitted)
