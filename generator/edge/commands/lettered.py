"""Letters that a paper cannot show are named on the terminal, for nobody looks through a stack of labels for boxes."""

from generator.edge.commands.terminal import Terminal
from generator.edge.spoken import words
from generator.papers.lacking import lacking


def tell_lacking(terminal: Terminal, *values: object) -> None:
    """values: what was put on paper."""
    if letters := lacking(*values):
        told = " ".join(f"{each} (U+{ord(each):04X})" for each in letters)
        terminal.note(words()("papers.lacking", letters=told), "yellow")
