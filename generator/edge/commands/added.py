"""What a command has added to an approval record, or would add, and whether it is signed."""

import argparse

from generator.edge.commands.terminal import Terminal
from generator.edge.disk.signed import not_signed_yet
from generator.edge.one_part import OnePart
from generator.pages.wording import wording
from generator.writing.appending import Appended


def tell_added(part: OnePart, appended: Appended, options: argparse.Namespace, terminal: Terminal) -> None:
    """options: `dry_run` and `key` of the command line."""
    w, file = wording(part.catalogue.language), f"{part.sheet.folder.folder}/approval.yml"
    terminal.say(w("commands.added.would") if options.dry_run else w("commands.added.done", file=file), "bold")
    terminal.say(appended.added)
    if not options.dry_run and (not_signed := not_signed_yet(part, options.key)):
        terminal.note(not_signed, "yellow")
