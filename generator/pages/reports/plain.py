"""The report of a month for programs: as one table for a spreadsheet, and as plain JSON."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict
from datetime import date
from decimal import Decimal
from typing import Any

from generator.planning.month import MonthReport
from generator.planning.saving.rows import Saved, Unknown
from generator.writing.tables import AS_FILE, table_text

COLUMNS = (
    "month", "section", "day", "part", "revision", "lot", "batch", "recall", "machine", "what", "reason", "by", "batches", "pieces", "pieces_on_vehicles",
    "pieces_put_by", "pieces_came_off", "grams", "minutes", "bought", "before_each", "own_each", "before_total", "own_total", "saved_total",
)  # fmt: skip
"""The head of the table. Words are those of the records, days ISO 8601, prices in the depot's currency; what is not known is empty.

`_each` is of one piece, before_each of what was bought as often as `bought` says, `_total` of all pieces of the row together; `pieces_put_by` lie on the shelf or were handed out,
`pieces_came_off` were taken off and not scrapped.
"""


WHY = {Unknown.PRICE: "no price to compare", Unknown.UNREAD: "mistake in the record", Unknown.BATCH: "unknown batch"}
"""Why nobody knows what pieces saved, for programs."""


def csv_of(report: MonthReport) -> bytes:
    """CSV as RFC 4180 has it, with a byte order mark: spreadsheets take it for another encoding without."""
    return csv_table(COLUMNS, _rows(report))


def csv_table(columns: Sequence[str], rows: Iterable[Mapping[str, object]]) -> bytes:
    """Any table so: its head, then each row by the names of its columns; what a row does not name is empty."""
    return table_text([columns, *([row.get(column) for column in columns] for row in rows)]).encode(AS_FILE)


def _rows(report: MonthReport) -> Iterator[dict[str, object]]:
    for row in _lines(report):
        yield {"month": str(report.month), **row}


def _lines(report: MonthReport) -> Iterator[dict[str, object]]:
    for section, steps in (("approvals", report.given), ("refused", report.refused), ("lapsed", report.lapsed), ("ended", report.ended)):
        for step in steps:
            yield {"section": section, "day": step.on, "part": step.number, "what": step.what, "by": step.by, "reason": step.reference}
    for made in report.prints:
        grams = made.grams if made.unweighed < made.batches else None
        yield {
            "section": "prints", "machine": made.machine, "batches": made.batches, "pieces": made.pieces, "grams": grams, "minutes": made.minutes,
        }  # fmt: skip
    for lost in report.scrap:
        yield {"section": "scrap", "day": lost.on, "part": lost.number, "batch": lost.batch, "pieces": lost.count, "reason": lost.why}
    for one in report.judged:
        what = "rejected" if not one.released else "released" if one.holds else "released, does not count"
        yield {
            "section": "judged", "day": one.on, "part": one.number, "batch": one.batch, "what": what, "by": one.by, "pieces": one.count, "reason": one.why,
        }  # fmt: skip
    for on in report.fitted:
        yield {"section": "fitted", "part": on.number, "pieces": on.count}
    for off in report.removed:
        whose = None if off.number else "unknown batch" if off.has_batch else "no batch"
        yield {"section": "removed", "part": off.number, "what": whose, "reason": off.why.value, "pieces": off.count}
    for number, count in report.failures.items():
        yield {"section": "failures", "part": number, "pieces": count}
    for stop in report.recalls:
        yield {
            "section": "recalls", "recall": stop.number, "part": stop.recall.part, "revision": stop.recall.revision, "lot": stop.recall.lot,
            "batch": stop.recall.batch, "what": stop.what, "day": stop.on, "by": stop.by, "reason": stop.why,
            "pieces_on_vehicles": stop.on_vehicles, "pieces_put_by": stop.put_by, "pieces_came_off": stop.came_off,
        }  # fmt: skip
    for number, saved in report.savings.by_part.items():
        yield {"section": "savings", "part": number, "pieces": saved.pieces, "bought": saved.bought, **_prices(saved)}
    for each in report.savings.unpriced_for:
        yield {"section": "savings", "part": each.number, "what": WHY[each.why], "pieces": each.pieces}


def _prices(saved: Saved) -> dict[str, Decimal | None]:
    """Of one piece and of all of them; none of one where they differ from batch to batch."""
    return {
        "before_each": saved.before,
        "own_each": saved.own_each,
        "before_total": saved.own + saved.saved,
        "own_total": saved.own,
        "saved_total": saved.saved,
    }


def plain_of(report: MonthReport) -> dict[str, Any]:
    """All of it as JSON holds it; days are ISO dates."""
    told = asdict(report)
    told.pop("savings")
    unpriced = [{"part": each.number, "pieces": each.pieces, "why": WHY[each.why]} for each in report.savings.unpriced_for]
    lines = [
        {"number": number, "pieces": saved.pieces, "bought": saved.bought} | {key: _amount(amount) for key, amount in _prices(saved).items()}
        for number, saved in report.savings.by_part.items()
    ]
    recalls = [{**one, "recall": each.recall.model_dump(mode="json", exclude={"events"}, exclude_none=True)} for one, each in zip(told.pop("recalls"), report.recalls, strict=True)]
    return {
        **_plain(told),
        "month": str(report.month),
        "is_over": report.is_over,
        "scrap_by_reason": report.scrap_by_reason,
        "failures": report.failures,
        "recalls": [_plain(each) for each in recalls],
        "savings": {"lines": lines, "unpriced": unpriced, "total": _amount(report.savings.total) if lines else None},
    }


def _amount(amount: Decimal | None) -> str | None:
    """As a text, so that no program reads it as something near to it."""
    return None if amount is None else str(amount)


def _plain(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _plain(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(each) for each in value]
    return value.isoformat() if isinstance(value, date) else value
