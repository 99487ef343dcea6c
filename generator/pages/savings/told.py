"""The savings in words: sentences and tables, for their page and the terminal alike."""

from collections.abc import Iterable, Iterator
from decimal import Decimal

from generator.pages.reports.saved import before_words, times_words, visits_words
from generator.pages.reports.told import Names, ReportRow, ReportSection, month_name
from generator.pages.wording import Wording
from generator.planning.money import CENT, cents, exact
from generator.planning.saving.ahead import Ahead
from generator.planning.saving.expected import together
from generator.planning.saving.payback import Payback
from generator.planning.saving.rows import Saved, Unknown
from generator.planning.saving.whole import WholeSavings

_MANY = 6
"""Columns that stand close, so that they find room on a tablet held upright."""


def says(whole: WholeSavings, w: Wording) -> tuple[str, ...]:
    """What it is of, and what it comes to."""
    found = whole.found
    if not found.rows:
        said = w("savings.no_fleet", fleet=whole.fleet) if whole.fleet else w("savings.nothing")
        return (said,)
    since = w.day(whole.since) if whole.since else None
    what = w("savings.says_month", month=month_name(whole.month, w)) if whole.month else w("savings.says", since=since, day=w.day(whole.day))
    return (what, w("savings.only_fleet", fleet=whole.fleet)) if whole.fleet else (what,)


def total_words(whole: WholeSavings, names: Names) -> str:
    pieces = names.w.count("savings.pieces", sum(row.pieces for row in whole.found.rows))
    total = names.w("savings.total", saved=names.w.money(whole.found.total, names.currency), pieces=pieces)
    return " ".join(filter(None, (total, visits_words(whole.found, names.w))))


def part_section(whole: WholeSavings, names: Names) -> ReportSection:
    w = names.w
    rows = (
        ReportRow(
            number=number,
            cells=(
                names.part(number), w.number(each.pieces), times_words(each, names.currency, w), _money(each.own, names), _money(each.saved, names),
                _a_piece(each, whole.ahead.get(number), names),
            ),
        )
        for number, each in sorted(whole.found.by_part.items())
    )  # fmt: skip
    others = (
        ReportRow(number=number, cells=(names.part(number), w.number(pieces), w("missing"), w("missing"), w(f"savings.unknown.{why}"), w("missing")))
        for number, (pieces, why) in sorted(whole.found.unknown_parts.items())
    )
    says = w("savings.next_says") if whole.found.rows else ""
    return _section("parts", ("part", "pieces", "before", "own", "saved", "saved_each"), (*rows, *others), w, says)


def _a_piece(fitted: Saved, ahead: Ahead | None, names: Names) -> str:
    """What each that was fitted saved, and the next one where that is another sum, with how many are ordered at a time and for which demand."""
    following = ahead.saved if ahead else None
    if following == fitted.saved_each:
        return _money(following, names)
    demand = ahead.demand if ahead else None
    order = names.w(f"savings.at_a_time.{demand.source}", n=names.w.number(demand.a_quarter), a_year=names.w.measure(float(demand.told))) if demand else None
    return names.w("savings.a_piece", fitted=_money(fitted.saved_each, names), next=_money(following, names), order=order)


def month_section(whole: WholeSavings, names: Names) -> ReportSection:
    """Newest first; a month is linked under its ISO name."""
    known, unknown = whole.found.by(lambda row: row.month), whole.found.unknown_by(lambda row: row.month)
    listed = sorted({*known, *unknown}, reverse=True)
    rows = (ReportRow(number=str(month), cells=(month_name(month, names.w), *_cells(known.get(month), unknown.get(month), names))) for month in listed)
    return _section("months", ("month", "pieces", "own", "saved"), rows, names.w)


