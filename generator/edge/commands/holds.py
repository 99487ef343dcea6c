"""`spares holds`: how long the pieces of parts hold, which batches stand out, and what has become of trials."""

import argparse
from collections.abc import Iterable
from datetime import date

from generator.assemble.whole_way import read_with_past
from generator.edge.commands import options as asking
from generator.edge.commands.short import ending_of, tell_short
from generator.edge.commands.terminal import Terminal, tell_json
from generator.edge.one_part import folder_of
from generator.pages.holding.lines import (
    advice_words,
    beside_words,
    compared_words,
    counts_words,
    out_words,
    rate_words,
    revision_words,
    said_words,
    short_words,
    trial_head,
    trial_words,
    unpaired_words,
    years_words,
)
from generator.pages.wording import Wording, wording
from generator.planning.holding.advice import Advice
from generator.planning.holding.comparison import Comparison
from generator.planning.holding.curve import Curve
from generator.planning.holding.parts import HoldingFigures, PartHolding
from generator.planning.holding.pieces import fitted_pieces
from generator.planning.holding.trials import Course, Trial
from generator.planning.holding.whole import Holds, every_holds, worst_first
from generator.records.catalogue import Catalogue

DESCRIPTION = """\
Without a number: all parts of which pieces were fitted, those first of which a batch or revision holds worse, and the
trials that run. With one: its pieces, failures a year with exact limits, each batch beside the rest of its revision, each
revision beside the one before, its trials, and what that says of its record. Words and figures are those of the pages.
"""
EXAMPLE = """\
  spares holds
  spares holds TV-0260
  spares holds TV-0260 --format json --on 2026-06-30
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("number", metavar="NUMBER", nargs="?", help="number of the part (default: all)")
    asking.add_listing(parser)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    day: date = options.on or asking.today()
    root = asking.catalogue_of(options.catalogue)
    catalogue, _ = read_with_past(root, asking.store_in(options.store))
    every, w = every_holds(catalogue, day), wording(catalogue.language)
    if options.number is None:
        number = ""
        listed = [every[part.number] for part in worst_first(every)] + [each for each in every.values() if each.part is None]
    else:
        number = folder_of(catalogue, options.number, root).number
        listed = [every[number]] if number in every else []
    gaps = tell_short(catalogue, terminal, aside=options.format == "json")
    if options.format == "json":
        tell_json([_told(each) for each in listed])
    elif not listed:
        terminal.say(w("holds.nothing") if options.number is None else w("holds.nothing_of", number=number))
    elif options.number is None:
        _print_all(listed, catalogue, day, w, terminal)
    else:
        _print_one(listed[0], w, terminal)
    return ending_of(gaps)


def _print_all(listed: list[Holds], catalogue: Catalogue, day: date, w: Wording, terminal: Terminal) -> None:
    parts = [each.part for each in listed if each.part]
    since = fitted_pieces(catalogue.production, day).since
    terminal.say(w("holds.title"), "bold")
    if since:
        terminal.say(w("holds.says", day=w.day(day), since=w.day(since)))
        terminal.say(f"{w('holds.method')} {w('holds.small')}", "dim")
        _print_out(listed, parts, w, terminal)
    _print_trials(((each, trial) for each in listed for trial in each.trials if trial.course in {Course.AHEAD, Course.RUNNING}), w, terminal)
    if parts:
        _heading("heading_parts", w, terminal)
    for each in listed:
        if each.part:
            figures = each.part.figures
            terminal.say(f"  {each.number} {each.name}: {counts_words(figures, w)}; {years_words(figures, w)}; {w('holds.failures')}: {rate_words(figures, w)}")
            if each.advice and (hint := short_words(each.advice, w)):
                terminal.say(f"    {hint}", "dim")


def _print_out(listed: list[Holds], parts: list[PartHolding], w: Wording, terminal: Terminal) -> None:
    _heading("heading_out", w, terminal)
    worse = [each for each in listed if each.part and each.part.is_worse]
    for each in worse:
        for said in out_words(each.part, w) if each.part else ():
            terminal.say(f"  {each.number} {each.name}: {said}", "bold yellow")
    terminal.say(compared_words(parts, w) if worse else f"{w('holds.none_out')} {compared_words(parts, w)}")


def _print_trials(trials: Iterable[tuple[Holds, Trial]], w: Wording, terminal: Terminal) -> None:
    every = list(trials)
    if every:
        _heading("heading_trials", w, terminal)
    for each, trial in every:
        terminal.say(f"  {each.number} {each.name}. {trial_head(trial, w)}: {' '.join(trial_words(trial, w))}")


def _print_one(holds: Holds, w: Wording, terminal: Terminal) -> None:
    terminal.say(f"{holds.number} {holds.name}, {w.day(holds.day)}", "bold")
    if part := holds.part:
        terminal.say(f"{counts_words(part.figures, w)}. {said_words(part.figures, w)}")
        told = (unpaired_words(part.figures, w), *(revision_words(each, w) for each in part.revisions))
        out = out_words(part, w)
        for said in out:
            terminal.say(said, "bold yellow")
        for line in told:
            if line and line not in out:
                terminal.say(line)
        for revision in part.revisions:
            terminal.say(f"{w('holds.revision_of', revision=revision.revision)}: {counts_words(revision.figures, w)}; {rate_words(revision.figures, w)}", "bold")
            for batch in revision.batches:
                terminal.say(f"  {batch.name}: {counts_words(batch.figures, w)}; {rate_words(batch.figures, w)}; {beside_words(batch, w)}")
    for trial in holds.trials:
        terminal.say(trial_head(trial, w), "bold")
        for line in trial_words(trial, w):
            terminal.say(f"  {line}")
    if holds.advice:
        _heading("advice.heading", w, terminal)
        for line in advice_words(holds.advice, w):
            terminal.say(f"  {line}")
    terminal.say(w("holds.small"), "dim")


def _heading(key: str, w: Wording, terminal: Terminal) -> None:
    terminal.say()
    terminal.say(w(f"holds.{key}"), "bold")


def _told(holds: Holds) -> dict[str, object]:
    """A part as plain JSON; what is not known is null. Days are counts, rates are failures a year of one piece."""
    part = holds.part
    return {
        "number": holds.number,
        "name": holds.name,
        "day": holds.day.isoformat(),
        "figures": _figures(part.figures) if part else None,
        "revisions": [
            {
                "revision": each.revision,
                "figures": _figures(each.figures),
                "curve": _curve(each.curve),
                "before": each.before,
                "beside_before": _comparison(each.beside_before),
                "batches": [
                    {"batch": batch.name, "figures": _figures(batch.figures), "beside_rest": _comparison(batch.beside_rest), "stopped": batch.is_stopped}
                    for batch in each.batches
                ],
            }
            for each in (part.revisions if part else ())
        ],
        "trials": [_trial(each) for each in holds.trials],
        "advice": _advice(holds.advice),
    }


def _figures(figures: HoldingFigures) -> dict[str, object]:
    rate = figures.rate
    return {
        "fitted": figures.pieces,
        "in_use": figures.in_use,
        "worn": figures.worn,
        "broken": figures.broken,
        "off_otherwise": figures.otherwise,
        "off_without_fitted": figures.unpaired,
        "days_in_use": figures.days,
        "failures_a_year": {"rate": rate.a_year, "low": rate.low, "high": rate.high, "one_sided": rate.one_sided, "confidence": rate.confidence} if rate else None,
    }


def _curve(curve: Curve) -> list[dict[str, object]]:
    return [{"days": step.days, "at_risk": step.at_risk, "failed": step.failed, "share": step.share, "low": step.low, "high": step.high} for step in curve.steps]


def _comparison(beside: Comparison | None) -> dict[str, object] | None:
    if beside is None:
        return None
    test = beside.test
    return {
        "holds": beside.holding.value,
        "failed": test.observed[0],
        "expected": test.expected[0],
        "chi2": test.chi2,
        "p": test.p,
        "p_corrected": beside.p,
        "comparisons": beside.among,
    }


def _trial(trial: Trial) -> dict[str, object]:
    return {
        "revision": trial.event.revision,
        "course": trial.course.value,
        "first_day": trial.first_day.isoformat(),
        "last_day": trial.last_day.isoformat(),
        "days": trial.days,
        "planned": trial.event.planned_pieces,
        "figures": _figures(trial.figures),
        "came_off": trial.came_off,
        "sitting": len(trial.sitting),
        "vehicles": trial.vehicles,
    }


def _advice(advice: Advice | None) -> dict[str, object] | None:
    if advice is None:
        return None
    use = advice.use
    return {
        "use": {"since": use.since.isoformat(), "days": use.days, "fitted": use.fitted, "for_failed": use.for_failed} if use else None,
        "yearly_demand": advice.demand,
        "demand_is_off": advice.demand_is_off,
        "no_symptoms": advice.no_symptoms,
        "look_again": advice.look_again.isoformat() if advice.look_again else None,
        "because": advice.because.value,
    }
