"""The stock in words: sentences and tables, for its page, a paper and the terminal alike."""

from collections.abc import Iterable, Iterator
from datetime import date

from generator.pages.part.printing import duration
from generator.pages.reports.told import Names, ReportRow, ReportSection
from generator.pages.wording import Wording
from generator.planning.print_time import Range
from generator.planning.stock.demand import FEWEST, Demand, Source
from generator.planning.stock.known import StockKnown, UnfitCount
from generator.planning.stock.last_buy import LastBuy, PartBuy
from generator.planning.stock.need import (
    MOST_PIECES,
    OrderingRule,
    PartNeed,
    QuantityReason,
    Reorder,
    StockState,
)
from generator.planning.stock.orders import PurchaseOrder
from generator.planning.stock.print_list import GAP_MM, OnPlate, PrintList
from generator.planning.stock.whole import StockPlan
from generator.rules.short import short_of

_KINDS = {"order": "stock", "count": "stock", "unread": "stock", "enough": "kept", "not_ordered": "held", "print": "plates"}
_NOT_ORDERED = (StockState.HELD, StockState.ENDS, StockState.TRIAL, StockState.UNSAID, StockState.NONE_NEEDED, StockState.NO_MAKER)


def rule_sentences(rule: OrderingRule, w: Wording) -> tuple[str, ...]:
    """By what one reckons, and which of it is only usual."""
    service, holding = w.measure(rule.service_percent), w.measure(rule.holding_percent)
    said = [w("stock.rule", service=service), w("stock.usual_service", service=service) if rule.service_is_usual else ""]
    said += [w("stock.quantity_rule", holding=holding), w("stock.usual_holding", holding=holding) if rule.holding_is_usual else ""]
    said.append(w.count("stock.ahead", rule.ahead_days) if rule.ahead_days else "")
    return tuple(filter(None, said))


def part_sections(plan: StockPlan, names: Names) -> Iterator[ReportSection]:
    """The parts, by what is to be done: order, count, nothing; of none a section less."""
    w = names.w
    order = [each for each in plan.parts if each.state is StockState.ORDER]
    yield _section("order", ("part", "there", "asked", "now", "price", "why"), (_order_row(each, names) for each in order), w, *_nothing(plan, names), is_last_below=True)
    count = [each for each in plan.parts if each.state is StockState.COUNT]
    yield _section("count", ("part", "there", "asked", "why"), (_count_row(each, names) for each in count), w, *((w("stock.count_says"),) if count else ()))
    unread = [each for each in plan.parts if each.state is StockState.UNREAD]
    yield _section("unread", ("part", "why"), (_unread_row(each, names) for each in unread), w, *((w("stock.unread_says"),) if unread else ()))
    enough = [each for each in plan.parts if each.state is StockState.ENOUGH]
    yield _section("enough", ("part", "there", "asked", "lasts", "at_a_time"), (_enough_row(each, names) for each in enough), w)
    held = [each for each in plan.parts if each.state in _NOT_ORDERED]
    yield _section("not_ordered", ("part", "there", "why"), (_held_row(each, names) for each in held), w)


def _nothing(plan: StockPlan, names: Names) -> tuple[str, ...]:
    """That nothing is to be ordered, where that is known of every part."""
    if any(each.state is StockState.ORDER for each in plan.parts):
        return ()
    is_known = not short_of(names.catalogue)
    return (names.w("stock.nothing" if is_known else "stock.nothing_known"),)


def _section(key: str, columns: Iterable[str], rows: Iterable[ReportRow], w: Wording, *sentences: str, heading: str = "", is_last_below: bool = False) -> ReportSection:
    listed = tuple(rows)
    heads = tuple(w(f"stock.column.{each}") for each in columns) if listed else ()
    kind = _KINDS.get(key, "")
    told = tuple(filter(None, sentences))
    return ReportSection(heading=heading or w(f"stock.section.{key}"), sentences=told, columns=heads, rows=listed, kind=kind, is_last_below=is_last_below)


