"""Is what kept points call the same still the same on the faces of both meshes?

Kept points see nothing of less than 1 % of the surface: one hole that was filled is no other part to them. Who would say *same*
loads both files, in a guarded child.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from generator.geometry.likeness.kinds import Compared, Sameness
from generator.measuring.guarded import Done, Guard
from generator.measuring.one_mesh import Order
from generator.reading.meshes.errors import MeshError
from generator.reading.meshes.file import mesh_bytes

if TYPE_CHECKING:  # the parent only names the job, and loads no arrays
    from generator.geometry.mesh import Mesh

__all__ = ["asks_for_meshes", "confirmed", "mesh_in", "mesh_pair_laid"]

_NEARLY = 0.97  # of either surface lies at the other: kept points may have chosen the wrong one of two poses
_SETTLED = (Sameness.SAME, Sameness.SCALED, Sameness.OTHER_HAND)


def asks_for_meshes(compared: Compared) -> bool:
    """Whether the meshes may say otherwise than the kept points, or more."""
    return compared.kind in _SETTLED or min(compared.explained, compared.covered) >= _NEARLY


def confirmed(pairs: Sequence[tuple[Order, Order, Compared]], guard: Guard) -> list[tuple[Compared, bool]]:
    """Each pair as its meshes lie, and whether these could be asked; where not, what nobody confirmed is only similar."""
    ended = guard.run_all(mesh_pair_laid, [(one, other) for one, other, _ in pairs])
    told = [outcome.value if isinstance(outcome, Done) else None for outcome in ended]
    return [(each, True) if each else (_unconfirmed(before), False) for each, (*_, before) in zip(told, pairs, strict=True)]


def _unconfirmed(compared: Compared) -> Compared:
    return replace(compared, kind=Sameness.SIMILAR) if compared.kind in _SETTLED else compared


def mesh_pair_laid(pair: tuple[Order, Order]) -> Compared | None:
    """The job of a guarded child: the first laid onto the second; None where a file is no longer what was measured."""
    from generator.geometry.likeness.aligned import compared  # noqa: PLC0415  the parent only names this job

    try:
        asked, known = (mesh_in(each) for each in pair)
    except MeshError:
        return None
    return compared(asked, known) if asked and known else None


def mesh_in(order: Order) -> Mesh | None:
    """The mesh of a file, None where it is no longer what was measured; raises MeshError where it cannot be loaded."""
    from generator.reading.meshes.load import mesh_from_bytes  # noqa: PLC0415

    content = mesh_bytes(order.path)
    is_known = hashlib.sha256(content).hexdigest() == order.sha256
    return mesh_from_bytes(content, order.path.suffix, order.units).mesh if is_known else None
