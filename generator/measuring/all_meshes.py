"""What does every mesh of the catalogue measure and look like, from the store or made anew?"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from contextlib import nullcontext
from pathlib import Path
from typing import Final

from generator.geometry.facts import MeshFacts
from generator.geometry.measured import ModelSource, Pictures, Worked
from generator.measuring.guarded import Crashed, Done, Guard, Outcome, TooBig, TooLong
from generator.measuring.one_mesh import BEHIND, ERROR, FACTS, FRONT, THUMB, Order, blobs_of, problem_in
from generator.measuring.store import Key, Store, code_version, key_of
from generator.reading.meshes.errors import EXPORT_STL, REDUCE, unusable
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.problems import Problem

Progress = Callable[[str, int, int], None]
"""Called with what is being done, how many of it are finished, and how many there are."""

_STEP: Final = "draw"
_NO_MATERIAL: Final = "#9eadbd"  # a part whose material is unknown still gets its picture


def work_all(
    catalogue: Catalogue, root: Path, store: Store, progress: Progress, guard: Guard | None = None
) -> dict[str, Worked | Problem]:
    """Measure and draw the mesh of every part that has one; results by the part's folder.

    What the store holds is not loaded, measured or drawn again, and equal meshes only once; without
    anything new no child process starts. In place of a mesh that cannot be used its problem comes back.
    root: the folder that the paths of the catalogue start from.
    guard: where meshes are worked on; by default two children with the limits of `Limits()`.
    """
    orders = {
        folder.folder: order for folder in catalogue.parts if (order := _order(folder, catalogue, root))
    }
    with nullcontext(guard) if guard else Guard() as children:
        return worked_on(orders, store, progress, children)


def _order(folder: PartFolder, catalogue: Catalogue, root: Path) -> Order | None:
    if folder.mesh is None:
        return None
    material = catalogue.materials.get(folder.part.material) if folder.part else None
    return Order(
        path=root / folder.mesh.path,
        sha256=folder.mesh.sha256,
        units=folder.part.mesh_units if folder.part else None,
        tint=material.colour if material else _NO_MATERIAL,
    )


def worked_on(
    orders: Mapping[str, Order], store: Store, progress: Progress, guard: Guard
) -> dict[str, Worked | Problem]:
    """Work on orders by name: ask the store, then have the rest done by the children."""
    version = code_version()
    keys = {name: _key(order, version) for name, order in orders.items()}
    results = {key: worked for key in sorted(set(keys.values())) if (worked := _kept(store, key))}
    missing = {keys[name]: order for name, order in orders.items() if keys[name] not in results}
    found, wanted = len(results), len(results) + len(missing)
    progress(_STEP, found, wanted)
    results |= _made(missing, store, guard, lambda made: progress(_STEP, found + made, wanted))
    return {name: results[keys[name]] for name in orders}


def _key(order: Order, version: str) -> Key:
    """Give the fingerprint of all that facts and pictures depend on; the ending is part of it, for it may lie."""
    return key_of(order.sha256, order.path.suffix.lower(), order.units or "", order.tint, version)


def _kept(store: Store, key: Key) -> Worked | Problem | None:
    blobs = store.get(key)
    return None if blobs is None else _worked(blobs)


def _made(
    missing: Mapping[Key, Order], store: Store, guard: Guard, on_made: Callable[[int], None]
) -> dict[Key, Worked | Problem]:
    """Have orders done, keeping each result at once, so that a build that is broken off loses nothing."""
    keys = list(missing)
    made: dict[Key, Worked | Problem] = {}

    def keep(number: int, outcome: Outcome[dict[str, bytes] | Problem]) -> None:
        result = outcome.value if isinstance(outcome, Done) else _failure(outcome)
        if isinstance(result, Problem):
            made[keys[number]] = result
        else:
            store.put(keys[number], result)
            made[keys[number]] = _worked(result)
        on_made(len(made))

    guard.run_all(blobs_of, list(missing.values()), keep)
    return made


def _worked(blobs: Mapping[str, bytes]) -> Worked | Problem:
    if ERROR in blobs:
        return problem_in(blobs[ERROR])
    told = json.loads(blobs[FACTS])
    pictures = Pictures(
        front=blobs[FRONT],
        behind=blobs[BEHIND],
        thumb=blobs[THUMB],
        front_mm_per_px=told["front_mm_per_px"],
    )
    source = ModelSource(format=told["format"], units=told["units"], unit_source=told["unit_source"])
    return Worked(facts=MeshFacts.from_json(told["facts"]), pictures=pictures, source=source)


def _failure(outcome: TooLong | TooBig | Crashed) -> Problem:
    """Say why no result came; it is not kept, for another machine may do better."""
    match outcome:
        case TooLong(seconds):
            return unusable("took too long", REDUCE, seconds=seconds).problem
        case TooBig(memory_mb):
            return unusable("needs too much memory", REDUCE, megabytes=memory_mb).problem
        case Crashed(says):
            return unusable("failed", EXPORT_STL, reason=says).problem
