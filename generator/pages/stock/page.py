"""The page of the stock: what to order or print now and why, each order as text, the print list, last buys, and all else."""

from dataclasses import dataclass, replace
from datetime import date

from markupsafe import Markup

from generator.pages.around import Around
from generator.pages.marks import front_matter, rendered
from generator.pages.on_vehicles.incomplete import incomplete_words
from generator.pages.outputs import Page
from generator.pages.reports.page import names_of
from generator.pages.reports.told import Names, ReportSection
from generator.pages.stock.chart_svg import MOST_BARS, BarWords, StockBar, stock_svg
from generator.pages.stock.order_text import mail_link, order_text, recipient_of, subject_of
from generator.pages.stock.told import (
    last_buy_section,
    order_section,
    part_sections,
    print_section,
    rule_sentences,
)
from generator.pages.wording import Wording
from generator.planning.stock.need import StockState, rule_of
from generator.planning.stock.orders import PurchaseOrder
from generator.planning.stock.whole import StockPlan, stock_plan
from generator.rules.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderView:
    section: ReportSection
    text: str
    mail: Markup | None
    """An address that opens a draft; None for a text too long for one."""
    command: str
    """What writes the draft."""


def stock_page(around: Around, sheets: tuple[Sheet, ...], day: date) -> Page:
    w, names = around.w, names_of(around)
    plan = stock_plan(sheets, around.catalogue, around.print_models, day, rule_of(around.catalogue))
    title = w("stock.title")
    order, *others = part_sections(plan, names)
    first, rest = _split([each for each in others if each.rows], w)
    text = rendered(
        "stock/stock.md.j2",
        w=w,
        title=front_matter(title),
        incomplete=incomplete_words(around.catalogue, w),
        says=w("stock.says", day=w.day(day)) if plan.parts else w("stock.nothing_of"),
        rule=rule_sentences(plan.rule, w),
        nothing=order.sentences if plan.parts else (),
        first=first,
        chart=chart_of(plan, names),
        chart_rest=rest_words(plan, names),
        orders=tuple(_order(each, around, names, day) for each in plan.orders),
        prints=tuple(print_section(each, names) for each in plan.prints),
        last_buys=tuple(last_buy_section(each, names, day, plan.rule) for each in plan.last_buys),
        rest=(*((replace(order, heading=w("stock.why_these")),) if order.rows else ()), *rest),
        pages={number: f"parts/{around.found.by_folder[sheet.folder.folder]}.html" for number, sheet in around.sheets.items()},
    )
    return Page(path="stock.md", title=title, template=None, text=text)


def _split(listed: list[ReportSection], w: Wording) -> tuple[tuple[ReportSection, ...], tuple[ReportSection, ...]]:
    """What somebody has to do something about, which stands open, and what only tells, which is folded."""
    asked = {w(f"stock.section.{key}") for key in ("count", "unread")}
    return tuple(each for each in listed if each.heading in asked), tuple(each for each in listed if each.heading not in asked)


def _order(order: PurchaseOrder, around: Around, names: Names, day: date) -> OrderView:
    text, subject = order_text(order, around.depot, around.w.day(day), names), subject_of(around.depot, around.w)
    return OrderView(section=order_section(order, names), text=text, mail=mail_link(recipient_of(order), subject, text), command=f"spares stock --order {order.maker.id} --to order.eml")


def chart_of(plan: StockPlan, names: Names) -> Markup | None:
    """Of the parts that are ordered or enough, the shortest stock foremost."""
    w, bars = names.w, _bars(plan)
    listed = tuple(w("stock.chart.label_part", number=bar.name, position=str(bar.there), point=str(bar.point)) for bar in bars)
    words = BarWords(label=w("stock.chart.label", parts=listed), there=w("stock.chart.there"), point=w("stock.chart.point"), axis=w("stock.chart.axis"))
    return stock_svg(bars, words)


def rest_words(plan: StockPlan, names: Names) -> str | None:
    """That the drawing has no room for all; None where it has."""
    bars = _bars(plan)
    return names.w("stock.chart.rest", all=names.w.number(len(bars)), n=names.w.number(MOST_BARS)) if len(bars) > MOST_BARS else None


def _bars(plan: StockPlan) -> list[StockBar]:
    return [
        StockBar(name=each.number, there=each.known.position, point=each.reorder.point)
        for each in plan.parts
        if each.state in (StockState.ORDER, StockState.ENOUGH) and each.reorder and each.known.position is not None
    ]
