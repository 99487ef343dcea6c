"""How large may a mesh file be before it is refused, and why?"""

from __future__ import annotations

from typing import Final

from generator.reading.meshes.errors import REDUCE, unusable

# Two million triangles still load and measure in about a gigabyte, far beyond what a printer can show; more only
# slows every build.
MAX_FACES: Final = 2_000_000

# A catalogue lives in git and on a tablet: a part of 20,000 triangles is 1 MB as binary STL. Two million are 95.4 MB,
# at 50 bytes each, so that this form too ends where all do.
MAX_FILE_BYTES: Final = 96 * 1024**2

# A binary STL names three corners for each triangle; no format needs more.
MAX_VERTICES: Final = 3 * MAX_FACES

# A 3MF of two million triangles unzips to about 200 MB of text.
MAX_UNZIPPED_BYTES: Final = 320 * 1024**2

# Model text shrinks 4 to 20 times when zipped; a zip bomb a thousand times.
MAX_ZIP_RATIO: Final = 100

# Tiny parts may shrink better than that without harm, so the ratio counts only above this size.
ZIP_RATIO_FROM_BYTES: Final = 8 * 1024**2

# A 3MF holds a handful of parts: model, pictures, relations. Ten thousand entries are an attack.
MAX_ZIP_ENTRIES: Final = 1_000

# Assemblies within assemblies; CAD exports rarely go deeper than ten.
MAX_NESTING: Final = 64

# Ten kilometres: beyond any part, and far below where the arithmetic of volumes breaks.
MAX_COORDINATE_MM: Final = 1e7


def check_face_count(faces: int) -> None:
    """Raise MeshError when a file holds, or promises, more triangles than are worth reading."""
    if faces > MAX_FACES:
        raise unusable("too many triangles", REDUCE, count=faces, most=MAX_FACES)


def check_vertex_count(vertices: int) -> None:
    """Raise MeshError when a file holds, or promises, more corners than are worth reading."""
    if vertices > MAX_VERTICES:
        raise unusable("too many corners", REDUCE, count=vertices, most=MAX_VERTICES)
