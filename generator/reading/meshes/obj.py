"""Which polygons does an OBJ file hold?"""

from __future__ import annotations

import math
from array import array
from collections.abc import Iterator
from dataclasses import dataclass, field
from io import BytesIO, TextIOWrapper
from typing import Final

import numpy as np
from numpy.typing import NDArray

from generator.geometry.facts import Defect, DefectKind
from generator.reading.meshes.errors import EXPORT_STL, SAVE_AGAIN, MeshError, shown, unusable
from generator.reading.meshes.limits import check_face_count, check_vertex_count
from generator.reading.meshes.outside import leads_outside
from generator.reading.meshes.polygons import Cutter
from generator.reading.meshes.soup import Triangles

_FREE_FORM: Final = frozenset(
    {"vp", "cstype", "deg", "curv", "curv2", "surf", "parm", "bzp", "bsp", "cdc", "res"}
)
_RUNS_OTHER: Final = frozenset({"call", "csh"})
# Named but never opened: they hold colours and the like, not the shape.
_NAMES_FILES: Final = frozenset({"mtllib", "maplib", "usemap", "shadow_obj", "trace_obj"})

# A face needs three corners; a marker of the origin or of axes is fewer, or few among many. Common practice, no source.
_LONG_RUN: Final = 3
_LONG_RUN_SHARE: Final = 0.01


@dataclass(slots=True)
class _Reading:
    """What was read so far."""

    coordinates: array[float] = field(default_factory=lambda: array("d"))
    corners: array[int] = field(default_factory=lambda: array("q"))  # of all polygons, one after the other
    sizes: array[int] = field(default_factory=lambda: array("q"))  # how many corners each has
    used_otherwise: set[int] = field(default_factory=set)  # by lines and points, which have no surface

    @property
    def count(self) -> int:
        return len(self.coordinates) // 3


_CUT_SHORT = ("no three coordinates", "face too small", "obj no corner number")
"""What the last line looks like where a file was cut short within it."""


def obj(content: bytes) -> Triangles:
    """Read the polygons of an OBJ file and cut them into triangles; files it names are never opened.

    An OBJ has neither a count nor an end mark, so a file cut short between two lines shows only by
    what it leaves behind: a long run of corners at the end that no face uses. A few, or some in the middle, are an
    exporter's habit and are only told. Raises MeshError, with the line, for whatever cannot be understood.
    """
    check_vertex_count(content.count(b"\nv "))
    check_face_count(content.count(b"\nf "))
    reading = _Reading()
    is_cut, last = not content.endswith((b"\n", b"\r")), content.count(b"\n") + 1
    for line, words in _statements(content):
        try:
            _take(reading, words, line)
        except MeshError as error:
            if is_cut and line == last and error.problem.key in _CUT_SHORT:
                raise unusable("obj line cut off", SAVE_AGAIN, line=line) from None
            raise
    vertices = np.array(reading.coordinates, dtype=np.float64).reshape(-1, 3)
    notes = _unused(reading)
    return Triangles(vertices=vertices, faces=_triangles(reading, vertices), notes=notes)


def _statements(content: bytes) -> Iterator[tuple[int, list[str]]]:
    """Give each line's words, comments left out, with lines joined that end in a backslash."""
    held: list[str] = []
    for line, raw in enumerate(TextIOWrapper(BytesIO(content), "utf-8-sig", "replace"), start=1):
        text = raw.partition("#")[0].rstrip()
        if text.endswith("\\"):
            held += text[:-1].split()
            continue
        words, held = held + text.split(), []
        if words:
            yield line, words
    if held:
        raise unusable("obj line cut off", SAVE_AGAIN)


def _take(reading: _Reading, words: list[str], line: int) -> None:
    match words[0]:
        case "v":
            reading.coordinates.extend(_corner(words, line))
        case "f":
            if len(words) < 4:
                raise unusable("face too small", EXPORT_STL, line=line, corners=len(words) - 1)
            reading.corners.extend(_index(word, reading.count, line) for word in words[1:])
            reading.sizes.append(len(words) - 1)
        case "l" | "p":
            reading.used_otherwise.update(_index(word, reading.count, line) for word in words[1:])
        case name if name in _NAMES_FILES:
            _check_named(words, line)
        case name if name in _FREE_FORM:
            raise unusable("obj curved", EXPORT_STL, line=line, word=name)
        case name if name in _RUNS_OTHER:
            raise unusable("obj runs other", EXPORT_STL, line=line, word=name)
        case _:
            pass  # normals, texture, groups, names: no shape in them


def _corner(words: list[str], line: int) -> tuple[float, float, float]:
    try:
        x, y, z = (float(word) for word in words[1:4])
    except ValueError:
        raise unusable("no three coordinates", EXPORT_STL, line=line, text=shown(" ".join(words))) from None
    if not (math.isfinite(x) and math.isfinite(y) and math.isfinite(z)):
        raise unusable("coordinate no number", EXPORT_STL, line=line, text=shown(" ".join(words)))
    return x, y, z


def _index(word: str, count: int, line: int) -> int:
    """Turn '12/3/4' into 11; corners count from 1, and negative ones back from the last (OBJ, "f")."""
    try:
        number = int(word.partition("/")[0])
    except ValueError:
        raise unusable("obj no corner number", EXPORT_STL, line=line, text=shown(word, 30)) from None
    index = number - 1 if number > 0 else count + number
    if number == 0 or not 0 <= index < count:
        raise unusable("obj corner missing", SAVE_AGAIN, line=line, corner=number, given=count)
    return index


def _check_named(words: list[str], line: int) -> None:
    name = " ".join(words[1:])
    if leads_outside(name):
        raise unusable("obj points outside", line=line, word=words[0], target=shown(name, 80))


def _unused(reading: _Reading) -> tuple[Defect, ...]:
    used = np.zeros(reading.count, dtype=bool)
    used[np.array(reading.corners, dtype=np.int64)] = True
    used[list(reading.used_otherwise)] = True
    unused = int((~used).sum())
    run = int(np.argmax(used[::-1])) if used.any() else reading.count
    if run >= _LONG_RUN and run >= _LONG_RUN_SHARE * reading.count and reading.sizes:
        raise unusable("obj corners unused", SAVE_AGAIN, unused=run, corners=reading.count)
    return (Defect(kind=DefectKind.UNUSED_CORNERS, count=unused),) if unused else ()


def _triangles(reading: _Reading, vertices: NDArray[np.float64]) -> NDArray[np.int64]:
    corners, sizes = np.array(reading.corners, dtype=np.int64), np.array(reading.sizes, dtype=np.int64)
    return Cutter(vertices).all_cut(corners, sizes)
