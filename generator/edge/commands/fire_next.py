"""`spares fire-tests`: which fire tests to order next, by how many parts they would free."""

import argparse
from datetime import date

from generator.edge.commands import options as asking
from generator.edge.commands.examining import examined_for
from generator.edge.commands.terminal import Terminal, tell_json
from generator.edge.refusals import Ending
from generator.pages.fire_tests.page import (
    cut_words,
    frees_words,
    limit_words,
    material_words,
    method_words,
    numbers_words,
    of_words,
    open_words,
    option_words,
    paper_words,
    specimen_words,
    test_words,
    which_words,
    with_papers_words,
)
from generator.pages.wording import Wording, wording
from generator.planning.fire_orders import FireTestOrder
from generator.planning.fire_plan import FirePlan, fire_plan
from generator.records.catalogue import Catalogue
from generator.rules.facts.case import Copy

DESCRIPTION = """\
Lists the fire tests that would answer what is open: the best few bought together, each test with its specimen, which
reports lack papers alone, and where no test helps. It is assumed that a test passes. An aid: the fire engineer decides.
"""
EXAMPLE = """\
  spares fire-tests
  spares fire-tests --on 2028-06-01
  spares fire-tests --format json
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    asking.add_listing(parser)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    day: date = options.on or asking.today()
    root = asking.catalogue_of(options.catalogue)
    found = examined_for(options, terminal, root, day)
    depot = found.catalogue.depot
    plan = fire_plan(found.sheets, found.catalogue, Copy(day, depot.max_copy_age_days if depot else 1))
    if options.format == "json":
        tell_json(_told(plan))
    else:
        _print(plan, found.catalogue, day, terminal)
    return Ending.CLEAN


def _print(plan: FirePlan, catalogue: Catalogue, day: date, terminal: Terminal) -> None:
    w = wording(catalogue.language)
    terminal.say(w("fire_tests.title"), "bold")
    terminal.say(f"{w('fire_tests.says', day=w.day(day))} {open_words(plan, w)}")
    terminal.say(w("fire_tests.aid"), "dim")
    if plan.orders:
        _print_best(plan, w, terminal)
        _heading("orders", w, terminal)
    for number, order in enumerate(plan.orders, 1):
        _print_order(number, order, catalogue, w, terminal)
    if plan.papers:
        _heading("papers", w, terminal)
        terminal.say(w("fire_tests.papers_says"), "dim")
    for paper in plan.papers:
        terminal.say(f"  {paper.report.report}: {paper_words(paper, w)}. {numbers_words(paper.parts, w)}")
    if plan.kept:
        _heading("kept", w, terminal)
    for kept in plan.kept:
        said = [w(f"fire_tests.stuck.{kept.why}"), material_words(kept, catalogue), numbers_words(kept.parts, w)]
        terminal.say("  " + ". ".join(each for each in said if each))


def _heading(key: str, w: Wording, terminal: Terminal) -> None:
    terminal.say()
    terminal.say(w(f"fire_tests.{key}"), "bold")


def _print_best(plan: FirePlan, w: Wording, terminal: Terminal) -> None:
    _heading("best", w, terminal)
    terminal.say(w("fire_tests.best_says"), "dim")
    if not plan.best:
        terminal.say(w("fire_tests.none_helps"))
    for each in plan.best:
        terminal.say(f"  {w.count('fire_tests.bought', len(each.orders))} ({which_words(each, w)}): {numbers_words(each.frees, w)}")
        if papers := with_papers_words(each, w):
            terminal.say(f"    {papers}")
        if cut := cut_words(each, w):
            terminal.say(f"    {cut}")


def _print_order(number: int, order: FireTestOrder, catalogue: Catalogue, w: Wording, terminal: Terminal) -> None:
    terminal.say(f"  {w.number(number)}. {test_words(order, w)}; {of_words(order, catalogue, w)}", "bold")
    terminal.say(f"    {'; '.join((method_words(order, w), *limit_words(order, w), *specimen_words(order, w)))}")
    for line in option_words(order, w):
        terminal.say(f"    {line}", "dim")
    terminal.say(f"    {w('fire_tests.answers')}: {numbers_words(order.parts, w)}; {frees_words(order, w)}")


def _told(plan: FirePlan) -> dict[str, object]:
    """The plan as plain JSON; what is not known or does not count is null."""
    return {
        "open_parts": plan.open_parts,
        "best": [
            {"tests": [i + 1 for i in each.orders], "frees": each.frees, "with_papers": each.with_papers, "at_most": each.at_most, "exact": each.is_exact}
            for each in plan.best
        ],
        "tests": [_order(i, each) for i, each in enumerate(plan.orders, 1)],
        "papers": [{"material": each.material, "report": each.report.report, "missing": each.why, "parts": each.parts} for each in plan.papers],
        "no_test_helps": [{"why": each.why, "material": each.material, "parts": each.parts} for each in plan.kept],
    }


def _order(number: int, order: FireTestOrder) -> dict[str, object]:
    return {
        "number": number,
        "material": order.kind.material,
        "test": order.kind.test,
        "method": order.method.method,
        "edition": order.kind.edition,
        "process": order.kind.process,
        "colour": order.colour,
        "lot_family": order.lot_family,
        "thickness_mm": order.thickness_mm,
        "mass_g": order.mass_g,
        "layers": order.layers,
        "limits": [{"limit": limit, "unit": order.method.unit, "parts": count} for limit, count in order.limits],
        "parts": order.parts,
        "frees": order.frees,
        "options": [{"thickness_mm": each.thickness_mm, "parts": each.parts} for each in order.options],
    }
