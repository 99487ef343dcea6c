"""Which triangles does an STL file hold, binary or ASCII?"""

from __future__ import annotations

import math
from array import array
from io import BytesIO, TextIOWrapper
from typing import Final

import numpy as np

from generator.reading.meshes.errors import EXPORT_STL, SAVE_AGAIN, shown, unusable
from generator.reading.meshes.limits import check_face_count
from generator.reading.meshes.sniff import STL_FACE_BYTES, STL_HEADER_BYTES
from generator.reading.meshes.soup import Triangles

# 50 bytes a triangle: normal, three corners, and two bytes that mean nothing agreed.
_RECORD: Final = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])


def binary_stl(content: bytes) -> Triangles:
    """Read a binary STL whose length was already found to fit its header (see `sniffed`)."""
    count = (len(content) - STL_HEADER_BYTES) // STL_FACE_BYTES
    check_face_count(count)
    records = np.frombuffer(content, dtype=_RECORD, offset=STL_HEADER_BYTES, count=count)
    # The stored normal is ignored: the order of the corners says where outside is.
    vertices = records["corners"].astype(np.float64).reshape(-1, 3)
    return Triangles(vertices=vertices, faces=_each_three(count))


def ascii_stl(content: bytes) -> Triangles:
    """Read an ASCII STL line by line, so that a bad line is named.

    Several solids in one file are several bodies. Raises MeshError for a line that is out of place,
    a coordinate that is not a number, and a file that ends before `endsolid`.
    """
    check_face_count(max(content.count(b"vertex"), content.count(b"VERTEX")) // 3)
    coordinates = array("d")
    expected = "solid"
    corners = 0
    line = 0
    lines = TextIOWrapper(BytesIO(content.rstrip()), "utf-8-sig", "replace")
    for line, raw in enumerate(lines, start=1):
        words = raw.split()
        if not words:
            continue
        first = words[0].lower()
        if first not in _FOLLOWS[expected]:
            if next(lines, None) is None and expected != "solid":
                break  # cut off in the middle of a word, not written wrongly
            raise unusable("stl out of place", EXPORT_STL, line=line, text=shown(raw), expected=expected)
        if first == "vertex":
            coordinates.extend(_corner(words, line))
            corners += 1
            expected = "endloop" if corners == 3 else "vertex"
            continue
        if first == "outer":
            corners = 0
        expected = _NEXT[first]
    return _checked(coordinates, expected, line)


# What may stand where this is expected; a solid may hold no facet, and after one solid comes another.
_FOLLOWS: Final = {
    "solid": ("solid",),
    "facet": ("facet", "endsolid"),
    "outer loop": ("outer",),
    "vertex": ("vertex",),
    "endloop": ("endloop",),
    "endfacet": ("endfacet",),
}
_NEXT: Final = {
    "solid": "facet",
    "facet": "outer loop",
    "outer": "vertex",
    "endloop": "endfacet",
    "endfacet": "facet",
    "endsolid": "solid",
}


def _corner(words: list[str], line: int) -> tuple[float, float, float]:
    try:
        x, y, z = (float(word) for word in words[1:])
    except ValueError:
        mend = "decimal comma" if any("," in word for word in words) else EXPORT_STL
        raise unusable("no three coordinates", mend, line=line, text=shown(" ".join(words))) from None
    if not (math.isfinite(x) and math.isfinite(y) and math.isfinite(z)):
        raise unusable("coordinate no number", EXPORT_STL, line=line, text=shown(" ".join(words)))
    return x, y, z


def _checked(coordinates: array[float], expected: str, line: int) -> Triangles:
    vertices = np.array(coordinates, dtype=np.float64).reshape(-1, 3)
    count = len(vertices) // 3
    if expected != "solid":
        raise unusable("stl no end", SAVE_AGAIN, line=line, count=count)
    check_face_count(count)
    return Triangles(vertices=vertices, faces=_each_three(count))


def _each_three(count: int) -> np.ndarray[tuple[int, int], np.dtype[np.int64]]:
    return np.arange(3 * count, dtype=np.int64).reshape(-1, 3)
