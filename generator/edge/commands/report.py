"""`spares report`: what happened in a month, as text, as a table, as JSON, or as a paper."""

import argparse
import re
from datetime import date
from pathlib import Path

from generator.edge.commands import options as asking
from generator.edge.commands.examining import examined_for
from generator.edge.commands.sections import names_in, tell_sections
from generator.edge.commands.short import ending_of, tell_short
from generator.edge.commands.terminal import Terminal, tell_json
from generator.edge.disk.paper_files import lies_outside, write_paper
from generator.edge.refusals import Ending, refused
from generator.edge.spoken import words
from generator.pages.on_vehicles.incomplete import incomplete_words, plain_gaps
from generator.pages.reports.plain import csv_of, plain_of
from generator.pages.reports.told import Names, ReportSection, sections, title_of, until_words
from generator.pages.wording import Wording
from generator.planning.month import MonthReport, month_report
from generator.planning.months import Month

DESCRIPTION = """\
Tells what is dated in a month: approvals, refusals, lapses and withdrawals; batches, pieces, material and time by
machine, scrap with its reasons, what was released and rejected; what was fitted and came off, and why; failures by part; and
what the fitted pieces saved, by the prices of now. The same stands on the page of the month, with its table.

Where lines or records cannot be read, are gone, say less or something else than they did, or are of days to come, the report says that it
is incomplete, and of what; the exit code is then 1, else 0.
"""
EXAMPLE = """\
  spares report --month 2026-10
  spares report --month 2026-10 --to october.pdf
  spares report --format csv > last-month.csv
"""
_KINDS = (".pdf", ".csv")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    add_month(parser, "such as 2026-10 (default: the last one that is over)")
    parser.add_argument("--format", choices=("text", "csv", "json"), default="text", help="csv and json are for machines (default: text)")
    parser.add_argument("--to", type=Path, metavar="FILE", help="write a paper (FILE.pdf) or a table (FILE.csv)")
    parser.add_argument("--force", action="store_true", help="write over a file that is there")
    asking.add_day(parser, "as on this day (default: SOURCE_DATE_EPOCH, else today)")
    asking.add_catalogue(parser)


def add_month(parser: argparse.ArgumentParser, help_text: str) -> None:
    parser.add_argument("--month", type=_month, metavar="MONTH", help=help_text)


def _month(text: str) -> Month:
    """A month as 2026-10; argparse shows the message of the error."""
    found = re.fullmatch(r"([0-9]{4})-(0[1-9]|1[0-2])", text, re.ASCII)
    if not found or found[1] in ("0000", "9999"):
        raise argparse.ArgumentTypeError(words()("commands.no_month", given=text, like="2026-10"))
    return Month(int(found[1]), int(found[2]))


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    day = options.on or asking.today()
    month = options.month or Month.of(day).before
    root = asking.catalogue_of(options.catalogue)
    _may_be_written(options.to, root)
    if month.first > day:
        raise refused("month_to_come", Ending.MISUSE, month=str(month), day=day.isoformat())
    report, names = _reported(options, month, day, root, terminal)
    gaps = tell_short(names.catalogue, terminal, aside=not options.to and options.format != "text")
    if options.to:
        _write(options, report, names, terminal)
        terminal.say(names.w("reports.written", title=title_of(report, names.w), file=str(options.to)))
    elif options.format == "json":
        tell_json({**plain_of(report), **plain_gaps(gaps)})
    elif options.format == "csv":
        print(csv_of(report).decode("utf-8-sig").replace("\r\n", "\n"), end="")
    else:
        _print(report, sections(report, names), names.w, terminal)
    return ending_of(gaps)


def _reported(options: argparse.Namespace, month: Month, day: date, root: Path, terminal: Terminal) -> tuple[MonthReport, Names]:
    found = examined_for(options, terminal, root, day)
    catalogue = found.catalogue
    names = names_in(found)
    return month_report(month, found.sheets, catalogue, day), names


def _print(report: MonthReport, told: tuple[ReportSection, ...], w: Wording, terminal: Terminal) -> None:
    terminal.say(title_of(report, w), "bold")
    terminal.say(until_words(report, w))
    tell_sections(told, terminal)


def _may_be_written(file: Path | None, root: Path) -> None:
    """Raises Refusal: a report is no record, and what it is follows from its ending."""
    if file is None:
        return
    if file.suffix.lower() not in _KINDS:
        raise refused("no_report", Ending.MISUSE, file=str(file))
    lies_outside(file, root)


def _write(options: argparse.Namespace, report: MonthReport, names: Names, terminal: Terminal) -> None:
    """Whole or not at all; another file only with `force`. Raises Refusal."""
    file: Path = options.to
    if file.suffix.lower() == ".csv":
        write_paper(file, csv_of(report), force=options.force)
        return
    write_paper(file, _paper(report, names), force=options.force)
    from generator.edge.commands.lettered import tell_lacking  # noqa: PLC0415  the typesetter is loaded where a paper is made

    tell_lacking(terminal, title_of(report, names.w), *((each.heading, each.sentences, [row.cells for row in each.rows]) for each in sections(report, names)))


def _paper(report: MonthReport, names: Names) -> bytes:
    from generator.papers import kinds  # noqa: PLC0415  the typesetter is loaded where a paper is made
    from generator.papers.report import report as as_pdf  # noqa: PLC0415

    depot = names.catalogue.depot
    subtitle = " · ".join(filter(None, (depot.depot if depot else "", until_words(report, names.w))))
    incomplete = incomplete_words(names.catalogue, names.w)
    told = tuple(
        kinds.Section(heading=each.heading, sentences=each.sentences, columns=each.columns, rows=tuple(row.cells for row in each.rows))
        for each in sections(report, names)
    )
    return as_pdf(kinds.Report(title=title_of(report, names.w), subtitle=subtitle, incomplete=incomplete, sections=told), names.w)
