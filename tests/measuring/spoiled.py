"""Makers that never end or take what memory there is, for a child to be given: it imports them by name."""

from unittest.mock import patch

from generator.measuring import makers
from generator.measuring.one_mesh import Job, made_of


def _spins(_opened: object) -> None:
    while True:
        pass


def _spins_deaf(_opened: object) -> None:
    sum(range(10**15))  # in C, where no signal is heard


def _eats(_opened: object) -> None:
    held = []
    while True:
        held.append(bytes(64 << 20))


HOW = {"spins": _spins, "spins deaf": _spins_deaf, "eats": _eats}


def made_spoiled(asked: tuple[str, str, Job]) -> object:
    """Which product, how, of what."""
    product, how, job = asked
    with patch.dict(makers.MAKERS, {product: HOW[how]}):
        return made_of(job)
