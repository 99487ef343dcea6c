"""Whoever judges all parts reads, measures and judges them in one way, and shows how far it has come."""

import argparse
from datetime import date
from pathlib import Path

from generator.assemble.whole_way import Assembled, examined
from generator.edge.commands import options as asking
from generator.edge.commands.terminal import Terminal
from generator.edge.refusals import refused
from generator.rules.short import shared_mistakes


def examined_for(options: argparse.Namespace, terminal: Terminal, root: Path, day: date) -> Assembled:
    """Everything in the catalogue `root`, judged on `day`, with the store and workers that the options name."""
    with terminal.progress() as report:
        return examined(root, day, asking.store_in(options.store), report, workers=options.workers)


def planned_for(options: argparse.Namespace, terminal: Terminal, root: Path, day: date) -> Assembled:
    """The same, for what is made of all records. Raises Refusal where one has a mistake that nothing can be planned without."""
    found = examined_for(options, terminal, root, day)
    mistakes = shared_mistakes(found.catalogue)
    if mistakes:
        files = sorted({each.where.file for each in mistakes})
        raise refused("plan_unread", problems=mistakes, below=root, files=files)
    return found
