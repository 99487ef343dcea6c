"""What is the truth of a file that no test of ours has seen, and what is read of it?

A case is a file made of bytes and its truth. Three ends are right: the figures of the truth, a refusal in words where the
truth allows one, and no volume where it may be withheld. A wrong figure never is.
"""

import json
import re
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np

from tests.fixtures.told import fix, says
from tests.reading.meshes import files

BOX = files.box(10, 20, 30)
BOX_SIZE, BOX_VOLUME, BOX_AREA = (10.0, 20.0, 30.0), 6000.0, 2200.0


@dataclass(frozen=True, kw_only=True)
class Truth:
    """size in mm along the axes, volume in mm3, area in mm2; what is None is not asked."""

    size: tuple[float, float, float] | None = BOX_SIZE
    volume: float | None = BOX_VOLUME
    area: float | None = None
    within: float = 2e-5  # of the figures: what seven digits of single precision leave
    may_refuse: bool = False
    must_refuse: bool = False
    may_withhold: bool = False
    bodies: int | None = None
    words: tuple[str, ...] = ()  # one of these stands in what a refusal says or mends, in small letters


REFUSED = Truth(must_refuse=True)
BOXED = Truth(area=BOX_AREA)
NO_SURFACE = Truth(size=None, volume=None, may_refuse=True)
EITHER = Truth(area=BOX_AREA, may_refuse=True)
"""Right or refused: nobody can ask a reader for every habit."""


@dataclass(frozen=True, kw_only=True)
class Case:
    suffix: str
    content: Callable[[], bytes]
    truth: Truth = field(default=BOXED)


def measured(content: bytes, suffix: str, folder: Path) -> dict | tuple[str, str]:
    """The facts that a page would show, or what is said and what mends it; the whole way of a mesh in this process."""
    import hashlib

    from generator.measuring.kept_problem import problem_in
    from generator.measuring.one_mesh import Job, Order, made_of
    from generator.measuring.products import ERROR_FILE, FACTS, FACTS_FILE

    path = folder / f"model{suffix}"
    path.write_bytes(content)
    order = Order(path=path, sha256=hashlib.sha256(content).hexdigest(), units=None, tint="#8090a0")
    made = made_of(Job(order=order, wanted=(FACTS,)))
    assert isinstance(made, dict), f"a problem that will not last, so that each build tries again: {made}"
    if ERROR_FILE in made[FACTS]:
        problem = problem_in(made[FACTS][ERROR_FILE])
        return says(problem), fix(problem)
    return json.loads(made[FACTS][FACTS_FILE])["facts"]


def are_words(told: str) -> bool:
    """A sentence for a mechanic: neither bytes nor what a program throws."""
    strange = ("\\x", "Traceback", "Error(", "Exception", "IndexError", "ValueError", "KeyError", "0x", "<class", "None")
    is_strange = any(each in told for each in strange) or re.search(r"(?<!['\w])b['\"]", told)
    return len(told.split()) >= 3 and not is_strange and told.isprintable()


def faults(case: Case, folder: Path) -> list[str]:
    """Everything that is wrong with what is read of a case."""
    truth = case.truth
    found = measured(case.content(), case.suffix, folder)
    if isinstance(found, tuple):
        told = " / ".join(found)
        wrong = [] if truth.must_refuse or truth.may_refuse else [f"refused: {told}"]
        wrong += [f"no words: {each!r}" for each in found if not are_words(each)]
        if truth.words and not any(word in told.lower() for word in truth.words):
            wrong.append(f"says none of {truth.words}: {told}")
        return wrong
    if truth.must_refuse:
        return [f"taken, with size {found['size_mm']} and volume {found['volume_mm3']}"]
    wrong = []
    if truth.size is not None and not np.allclose(found["size_mm"], truth.size, rtol=truth.within, atol=0):
        wrong.append(f"size {found['size_mm']}, not {truth.size}")
    if truth.area is not None and not np.isclose(found["area_mm2"], truth.area, rtol=truth.within):
        wrong.append(f"area {found['area_mm2']}, not {truth.area}")
    if found["volume_mm3"] is None:
        wrong += [] if truth.may_withhold or truth.volume is None else [f"no volume: {found['defects']}"]
    elif truth.volume is None:
        wrong.append(f"volume {found['volume_mm3']} of what has none")
    elif not np.isclose(found["volume_mm3"], truth.volume, rtol=truth.within):
        wrong.append(f"volume {found['volume_mm3']}, not {truth.volume}")
    if truth.bodies is not None and found["bodies"] != truth.bodies:
        wrong.append(f"{found['bodies']} bodies, not {truth.bodies}")
    return wrong


def soup(*boxes):
    """Boxes (x, y, z, at) in one list of corners and faces."""
    corners, faces, so_far = [], [], 0
    for x, y, z, at in boxes:
        corners.append(files.CORNERS * (x, y, z) + np.array(at))
        faces.append(files.FACES + so_far)
        so_far += 8
    return np.vstack(corners), np.vstack(faces)


def prism(ring, height, *, at=0.0):
    """A closed prism over a convex ring, anticlockwise, of (x, y)."""
    ring, count = np.asarray(ring, dtype=float), len(ring)
    corners = np.vstack([np.column_stack([ring, np.full(count, z)]) for z in (at, at + height)])
    faces = [(0, i + 1, i) for i in range(1, count - 1)] + [(count, count + i, count + i + 1) for i in range(1, count - 1)]
    for i in range(count):
        k = (i + 1) % count
        faces += [(i, k, count + k), (i, count + k, count + i)]
    return corners, np.array(faces)


def polygon(count, radius, turn=0.0):
    angle = 2 * np.pi * (np.arange(count) + turn) / count
    return np.column_stack([radius * np.cos(angle), radius * np.sin(angle)])


def joined(*meshes):
    corners, faces, so_far = [], [], 0
    for each, indices in meshes:
        corners.append(each)
        faces.append(np.asarray(indices) + so_far)
        so_far += len(each)
    return np.vstack(corners), np.vstack(faces)
