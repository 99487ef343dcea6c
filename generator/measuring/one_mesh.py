"""What is made of one mesh file: the job that a guarded child does?"""

from __future__ import annotations

import hashlib
import traceback
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

from generator.measuring.products import ERROR_FILE, FACTS, OF_MESH, PICTURES, WALLS, WALLS_PICTURE
from generator.measuring.store import Blobs
from generator.reading.meshes.errors import EXPORT_STL, MeshError, unusable
from generator.reading.meshes.file import mesh_bytes
from generator.records.mesh_units import MeshUnits
from generator.records.problems import Problem

if TYPE_CHECKING:
    from generator.measuring.opened import Opened


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """One mesh file to be measured and drawn."""

    path: Path
    sha256: str  # of the bytes that the records speak of
    units: MeshUnits | None  # what the part says, see `load_mesh`
    tint: str  # '#rrggbb'


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """What is missing of an order: some of its products by name, made of one loaded mesh."""

    order: Order
    wanted: tuple[str, ...]


def made_of(job: Job) -> dict[str, Blobs] | Problem:
    """Load a mesh and make what is wanted of it, as the store keeps it; of a mesh that cannot be used its facts alone.

    A Problem is for what will not last: a file that cannot be read or has changed meanwhile.
    """
    # What loads, measures and draws is imported where it is used: the parent only names this job, and a
    # build that finds everything in the store pays for none of it.
    from generator.measuring.kept_problem import problem_blob  # noqa: PLC0415
    from generator.measuring.opened import Opened  # noqa: PLC0415

    order = job.order
    try:
        content = mesh_bytes(order.path)
        if hashlib.sha256(content).hexdigest() != order.sha256:
            return unusable("changed meanwhile").problem
        opened = Opened(content, order.path.suffix, order.units)
        del content
        return _made(job, opened)
    except MeshError as error:
        return error.problem
    except _OF_THE_MESH as error:
        return {FACTS: {ERROR_FILE: problem_blob(_unforeseen(error))}}


# What an unforeseen shape makes our code or a library raise: it comes again with the same bytes and the same code, so
# it is kept like any other mistake. Want of memory or of a file may not last.
_OF_THE_MESH: Final = (ValueError, TypeError, AttributeError, AssertionError, ArithmeticError, LookupError, RuntimeError)


def _made(job: Job, opened: Opened) -> dict[str, Blobs]:
    from generator.measuring.facts_of import facts_of  # noqa: PLC0415
    from generator.measuring.makers import MAKERS  # noqa: PLC0415
    from generator.measuring.pictures_of import pictures_of  # noqa: PLC0415
    from generator.measuring.walls_picture_of import walls_picture_of  # noqa: PLC0415

    made: dict[str, Blobs] = {}
    if FACTS in job.wanted:
        made[FACTS] = facts_of(opened)
        if ERROR_FILE in made[FACTS]:
            return made
    made.update((name, MAKERS[name](opened)) for name in OF_MESH if name in job.wanted)
    if drawn := [name for name in PICTURES if name in job.wanted]:
        made.update(pictures_of(opened, drawn, job.order.tint))
    if WALLS_PICTURE in job.wanted:
        made[WALLS_PICTURE] = walls_picture_of(opened, job.order.tint, made.get(WALLS))
    return made


def _unforeseen(error: Exception) -> Problem:
    """Name the place in the program, for whoever mends it; the library's own words say nothing to a depot."""
    ours = [each for each in traceback.extract_tb(error.__traceback__) if "generator" in Path(each.filename).parts]
    place = f"{Path(ours[-1].filename).name}:{ours[-1].lineno}" if ours else type(error).__name__
    return unusable("unforeseen", EXPORT_STL, place=place).problem