def _row(each: PartNeed, names: Names, *cells: str) -> ReportRow:
    return ReportRow(number=each.number, cells=(names.part(each.number), there_words(each.known, names.w), *cells))


def _order_row(each: PartNeed, names: Names) -> ReportRow:
    w, reorder = names.w, each.reorder
    if reorder is None:
        raise ValueError(f"of {each.number} nothing is ordered")
    price = w.money(reorder.price, names.currency) if reorder.price is not None else w("stock.no_price")
    now = w("stock.now", n=w.number(reorder.count), maker=reorder.offer.maker.name)
    return _row(each, names, asked_words(reorder, w), _until(now, each, w), price, why_words(each, w))


def _until(said: str, each: PartNeed, w: Wording) -> str:
    """With the last day on which it may be fitted, where that comes before all of it is asked for."""
    last = each.permitted.last_day if each.permitted and each.outlasts else None
    return w("stock.until", said=said, day=w.day(last)) if last else said


def _count_row(each: PartNeed, names: Names) -> ReportRow:
    asked = asked_words(each.reorder, names.w) if each.reorder else names.w("missing")
    return _row(each, names, asked, "; ".join(_demand(each.demand, names.w)) or names.w("missing"))


def _unread_row(each: PartNeed, names: Names) -> ReportRow:
    return ReportRow(number=each.number, cells=(names.part(each.number), names.w("stock.unread")))


def _enough_row(each: PartNeed, names: Names) -> ReportRow:
    w, reorder = names.w, each.reorder
    asked = asked_words(reorder, w) if reorder else w("missing")
    return _row(each, names, asked, _until(lasts_words(each, w), each, w), w.number(reorder.quantity) if reorder else w("missing"))


def _held_row(each: PartNeed, names: Names) -> ReportRow:
    w, again = names.w, each.point_again
    why = not_because(each, w)
    if again is None:
        return _row(each, names, why)
    return _row(each, names, f"{why} {w('stock.again', n=w.number((each.known.position or 0) + each.known.returning), point=w.number(again))}")


def not_because(each: PartNeed, w: Wording) -> str:
    """Why nothing of it is ordered."""
    last, trial = (each.permitted.last_day, each.permitted.trial) if each.permitted else (None, None)
    told = {"day": w.day(last) if last else None}
    if each.state is StockState.TRIAL and trial:
        return w("stock.not_because.trial_room" if trial.left else "stock.not_because.trial", planned=w.number(trial.planned), left=w.number(trial.left))
    return w(f"stock.not_because.{each.state}", **told)


def there_words(known: StockKnown, w: Wording) -> str:
    """What is there and what comes to it, each with how that is known; what may be fitted nowhere today is told apart."""
    unfit = known.unfit if known.unfit and known.unfit.counted else None
    said = [_counted(known, w)] if not unfit or known.counted is None or known.counted else []
    said += [w("stock.there.unsure", most=w.number((known.left or 0) + known.unsure))] if known.unsure else []
    said += [w("stock.there.less")] if known.is_less_than_nothing else []
    said += [w("stock.there.contradicts")] if known.contradicts else []
    said += [w("stock.there.uncounted", n=w.number(known.uncounted))] if known.uncounted else []
    said += [w("stock.there.waiting", n=w.number(known.waiting))] if known.waiting else []
    said += [w("stock.there.unfit", counted=_counted(unfit, w))] if unfit else []
    return w("list_separator").join(said)


def _counted(known: StockKnown | UnfitCount, w: Wording) -> str:
    if known.counted is None or known.left is None:
        return w("stock.there.nobody")
    first, last = known.first_day, known.last_day
    key = "undated" if first is None or last is None else "counted" if first == last else "days"
    if not known.went:
        key = {"undated": "same_undated", "counted": "same", "days": "same_days"}[key]
    moved = {"went" if known.went > 0 else "came": w.number(abs(known.went))}
    days = {name: w.day(day) for name, day in (("day", first), ("first", first), ("last", last)) if day}
    return w(f"stock.there.{key}", left=w.number(known.left), counted=w.number(known.counted), **moved, **days)


