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
from generator.geometry.measured import LeftOut, ModelSource, Worked
from generator.geometry.printing.pose import Poses
from generator.geometry.sections import Walls
from generator.measuring.guarded import Crashed, Done, Guard, Outcome, TooBig, TooLong
from generator.measuring.kept_problem import problem_in
from generator.measuring.kept_products import Keys, keys_of, likeness_in, pictures_in, turnable_in, views_in
from generator.measuring.one_mesh import Job, Made, Order, made_of
from generator.measuring.products import (
    ERROR_FILE,
    FACTS,
    FACTS_FILE,
    FEATURES,
    FEATURES_FILE,
    GROUPS,
    LIKENESS,
    MODEL,
    PICTURES,
    POSES,
    POSES_FILE,
    PRODUCTS,
    TOLD,
    VIEWS,
    WALLS,
    WALLS_FILE,
    WALLS_PICTURE,
)
from generator.reading.meshes.errors import EXPORT_STL, REDUCE, unusable
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.materials import UNCOLOURED
from generator.records.problems import Problem
from generator.systems.store import Blobs, Key, Store

Progress = Callable[[str, int, int], None]
"""Called with what is being done, how many of it are finished, and how many there are."""

_STEP: Final = "draw"


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
    anything new no child process starts. In place of a mesh that cannot be used its problem comes back; what of a mesh
    took too long or too much memory is left out alone, and told in `Worked.left_out`.
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
            path=root / models[request.model].path, sha256=models[request.model].sha256, units=request.model_units, tint=UNCOLOURED
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
        tint=material.colour if material else UNCOLOURED,
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
        """By the key of what did not come, with all that was wanted of its mesh."""
        self._left: dict[Key, Problem] = {}
        """By the key of what was left out alone."""

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

        def keep(number: int, outcome: Outcome[Made | Problem]) -> None:
            job, keys = missing[number]
            result = outcome.value if isinstance(outcome, Done) else _given(job, outcome)
            if isinstance(result, Problem):
                self._failed.update((keys[name], result) for name in job.wanted)
            else:
                self._put(result, keys)
            on_made(next(ended))

        guard.run_all(made_of, [job for job, _ in missing], keep)

    def _put(self, made: Made, keys: Keys) -> None:
        for name, blobs in made.items():
            if isinstance(blobs, Problem):
                self._left[keys[name]] = blobs
                continue
            self._store.put(keys[name], blobs)
            if name in TOLD:
                self._read[keys[name]] = blobs

    def worked(self, order: Order, keys: Keys) -> Worked | Problem:
        """What came of an order: without facts nothing, and what was left out is told."""
        failed = next((self._failed[key] for key in keys.values() if key in self._failed), None)
        facts, walls, features, poses = (self._read.get(keys[name]) for name in (FACTS, WALLS, FEATURES, POSES))
        if facts and ERROR_FILE in facts:
            return problem_in(facts[ERROR_FILE])
        left = {name: self._left[key] for name, key in keys.items() if key in self._left}
        if failed or facts is None or any(keys[name] not in self._read and name not in left for name in TOLD):
            return failed or left.get(FACTS) or _failure(Crashed("nothing came of it"))
        told = json.loads(facts[FACTS_FILE])
        source = ModelSource(format=told["format"], units=told["units"], unit_source=told["unit_source"])
        measured = MeshFacts.from_json(told["facts"])
        is_certain = measured.volume_mm3 is not None
        certain = _walls(walls) if walls and is_certain else None
        found = Features.from_json(json.loads(features[FEATURES_FILE])) if features and is_certain else None
        stands = Poses.from_json(json.loads(poses[POSES_FILE])) if poses and is_certain else None
        pictures = pictures_in(self._store, order, keys, with_walls=certain is not None and WALLS_PICTURE not in left)
        return Worked(
            facts=measured,
            walls=certain,
            features=found,
            poses=stands,
            pictures=None if left.keys() & set(PICTURES) else pictures,
            turnable=None if MODEL in left else turnable_in(self._store, order, keys),
            likeness=None if LIKENESS in left else likeness_in(self._store, order, keys),
            views=None if VIEWS in left else views_in(self._store, order, keys),
            source=source,
            left_out=_left_out(left),
        )


def _walls(kept: Blobs) -> Walls | None:
    told = json.loads(kept[WALLS_FILE])
    return None if told is None else Walls.from_json(told)


def _given(job: Job, outcome: TooLong | TooBig | Crashed) -> Made | Problem:
    """What a job had made before it was ended, and why the rest is missing; without facts there is only the reason."""
    why = _failure(outcome)
    made: Made = {name: blobs for each in outcome.given for name, blobs in each.items()}
    if FACTS in job.wanted and FACTS not in made:
        return why
    return {name: made.get(name, why) for name in job.wanted}


def _left_out(left: Mapping[str, Problem]) -> tuple[LeftOut, ...]:
    """One for each reason."""
    by_reason: dict[Problem, list[str]] = {}
    for name, why in left.items():
        by_reason.setdefault(why, []).append(GROUPS.get(name, name))
    return tuple(
        LeftOut(products=tuple(dict.fromkeys(names)), why=why.key, facts=why.facts) for why, names in by_reason.items()
    )


def _failure(outcome: TooLong | TooBig | Crashed) -> Problem:
    """Say why no result came; it is not kept, for another machine may do better."""
    match outcome:
        case TooLong(seconds=seconds):
            return unusable("took too long", REDUCE, seconds=seconds).problem
        case TooBig(memory_mb=memory_mb):
            return unusable("needs too much memory", REDUCE, megabytes=memory_mb).problem
        case Crashed(says=says):
            return unusable("failed", EXPORT_STL, reason=says).problem
