"""The page of the savings, with its chart, and its table for a spreadsheet."""

from decimal import Decimal

from markupsafe import Markup

from generator.pages.around import Around
from generator.pages.marks import front_matter, rendered
from generator.pages.on_vehicles.incomplete import incomplete_words
from generator.pages.outputs import Asset, Page
from generator.pages.reports.page import MOST_MONTHS, names_of
from generator.pages.reports.saved import unpriced_words
from generator.pages.reports.told import Names, month_name
from generator.pages.savings.chart_svg import MOST_COLUMNS, ColumnWords, SavingsColumn, savings_svg
from generator.pages.savings.plain import csv_of
from generator.pages.savings.told import every_section, says, total_words
from generator.planning.month import months
from generator.planning.months import Month
from generator.planning.saving.whole import WholeSavings


def savings_page(around: Around, whole: WholeSavings) -> Page:
    w, names = around.w, names_of(around)
    title = w("savings.title")
    pages = {number: f"parts/{around.found.by_folder[sheet.folder.folder]}.html" for number, sheet in around.sheets.items()}
    text = rendered(
        "savings/savings.md.j2",
        w=w,
        title=front_matter(title),
        incomplete=incomplete_words(around.catalogue, w),
        says=says(whole, w),
        total=total_words(whole, names) if whole.found.rows else "",
        chart=chart_of(whole, names),
        sections=tuple(every_section(whole, names)),
        unpriced=unpriced_words(whole.found, names.part, names.w),
        pages=pages | {str(month): f"reports/{month}.html" for month in months(around.catalogue, whole.day)[:MOST_MONTHS]},
    )
    return Page(path="savings.md", title=title, template=None, text=text)


def savings_table(whole: WholeSavings) -> Asset:
    return Asset(path="savings.csv", content=csv_of(whole))


def chart_of(whole: WholeSavings, names: Names) -> Markup | None:
    """A column for each month from the first with something to the last, those without too."""
    w, by_month = names.w, whole.found.by(lambda row: row.month)
    columns: list[SavingsColumn] = []
    unknown = whole.found.unknown_by(lambda row: row.month)
    month = max(min(by_month, default=Month.of(whole.day)), _earliest(max(by_month, default=Month.of(whole.day))))
    while by_month and month <= max(by_month):
        amount = by_month[month].saved if month in by_month else None
        said = w.money(amount, names.currency) if amount is not None else w(f"savings.unknown.{unknown[month][1]}" if month in unknown else "missing")
        columns.append(SavingsColumn(name=f"{month.number}/{month.year % 100:02}", told=f"{month_name(month, w)}: {said}", amount=amount if amount is not None else Decimal(0)))
        month = month.following
    words = ColumnWords(
        label=w("savings.chart.label", months=tuple(each.told for each in columns)),
        axis=w("savings.chart.axis", currency=names.currency),
        figure=w.number,
    )
    return savings_svg(columns, words)


def _earliest(last: Month) -> Month:
    """The first month that the chart has room for."""
    for _ in range(MOST_COLUMNS - 1):
        last = last.before
    return last
