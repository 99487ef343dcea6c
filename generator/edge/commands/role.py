"""`spares role`: the role that one records as, kept for good in one's own settings."""

import argparse

from generator.edge.commands import options as asking
from generator.edge.commands.terminal import Terminal
from generator.edge.refusals import Ending, Refusal
from generator.edge.standing import keep_role, settings_file, usual_role
from generator.reading.catalogue import read_catalogue

DESCRIPTION = """\
Tells the role that stands where a command leaves --by out, and where it is kept; with ROLE it is kept from now on. It is
yours alone, in the settings of your account; the variable SPARES_ROLE comes before it, and --by before both. What a role
may say is judged at every event all the same.
"""
EXAMPLE = """\
  spares role
  spares role am-specialist
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("role", metavar="ROLE", nargs="?", help="the role to keep, as in depot.yml")
    asking.add_catalogue(parser)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    if options.role:
        _refuse_unknown(options)
        terminal.say(f"Kept in {keep_role(options.role)}.")
    usual = usual_role()
    if usual:
        terminal.say(f"Your role: {usual.role}, as {usual.source} says.", "bold")
    else:
        terminal.say(f"No role is kept yet: spares role ROLE. It is kept in {settings_file()}.")
    return Ending.CLEAN


def _refuse_unknown(options: argparse.Namespace) -> None:
    """A role of this depot; somebody without one beside him keeps what he says."""
    if not options.catalogue.is_dir():
        return
    depot = read_catalogue(options.catalogue).depot
    known = [each.id for each in depot.roles] if depot else [options.role]
    if options.role not in known:
        raise Refusal(f"there is no role '{options.role}'", f"use one of: {', '.join(known)}", Ending.MISUSE)
