"""Which parts of a catalogue might a model be that is none of them: a scan, a broken piece, a drawing of somebody else's?"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Final

from generator.geometry.likeness.kinds import Compared, Sameness
from generator.geometry.measured import Likeness
from generator.measuring.alike import pairs_laid
from generator.measuring.code import code_of
from generator.measuring.guarded import Done, Guard
from generator.measuring.store import Key, Store, key_of

__all__ = ["Match", "matched"]

_CODE: Final = "generator.measuring.matching"
_FILE: Final = "matched.json"
_LAID: Final = 12
"""So many of the nearest are laid onto each other: of a broken part the right one may be the twelfth by its descriptor."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """A known model, and how the asked one lies on it. size_ratio: asked / known, before anything was laid."""

    name: str
    distance: float
    size_ratio: float
    compared: Compared


def matched(asked: Likeness, known: Mapping[str, Likeness], store: Store) -> tuple[Match, ...]:
    """The nearest, the likeliest first; none where the asked one has no area, or laying them on each other failed."""
    keys = {name: each.descriptor.key for name, each in sorted(known.items())}
    key = key_of("matched", code_of(_CODE), asked.descriptor.key, *(part for pair in keys.items() for part in pair))
    if found := store.get(key):
        return tuple(Match(**{**each, "compared": Compared.from_json(each["compared"])}) for each in json.loads(found[_FILE]))
    made = _made(asked, known)
    if made is not None:
        store.put(key, {_FILE: json.dumps([asdict(each) for each in made]).encode()})
    return made or ()


def _made(asked: Likeness, known: Mapping[str, Likeness]) -> tuple[Match, ...] | None:
    from generator.geometry.likeness.described import Descriptor  # noqa: PLC0415  only where something is asked for the first time
    from generator.geometry.likeness.nearest import nearest  # noqa: PLC0415

    told = json.loads(asked.descriptor.read())
    if told is None:
        return ()
    read: dict[Key, str] = {each.descriptor.key: name for name, each in known.items()}
    known_as = {name: json.loads(known[name].descriptor.read()) for name in read.values()}
    near = nearest(Descriptor.from_json(told), {name: Descriptor.from_json(each) for name, each in known_as.items() if each})[:_LAID]
    surface = asked.surface.read()
    with Guard() as children:
        jobs = [((surface, known[each.name].surface.read()),) for each in near]
        ended = children.run_all(pairs_laid, jobs)
    if not all(isinstance(each, Done) for each in ended):
        return None
    laid = [each.value[0] for each in ended if isinstance(each, Done)]
    found = [
        Match(name=each.name, distance=each.distance, size_ratio=each.size_ratio, compared=compared)
        for each, compared in zip(near, laid, strict=True)
    ]
    return tuple(sorted(found, key=_likeliness))


_SURE: Final = {Sameness.SAME: 0, Sameness.OTHER_HAND: 1, Sameness.SCALED: 1, Sameness.SIMILAR: 2, Sameness.OTHER: 3}


def _likeliness(match: Match) -> tuple[int, bool, float, str]:
    """What lies on the other counts more than how near the descriptors are, for a piece changes its own."""
    return _SURE[match.compared.kind], match.compared.is_mirrored, match.distance * (1.2 - match.compared.explained), match.name
