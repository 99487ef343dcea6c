"""What a command has added to an approval record, or would add, and whether it is signed."""

import argparse

from generator.edge.commands.terminal import Terminal
from generator.edge.disk.signed import not_signed_yet
from generator.edge.one_part import OnePart
from generator.writing.appending import Appended


def tell_added(part: OnePart, appended: Appended, options: argparse.Namespace, terminal: Terminal) -> None:
    """options: `dry_run` and `key` of the command line."""
    terminal.say("Would be added:" if options.dry_run else f"Added to {part.sheet.folder.folder}/approval.yml:", "bold")
    terminal.say(appended.added)
    if not options.dry_run and (not_signed := not_signed_yet(part, options.key)):
        terminal.note(not_signed, "yellow")
