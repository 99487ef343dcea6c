"""What is made of one mesh file: the job that a guarded child does?"""

from __future__ import annotations

import hashlib
import traceback
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

from generator.measuring.products import ERROR_FILE, FACTS, OF_MESH, PICTURES, WALLS, WALLS_PICTURE
from generator.measuring.working import StepTooLong, allow, give, step, worn
from generator.reading.meshes.errors import EXPORT_STL, REDUCE, MeshError, unusable
from generator.reading.meshes.file import mesh_bytes
from generator.records.mesh_units import MeshUnits
from generator.records.problems import Problem
from generator.systems.lacking import lacking_package
from generator.systems.store import Blobs

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


Made = dict[str, Blobs | Problem]
"""By the product's name what the store keeps of it, or why it was left out."""

LEAST_S: Final = 30.0
MOST_S: Final = 60.0
LEAST_FACES: Final = 400_000
MOST_FACES: Final = 1_000_000


def processor_s_of(faces: int) -> float:
    """How much of the processor's time a mesh may have, in seconds; an honest scan of a million faces needs 36, on a crowded machine 45."""
    share = (faces - LEAST_FACES) / (MOST_FACES - LEAST_FACES)
    return LEAST_S + (MOST_S - LEAST_S) * min(max(share, 0.0), 1.0)


def made_of(job: Job) -> Made | Problem:
    """Load a mesh and make what is wanted of it, as the store keeps it; of a mesh that cannot be used its facts alone.

    A product that takes two fifths of the time that its mesh may have, or more memory than there is, is left out alone: its
    Problem stands in its place. A Problem in the place of all is for what will not last: a file that cannot be read or
    has changed meanwhile, a library that is not installed. Raises MemoryError where there is none for loading and facts, or no child runs this.
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
        allow(LEAST_S)  # how many faces it has shows when it is loaded
        with suppress(MeshError):  # facts tell it
            allow(processor_s_of(len(opened.loaded.mesh.faces)))
        return _made(job, opened)
    except MeshError as error:
        return error.problem
    except ModuleNotFoundError as error:
        package = lacking_package(error)
        if package is None:
            raise
        return unusable("no library", "install", package=package).problem
    except _OF_THE_MESH as error:
        return {FACTS: {ERROR_FILE: problem_blob(_unforeseen(error))}}


# What an unforeseen shape makes our code or a library raise: it comes again with the same bytes and the same code, so
# it is kept like any other mistake. Want of memory or of a file may not last.
_OF_THE_MESH: Final = (ValueError, TypeError, AttributeError, AssertionError, ArithmeticError, LookupError, RuntimeError)


def _made(job: Job, opened: Opened) -> Made:
    from generator.measuring.facts_of import facts_of  # noqa: PLC0415

    made: Made = {}
    if FACTS in job.wanted:
        facts = facts_of(opened)
        made[FACTS] = facts
        give({FACTS: facts})
        if ERROR_FILE in facts:
            return made
    for names, maker in _steps(job, opened, made):
        product = _in_a_step(maker)
        if isinstance(product, Problem):
            made.update(dict.fromkeys(names, product))
        else:
            made.update(product)
            give(product)
    return made


_Maker = Callable[[], Mapping[str, Blobs]]


def _steps(job: Job, opened: Opened, made: Made) -> Iterator[tuple[list[str], _Maker]]:
    """What is left out together, and what makes it: the most needed first."""
    from generator.measuring.makers import MAKERS  # noqa: PLC0415
    from generator.measuring.pictures_of import pictures_of  # noqa: PLC0415
    from generator.measuring.walls_picture_of import walls_picture_of  # noqa: PLC0415

    tint = job.order.tint
    for name in OF_MESH:
        if name in job.wanted:
            yield [name], lambda name=name: {name: MAKERS[name](opened)}  # type: ignore[misc]
    drawn: list[str] = [name for name in PICTURES if name in job.wanted]
    if drawn:
        yield drawn, lambda: dict(pictures_of(opened, drawn, tint))
    walls = made.get(WALLS)
    if WALLS_PICTURE in job.wanted and not isinstance(walls, Problem):
        yield [WALLS_PICTURE], lambda: {WALLS_PICTURE: walls_picture_of(opened, tint, walls)}


def _in_a_step(maker: _Maker) -> Mapping[str, Blobs] | Problem:
    """What it makes, or why it does not."""
    try:
        with step():
            return maker()
    except StepTooLong as end:
        return unusable("took too long", REDUCE, seconds=end.seconds).problem
    except MemoryError:
        memory_mb = worn()
        if memory_mb is None:
            raise
        return unusable("needs too much memory", REDUCE, megabytes=memory_mb).problem


def _unforeseen(error: Exception) -> Problem:
    """Name the place in the program, for whoever mends it; the library's own words say nothing to a depot."""
    ours = [each for each in traceback.extract_tb(error.__traceback__) if "generator" in Path(each.filename).parts]
    place = f"{Path(ours[-1].filename).name}:{ours[-1].lineno}" if ours else type(error).__name__
    return unusable("unforeseen", EXPORT_STL, place=place).problem
