"""Which parts of a catalogue are alike in shape? Kept as one table, so that who has changed no mesh reads nothing else.

Pairs that are near by their descriptors are laid onto each other in guarded children, each pair once for as long as both
shapes are what they were: first by their kept points; what may be the same is confirmed on the faces of both meshes.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from contextlib import nullcontext
from dataclasses import dataclass
from typing import Final

from generator.geometry.likeness.kinds import Compared
from generator.geometry.measured import Likeness, Worked
from generator.measuring.code import code_of
from generator.measuring.guarded import Done, Guard
from generator.measuring.meshes_laid import asks_for_meshes, confirmed
from generator.measuring.one_mesh import Order
from generator.records.problems import Problem
from generator.systems.store import Key, Store, key_of

__all__ = ["Alike", "alike_among", "pairs_laid"]

_TABLE, _TABLE_FILE = "alike", "alike.json"
_PAIR_NAME, _PAIR_FILE = "alike pair", "compared.json"
_CODE: Final = "generator.measuring.alike"
_AT_ONCE: Final = 8
_NEAR: Final = 0.16
"""Of `near_pairs`: what is farther apart nobody takes for each other, as the pairs of the demo show."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Alike:
    """Two folders whose models are near by their descriptors, and how the first lies on the second."""

    one: str
    other: str
    distance: float
    compared: Compared


def alike_among(
    worked: Mapping[str, Worked | Problem], orders: Mapping[str, Order], store: Store, guard: Guard | None = None
) -> tuple[Alike, ...]:
    """Each pair of folders of alike models once, in the order of `worked`; parts with the very same file share what is said.

    orders: the file of each, by folder, which is read where two may be the same.
    """
    by_key: dict[Key, list[str]] = {}
    kept: dict[Key, Likeness] = {}
    for folder, each in worked.items():
        if isinstance(each, Worked) and each.likeness:
            key = each.likeness.descriptor.key
            by_key.setdefault(key, []).append(folder)
            kept[key] = each.likeness
    files = {key: orders[folders[0]] for key, folders in by_key.items()}
    told = _table(dict(sorted(kept.items())), files, store, guard)
    pairs = [
        Alike(one=one, other=other, distance=distance, compared=compared)
        for first, second, distance, compared in told
        for one in by_key[first]
        for other in by_key[second]
    ]
    order = {folder: at for at, folder in enumerate(worked)}
    return tuple(sorted(pairs, key=lambda each: sorted((order[each.one], order[each.other]))))


_Pair = tuple[Key, Key]
_Row = tuple[Key, Key, float, Compared]


def _table(kept: Mapping[Key, Likeness], files: Mapping[Key, Order], store: Store, guard: Guard | None) -> list[_Row]:
    key = key_of(_TABLE, code_of(_CODE), *kept)
    if found := store.get(key):
        return [(one, other, far, Compared.from_json(told)) for one, other, far, told in json.loads(found[_TABLE_FILE])]
    with nullcontext(guard) if guard else Guard() as children:
        rows, is_whole = _made(kept, files, store, children)
    if is_whole:
        told = [[one, other, far, compared.to_json()] for one, other, far, compared in rows]
        store.put(key, {_TABLE_FILE: json.dumps(told).encode()})
    return rows


def _made(kept: Mapping[Key, Likeness], files: Mapping[Key, Order], store: Store, guard: Guard) -> tuple[list[_Row], bool]:
    """The rows, and whether all could be made: what a machine could not do today is tried again."""
    from generator.geometry.likeness.described import Descriptor  # noqa: PLC0415  only where a mesh is new
    from generator.geometry.likeness.nearest import near_pairs  # noqa: PLC0415

    told = {key: json.loads(each.descriptor.read()) for key, each in kept.items()}
    known = {key: Descriptor.from_json(each) for key, each in told.items() if each}
    near = {(one, other): far for one, other, far in near_pairs(known, _NEAR)}
    keys = {pair: key_of(_PAIR_NAME, code_of(_CODE), *pair) for pair in near}
    done = {pair: Compared.from_json(json.loads(found[_PAIR_FILE])) for pair, key in keys.items() if (found := store.get(key))}
    made, sure = _laid([pair for pair in near if pair not in done], kept, files, guard)
    for pair in sure:
        store.put(keys[pair], {_PAIR_FILE: json.dumps(made[pair].to_json()).encode()})
    rows = [(*pair, far, each) for pair, far in near.items() if (each := done.get(pair) or made.get(pair))]
    return rows, len(done) + len(sure) == len(near)


def _laid(
    pairs: Sequence[_Pair], kept: Mapping[Key, Likeness], files: Mapping[Key, Order], guard: Guard
) -> tuple[dict[_Pair, Compared], list[_Pair]]:
    """What could be laid, and which of it is sure; nothing of a batch that did not end well."""
    some_each = [pairs[at : at + _AT_ONCE] for at in range(0, len(pairs), _AT_ONCE)]
    batches = [tuple((kept[one].surface.read(), kept[other].surface.read()) for one, other in some) for some in some_each]
    ended = guard.run_all(pairs_laid, batches) if batches else []
    laid = {
        pair: each
        for some, outcome in zip(some_each, ended, strict=True)
        if isinstance(outcome, Done)
        for pair, each in zip(some, outcome.value, strict=True)
    }
    asked = [pair for pair, each in laid.items() if asks_for_meshes(each)]
    told = confirmed([(files[one], files[other], laid[one, other]) for one, other in asked], guard) if asked else []
    doubtful = {pair for pair, (_, is_sure) in zip(asked, told, strict=True) if not is_sure}
    laid.update((pair, each) for pair, (each, _) in zip(asked, told, strict=True))
    return laid, [pair for pair in laid if pair not in doubtful]


def pairs_laid(pairs: Sequence[tuple[bytes, bytes]]) -> tuple[Compared, ...]:
    """The job of a guarded child: kept surfaces, each first laid onto its second."""
    from generator.geometry.likeness.aligned import surfaces_compared  # noqa: PLC0415  the parent only names this job
    from generator.geometry.likeness.surface import Surface  # noqa: PLC0415

    return tuple(surfaces_compared(Surface.from_bytes(one), Surface.from_bytes(other)) for one, other in pairs)
