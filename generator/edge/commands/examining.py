"""Whoever judges all parts reads, measures and judges them in one way, and shows how far it has come."""

import argparse
from datetime import date
from pathlib import Path

from generator.assemble import Assembled, examined
from generator.edge.commands import options as asking
from generator.edge.commands.terminal import Terminal


def examined_for(options: argparse.Namespace, terminal: Terminal, root: Path, day: date) -> Assembled:
    """Everything in the catalogue `root`, judged on `day`, with the store and workers that the options name."""
    with terminal.progress() as report:
        return examined(root, day, asking.store_in(options.store), report, workers=options.workers)
