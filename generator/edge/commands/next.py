"""`spares next`: whose move it is with a part, what is missing, and the command that does it."""

import argparse
import shlex
from collections.abc import Collection, Iterable
from dataclasses import replace

from generator.edge.commands import options as asking
from generator.edge.commands.ahead import told_ahead
from generator.edge.commands.record import EVENTS
from generator.edge.commands.terminal import Terminal
from generator.edge.one_part import OnePart
from generator.edge.refusals import Ending
from generator.edge.standing import usual_role
from generator.pages.approvals.mends import MendLine, lack_lines, move_lines, way_lines, who_words
from generator.pages.approvals.page import stands_line
from generator.pages.holding.lines import trial_head, trial_words
from generator.pages.wording import Wording, wording
from generator.planning.holding.trials import Course, trials_of
from generator.planning.overview import (
    OverviewRow,
    is_read_by_a_reviewer,
    is_waiting,
    missing_documents,
    row_of,
)
from generator.planning.submitting import goes_out_next
from generator.reading.roles import who_may
from generator.records.approvals import Approved, Route
from generator.records.depot import ActsAs
from generator.records.problems import Severity

DESCRIPTION = """\
Tells where a part stands on its way to approval, whose move it is, and what comes next: each thing that is missing, what
one does about it, and the command. What stands in CAPITALS is yours to fill in. A part that is approved and not to be
fitted all the same is told first. Nothing is written.
"""
EXAMPLE = """\
  spares next TV-0118
  spares next TV-0118 --on 2027-03-31
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    asking.add_number(parser)
    asking.add_day(parser, "as on this day (default: SOURCE_DATE_EPOCH, else today)")
    asking.add_catalogue(parser)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    day = options.on or asking.today()
    part = asking.look_at_one(options, day, terminal)()
    w = wording(part.catalogue.language)
    row = row_of(part.sheet, day)
    terminal.say(f"{part.sheet.title}, {w.day(day)}", "bold")
    terminal.say(_stands(row, w))
    told = [each for each in part.sheet.problems if each.severity is Severity.ERROR or is_read_by_a_reviewer(part.sheet)]
    terminal.problems(told, part.root, part.catalogue.language)
    moves = _moves(part, row, w)
    # A letter that binds nothing yet is confirmed first: until then nothing of it is renewed or accepted.
    if not row.sheet.history.awaits:
        _unfit(part, row, w, terminal)
    if moves:
        terminal.say(w("next.step"), "bold")
        terminal.mends(_as_oneself(moves, part))
    if row.sheet.history.awaits:
        _unfit(part, row, w, terminal)
    if not moves and not row.lacks and not goes_out_next(row):
        terminal.say(w("next.nothing"), "bold")
    for trial in trials_of(part.sheet.number, part.sheet.folder.approval, part.catalogue, day):
        if trial.course in {Course.AHEAD, Course.RUNNING} or trial.is_to_come_off:
            terminal.say(f"{trial_head(trial, w)}: {' '.join(trial_words(trial, w))}")
    for lapse in row.lapses:
        terminal.say(w("next.lapses", what=w.term("lapsing", lapse.what.name.lower()), day=w.day(lapse.last_day)))
    if goes_out_next(row):
        terminal.say(w("next.submission"))
        terminal.say(f"      spares submission {part.sheet.number}")
    return Ending.CLEAN


def _stands(row: OverviewRow, w: Wording) -> str:
    return w("next.stands", stands=stands_line(row, w), holder=w.term("holder", row.holder), question=row.question)


def _moves(part: OnePart, row: OverviewRow, w: Wording) -> tuple[MendLine, ...]:
    """What comes next, behind everything that an approval would be refused for."""
    if not is_waiting(row):
        return ()
    ahead = told_ahead(part, asking.today())
    if not ahead:
        return way_lines(row, part.catalogue, w)
    papers = missing_documents(part.sheet)
    return (*ahead, *move_lines(part.sheet, (each for each in row.missing if each not in papers), part.catalogue, w))


def _unfit(part: OnePart, row: OverviewRow, w: Wording, terminal: Terminal) -> None:
    if not row.lacks:
        return
    terminal.say(w("approvals.unfit"), "bold")
    for lack in row.lacks:
        terminal.say(f"  {who_words(lack, part.catalogue, w)}")
    terminal.mends(_as_oneself(lack_lines(part.sheet, row.lacks, part.catalogue, w), part))


def _as_oneself(lines: Iterable[MendLine], part: OnePart) -> list[MendLine]:
    """The commands with one's own role, where it is kept and may say what the command records."""
    usual = usual_role()
    depot = part.catalogue.depot
    acts = next((each.acts_as for each in depot.roles if usual and each.id == usual.role), None) if depot else None
    if usual is None or acts is None:
        return list(lines)
    route = part.sheet.history.route
    return [
        replace(line, command=line.command.replace("--by ROLE", f"--by {usual.role}")) if _may(line.command, acts, route) else line
        for line in lines
    ]


def _may(command: str, acts: Collection[ActsAs], route: Route) -> bool:
    words = shlex.split(command)
    kind = Approved if words[1] == "approve" else EVENTS.get(words[3]) if words[1] == "record" else None
    needed = who_may(kind, route) if kind else ()
    return not needed or bool(set(needed) & set(acts))
