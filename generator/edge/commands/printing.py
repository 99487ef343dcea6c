"""`spares printing`: in which pose a part is printed, on whose plate, in what time and of how much."""

import argparse

from generator.edge.commands import options as asking
from generator.edge.commands.terminal import Terminal
from generator.edge.refusals import Ending
from generator.pages.part.printing import printing_rows, reckoned, why_unknown
from generator.pages.wording import wording
from generator.planning.printing import models_of, printing_of, shapes_of, unread_prints

DESCRIPTION = """\
Says of a part in which pose it is printed best and why, how the pose of its settings compares, what hangs over and
lies on the plate, which makers have room for it, what of it is finer than they print, and how long a piece takes and
what it weighs with support. Time and material come of the geometry and of what is recorded in prints.yml; below six
recorded prints of a process they are a guess, and a mistake in prints.yml, which is named, keeps all of it from
counting. Words and figures are those of the page, under "Data".
"""
EXAMPLE = """\
  spares printing TV-0268
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    asking.add_number(parser)
    asking.add_catalogue(parser)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    day = asking.today()
    part = asking.look_at_one(options, day, terminal)()
    w = wording(part.catalogue.language)
    terminal.say(part.sheet.title, "bold")
    models = models_of(part.catalogue, shapes_of(part.catalogue, part.measured.worked), day)
    printing = printing_of(part.sheet, part.catalogue, models)
    if printing is None:
        terminal.say(why_unknown(part.sheet, part.catalogue, w))
        terminal.problems(part.sheet.problems, part.root, part.catalogue.language)
        return Ending.PROBLEMS
    for label, value in printing_rows(printing, w, for_author=True):
        terminal.say(f"{label}: {value}")
    terminal.say()
    for line in (reckoned(models, printing, w), w("printing.says")):
        if line:
            terminal.say(line, "dim")
    if not (unread := unread_prints(part.catalogue)):
        return Ending.CLEAN
    terminal.say()
    terminal.say(w("printing.unread"), "bold red")
    terminal.problems(unread, part.root, part.catalogue.language)
    return Ending.PROBLEMS
