"""`spares check`: everything that is wrong in the catalogue, at once."""

import argparse
from pathlib import Path

from generator.assemble import Assembled, examined, remembered
from generator.edge.commands import options as asking
from generator.edge.commands.terminal import Terminal, counted, tell_json
from generator.edge.refusals import Ending
from generator.pages.problems.said import said
from generator.pages.wording import Wording, wording
from generator.records.problems import Problem, Severity

DESCRIPTION = """\
Reads the whole catalogue, meshes included, and lists every problem with its place and its mend.

Exit code 0: no errors (there may be warnings), 1: errors, 2: misuse. With --strict warnings count too.
"""
EXAMPLE = """\
  spares check
  spares check --format json > problems.json
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    asking.add_catalogue(parser)
    parser.add_argument(
        "--format", choices=("text", "json"), default="text", help="json is for machines (default: text)"
    )
    parser.add_argument("--strict", action="store_true", help="exit 1 for warnings too")
    asking.add_day(parser, "check as on this day (default: SOURCE_DATE_EPOCH, else today)")


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    day = options.on or asking.today()
    root = asking.catalogue_of(options.catalogue)
    store = asking.store_in(options.store)
    with terminal.progress() as report:
        found = examined(root, day, store, report, workers=options.workers)
    notes = [*found.notes, *filter(None, [remembered(root, store, found.records)])]
    if options.format == "json":
        tell_json(_told(found, notes, root))
    else:
        w = wording(found.catalogue.language)
        terminal.problems(found.problems, root, found.catalogue.language)
        terminal.notes(notes, found.catalogue.language)
        count = counted(found.problems, w)
        terminal.say(w.count("told.checked", len(found.sheets), root=str(root), count=count))
    counting = [each for each in found.problems if options.strict or each.severity is Severity.ERROR]
    return Ending.PROBLEMS if counting else Ending.CLEAN


def _told(found: Assembled, notes: list[Problem], root: Path) -> dict[str, object]:
    errors = sum(each.severity is Severity.ERROR for each in found.problems)
    return {
        "catalogue": root.as_posix(),
        "parts": len(found.sheets),
        "errors": errors,
        "warnings": len(found.problems) - errors,
        "problems": [_one(problem, wording(found.catalogue.language)) for problem in found.problems],
        "notes": [said(note, wording(found.catalogue.language)).says for note in notes],
    }


def _one(problem: Problem, w: Wording) -> dict[str, object]:
    """A problem as plain JSON; `file` is relative to the catalogue, line and column count from 1 or are null."""
    where, told = problem.where, said(problem, w)
    return {
        "code": problem.code,
        "severity": problem.severity.value,
        "file": where.file,
        "line": where.line,
        "column": where.column,
        "says": told.says,
        "fix": told.fix,
    }
