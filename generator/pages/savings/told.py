"""The savings in words: sentences and tables, for their page and the terminal alike."""

from collections.abc import Iterable, Iterator
from decimal import Decimal

from generator.pages.reports.told import Names, Row, Section, month_name
from generator.pages.wording import Wording
from generator.planning.money import cents, exact
from generator.planning.saving.expected import together
from generator.planning.saving.payback import Payback
from generator.planning.saving.rows import Instead, Saved
from generator.planning.saving.whole import WholeSavings


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
    return names.w("savings.total", saved=names.w.money(whole.found.total, names.currency), pieces=pieces)


def unpriced_words(whole: WholeSavings, names: Names) -> str:
    """Which pieces have no price to compare; empty where all have."""
    unpriced = whole.found.unpriced
    listed = tuple(names.part(number) if number else names.w("reports.unknown_batch") for number, _ in unpriced)
    return names.w.count("savings.unpriced", sum(count for _, count in unpriced), parts=listed) if unpriced else ""


def part_section(whole: WholeSavings, names: Names) -> Section:
    w = names.w
    rows = (
        Row(number=number, cells=(names.part(number), w.number(each.pieces), _before(each.before, each.instead, names), _money(each.own, names), _money(each.saved, names)))
        for number, each in sorted(whole.found.by_part.items())
    )
    return _section("parts", ("part", "pieces", "before", "own", "saved"), rows, w)


def month_section(whole: WholeSavings, names: Names) -> Section:
    """Newest first; a month is linked under its ISO name."""
    listed = sorted(whole.found.by(lambda row: row.month).items(), reverse=True)
    rows = (Row(number=str(month), cells=(month_name(month, names.w), *_cells(each, names))) for month, each in listed)
    return _section("months", ("month", "pieces", "own", "saved"), rows, names.w)


def fleet_section(whole: WholeSavings, names: Names) -> Section:
    fleets = names.catalogue.fleets
    listed = sorted(whole.found.by(lambda row: row.fleet).items())
    rows = (Row(cells=(fleets[fleet].name if fleet in fleets else fleet, *_cells(each, names))) for fleet, each in listed)
    return _section("fleets", ("fleet", "pieces", "own", "saved"), rows, names.w)


def _cells(each: Saved, names: Names) -> tuple[str, ...]:
    return names.w.number(each.pieces), _money(each.own, names), _money(each.saved, names)


def payback_section(whole: WholeSavings, names: Names) -> Section:
    """Of parts with minutes; that none are written down is said."""
    w, depot = names.w, names.catalogue.depot
    timed = [each for each in whole.paybacks if each.minutes is not None]
    if not timed:
        return _section("payback", (), (), w, w("savings.no_minutes") if whole.paybacks else "")
    an_hour = depot.costs_per_hour if depot else None
    said = w("savings.no_hour") if an_hour is None else w("savings.an_hour", cost=_money(cents(exact(an_hour)), names))
    others = len(whole.paybacks) - len(timed)
    without = w.count("savings.no_minutes_of", others) if others else ""
    return _section("payback", ("part", "minutes", "cost", "saved", "net", "since"), (_payback(each, names) for each in timed), w, said, without)


def _payback(each: Payback, names: Names) -> Row:
    w = names.w
    since = month_name(each.since, w) if each.since else w("savings.not_yet") if each.cost is not None else w("missing")
    minutes = w.number(each.minutes or 0)
    return Row(number=each.number, cells=(names.part(each.number), minutes, _money(each.cost, names), _money(each.saved, names), _money(each.net, names), since))


def expected_section(whole: WholeSavings, names: Names) -> Section:
    w, listed = names.w, whole.expected
    rows = (
        Row(
            number=each.sheet.number,
            cells=(names.part(each.sheet.number), w.measure(each.a_year), _before(each.before, each.instead, names), _money(each.own, names), _money(each.saved, names)),
        )
        for each in listed
    )
    said = (w("savings.expected_says"), w("savings.expected_total", saved=_money(together(listed), names))) if listed else ()
    return _section("expected", ("part", "a_year", "before", "own_each", "expected"), rows, w, *said)


def every_section(whole: WholeSavings, names: Names) -> Iterator[Section]:
    """All of them that have something to say."""
    every = (part_section, month_section, fleet_section, payback_section, expected_section)
    yield from (section for each in every for section in [each(whole, names)] if section.rows or section.sentences)


def _section(key: str, columns: Iterable[str], rows: Iterable[Row], w: Wording, *sentences: str) -> Section:
    listed = tuple(rows)
    heads = tuple(w(f"savings.column.{each}") for each in columns) if listed else ()
    return Section(heading=w(f"savings.section.{key}"), sentences=tuple(filter(None, sentences)), columns=heads, rows=listed)


def _before(price: Decimal | None, instead: Instead | None, names: Names) -> str:
    """The price, and of what it is."""
    if price is None or instead is None:
        return names.w("missing")
    return names.w(f"savings.before.{instead}", price=_money(price, names))


def _money(amount: Decimal | None, names: Names) -> str:
    return names.w("missing") if amount is None else names.w.money(amount, names.currency)
