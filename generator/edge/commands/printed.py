"""What the commands of lots and batches ask and tell in the same words."""

import argparse
from collections.abc import Callable
from typing import Any

from generator.edge.commands import options as asking
from generator.edge.commands.terminal import Terminal
from generator.edge.disk.print_records import FOLDERS, DepotNow, Kind, PrintRecordChange, depot_now, write
from generator.edge.disk.writing_lock import held
from generator.edge.refusals import Ending
from generator.edge.spoken import words
from generator.records.problems import Severity

Make = Callable[[argparse.Namespace, DepotNow, Terminal], PrintRecordChange | None]
"""What would be written; None where it stands there already."""


def help_of(command: str, action: str, says: str, examples: str) -> dict[str, Any]:
    """What the help of one action says: its own examples are those of the command that speak of it."""
    own = [line for line in examples.splitlines() if line.split()[:3] == ["spares", command, action]]
    described = f"{says[0].upper()}{says[1:]}."
    return {"help": says, "description": described, "epilog": "\n".join(["example:", *own]), "formatter_class": argparse.RawDescriptionHelpFormatter}


def add_writing(parser: argparse.ArgumentParser) -> None:
    """Who, when, a note, and whether anything is written."""
    asking.add_by(parser, "role that did it, as in depot.yml")
    asking.add_day(parser, "day it happened (default: today)")
    parser.add_argument("--note", metavar="TEXT", help="anything else worth keeping")
    parser.add_argument("--dry-run", action="store_true", help="show what would be written and write nothing")
    asking.add_catalogue(parser, again=True)


def changed(options: argparse.Namespace, make: Make, terminal: Terminal, kind: Kind) -> int:
    """What `make` makes of the depot as it lies there, written under the lock and told. Raises Refusal."""
    root = asking.catalogue_of(options.catalogue)
    if options.dry_run:
        change = make(options, depot_now(root, asking.today()), terminal)
    else:
        with held(root, f"{kind} {options.action}", terminal.note):
            change = make(options, depot_now(root, asking.today()), terminal)
            if change:
                write(change, root)
    if change:
        _tell(change, options, terminal)
    return Ending.CLEAN


def _tell(change: PrintRecordChange, options: argparse.Namespace, terminal: Terminal) -> None:
    """The lines that came in, the files that were copied, and what is to be looked at."""
    w = words()
    terminal.say(w("commands.added.would") if options.dry_run else w("commands.added.done", file=change.file), "bold")
    terminal.say(change.added.rstrip("\n"))
    for each in change.files:
        if each.is_new and not options.dry_run:
            terminal.say(w("commands.printed.copied", file=f"{FOLDERS[change.kind]}/{each.file}"))
    warned = [each for each in change.judged.problems if each.severity is Severity.WARNING]
    terminal.problems(warned, options.catalogue, change.judged.catalogue.language)
