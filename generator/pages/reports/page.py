"""The pages of the months: the list of them, and one for each with its table for a spreadsheet."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from generator.pages.around import Around
from generator.pages.marks import front_matter, rendered
from generator.pages.on_vehicles.incomplete import incomplete_words
from generator.pages.outputs import Asset, Page
from generator.pages.reports.plain import csv_of
from generator.pages.reports.told import Names, month_name, sections, title_of, until_words
from generator.planning.month import MonthReport, month_report, months
from generator.rules.sheet import Sheet

MOST_MONTHS = 120
"""Older ones are told by `spares report` alone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MonthLine:
    """A month in the list of them; figures as they are written, a dash for none."""

    page: str
    name: str
    given: str
    printed: str
    scrapped: str
    fitted: str
    failed: str
    saved: str


def month_reports(around: Around, sheets: tuple[Sheet, ...], day: date) -> tuple[MonthReport, ...]:
    """Of every month that has a page, newest first."""
    return tuple(month_report(month, sheets, around.catalogue, day) for month in months(around.catalogue, day)[:MOST_MONTHS])


def month_pages(around: Around, reports: tuple[MonthReport, ...]) -> Iterator[Page]:
    w = around.w
    names = names_of(around)
    title = w("reports.title")
    lines = tuple(_line(each, names) for each in reports)
    incomplete = incomplete_words(around.catalogue, w)
    text = rendered("reports/months.md.j2", w=w, title=front_matter(title), lines=lines, currency=names.currency, has_more=len(reports) == MOST_MONTHS, incomplete=incomplete)
    yield Page(path="months.md", title=title, template=None, text=text)
    pages = {number: f"../parts/{around.found.by_folder[sheet.folder.folder]}.html" for number, sheet in around.sheets.items()}
    for at, report in enumerate(reports):
        title = title_of(report, w)
        told = rendered(
            "reports/month.md.j2",
            w=w,
            title=front_matter(title),
            heading=title,
            incomplete=incomplete,
            until=until_words(report, w),
            sections=sections(report, names),
            pages=pages,
            table=f"{report.month}.csv",
            month=str(report.month),
            newer=_beside(reports[at - 1], names) if at else None,
            older=_beside(reports[at + 1], names) if at + 1 < len(reports) else None,
        )
        yield Page(path=f"reports/{report.month}.md", title=title, template=None, text=told)


def month_tables(reports: tuple[MonthReport, ...]) -> Iterator[Asset]:
    for report in reports:
        yield Asset(path=f"reports/{report.month}.csv", content=csv_of(report))


def names_of(around: Around) -> Names:
    titles = {number: sheet.title for number, sheet in around.sheets.items()}
    return Names(catalogue=around.catalogue, parts=titles, currency=around.depot.currency, w=around.w)


def _beside(report: MonthReport, names: Names) -> tuple[str, str]:
    return month_name(report.month, names.w), f"{report.month}.md"


def _line(report: MonthReport, names: Names) -> MonthLine:
    w = names.w

    def figure(count: int) -> str:
        return w.number(count) if count else w("missing")

    return MonthLine(
        page=f"reports/{report.month}.md",
        name=month_name(report.month, w),
        given=figure(len(report.given)),
        printed=figure(sum(each.pieces for each in report.prints)),
        scrapped=figure(sum(each.count for each in report.scrap)),
        fitted=figure(sum(each.count for each in report.fitted)),
        failed=figure(sum(report.failures.values())),
        saved=w.number(report.savings.total, 2) if report.savings.rows else w("missing"),
    )