def asked_words(reorder: Reorder, w: Wording) -> str:
    days = reorder.offer.maker.lead_time_days
    if days == 0:
        return w("stock.asked_at_once", point=w.number(reorder.point))
    told = w.count("stock.days", days) if days else w("stock.no_days")
    return w("stock.asked", point=w.number(reorder.point), mean=w.measure(reorder.mean, 2 if reorder.mean < 1 else 1), days=told)


def _demand(demand: Demand | None, w: Wording) -> Iterator[str]:
    if demand is None:
        return
    yield demand_words(demand, w)
    if demand.at_once > 1:
        yield w("stock.lots", n=w.number(demand.at_once))


def demand_words(demand: Demand, w: Wording, *, with_record: bool = False) -> str:
    """How many a year, and from where that is known. with_record: what part.yml says too, where it does not count."""
    a_year, fitted = w.measure(float(demand.told)), w.number(demand.fitted)
    if demand.source is Source.RECORD:
        return w("stock.demand.few" if demand.fitted else "stock.demand.record", a_year=a_year, fitted=fitted, fewest=w.number(FEWEST))
    record = w.measure(demand.record) if with_record and demand.record is not None and demand.record != float(demand.told) else None
    return w("stock.demand.fitted", a_year=a_year, fitted=fitted, days=w.number(demand.days), record=record)


def why_words(each: PartNeed, w: Wording) -> str:
    """What makes the quantity, and from where the demand is known."""
    reorder = each.reorder
    said = [_because(each, reorder, w)] if reorder else []
    return w("list_separator").join((*said, *_demand(each.demand, w)))


def _because(each: PartNeed, reorder: Reorder, w: Wording) -> str:
    may = each.permitted
    if may and may.last_day and reorder.because is QuantityReason.LAST_DAY:
        return w("stock.because.last day", day=w.day(may.last_day))
    if may and may.trial and reorder.because is QuantityReason.TRIAL:
        return w("stock.because.trial", n=w.number(may.trial.planned), left=w.number(may.trial.left))
    starts = [rule.from_count for rule in reorder.offer.maker.price.price_breaks if rule.from_count <= reorder.quantity]
    n = MOST_PIECES if reorder.because is QuantityReason.CAP else max(starts) if reorder.because is QuantityReason.BREAK and starts else None
    return w(f"stock.because.{reorder.because}", n=None if n is None else w.number(n))


def lasts_words(each: PartNeed, w: Wording) -> str:
    if each.lasts_days is None:
        return w("missing")
    lasts = w.count("stock.long", each.lasts_days)
    return w("stock.lasts", days=lasts) if each.due_days is None else w("stock.due", days=lasts, due=w.count("stock.days", each.due_days))


def order_section(order: PurchaseOrder, names: Names) -> ReportSection:
    w = names.w
    rows = (
        ReportRow(
            number=line.sheet.number,
            cells=(names.part(line.sheet.number), w.number(line.count), w.money(line.amount, names.currency) if line.amount is not None else w("missing")),
        )
        for line in order.lines
    )
    total = w("stock.total_unknown") if order.total is None else w("stock.total", amount=w.money(order.total, names.currency))
    per_order = w("stock.per_order", amount=w.money(order.per_order, names.currency))
    heading = w("stock.section.shop", maker=order.maker.name)
    return _section("shop", ("part", "pieces", "amount"), rows, w, f"{per_order} {total} {w('stock.order_price')}", _joined(order, names), heading=heading)


def _joined(order: PurchaseOrder, names: Names) -> str:
    """How it is reckoned where parts share an order, and what that saves."""
    w, n = names.w, len(order.lines)
    amounts = {"fixed": w.money(order.fixed, names.currency), "saved": w.money(order.saved_by_joining, names.currency)}
    return w("stock.joined", n=w.number(n), **amounts) if order.saved_by_joining else ""


