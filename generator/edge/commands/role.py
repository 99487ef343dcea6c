"""`spares role`: the role that one records as, kept for good in one's own settings."""

import argparse

from generator.edge.commands import options as asking
from generator.edge.commands.terminal import Terminal
from generator.edge.refusals import Ending, refused
from generator.edge.spoken import words
from generator.edge.standing import forget_role, keep_role, settings_file, usual_role
from generator.reading.catalogue import read_catalogue

DESCRIPTION = """\
Tells the role that stands where a command leaves --by out, and where it is kept; with ROLE it is kept from now on, with
--forget none is. It is yours alone, in the settings of your account; the variable SPARES_ROLE comes before it, and --by
before both. What a role may say is judged at every event all the same.
"""
EXAMPLE = """\
  spares role
  spares role am-specialist
  spares role --forget
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    which = parser.add_mutually_exclusive_group()
    which.add_argument("role", metavar="ROLE", nargs="?", help="the role to keep, as in depot.yml")
    which.add_argument("--forget", action="store_true", help="keep none from now on")
    asking.add_catalogue(parser)


def run(options: argparse.Namespace) -> int:
    terminal, w = Terminal(), words()
    if options.role:
        _refuse_unknown(options)
        terminal.say(w("commands.role.kept", file=str(keep_role(options.role))))
    if options.forget:
        was_kept, file = forget_role(), str(settings_file())
        terminal.say(w("commands.role.forgotten" if was_kept else "commands.role.nothing", file=file))
    usual = usual_role()
    if usual:
        terminal.say(w("commands.role.yours", role=usual.role, source=usual.source), "bold")
    else:
        terminal.say(w("commands.role.none", file=str(settings_file())))
    return Ending.CLEAN


def _refuse_unknown(options: argparse.Namespace) -> None:
    """A role of this depot; somebody without one beside him keeps what he says."""
    if not options.catalogue.is_dir():
        return
    depot = read_catalogue(options.catalogue).depot
    known = [each.id for each in depot.roles] if depot else [options.role]
    if options.role not in known:
        raise refused("no_role", Ending.MISUSE, role=options.role, known=", ".join(known))
