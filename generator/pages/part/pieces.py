"""What the browser's scripts know of a piece by its batch: each thing that is told once, and where it is told."""

import json
from collections.abc import Iterable
from dataclasses import asdict
from typing import Any

from generator.rules.facts.fields import PieceFacts, as_text
from generator.rules.grounds import Ground
from generator.rules.production.piece import UNKNOWN


class ToldPieces:
    """What is known of pieces, each thing once; what differs from a piece of which nothing is known."""

    def __init__(self) -> None:
        self.items: list[dict[str, Any]] = []
        self._places: dict[str, int] = {}

    def rows(self, ground: Ground, batches: Iterable[str]) -> list[list[int]]:
        """For each permit of a ground, what is known of a piece of each batch, as indexes into `items`."""
        names = tuple(batches)
        return [[self._index(pieces[name]) for name in names] for pieces in ground.pieces]

    def _index(self, piece: PieceFacts) -> int:
        plain = {name: value for name, value in plain_piece(piece).items() if name not in _UNKNOWN or value != _UNKNOWN[name]}
        key = json.dumps(plain, sort_keys=True)
        if key not in self._places:
            self._places[key] = len(self.items)
            self.items.append(plain)
        return self._places[key]


def plain_piece(piece: PieceFacts) -> dict[str, Any]:
    """What is known of a piece as JSON data, with what it replaces of the material's."""
    told = ((name, as_text(value)) for name, value in {**asdict(piece), **piece.replaced}.items())
    return {name: list(value) if isinstance(value, tuple) else value for name, value in told}


_UNKNOWN = plain_piece(UNKNOWN)
