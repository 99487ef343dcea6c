"""Where are the products of a mesh kept: under which keys, and how is one read again?"""

from __future__ import annotations

import errno
import os
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, partial
from typing import Final

from generator.geometry.measured import Kept, Likeness, Pictures, Turnable
from generator.measuring.code import code_of
from generator.measuring.guarded import Done, Guard
from generator.measuring.one_mesh import Job, Order, made_of
from generator.measuring.products import (
    FACTS,
    LIKENESS,
    LIKENESS_FILE,
    MARK_FILE,
    MODEL,
    MODEL_FILE,
    OF_MESH,
    PICTURE_FILE,
    PICTURES,
    SCALE_FILE,
    SURFACE_FILE,
    VIEWS,
    VIEWS_FILE,
    WALLS_PICTURE,
)
from generator.records.problems import Problem
from generator.systems.store import Key, Store, key_of

_FACTS_CODE: Final = "generator.measuring.facts_of"
_PICTURES_CODE: Final = "generator.measuring.pictures_of"
_WALLS_PICTURE_CODE: Final = "generator.measuring.walls_picture_of"

Keys = Mapping[str, Key]
"""By the product's name."""


def keys_of(order: Order) -> dict[str, Key]:
    """The key of each product: its inputs and the code that makes it. Facts know neither colour nor renderer.

    The ending of the file's name counts too, for it may lie.
    """
    mesh = (order.sha256, order.path.suffix.lower(), order.units or "")
    drawn = (*mesh, order.tint, code_of(_PICTURES_CODE))
    return {
        FACTS: key_of(FACTS, *mesh, code_of(_FACTS_CODE)),
        **{name: key_of(name, *mesh, code_of(module)) for name, module in OF_MESH.items()},
        **{name: key_of(name, *drawn) for name in PICTURES},
        WALLS_PICTURE: key_of(WALLS_PICTURE, *mesh, order.tint, code_of(_WALLS_PICTURE_CODE)),
    }


def pictures_in(store: Store, order: Order, keys: Keys, *, with_walls: bool) -> Pictures:
    """The pictures of an order, that of its walls where it has measured ones, to be read when somebody writes them; one that is lost by then is drawn again.

    Reading raises FileNotFoundError where it is lost and the mesh is not what it was.
    """
    kept = {name: _Kept(store, order, name, keys[name]) for name in (*PICTURES, WALLS_PICTURE)}
    return Pictures(
        **{name: Kept(kept[name].key, partial(kept[name].read, PICTURE_FILE)) for name in PICTURES},
        walls=Kept(kept[WALLS_PICTURE].key, partial(kept[WALLS_PICTURE].read, PICTURE_FILE)) if with_walls else None,
        front_scale=cache(lambda: float(kept["front"].read(SCALE_FILE))),
    )


def turnable_in(store: Store, order: Order, keys: Keys) -> Turnable:
    """The model of an order for the tablet, to be read when somebody writes it; made again as `pictures_in` says."""
    kept = _Kept(store, order, MODEL, keys[MODEL])
    return Turnable(
        packed=Kept(kept.key, partial(kept.read, MODEL_FILE)),
        read_mark=cache(lambda: kept.read(MARK_FILE).decode("ascii")),
    )


def likeness_in(store: Store, order: Order, keys: Keys) -> Likeness:
    """What an order is compared by, read when somebody compares it."""
    kept = _Kept(store, order, LIKENESS, keys[LIKENESS])
    descriptor, surface = (Kept(kept.key, partial(kept.read, name)) for name in (LIKENESS_FILE, SURFACE_FILE))
    return Likeness(descriptor=descriptor, surface=surface)


def views_in(store: Store, order: Order, keys: Keys) -> Kept:
    """The views of an order, read and made again as its pictures are."""
    return Kept(keys[VIEWS], partial(_Kept(store, order, VIEWS, keys[VIEWS]).read, VIEWS_FILE))


@dataclass(frozen=True, slots=True)
class _Kept:
    """One product of an order in its store."""

    store: Store
    order: Order
    name: str
    key: Key

    def read(self, file: str) -> bytes:
        blobs = self.store.get(self.key, (file,)) or self._made_again()
        return blobs[file]

    def _made_again(self) -> Mapping[str, bytes]:
        """Another program, or somebody's hand, took it out of the store, or it was damaged there."""
        with Guard(workers=1) as child:
            (outcome,) = child.run_all(made_of, [Job(order=self.order, wanted=(self.name,))])
        made = outcome.value.get(self.name) if isinstance(outcome, Done) and isinstance(outcome.value, dict) else None
        if made is None or isinstance(made, Problem):
            raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT), str(self.order.path))
        self.store.put(self.key, made)
        return made
