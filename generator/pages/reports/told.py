"""The report of a month in words: sentences and tables, for its page, its paper and the terminal alike."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from generator.pages.on_vehicles.recalled import recalled_words
from generator.pages.part.story import role_name
from generator.pages.reports.saved import times_words, unpriced_words, visits_words
from generator.pages.wording import Wording
from generator.planning.month import ApprovalStep, Judged, MonthReport, Removed
from generator.planning.months import Month
from generator.records.catalogue import Catalogue


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportRow:
    """The cells of a line; the first one names the part with this number, where it does."""

    number: str | None = None
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportSection:
    heading: str
    sentences: tuple[str, ...] = ()
    columns: tuple[str, ...] = ()
    rows: tuple[ReportRow, ...] = ()
    kind: str = ""
    """How wide its columns are, as approvals.css names it; as they come by default."""
    is_last_below: bool = False
    """On a page the last cell stands below its row, as wide as the table: sentences, which no column has room for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Names:
    """What roles, parts and machines are called, and in which currency prices are."""

    catalogue: Catalogue
    parts: Mapping[str, str]
    """Number and name, by number."""
    currency: str
    w: Wording

    def part(self, number: str) -> str:
        return self.parts.get(number, number)

    def machine(self, machine: str) -> str:
        known = self.catalogue.production.machines.get(machine)
        if known is None:
            return machine
        return known.name if known.name.startswith(machine) else f"{machine} {known.name}"

    def role(self, role: str) -> str:
        return role_name(role, self.catalogue) if role else self.w("missing")


def month_name(month: Month, w: Wording) -> str:
    """Such as October 2026."""
    return w("reports.month", month=w.flat["reports.months"][month.number - 1], year=str(month.year))


def title_of(report: MonthReport, w: Wording) -> str:
    return w("reports.of_month", month=month_name(report.month, w))


def until_words(report: MonthReport, w: Wording) -> str:
    """Up to which day it counts, where the month is not over."""
    return w("reports.whole") if report.is_over else w("reports.so_far", day=w.day(report.until))


def sections(report: MonthReport, names: Names) -> tuple[ReportSection, ...]:
    """What there is to tell; of a month without anything one sentence."""
    w = names.w
    if report.is_empty:
        return (ReportSection(heading=w("reports.nothing"), sentences=(w("reports.nothing_says"),)),)
    every = (
        *(_steps(key, steps, names) for key, steps in _kinds(report)),
        _prints(report, names),
        _scrap(report, names),
        _judged(report, names),
        _fitted(report, names),
        _removed(report, names),
        _failures(report, names),
        _recalls(report, names),
        _savings(report, names),
    )
    return tuple(each for each in every if each.rows or each.sentences)


def _kinds(report: MonthReport) -> Iterator[tuple[str, tuple[ApprovalStep, ...]]]:
    yield from (("given", report.given), ("refused", report.refused), ("lapsed", report.lapsed), ("ended", report.ended))


def _section(key: str, columns: Iterable[str], rows: Iterable[ReportRow], w: Wording, *sentences: str) -> ReportSection:
    listed = tuple(rows)
    heads = tuple(w(f"reports.column.{each}") for each in columns) if listed else ()
    return ReportSection(heading=w(f"reports.section.{key}"), sentences=tuple(filter(None, sentences)), columns=heads, rows=listed)


def _steps(key: str, steps: Iterable[ApprovalStep], names: Names) -> ReportSection:
    w, lapsed = names.w, key == "lapsed"
    rows = (
        ReportRow(
            number=step.number,
            cells=(
                names.part(step.number), w.day(step.on), w.term("lapsing" if lapsed else "event", step.what),
                *(() if lapsed else (names.role(step.by),)), step.reference or w("missing"),
            ),
        )
        for step in steps
    )  # fmt: skip
    return _section(key, ("part", "first_without" if lapsed else "day", "what", *(() if lapsed else ("by",)), "reference"), rows, w)


def _prints(report: MonthReport, names: Names) -> ReportSection:
    w = names.w
    rows = (
        ReportRow(
            cells=(
                names.machine(each.machine), w.number(each.batches), w.number(each.pieces),
                w.measure(each.grams, 1) if each.unweighed < each.batches else w("missing"), w.measure(each.minutes / 60, 1),
            )
        )
        for each in report.prints
    )  # fmt: skip
    unweighed = sum(each.unweighed for each in report.prints)
    return _section(
        "prints", ("machine", "batches", "pieces", "grams", "hours"), rows, w, w.count("reports.unweighed", unweighed) if unweighed else ""
    )


