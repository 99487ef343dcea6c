"""`spares savings`: what printed parts have saved, by part, fleet and month, with every price beside."""

import argparse
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from generator.edge.commands import options as asking
from generator.edge.commands.examining import planned_for
from generator.edge.commands.report import add_month
from generator.edge.commands.sections import names_in, tell_sections
from generator.edge.commands.short import ending_of, tell_short
from generator.edge.commands.terminal import Terminal, tell_json
from generator.edge.disk.paper_files import lies_outside, write_paper
from generator.edge.refusals import Ending, refused
from generator.pages.on_vehicles.incomplete import plain_gaps
from generator.pages.reports.saved import unpriced_words
from generator.pages.reports.told import Names
from generator.pages.savings.plain import csv_of, plain_of
from generator.pages.savings.told import every_section, says, total_words
from generator.planning.saving.whole import WholeSavings, whole_savings
from generator.records.fitted import FileGap

DESCRIPTION = """\
Tells what the pieces saved that were fitted: the last price of the assembly that had to be bought before, less what they cost, at the prices of
now; by part, month and fleet, whether the minutes that were written down are paid back, and what is expected of parts that nobody fitted
yet. Amounts are decimals; every total is the sum of the rows of the table (--csv).
"""
EXAMPLE = """\
  spares savings
  spares savings --month 2026-10
  spares savings --fleet TR4 --csv savings.csv
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    add_month(parser, "such as 2026-10 (default: all of them)")
    parser.add_argument("--fleet", metavar="FLEET", help="of one fleet alone")
    parser.add_argument("--csv", type=Path, metavar="FILE", help="write a table of every batch, fleet and month, with its prices")
    parser.add_argument("--force", action="store_true", help="write over a file that is there")
    asking.add_listing(parser)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    day: date = options.on or asking.today()
    root = asking.catalogue_of(options.catalogue)
    if options.csv:
        lies_outside(options.csv, root)
    if options.month and options.month.first > day:
        raise refused("month_to_come", Ending.MISUSE, month=str(options.month), day=day.isoformat())
    found = planned_for(options, terminal, root, day)
    catalogue = found.catalogue
    if options.fleet and options.fleet not in catalogue.fleets:
        raise refused("trace_no_fleet", Ending.MISUSE, name=options.fleet, known=sorted(catalogue.fleets))
    names = names_in(found)
    gaps = tell_short(catalogue, terminal, aside=options.format == "json")
    _tell(options, whole_savings(found.sheets, catalogue, day, month=options.month, fleet=options.fleet), names, gaps, terminal)
    return ending_of(gaps)


def _tell(options: argparse.Namespace, whole: WholeSavings, names: Names, gaps: Sequence[FileGap], terminal: Terminal) -> None:
    if options.csv:
        write_paper(options.csv, csv_of(whole), force=options.force)
        terminal.say(names.w("savings.written", title=names.w("savings.title"), file=str(options.csv)))
    elif options.format == "json":
        tell_json({**plain_of(whole), **plain_gaps(gaps)})
    else:
        _print(whole, names, terminal)


def _print(whole: WholeSavings, names: Names, terminal: Terminal) -> None:
    terminal.say(names.w("savings.title"), "bold")
    for sentence in says(whole, names.w):
        terminal.say(sentence)
    if whole.found.rows:
        terminal.say(total_words(whole, names), "bold")
    tell_sections(every_section(whole, names), terminal)
    terminal.say()
    for sentence in (unpriced_words(whole.found, names.part, names.w), names.w("savings.rule") if whole.found.rows else ""):
        if sentence:
            terminal.say(sentence, "dim")
