"""What the commands of lots and batches ask and tell in the same words."""

import argparse

from generator.edge.commands import options as asking
from generator.edge.commands.terminal import Terminal
from generator.edge.disk.print_records import FOLDERS, Change
from generator.edge.spoken import words
from generator.records.problems import Severity


def add_writing(parser: argparse.ArgumentParser) -> None:
    """Who, when, a note, and whether anything is written."""
    asking.add_by(parser, "role that did it, as in depot.yml")
    asking.add_day(parser, "day it happened (default: today)")
    parser.add_argument("--note", metavar="TEXT", help="anything else worth keeping")
    parser.add_argument("--dry-run", action="store_true", help="show what would be written and write nothing")
    asking.add_catalogue(parser, again=True)


def tell_change(change: Change, options: argparse.Namespace, terminal: Terminal) -> None:
    """The lines that came in, the files that were copied, and what is to be looked at."""
    w = words()
    terminal.say(w("commands.added.would") if options.dry_run else w("commands.added.done", file=change.file), "bold")
    terminal.say(change.added.rstrip("\n"))
    for each in change.files:
        if each.is_new and not options.dry_run:
            terminal.say(w("commands.printed.copied", file=f"{FOLDERS[change.kind]}/{each.file}"))
    warned = [each for each in change.judged.problems if each.severity is Severity.WARNING]
    terminal.problems(warned, options.catalogue, change.judged.catalogue.language)
