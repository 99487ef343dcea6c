"""`spares check`: everything that is wrong in the catalogue, at once."""

import argparse
from collections.abc import Sequence
from pathlib import Path

from generator.assemble.whole_way import Assembled, examined, remembered
from generator.edge.commands import options as asking
from generator.edge.commands.checked_some import How, Some, named, staged
from generator.edge.commands.terminal import Terminal, counted, tell_json
from generator.edge.refusals import Ending
from generator.edge.spoken import words
from generator.pages.problems.said import said
from generator.pages.wording import Wording, wording
from generator.records.depot import Language
from generator.records.problems import Problem, Severity

DESCRIPTION = """\
Reads the whole catalogue, meshes included, and lists every problem with its place and its mend.

With NUMBER only these parts are looked at, and only their meshes measured; with --staged what the next commit would hold, by
git's index: the parts that it changes, and all records where it changes a list or a material. Both take seconds. What shows only
between the models of several parts is left to the whole check.

Exit code 0: no errors (there may be warnings), 1: errors, 2: misuse. With --strict warnings count too.
"""
EXAMPLE = """\
  spares check
  spares check --format json > problems.json
  spares check 1001 1002
  spares check --staged
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    which = parser.add_mutually_exclusive_group()
    which.add_argument("numbers", metavar="NUMBER", nargs="*", default=[], help="only these parts (default: all)")
    which.add_argument("--staged", action="store_true", help="only what the next commit would hold, as git's index has it")
    asking.add_catalogue(parser)
    asking.add_format(parser)
    parser.add_argument("--strict", action="store_true", help="exit 1 for warnings too")
    asking.add_day(parser, "check as on this day (default: SOURCE_DATE_EPOCH, else today)")


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    day = options.on or asking.today()
    root = asking.catalogue_of(options.catalogue)
    store = asking.store_in(options.store)
    if options.numbers or options.staged:
        return _some(options, root, How(day=day, store=store, workers=options.workers, terminal=terminal))
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
    return _ending(found.problems, strict=options.strict)


def _ending(problems: Sequence[Problem], *, strict: bool) -> int:
    return Ending.PROBLEMS if any(strict or each.severity is Severity.ERROR for each in problems) else Ending.CLEAN


def _some(options: argparse.Namespace, root: Path, how: How) -> int:
    some = staged(root, how) if options.staged else named(root, options.numbers, how)
    if options.format == "json":
        w = wording(some.language if some else Language.ENGLISH)
        problems, parts = (some.problems, len(some.parts)) if some else ((), 0)
        tell_json(_plain(root, parts, problems, w) | {"notes": []})
    else:
        tell_some(some, root, how.terminal)
    return _ending(some.problems if some else (), strict=options.strict)


def tell_some(some: Some | None, root: Path, terminal: Terminal) -> None:
    """What is wrong with what was looked at, and how much besides; nothing where nothing was."""
    if some is None:
        terminal.say(words()("commands.check_some.unchanged"))
        return
    w = wording(some.language)
    terminal.problems(some.problems, root, some.language)
    named = str(w.flat["commands.and"]).join(some.parts) if len(some.parts) < 8 else None
    terminal.say(w.count("commands.check_some.looked_at", len(some.parts), named=named, count=counted(some.problems, w)))
    if errors := sum(each.severity is Severity.ERROR for each in some.elsewhere):
        terminal.note(w.count("commands.check_some.elsewhere", errors))


def _told(found: Assembled, notes: list[Problem], root: Path) -> dict[str, object]:
    w = wording(found.catalogue.language)
    return _plain(root, len(found.sheets), found.problems, w) | {"notes": [said(note, w).says for note in notes]}


def _plain(root: Path, parts: int, problems: Sequence[Problem], w: Wording) -> dict[str, object]:
    errors = sum(each.severity is Severity.ERROR for each in problems)
    return {
        "catalogue": root.as_posix(),
        "parts": parts,
        "errors": errors,
        "warnings": len(problems) - errors,
        "problems": [_one(problem, w) for problem in problems],
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