def fleet_section(whole: WholeSavings, names: Names) -> ReportSection:
    fleets = names.catalogue.fleets
    known, unknown = whole.found.by(lambda row: row.fleet), whole.found.unknown_by(lambda row: row.fleet)
    rows = (
        ReportRow(cells=(fleets[fleet].name if fleet in fleets else fleet, *_cells(known.get(fleet), unknown.get(fleet), names))) for fleet in sorted({*known, *unknown})
    )
    return _section("fleets", ("fleet", "pieces", "own", "saved"), rows, names.w)


def _cells(each: Saved | None, unknown: tuple[int, Unknown] | None, names: Names) -> tuple[str, ...]:
    """Of the pieces of which it is known; where there is none, of the others that it is not."""
    if each is None:
        pieces, why = unknown or (0, Unknown.PRICE)
        return names.w.number(pieces), names.w("missing"), names.w(f"savings.unknown.{why}")
    return names.w.number(each.pieces), _money(each.own, names), _money(each.saved, names)


def payback_section(whole: WholeSavings, names: Names) -> ReportSection:
    """Of parts with minutes; that none are written down is said."""
    w, depot = names.w, names.catalogue.depot
    timed = [each for each in whole.paybacks if each.minutes is not None]
    if not timed:
        return _section("payback", (), (), w, w("savings.no_minutes") if whole.paybacks else "")
    an_hour = depot.costs_per_hour if depot else None
    said = w("savings.no_hour") if an_hour is None else w("savings.an_hour", **_an_hour(exact(an_hour), names))
    others = len(whole.paybacks) - len(timed)
    without = w.count("savings.no_minutes_of", others) if others else ""
    return _section("payback", ("part", "minutes", "cost", "saved", "net", "since"), (_payback(each, names) for each in timed), w, said, without)


def _an_hour(cost: Decimal, names: Names) -> dict[str, str]:
    """What costs something is never shown as nothing."""
    return {"least": _money(CENT, names)} if 0 < cost < CENT else {"cost": _money(cents(cost), names)}


def _payback(each: Payback, names: Names) -> ReportRow:
    w = names.w
    since = month_name(each.since, w) if each.since else w("savings.not_yet") if each.cost is not None else w("missing")
    minutes = w.number(each.minutes or 0)
    if each.unknown:
        said = w(f"savings.unknown.{each.unknown}")
        return ReportRow(number=each.number, cells=(names.part(each.number), minutes, _money(each.cost, names), said, said if each.cost is not None else w("missing"), w("missing")))
    return ReportRow(number=each.number, cells=(names.part(each.number), minutes, _money(each.cost, names), _money(each.saved, names), _money(each.net, names), since))


def expected_section(whole: WholeSavings, names: Names) -> ReportSection:
    w, listed = names.w, whole.expected
    rows = (
        ReportRow(
            number=each.sheet.number,
            cells=(names.part(each.sheet.number), w.measure(each.a_year), before_words(each.before, each.instead, names.currency, w), _money(each.own, names), _money(each.saved, names)),
        )
        for each in listed
    )
    said = (w("savings.expected_says"), w("savings.expected_total", saved=_money(together(listed), names))) if listed else ()
    return _section("expected", ("part", "a_year", "before_each", "own_each", "expected"), rows, w, *said)


def every_section(whole: WholeSavings, names: Names) -> Iterator[ReportSection]:
    """All of them that have something to say."""
    every = (part_section, month_section, fleet_section, payback_section, expected_section)
    yield from (section for each in every for section in [each(whole, names)] if section.rows or section.sentences)


def _section(key: str, columns: Iterable[str], rows: Iterable[ReportRow], w: Wording, *sentences: str) -> ReportSection:
    listed = tuple(rows)
    heads = tuple(w(f"savings.column.{each}") for each in columns) if listed else ()
    kind = "sums" if len(heads) >= _MANY else ""
    return ReportSection(heading=w(f"savings.section.{key}"), sentences=tuple(filter(None, sentences)), columns=heads, rows=listed, kind=kind)


def _money(amount: Decimal | None, names: Names) -> str:
    return names.w("missing") if amount is None else names.w.money(amount, names.currency)
