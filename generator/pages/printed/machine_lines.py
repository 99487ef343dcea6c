"""How a machine stands with a material, in words and figures, and its charts."""

from collections.abc import Iterator

from markupsafe import Markup

from generator.pages.printed.chart_svg import ChartWords, chart_svg
from generator.pages.printed.views import Cell, PrintedSection, head
from generator.pages.wording import Wording
from generator.rules.control_chart import Control
from generator.rules.production.qualifying import Charted, HeldCoupons, Qualified


def standing_words(found: Qualified, w: Wording) -> str:
    """One sentence, with the last day of the qualification."""
    until = found.qualification.valid_until if found.qualification else None
    begins = found.qualification.qualified_on if found.qualification else None
    return w(f"printed.standing.{found.standing}", until=w.day(until) if until else None, begins=w.day(begins) if begins else None)


def held_section(found: Qualified, w: Wording, heading: str | None = None) -> PrintedSection:
    """What is required, against the bound of the coupons, and whether they show it."""
    rows = tuple(_held_row(each, w) for each in found.held)
    return PrintedSection(heading=heading, lead=standing_words(found, w), head=head(w, "property", "asked", "coupons", "bound"), rows=rows)


def _held_row(each: HeldCoupons, w: Wording) -> tuple[Cell, ...]:
    judged, required = each.judged, each.required
    asked = [w("printed.least", value=w.measure(required.least))] if required.least is not None else []
    asked += [w("printed.most", value=w.measure(required.most))] if required.most is not None else []
    mean = (w("printed.mean", mean=w.measure(judged.mean), deviation=w.measure(judged.deviation)),) if judged.mean is not None and judged.deviation is not None else ()
    bounds = [w("printed.bound", bound=w.measure(side.bound), k=w.number(side.k, 3)) for side in (judged.lower, judged.upper) if side]
    shown = w(f"printed.shown.{judged.shown}")
    why = (w(f"printed.why.{judged.why}"),) if judged.why else ()
    return (
        Cell(w.term("coupon_property", required.property), more=(w("printed.share", share=str(required.coverage_percent)), required.source)),
        Cell("; ".join(asked)),
        Cell(w.count("printed.values", judged.count), more=mean),
        Cell(shown, more=(*bounds, *why), is_strong=True),
    )


def charts_section(found: Qualified, w: Wording, heading: str) -> PrintedSection:
    drawn = [(chart_words_of(each, w), drawing) for each in found.charts if (drawing := _drawn(each, w))]
    return PrintedSection(heading=heading, lines=tuple(line for line, _ in drawn), drawings=tuple(each for _, each in drawn))


def chart_words_of(each: Charted, w: Wording) -> str:
    """What the chart amounts to, in a sentence."""
    name = w.term("coupon_property", each.property)
    key = each.chart.control if each.chart.control is not Control.TOO_FEW else "too few"
    return w(f"printed.control.{key}", property=name, size=str(each.size), needed=str(each.chart.baseline or "–"), count=str(len(each.chart.points)))


def _drawn(each: Charted, w: Wording) -> Markup | None:
    name = w.term("coupon_property", each.property)
    words = ChartWords(
        label=chart_words_of(each, w),
        mean=w("printed.chart.mean", property=name),
        range=w("printed.chart.range", property=name),
        order=w("printed.chart.order"),
        baseline=w("printed.chart.baseline"),
        figure=w.measure,
    )
    return chart_svg(each.chart, words)


def outside(found: Qualified, w: Wording) -> Iterator[str]:
    """The groups of coupons that stand out, by day."""
    for each in found.charts:
        for point in each.chart.points:
            if point.signals:
                yield w("printed.stands_out", property=w.term("coupon_property", each.property), day=w.day(point.day), mean=w.measure(point.mean))
