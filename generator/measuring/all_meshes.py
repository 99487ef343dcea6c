"""What does every mesh of the catalogue measure and look like, from the store or made anew?"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import nullcontext
from itertools import count
from pathlib import Path
from typing import Final

from generator.geometry.facts import MeshFacts
from generator.geometry.features.kinds import Features
from generator.geometry.measured import ModelSource, Worked
from generator.geometry.printing.pose import Poses
from generator.geometry.sections import Walls
from generator.measuring.guarded import Crashed, Done, Guard, Outcome, TooBig, TooLong
from generator.measuring.kept_problem import problem_in
from generator.measuring.kept_products import Keys, keys_of, likeness_in, pictures_in, turnable_in, views_in
from generator.measuring.one_mesh import Job, Order, made_of
from generator.measuring.products import (
    ERROR_FILE,
    FACTS,
    FACTS_FILE,
    FEATURES,
    FEATURES_FILE,
    POSES,
    POSES_FILE,
    PRODUCTS,
    TOLD,
    WALLS,
    WALLS_FILE,
)
from generator.measuring.store import Blobs, Key, Store
from generator.reading.meshes.errors import EXPORT_STL, REDUCE, unusable
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.problems import Problem

Progress = Callable[[str, int, int], None]
"""Called with what is being done, how many of it are finished, and how many there are."""

_STEP: Final = "draw"
_NO_MATERIAL: Final = "#9eadbd"  # a part whose material is unknown still gets its picture


def work_all(
    catalogue: Catalogue,
    root: Path,
    store: Store,
    progress: Progress,
    guard: Guard | None = None,
    *,
    workers: int | None = None,
) -> dict[str, Worked | Problem]:
    """Measure and draw the mesh of every part and request that has one; results by the part's folder, or as `request_orders_of` says.

    What the store holds is not loaded, measured or drawn again, and equal meshes only once; without
    anything new no child process starts. In place of a mesh that cannot be used its problem comes back.
    root: the folder that the paths of the catalogue start from.
    guard: where meshes are worked on; by default `workers` children with the limits of `Limits()`, see `Guard`.
    """
    with nullcontext(guard) if guard else Guard(workers=workers) as children:
        return worked_on({**orders_of(catalogue, root), **request_orders_of(catalogue, root)}, store, progress, children)


def orders_of(catalogue: Catalogue, root: Path) -> dict[str, Order]:
    """The mesh file of every part that has one, by the part's folder; root: as `work_all` says."""
    return {folder.folder: order for folder in catalogue.parts if (order := _order(folder, catalogue, root))}


def request_orders_of(catalogue: Catalogue, root: Path) -> dict[str, Order]:
    """The model of every request that has one, by 'requests/' and its id; root: as `work_all` says."""
    models = catalogue.request_models
    return {
        f"requests/{name}": Order(
            path=root / models[request.model].path, sha256=models[request.model].sha256, units=request.model_units, tint=_NO_MATERIAL
        )
        for name, request in catalogue.requests.items()
        if request.model in models
    }


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
    """Work on orders by name: ask the store, then have what is missing of each made by the children."""
    keys = {name: keys_of(order) for name, order in orders.items()}
    distinct: dict[tuple[Key, ...], tuple[Order, Keys]] = {}
    for name, order in orders.items():
        distinct.setdefault(tuple(keys[name].values()), (order, keys[name]))
    round_ = _Round(store)
    missing = round_.asked(distinct.values())
    found, wanted = len(distinct) - len(missing), len(distinct)
    progress(_STEP, found, wanted)
    round_.make(missing, guard, lambda made: progress(_STEP, found + made, wanted))
    worked = {same: round_.worked(order, own) for same, (order, own) in distinct.items()}
    return {name: worked[tuple(keys[name].values())] for name in orders}


