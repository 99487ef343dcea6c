"""The savings for programs: each row with its prices as one table for a spreadsheet, and as plain JSON with amounts as texts."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from generator.pages.reports.plain import WHY, csv_table
from generator.planning.saving.whole import WholeSavings

COLUMNS = ("month", "fleet", "part", "batch", "pieces", "instead", "before", "bought", "own", "own_together", "saved", "what")
"""The head of the table: amounts in the depot's currency, before of what is bought as often as bought says, own of a piece; empty is not known."""


def csv_of(whole: WholeSavings) -> bytes:
    """In each row saved = bought × before - own_together; the sum of the column is the total that is told everywhere."""
    return csv_table(COLUMNS, _rows(whole))


def _rows(whole: WholeSavings) -> Iterator[dict[str, object]]:
    for row in whole.found.rows:
        yield {
            "month": str(row.month), "fleet": row.fleet, "part": row.number, "batch": row.batch, "pieces": row.pieces,
            "instead": row.instead.value, "before": row.before, "bought": row.bought, "own": row.own, "own_together": row.own_together, "saved": row.saved,
        }  # fmt: skip
    for each in whole.found.unpriced_rows:
        yield {
            "month": str(each.month), "fleet": each.fleet, "part": each.number, "batch": each.batch, "pieces": each.pieces, "what": WHY[each.why],
        }  # fmt: skip


def plain_of(whole: WholeSavings) -> dict[str, Any]:
    """All of it as JSON holds it; an amount is a text such as "12.50", so that no program reads something near to it."""
    return {
        "day": whole.day.isoformat(),
        "since": whole.since.isoformat() if whole.since else None,
        "month": str(whole.month) if whole.month else None,
        "fleet": whole.fleet,
        "total": str(whole.found.total) if whole.found.rows else None,
        "rows": [{key: _plain(value) for key, value in row.items()} for row in _rows(whole)],
        "parts": [
            *(
                {
                    "part": number, "pieces": each.pieces, "bought": each.bought, "saved": str(each.saved), "saved_each": _plain(each.saved_each),
                    "next_saves": _next(whole, number), **_demand(whole, number),
                }
                for number, each in sorted(whole.found.by_part.items())
            ),
            *({"part": number, "pieces": pieces, "saved": None, "why": WHY[why]} for number, (pieces, why) in sorted(whole.found.unknown_parts.items())),
        ],
        "payback": [
            {
                "part": each.number, "minutes": each.minutes, "cost": _plain(each.cost), "saved": _plain(each.saved),
                "paid_back_in": str(each.since) if each.since else None, **({"why": WHY[each.unknown]} if each.unknown else {}),
            }
            for each in whole.paybacks
        ],
        "expected": [
            {"part": each.sheet.number, "a_year": str(each.a_year), "instead": each.instead.value, "before": str(each.before), "own": str(each.own), "saved": str(each.saved)}
            for each in whole.expected
        ],
    }  # fmt: skip


def _demand(whole: WholeSavings, number: str) -> dict[str, object]:
    """Of the next piece: how many are ordered at a time, of how many a year, and whether by what was fitted or by the record."""
    demand = whole.ahead[number].demand if number in whole.ahead else None
    return {"next_ordered": demand.a_quarter, "a_year": str(demand.told), "a_year_by": demand.source.value} if demand else {}


def _next(whole: WholeSavings, number: str) -> str | None:
    return str(whole.ahead[number].saved) if number in whole.ahead else None


def _plain(value: object) -> object:
    return str(value) if isinstance(value, Decimal) else value
