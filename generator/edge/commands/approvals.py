"""`spares approvals`: every approval by stage, who holds it, what it lacks, what lapses and when it may come."""

import argparse
from datetime import date

from generator.edge.commands import options as asking
from generator.edge.commands.examining import examined_for
from generator.edge.commands.terminal import Terminal, tell_json
from generator.edge.refusals import Ending
from generator.pages.approvals.mends import lack_lines, who_words
from generator.pages.approvals.page import (
    forecast_words,
    missing_words,
    own_history_words,
    stands_words,
    unfit_first,
)
from generator.pages.wording import Wording, wording
from generator.planning.forecast import Forecast
from generator.planning.overview import ON_THE_WAY, OverviewRow, is_waiting, overview
from generator.records.catalogue import Catalogue
from generator.rules.history import Stage

DESCRIPTION = """\
First what is approved, yet not to be fitted: what is missing, and the command that mends it. Then every part by the
stage of its approval: how long it has been there, whose move it is, what the next step lacks, what lapses within 30, 90
and 180 days, and when the approval may come (an estimate; the page says how). See also spares next.
"""
EXAMPLE = """\
  spares approvals
  spares approvals --all --on 2027-01-31
  spares approvals --format json
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--all", action="store_true", help="settled ones too, not only those on the way")
    asking.add_listing(parser)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    day = options.on or asking.today()
    root = asking.catalogue_of(options.catalogue)
    found = examined_for(options, terminal, root, day)
    rows = [
        row
        for row in overview(found.sheets, day)
        if options.all or row.stage in ON_THE_WAY or row.lapses or row.lacks
    ]
    w = wording(found.catalogue.language)
    if options.format == "json":
        tell_json([_told(row, found.catalogue, w) for row in rows])
    elif not found.sheets:
        terminal.say(w("starting.no_parts"))
    else:
        _print_unfit(rows, found.catalogue, w, terminal)
        _print([row for row in rows if options.all or row.lapses or is_waiting(row)], w, terminal)
    return Ending.CLEAN


def _print_unfit(rows: list[OverviewRow], catalogue: Catalogue, w: Wording, terminal: Terminal) -> None:
    """What is approved, yet not to be fitted, each with what is missing and the command that mends it."""
    unfit = unfit_first(rows)
    terminal.say(w("approvals.unfit") if unfit else w("approvals.all_fit"), "bold")
    for row in unfit:
        terminal.say(row.sheet.title, "bold")
        for lack in row.lacks:
            terminal.say(f"  {who_words(lack, catalogue, w)}")
        terminal.mends(lack_lines(row.sheet, row.lacks, catalogue, w))
    terminal.say()


def _print(rows: list[OverviewRow], w: Wording, terminal: Terminal) -> None:
    keys = ("part", "stage", "waited", "holder", "missing", "expected", "own")
    terminal.table([w(f"approvals.{key}") for key in keys], [_cells(row, w) for row in rows])
    lapsing = [(lapse, row) for row in rows for lapse in row.lapses]
    if not lapsing:
        return
    terminal.say()
    heads = [w(f"approvals.{key}") for key in ("part", "what", "last_day", "left")]
    lapsing.sort(key=lambda pair: (pair[0].last_day, pair[1].sheet.number))
    terminal.table(
        heads,
        [
            (
                row.sheet.title,
                w.term("lapsing", lapse.what.name.lower()),
                w.day(lapse.last_day),
                w.count("approvals.days", lapse.days_left) if lapse.days_left >= 0 else w("approvals.over"),
            )
            for lapse, row in lapsing
        ],
    )


def _cells(row: OverviewRow, w: Wording) -> tuple[str, ...]:
    return (
        row.sheet.title,
        stands_words(row, w),
        w.count("approvals.days", row.waited_days) if row.waited_days is not None else w("missing"),
        w.term("holder", row.holder),
        missing_words(row, w),
        forecast_words(row, w),
        own_history_words(row.forecast, w),
    )


def _told(row: OverviewRow, catalogue: Catalogue, w: Wording) -> dict[str, object]:
    """A row as plain JSON; days are ISO dates, what is not known is null."""
    return {
        "number": row.sheet.number,
        "name": row.sheet.name,
        "route": None if row.stage is Stage.UNREAD else row.sheet.history.route,
        "stage": row.stage,
        "since": _iso(row.since),
        "waited_days": row.waited_days,
        "holder": row.holder,
        "missing": [what.value for what in row.missing],
        "question": row.question,
        "unfit": [
            {"missing": line.missing, "do": line.do, "command": line.command}
            for line in lack_lines(row.sheet, row.lacks, catalogue, w)
        ],
        "lapses": [
            {"what": lapse.what, "last_day": _iso(lapse.last_day), "days_left": lapse.days_left}
            for lapse in row.lapses
        ],
        "forecast": _forecast(row.forecast),
    }


def _forecast(forecast: Forecast | None) -> dict[str, object] | None:
    if forecast is None:
        return None
    days = {"early": _iso(forecast.early), "median": _iso(forecast.median), "late": _iso(forecast.late)}
    return days | {"own_share": forecast.own_share}


def _iso(day: date | None) -> str | None:
    return day.isoformat() if day else None