class _Round:
    """What one look at all orders finds in the store, has made, and could not have made."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self._read: dict[Key, Blobs] = {}
        self._failed: dict[Key, Problem] = {}
        """By the key of the facts, or of the first picture, that did not come."""

    def asked(self, orders: Iterable[tuple[Order, Keys]]) -> list[tuple[Job, Keys]]:
        """What is missing of each order: a job for each that lacks something. What two orders share is asked for once."""
        jobs = []
        claimed: set[Key] = set()
        for order, keys in orders:
            facts = self._kept(keys[FACTS])
            if facts and ERROR_FILE in facts:
                continue
            wanted = [name for name in PRODUCTS if keys[name] not in claimed and not self._is_kept(name, keys[name])]
            claimed.update(keys[name] for name in wanted)
            if wanted:
                jobs.append((Job(order=order, wanted=tuple(wanted)), keys))
        return jobs

    def _is_kept(self, name: str, key: Key) -> bool:
        """What is read later need only be there; a picture is not read before somebody writes it."""
        return self._kept(key) is not None if name in TOLD else self._store.has(key)

    def _kept(self, key: Key) -> Blobs | None:
        if key not in self._read and (kept := self._store.get(key)):
            self._read[key] = kept
        return self._read.get(key)

    def make(self, missing: Sequence[tuple[Job, Keys]], guard: Guard, on_made: Callable[[int], None]) -> None:
        """Have jobs done, keeping each product at once, so that a build that is broken off loses nothing."""
        ended = count(1)

        def keep(number: int, outcome: Outcome[dict[str, Blobs] | Problem]) -> None:
            job, keys = missing[number]
            result = outcome.value if isinstance(outcome, Done) else _failure(outcome)
            if isinstance(result, Problem):
                self._failed.update((keys[name], result) for name in job.wanted)
            else:
                for name, blobs in result.items():
                    self._store.put(keys[name], blobs)
                self._read.update((keys[name], blobs) for name, blobs in result.items() if name in TOLD)
            on_made(next(ended))

        guard.run_all(made_of, [job for job, _ in missing], keep)

    def worked(self, order: Order, keys: Keys) -> Worked | Problem:
        """What came of an order; one product that could not be made spoils it."""
        failed = next((self._failed[key] for key in keys.values() if key in self._failed), None)
        facts, walls, features, poses = (self._read.get(keys[name]) for name in (FACTS, WALLS, FEATURES, POSES))
        if facts and ERROR_FILE in facts:
            return problem_in(facts[ERROR_FILE])
        if failed or facts is None or walls is None or features is None or poses is None:
            return failed or _failure(Crashed("nothing came of it"))
        told = json.loads(facts[FACTS_FILE])
        source = ModelSource(format=told["format"], units=told["units"], unit_source=told["unit_source"])
        measured = MeshFacts.from_json(told["facts"])
        is_certain = measured.volume_mm3 is not None
        certain = _walls(walls) if is_certain else None
        found = Features.from_json(json.loads(features[FEATURES_FILE])) if is_certain else None
        stands = Poses.from_json(json.loads(poses[POSES_FILE])) if is_certain else None
        pictures = pictures_in(self._store, order, keys, with_walls=certain is not None)
        return Worked(
            facts=measured,
            walls=certain,
            features=found,
            poses=stands,
            pictures=pictures,
            turnable=turnable_in(self._store, order, keys),
            likeness=likeness_in(self._store, order, keys),
            views=views_in(self._store, order, keys),
            source=source,
        )


def _walls(kept: Blobs) -> Walls | None:
    told = json.loads(kept[WALLS_FILE])
    return None if told is None else Walls.from_json(told)


def _failure(outcome: TooLong | TooBig | Crashed) -> Problem:
    """Say why no result came; it is not kept, for another machine may do better."""
    match outcome:
        case TooLong(seconds):
            return unusable("took too long", REDUCE, seconds=seconds).problem
        case TooBig(memory_mb):
            return unusable("needs too much memory", REDUCE, megabytes=memory_mb).problem
        case Crashed(says):
            return unusable("failed", EXPORT_STL, reason=says).problem
