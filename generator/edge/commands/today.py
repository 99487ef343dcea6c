"""`spares today`: what the specialist does next, in which order and why, and what fits into the time there is."""

import argparse
from datetime import date

from generator.edge.commands import options as asking
from generator.edge.commands.examining import planned_for
from generator.edge.commands.short import ending_of, tell_short
from generator.edge.commands.terminal import Terminal, tell_json
from generator.pages.on_vehicles.incomplete import plain_gaps
from generator.pages.today.told import (
    Fitting,
    TaskLine,
    Today,
    fitting_told,
    method_words,
    plan_words,
    skipped_words,
    today_told,
    waiting_words,
)
from generator.pages.wording import Wording, wording
from generator.planning.fire_plan import fire_plan
from generator.planning.today.deadlines import Deadline
from generator.planning.today.drawn import todays
from generator.planning.today.kept import Misses
from generator.planning.today.tasks import Task
from generator.planning.today.week import Planned
from generator.records.catalogue import Catalogue
from generator.rules.facts.case import Copy

DESCRIPTION = """\
Tells what to do next, in which order and why: what lapses if it is not begun now, then what costs most to leave lying for
each minute of own work. With --minutes what fits into them, and what is skipped since it does not. Minutes are those that were
logged (spares record ... --minutes), else a guess that is called one; the hours a week stand in depot.yml. Nothing is written.
"""
EXAMPLE = """\
  spares today --minutes 45
  spares today
  spares today --format json --on 2027-01-31
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--minutes", type=asking.own_minutes, metavar="N", help="what fits into so many minutes (default: everything, and what gets done by when)")
    asking.add_listing(parser)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    day: date = options.on or asking.today()
    root = asking.catalogue_of(options.catalogue)
    found = planned_for(options, terminal, root, day)
    catalogue = found.catalogue
    w, age = wording(catalogue.language), catalogue.depot.max_copy_age_days if catalogue.depot else 1
    tasks = todays(found.sheets, catalogue, day, fire_plan(found.sheets, catalogue, Copy(day, age)))
    told = today_told(tasks, catalogue, day, w)
    fits = fitting_told(told, options.minutes, w) if options.minutes else None
    gaps = tell_short(catalogue, terminal, aside=options.format == "json")
    if options.format == "json":
        tell_json({**_told(told, fits), **plain_gaps(gaps)})
    elif not tasks:
        terminal.say(w("today.none"))
    elif fits:
        _print_fitting(told, fits, w, terminal)
    else:
        _print_all(told, catalogue, w, terminal)
    return ending_of(gaps)


def _print_fitting(told: Today, fits: Fitting, w: Wording, terminal: Terminal) -> None:
    terminal.say(f"{w('today.title')}, {w.day(told.day)}: {w('today.used', used=w.number(fits.chosen.minutes), minutes=w.number(fits.minutes))}", "bold")
    for at, line in enumerate(fits.lines, start=1):
        _print_line(at, line, terminal)
    terminal.say()
    if skipped := skipped_words(fits, w):
        terminal.say(skipped)
        for line in fits.skipped:
            terminal.say(f"  {line.subject} · {line.own}")
    if waiting := waiting_words(fits, w):
        terminal.say(waiting)


def _print_line(at: int, line: TaskLine, terminal: Terminal) -> None:
    terminal.say()
    terminal.say(f"{at}. {line.short} · {line.now or line.minutes}", "bold")
    for said in (*((line.found,) if line.found else ()), *line.why):
        terminal.say(f"   {said}")
    terminal.say(f"   {line.do}", "dim")
    terminal.say(f"     {line.command}")


def _print_all(told: Today, catalogue: Catalogue, w: Wording, terminal: Terminal) -> None:
    terminal.say(w("today.title"), "bold")
    terminal.say(w("today.says", day=w.day(told.day)))
    terminal.say(plan_words(told, w))
    terminal.say()
    heads = [w(f"today.{each}") for each in ("task", "own", "worth", *(("done",) if told.hours is not None else ()))]
    terminal.table(heads, [(line.short, line.minutes, line.value, *((line.done_on,) if line.done_on else ())) for line in told.lines])
    terminal.say()
    terminal.say(method_words(catalogue, w), "dim")


def _told(told: Today, fits: Fitting | None) -> dict[str, object]:
    """Plain JSON: money as text in the depot's currency, days as ISO dates; what is not known is null."""
    taken = {slot.job.key: slot.minutes for slot in fits.chosen.slots} if fits else {}
    skipped = {job.key for job in fits.chosen.skipped} if fits else set()
    return {
        "day": told.day.isoformat(),
        "hours_per_week": told.hours,
        "minutes": fits.minutes if fits else None,
        "tasks": [
            _task(task, line) | _planned(plan, missed)
            | ({"now_minutes": taken.get(task.job(told.day).key), "skipped": task.job(told.day).key in skipped} if fits else {})
            for task, line, plan, missed in zip(told.tasks, told.lines, told.plan, told.missed, strict=True)
        ],
    }  # fmt: skip


def _task(task: Task, line: TaskLine) -> dict[str, object]:
    return {
        "kind": task.kind.name.lower(),
        "number": task.number,
        "what": task.what,
        "says": line.what,
        "do": line.do,
        "command": line.command,
        "why": list(line.why),
        "minutes": task.minutes.minutes,
        "logged": task.minutes.logged,
        "whole_minutes": task.whole_minutes,
        "value_a_week": str(task.value_a_week),
        "parts": list(task.worths),
        "deadline": _deadline(task.deadline),
    }


def _planned(plan: Planned, missed: Misses | None) -> dict[str, object]:
    """misses: which day, "latest start" or "last day"; null where it misses none."""
    return {"done_on": plan.done_on.isoformat() if plan.done_on else None, "beyond_horizon": plan.is_beyond, "misses": missed.value if missed else None}


def _deadline(keeps: Deadline | None) -> dict[str, object] | None:
    if keeps is None:
        return None
    latest = keeps.latest_start.isoformat() if keeps.latest_start else None
    return {"last_day": keeps.last_day.isoformat(), "latest_start": latest, "chance_to_lapse": keeps.chance, "presses": keeps.is_pressing, "lost": keeps.is_lost}