def _scrap(report: MonthReport, names: Names) -> ReportSection:
    w = names.w
    rows = (
        ReportRow(number=each.number, cells=(names.part(each.number), w.day(each.on), each.batch, w.number(each.count), each.why)) for each in report.scrap
    )
    reasons = [w("reports.reason", count=w.number(count), why=why) for why, count in report.scrap_by_reason.items()]
    total = w("reports.in_all", listed=w("list_separator").join(reasons)) if len(report.scrap) > 1 else ""
    return _section("scrap", ("part", "day", "batch", "pieces", "reason"), rows, w, total)


def _judged(report: MonthReport, names: Names) -> ReportSection:
    w = names.w
    rows = (
        ReportRow(
            number=each.number,
            cells=(
                names.part(each.number), w.day(each.on), each.batch, w.number(each.count),
                w(f"reports.{_verdict(each)}"), names.role(each.by), each.why or w("missing"),
            ),
        )
        for each in report.judged
    )  # fmt: skip
    return _section("judged", ("part", "day", "batch", "pieces", "verdict", "by", "reason"), rows, w)


def _verdict(judged: Judged) -> str:
    if not judged.released:
        return "rejected"
    return "released" if judged.holds else "void"


def _fitted(report: MonthReport, names: Names) -> ReportSection:
    w = names.w
    rows = (
        ReportRow(number=each.number, cells=(names.part(each.number) if each.number else w("reports.unknown_batch"), w.number(each.count)))
        for each in report.fitted
    )
    return _section("fitted", ("part", "pieces"), rows, w)


def _removed(report: MonthReport, names: Names) -> ReportSection:
    w = names.w
    rows = (
        ReportRow(number=each.number, cells=(_whose(each, names), w.term("off_why", each.why), w.number(each.count))) for each in report.removed
    )
    return _section("removed", ("part", "reason", "pieces"), rows, w)


def _whose(removed: Removed, names: Names) -> str:
    if removed.number:
        return names.part(removed.number)
    return names.w("reports.unknown_batch" if removed.has_batch else "reports.no_batch")


def _failures(report: MonthReport, names: Names) -> ReportSection:
    w = names.w
    rows = (ReportRow(number=number, cells=(names.part(number), w.number(count))) for number, count in report.failures.items())
    apart = sum(each.count for each in report.removed if each.number is None and each.why.is_failure)
    return _section("failures", ("part", "pieces"), rows, w, w.count("reports.apart", apart) if apart else "")


def _recalls(report: MonthReport, names: Names) -> ReportSection:
    """Where they stand at the end of the month: what was called back before and is about still, too."""
    w = names.w
    rows = (
        ReportRow(
            number=each.recall.part,
            cells=(
                f"{each.number}: {recalled_words(each.recall, w)}",
                w(f"reports.recall.{each.what.replace(' ', '_')}", on=w.day(each.on), by=names.role(each.by)), each.why,
                w("reports.still", sits=w.number(each.on_vehicles), put_by=w.number(each.put_by), off=w.number(each.came_off)),
            ),
        )
        for each in report.recalls
    )  # fmt: skip
    return _section("recalls", ("recall", "what", "reason", "about"), rows, w)


def _savings(report: MonthReport, names: Names) -> ReportSection:
    w, found = names.w, report.savings
    rows = (
        ReportRow(
            number=number,
            cells=(
                names.part(number), w.number(each.pieces), times_words(each, names.currency, w),
                w.money(each.own, names.currency), w.money(each.saved, names.currency),
            ),
        )
        for number, each in sorted(found.by_part.items())
    )  # fmt: skip
    others = (
        ReportRow(number=number, cells=(names.part(number), w.number(pieces), w("missing"), w("missing"), w(f"savings.unknown.{why}")))
        for number, (pieces, why) in sorted(found.unknown_parts.items())
    )
    told = (w("reports.total", saved=w.money(found.total, names.currency)), visits_words(found, w), w("reports.rule")) if found.rows else ()
    without = unpriced_words(found, names.part, w)
    return _section("savings", ("part", "pieces", "before", "own", "saved"), (*rows, *others), w, *told, without)
