"""What an answer is short of is said before anything of it, and its command then ends otherwise."""

from collections.abc import Callable, Sequence

from generator.edge.commands.terminal import Terminal
from generator.edge.refusals import Ending
from generator.pages.on_vehicles.incomplete import contradicting_words, gap_words
from generator.pages.wording import Wording, wording
from generator.records.catalogue import Catalogue
from generator.records.fitted import FileGap
from generator.rules.short import short_of


def warn(gaps: Sequence[FileGap], w: Wording, say: Callable[[str, str], None]) -> None:
    """That it is short of something, and of what."""
    for sentence in gap_words(gaps, w):
        say(sentence, "bold red")


def tell_short(catalogue: Catalogue, terminal: Terminal, *, aside: bool = False, has_fitted: bool = True) -> tuple[FileGap, ...]:
    """Of what is made of all records, and which lines count though others contradict them; of these nothing is short.

    aside: where the answer is for a machine. has_fitted: whether what was fitted counts in it.
    """
    gaps, w = short_of(catalogue), wording(catalogue.language)
    warn(gaps, w, terminal.note if aside else terminal.say)
    for sentence in contradicting_words(catalogue, w) if has_fitted else ():
        terminal.note(sentence, "yellow")  # beside the answer, which may be an order to be sent
    return gaps


def ending_of(gaps: Sequence[FileGap]) -> Ending:
    return Ending.PROBLEMS if gaps else Ending.CLEAN