def print_section(listed: PrintList, names: Names) -> ReportSection:
    w, material = names.w, names.catalogue.materials.get(listed.material)
    heading = w(
        "stock.section.print", maker=listed.maker.name, material=material.name if material else listed.material,
        layer=w.measure(listed.layer_mm) if listed.layer_mm else None,
    )  # fmt: skip
    rows = (ReportRow(cells=(w("stock.plate", n=w.number(at)), pieces_words(each.pieces, names), time_words(each.minutes, w), grams_words(each, w))) for at, each in enumerate(listed.plates, 1))
    said = [w("stock.print_says", gap=w.measure(GAP_MM))]
    if listed.plates and listed.likely_minutes is not None:
        said.append(w.count("stock.together", len(listed.plates), time=duration(listed.likely_minutes, w)))
    if listed.has_machines:
        said.append(w("stock.machines", machines=listed.machines) if listed.machines else w("stock.no_machine"))
    said += [w("stock.unlaid", parts=pieces_words(listed.unlaid, names))] if listed.unlaid else []
    return _section("print", ("plate", "pieces", "time", "material"), rows, w, *said, heading=heading)


def pieces_words(pieces: Iterable[tuple[str, int]], names: Names) -> str:
    return names.w("list_separator").join(names.w("stock.piece", count=names.w.number(count), part=names.part(number)) for number, count in pieces)


def time_words(minutes: Range | None, w: Wording) -> str:
    if minutes is None:
        return w("stock.no_time")
    low, high = duration(minutes.low, w), duration(minutes.high, w)
    return w("printing.between", low=low, high=high) if minutes.likely is None else w("printing.about", likely=duration(minutes.likely, w), low=low, high=high)


def grams_words(plate: OnPlate, w: Wording) -> str:
    grams = plate.grams
    if grams is None:
        return w("missing")
    return w.number(grams.high if grams.likely is None else grams.likely)


def last_buy_section(buy: LastBuy, names: Names, day: date, rule: OrderingRule) -> ReportSection:
    w, material = names.w, names.catalogue.materials.get(buy.material)
    days = w.count("stock.days", buy.days)
    facts = {"on": w.day(buy.order.on), "until": w.day(buy.order.needed_until), "reference": buy.order.reference}
    said = [w("stock.last_buy.past" if buy.order.on < day else "stock.last_buy.says", days=days, service=w.measure(rule.service_percent), **facts)]
    scrap = w.measure(100 * buy.scrap_share, 1) if buy.scrap_share else None
    said.append(w("stock.last_buy.unknown") if buy.grams is None else w("stock.last_buy.buy", kg=w.measure(buy.grams / 1000, 1), scrap=scrap))
    if buy.spoils and buy.keeps_days is not None:
        said.append(w("stock.last_buy.spoils", keeps=w.count("stock.long", buy.keeps_days), days=w.count("stock.long", buy.days)))
    said += [w("stock.last_buy.unsaid", parts=tuple(names.part(each.number) for each in buy.unsaid))] if buy.unsaid else []
    rows = (_buy_row(each, names) for each in buy.parts)
    heading = w("stock.section.last_buy", material=material.name if material else buy.material)
    return _section("last_buy", ("part", "wanted", "there", "missing", "grams_each"), rows, w, *said, heading=heading)


def _buy_row(each: PartBuy, names: Names) -> ReportRow:
    w = names.w
    there = [w("stock.last_buy.uncounted") if each.position is None else w.number(each.position)]
    there += [w("stock.last_buy.returning", n=w.number(each.returning))] if each.returning else []
    there += [w("stock.last_buy.not_counted", n=w.number(each.not_counted))] if each.not_counted else []
    missing = w.number(each.missing)
    return ReportRow(
        number=each.sheet.number,
        cells=(
            names.part(each.sheet.number), w.number(each.wanted), w("list_separator").join(there),
            f"{missing}{w('list_separator')}{w('stock.last_buy.held')}" if each.is_held else missing,
            w.measure(each.grams_each, 1) if each.grams_each is not None else w("missing"),
        ),
    )  # fmt: skip
