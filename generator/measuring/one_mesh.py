"""What does one mesh file measure and look like: the job that a guarded child does?"""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from generator.reading.meshes.errors import MeshError, unusable
from generator.reading.meshes.file import mesh_bytes
from generator.records.parts import MeshUnits
from generator.records.problems import Problem

if TYPE_CHECKING:
    from generator.geometry.mesh import Mesh

# What loads, measures and draws is imported where it is used: the parent only names this job, and a
# build that finds everything in the store pays for none of it.

FACTS: Final = "facts.json"
ERROR: Final = "error.json"
FRONT, BEHIND, THUMB = "front.webp", "behind.webp", "thumb.webp"

LARGE_PX: Final = (640, 480)
THUMB_PX: Final = (160, 120)


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """One mesh file to be measured and drawn."""

    path: Path
    sha256: str  # of the bytes that the records speak of
    units: MeshUnits | None  # what the part says, see `load_mesh`
    tint: str  # '#rrggbb'


def blobs_of(order: Order) -> dict[str, bytes] | Problem:
    """Load, measure and draw one mesh: facts and three pictures by name, as the store keeps them.

    A mesh that cannot be used gives an error blob, for that is as lasting as its bytes. A Problem
    is for what will not last: a file that cannot be read or has changed meanwhile.
    """
    try:
        content = mesh_bytes(order.path)
    except MeshError as error:
        return error.problem
    if hashlib.sha256(content).hexdigest() != order.sha256:
        return unusable("changed meanwhile").problem
    try:
        return _measured_and_drawn(content, order)
    except MeshError as error:
        return {ERROR: _json(_told(error.problem))}


def _told(problem: Problem) -> dict[str, Any]:
    facts = {name: list(fact) if isinstance(fact, tuple) else fact for name, fact in problem.facts}
    return {"key": problem.key, "mend": problem.mend, "line": problem.where.line, "facts": facts}


def problem_in(blob: bytes) -> Problem:
    """The problem that an error blob tells."""
    told = json.loads(blob)
    return unusable(told["key"], told["mend"], line=told["line"], **told["facts"]).problem


def _measured_and_drawn(content: bytes, order: Order) -> dict[str, bytes]:
    from generator.geometry.measure import mesh_facts  # noqa: PLC0415
    from generator.geometry.render.camera import View  # noqa: PLC0415
    from generator.geometry.render.scale import mm_per_px  # noqa: PLC0415
    from generator.measuring.second_opinion import check_second_opinion  # noqa: PLC0415
    from generator.reading.meshes.load import mesh_from_bytes  # noqa: PLC0415

    loaded = mesh_from_bytes(content, order.path.suffix, order.units)
    facts = mesh_facts(loaded.mesh)
    check_second_opinion(loaded.mesh, facts)
    told = {
        "facts": facts.to_json(),
        "format": loaded.format.value,
        "units": loaded.units.value,
        "unit_source": loaded.unit_source.value,
        "front_mm_per_px": mm_per_px(loaded.mesh, view=View.FRONT, size_px=LARGE_PX),
    }
    return {FACTS: _json(told), **_pictures(loaded.mesh, order.tint)}


def _pictures(mesh: Mesh, tint: str) -> dict[str, bytes]:
    from generator.geometry.render.camera import View  # noqa: PLC0415
    from generator.geometry.render.encoded import encoded  # noqa: PLC0415
    from generator.geometry.render.picture import picture  # noqa: PLC0415
    from generator.geometry.render.surface import surface_of  # noqa: PLC0415

    surface, colour = surface_of(mesh), _colour(tint)
    drawn = {
        FRONT: picture(surface, view=View.FRONT, size_px=LARGE_PX, tint=colour),
        BEHIND: picture(surface, view=View.BEHIND, size_px=LARGE_PX, tint=colour),
        THUMB: picture(surface, view=View.FRONT, size_px=THUMB_PX, tint=colour),
    }
    return {name: encoded(image) for name, image in drawn.items()}


def _colour(tint: str) -> tuple[float, float, float]:
    """Turn '#rrggbb' into shares of red, green and blue."""
    red, green, blue = bytes.fromhex(tint.removeprefix("#"))
    return red / 255, green / 255, blue / 255


def _json(told: dict[str, Any]) -> bytes:
    return (json.dumps(told, indent=1, sort_keys=True, ensure_ascii=False) + "\n").encode()
