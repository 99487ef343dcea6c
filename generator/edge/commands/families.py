"""`spares families`: which approvals can be submitted as one, and what that saves."""

import argparse
from datetime import date

from generator.edge.commands import options as asking
from generator.edge.commands.examining import planned_for
from generator.edge.commands.short import ending_of, tell_short
from generator.edge.commands.terminal import Terminal, tell_json

DESCRIPTION = """\
Lists parts that share route, material and process and whose next step is read at the same desk: they can go there as one
submission. Tells what they share and what that saves; hours and days of it are guesses, and say so.
"""
EXAMPLE = """\
  spares families
  spares families --format json
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    asking.add_listing(parser)


def run(options: argparse.Namespace) -> int:
    from generator.pages.submissions.family import family_lines  # noqa: PLC0415  loaded with what it writes of
    from generator.pages.wording import wording  # noqa: PLC0415
    from generator.planning.families import Family, families  # noqa: PLC0415
    from generator.planning.submitting import asked_of  # noqa: PLC0415

    terminal = Terminal()
    day: date = options.on or asking.today()
    root = asking.catalogue_of(options.catalogue)
    read = planned_for(options, terminal, root, day)
    found = families(read.sheets, read.catalogue, day)
    w = wording(read.catalogue.language)
    gaps = tell_short(read.catalogue, terminal, aside=options.format == "json")

    def plain(family: Family) -> dict[str, object]:
        return {
            "route": family.shared.route,
            "materials": list(family.shared.materials),
            "processes": list(family.shared.processes),
            "desk": family.desk,
            "asks": {sheet.number: asked_of(sheet) for sheet in family.members},
            "papers": family.papers,
            "guessed_minutes": family.guessed_minutes,
            "guessed_days": family.guessed_days,
        }

    if options.format == "json":
        tell_json([plain(each) for each in found])
        return ending_of(gaps)
    if not found:
        terminal.say(w("submission.family.none"))
    for each in found:
        lines = family_lines(each, read.catalogue, w)
        terminal.say(f"{lines.share}; {lines.desk}", "bold")
        for line in (*lines.parts, *lines.saves):
            terminal.say(f"  {line}")
        terminal.say(f"  $ {lines.command}")
        terminal.say()
    return ending_of(gaps)
