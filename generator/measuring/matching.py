"""Which parts of a catalogue might a model be that is none of them: a scan, a broken piece, a drawing of somebody else's?"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from typing import Final

from generator.geometry.likeness.kinds import Compared, Sameness
from generator.geometry.measured import Likeness
from generator.measuring.alike import pairs_laid
from generator.measuring.code import code_of
from generator.measuring.guarded import Done, Guard
from generator.measuring.meshes_laid import asks_for_meshes, confirmed
from generator.measuring.one_mesh import Order
from generator.systems.store import Blobs, Key, Store, key_of

__all__ = ["LAID", "Match", "Shape", "matched"]

_CODE: Final = "generator.measuring.matching"
_FILE, _PAIR_FILE = "matched.json", "compared.json"
LAID: Final = 16
"""So many of the nearest are laid onto each other: of a broken part the right one may be the twelfth by its descriptor, of half a part
the sixteenth."""

_MEASURED: Final = 4
"""So many of these at most are measured on the faces of both meshes, which takes half a second each."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """A known model, and how the asked one lies on it. size_ratio: asked / known, before anything was laid."""

    name: str
    distance: float
    size_ratio: float
    compared: Compared


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """What is compared: as it is kept, and the file itself."""

    likeness: Likeness
    file: Order


def matched(asked: Shape, known: Mapping[str, Shape], store: Store) -> tuple[Match, ...]:
    """The nearest, the likeliest first; none where the asked one has no area, or laying them on each other failed."""
    keys = {name: each.likeness.descriptor.key for name, each in sorted(known.items())}
    key = key_of("matched", code_of(_CODE), asked.likeness.descriptor.key, *(part for pair in keys.items() for part in pair))
    if found := store.get(key):
        return tuple(Match(**{**each, "compared": Compared.from_json(each["compared"])}) for each in json.loads(found[_FILE]))
    with Guard() as children:
        made, is_sure = _made(asked, known, store, children)
    if is_sure:
        store.put(key, {_FILE: json.dumps([asdict(each) for each in made]).encode()})
    return made


def _made(asked: Shape, known: Mapping[str, Shape], store: Store, children: Guard) -> tuple[tuple[Match, ...], bool]:
    """The matches, and whether all that was asked for could be done."""
    from generator.geometry.likeness.described import Descriptor  # noqa: PLC0415  only where something is asked for the first time
    from generator.geometry.likeness.nearest import nearest  # noqa: PLC0415

    told = json.loads(asked.likeness.descriptor.read())
    if told is None:
        return (), True
    read: dict[Key, str] = {each.likeness.descriptor.key: name for name, each in known.items()}
    known_as = {name: json.loads(known[name].likeness.descriptor.read()) for name in read.values()}
    near = nearest(Descriptor.from_json(told), {name: Descriptor.from_json(each) for name, each in known_as.items() if each})[:LAID]
    laid = _laid(asked, [known[each.name] for each in near], store, children)
    if laid is None:
        return (), False
    found = [
        Match(name=each.name, distance=each.distance, size_ratio=each.size_ratio, compared=compared)
        for each, compared in zip(near, laid, strict=True)
    ]
    return _on_meshes(asked, known, sorted(found, key=_likeliness), store, children)


def _laid(asked: Shape, near: Sequence[Shape], store: Store, children: Guard) -> list[Compared] | None:
    """How it lies on each by their kept points, each pair once; None where one could not be laid."""
    keys = [_pair_key("points", asked, each) for each in near]
    kept = [store.get(key) for key in keys]
    new = [at for at, each in enumerate(kept) if each is None]
    surface = asked.likeness.surface.read() if new else b""
    ended = children.run_all(pairs_laid, [((surface, near[at].likeness.surface.read()),) for at in new]) if new else ()
    if not all(isinstance(each, Done) for each in ended):
        return None
    made = {at: each.value[0] for at, each in zip(new, ended, strict=True) if isinstance(each, Done)}
    for at, compared in made.items():
        store.put(keys[at], _told(compared))
    return [made[at] if each is None else _read(each) for at, each in enumerate(kept)]


def _on_meshes(
    asked: Shape, known: Mapping[str, Shape], found: list[Match], store: Store, children: Guard
) -> tuple[tuple[Match, ...], bool]:
    """The same, the likeliest few measured on the faces of both, each pair once."""
    some = [each for each in found if asks_for_meshes(each.compared)][:_MEASURED]
    keys = {each.name: _pair_key("meshes", asked, known[each.name]) for each in some}
    better = {name: _read(kept) for name, key in keys.items() if (kept := store.get(key))}
    new = [each for each in some if each.name not in better]
    told = confirmed([(asked.file, known[each.name].file, each.compared) for each in new], children) if new else []
    for each, (compared, is_sure) in zip(new, told, strict=True):
        better[each.name] = compared
        if is_sure:
            store.put(keys[each.name], _told(compared))
    again = (replace(each, compared=better.get(each.name, each.compared)) for each in found)
    return tuple(sorted(again, key=_likeliness)), all(is_sure for _, is_sure in told)


def _pair_key(by: str, asked: Shape, known: Shape) -> Key:
    return key_of(f"matched by {by}", code_of(_CODE), asked.likeness.descriptor.key, known.likeness.descriptor.key)


def _told(compared: Compared) -> Blobs:
    return {_PAIR_FILE: json.dumps(compared.to_json()).encode()}


def _read(kept: Blobs) -> Compared:
    return Compared.from_json(json.loads(kept[_PAIR_FILE]))


_SURE: Final = {Sameness.SAME: 0, Sameness.OTHER_HAND: 1, Sameness.SCALED: 1, Sameness.SIMILAR: 2, Sameness.OTHER: 3}


def _likeliness(match: Match) -> tuple[int, bool, float, str]:
    """What lies on the other counts more than how near the descriptors are, for a piece changes its own.

    The distance of the surfaces tells near variants apart, and the two hands of a part, where noise hides it from a descriptor.
    """
    laid = match.compared
    return _SURE[laid.kind], laid.is_mirrored, match.distance * (1.2 - laid.explained) * laid.distance_mm, match.name
