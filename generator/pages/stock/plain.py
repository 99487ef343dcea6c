"""The stock for programs: plain JSON with days as ISO dates and amounts as texts; null is not known."""

from decimal import Decimal
from typing import Any

from generator.planning.print_time import Range
from generator.planning.stock.known import UnfitCount
from generator.planning.stock.last_buy import LastBuy
from generator.planning.stock.need import PartNeed
from generator.planning.stock.orders import PurchaseOrder
from generator.planning.stock.print_list import PrintList
from generator.planning.stock.whole import StockPlan


def plain_of(plan: StockPlan) -> dict[str, Any]:
    rule = plan.rule
    return {
        "day": plan.day.isoformat(),
        "rule": {"service_percent": rule.service_percent, "holding_percent": rule.holding_percent, "ahead_days": rule.ahead_days},
        "parts": [_part(each) for each in plan.parts],
        "orders": [_order(each) for each in plan.orders],
        "prints": [_prints(each) for each in plan.prints],
        "last_buys": [_buy(each) for each in plan.last_buys],
    }


def _part(each: PartNeed) -> dict[str, Any]:
    there, demand, reorder, may = each.known, each.demand, each.reorder, each.permitted
    return {
        "part": each.number,
        "state": each.state.value,
        "there": {
            "counted": there.counted,
            "from": there.first_day.isoformat() if there.first_day else None,
            "to": there.last_day.isoformat() if there.last_day else None,
            "went": there.went,
            "left": there.left,
            "most": None if there.left is None else there.left + there.unsure,
            "uncounted": there.uncounted,
            "waiting": there.waiting,
            "position": there.position,
            "less_than_nothing": there.is_less_than_nothing,
            "unfit": _unfit(there.unfit),
        },
        "demand": {"a_year": demand.a_year, "source": demand.source.value, "fitted": demand.fitted, "days": demand.days, "at_once": demand.at_once} if demand else None,
        "reorder": {
            "maker": reorder.offer.maker.id,
            "lead_time_days": reorder.offer.maker.lead_time_days,
            "mean": reorder.mean,
            "point": reorder.point,
            "at_a_time": reorder.quantity,
            "because": reorder.because.value,
            "now": reorder.count,
            "price": _amount(reorder.price),
        } if reorder else None,
        "lasts_days": each.lasts_days,
        "last_day": may.last_day.isoformat() if may and may.last_day else None,
        "trial": {"planned": may.trial.planned, "fitted": may.trial.fitted, "left": may.trial.left} if may and may.trial else None,
    }  # fmt: skip


def _unfit(unfit: UnfitCount | None) -> dict[str, Any] | None:
    """What lies there and may be fitted nowhere today, which no other figure holds."""
    if unfit is None:
        return None
    return {
        "counted": unfit.counted,
        "from": unfit.first_day.isoformat() if unfit.first_day else None,
        "to": unfit.last_day.isoformat() if unfit.last_day else None,
        "went": unfit.went,
        "left": unfit.left,
        "returning": unfit.returning,
    }


def _order(order: PurchaseOrder) -> dict[str, Any]:
    lines = [{"part": line.sheet.number, "pieces": line.count, "amount": _amount(line.amount)} for line in order.lines]
    return {"maker": order.maker.id, "per_order": _amount(order.per_order), "lines": lines, "total": _amount(order.total), "saved_by_joining": _amount(order.saved_by_joining)}


def _prints(listed: PrintList) -> dict[str, Any]:
    return {
        "maker": listed.maker.id,
        "material": listed.material,
        "layer_mm": listed.layer_mm,
        "machines": list(listed.machines),
        "plates": [{"pieces": dict(each.pieces), "minutes": _range(each.minutes), "grams": _range(each.grams)} for each in listed.plates],
        "unlaid": dict(listed.unlaid),
    }


def _buy(buy: LastBuy) -> dict[str, Any]:
    return {
        "material": buy.material,
        "last_order": buy.order.on.isoformat(),
        "needed_until": buy.order.needed_until.isoformat(),
        "parts": [{"part": each.sheet.number, "wanted": each.wanted, "position": each.position, "returning": each.returning, "not_counted": each.not_counted, "missing": each.missing} for each in buy.parts],
        "unsaid": [each.number for each in buy.unsaid],
        "grams": buy.grams,
        "keeps_days": buy.keeps_days,
        "spoils": buy.spoils,
    }


def _range(found: Range | None) -> dict[str, Any] | None:
    return {"likely": found.likely, "low": found.low, "high": found.high} if found else None


def _amount(amount: Decimal | None) -> str | None:
    return None if amount is None else str(amount)
