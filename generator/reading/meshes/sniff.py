"""Which mesh format are these bytes really, whatever the file is called?"""

from __future__ import annotations

import re
import struct
from enum import StrEnum
from typing import Final

from generator.reading.meshes.errors import EXPORT_STL, SAVE_AGAIN, MeshError, unusable


class MeshFormat(StrEnum):
    """A mesh format that is read."""

    STL_BINARY = "binary STL"
    STL_ASCII = "ASCII STL"
    THREEMF = "3MF"
    OBJ = "OBJ"
    PLY = "PLY"
    GLB = "GLB"
    STEP = "STEP"


SUFFIXES: Final[dict[str, frozenset[MeshFormat]]] = {
    ".stl": frozenset({MeshFormat.STL_BINARY, MeshFormat.STL_ASCII}),
    ".3mf": frozenset({MeshFormat.THREEMF}),
    ".obj": frozenset({MeshFormat.OBJ}),
    ".ply": frozenset({MeshFormat.PLY}),
    ".glb": frozenset({MeshFormat.GLB}),
    ".step": frozenset({MeshFormat.STEP}),
    ".stp": frozenset({MeshFormat.STEP}),
}
"""What a file with this ending must hold."""

# Things that get saved or renamed by mistake as a mesh, with what to call them.
_STRANGERS: Final = (
    (b"\x89PNG", "a PNG picture"),
    (b"\xff\xd8\xff", "a JPEG picture"),
    (b"GIF8", "a GIF picture"),
    (b"RIFF", "a WebP picture or a sound"),
    (b"%PDF", "a PDF document"),
    (b"\xd0\xcf\x11\xe0", "a CAD program's own file or an old office document"),
    (b"version https://git-lfs", "only a pointer to a large file that was not fetched"),
    (b"\x1f\x8b", "a gzip archive"),
    (b"7z\xbc\xaf", "a 7z archive"),
    (b"Rar!", "a RAR archive"),
    (b"<", "a web page or XML text"),
    (b"{", "JSON text"),
)
_GLTF: Final = re.compile(rb'"(?:asset|accessors|bufferViews)"\s*:')

# Two or four bytes a character: the marks that Unicode begins such a text with, and what plain text looks like without.
_WIDE_MARKS: Final = (b"\xff\xfe", b"\xfe\xff", b"\0\0\xfe\xff")
_WIDE_TEXT: Final = re.compile(rb"(?:[\t\n\r -~]\0){16}|(?:\0[\t\n\r -~]){16}")

STL_HEADER_BYTES: Final = 84  # 80 free bytes and a 32-bit count, then 50 bytes for each triangle
STL_FACE_BYTES: Final = 50

_OBJ_LINE: Final = re.compile(rb"^[ \t]*(v|f)[ \t]+[-+0-9.]", re.MULTILINE)
_PROBE_BYTES: Final = 4096


def sniffed(content: bytes, suffix: str = "") -> MeshFormat:
    """Say which format the bytes are, by the marks of the format alone.

    A binary STL has no mark but its length; when that is wrong, only the ending ('.stl') can tell
    that it was meant to be one, and the error then says how much of it is missing. Raises MeshError for an empty file, for a file that is something else, and for a file of which
    not even the start can be recognised.
    """
    if not content:
        raise unusable("empty", SAVE_AGAIN)
    known = _by_mark(content)
    if known is not None:
        return known
    if _is_gltf(content):
        raise unusable("gltf text", "export glb")
    for mark, what in _STRANGERS:
        if content.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(mark):
            raise unusable("stranger", EXPORT_STL, what=what)
    if content.startswith(_WIDE_MARKS) or _WIDE_TEXT.match(content):
        raise unusable("wide text", "utf-8")
    if _is_text(content[:_PROBE_BYTES]):
        raise unusable("text", EXPORT_STL)
    if suffix.lower() == ".stl":
        raise _broken_binary_stl(content)
    raise unusable("unknown kind", EXPORT_STL)


def _by_mark(content: bytes) -> MeshFormat | None:
    head = content[:_PROBE_BYTES].lstrip(b"\xef\xbb\xbf \t\r\n")
    # The length law comes first: many programs begin the free bytes of a binary STL with "solid".
    if is_binary_stl(content):
        return MeshFormat.STL_BINARY
    if content.startswith(b"glTF"):
        return MeshFormat.GLB
    if content.startswith(b"PK\x03\x04"):
        return MeshFormat.THREEMF
    if re.match(rb"(?i:ply)[ \t]*[\r\n]", content):
        return MeshFormat.PLY
    if re.match(rb"(/\*.*?\*/\s*)*ISO-10303-21\s*;", head, re.DOTALL):
        return MeshFormat.STEP
    if re.match(rb"solid\b", head, re.IGNORECASE) and _is_text(head):
        return MeshFormat.STL_ASCII
    if _is_text(head) and _OBJ_LINE.search(content, 0, 1024 * 1024):
        return MeshFormat.OBJ
    return None


def is_binary_stl(content: bytes) -> bool:
    """Tell whether the length is exactly what the count of triangles in the header asks for."""
    if len(content) < STL_HEADER_BYTES:
        return False
    return len(content) == STL_HEADER_BYTES + STL_FACE_BYTES * _promised_triangles(content)


def _is_gltf(content: bytes) -> bool:
    """Whether it is the JSON text of a scene; what it begins with tells it, for a buffer inside may be long."""
    is_json = content.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"{")
    return is_json and _GLTF.search(content, 0, 1024 * 1024) is not None


def _promised_triangles(content: bytes) -> int:
    (promised,) = struct.unpack_from("<I", content, 80)
    return int(promised)


def _broken_binary_stl(content: bytes) -> MeshError:
    """Say what is wrong with a file named .stl that is neither text nor as long as it promises."""
    if len(content) < STL_HEADER_BYTES:
        return unusable("stl header cut off", SAVE_AGAIN, bytes=len(content), header=STL_HEADER_BYTES)
    promised = _promised_triangles(content)
    body = len(content) - STL_HEADER_BYTES
    held = body // STL_FACE_BYTES
    if held < promised:
        return unusable("stl cut off", SAVE_AGAIN, held=held, promised=promised)
    extra = body - promised * STL_FACE_BYTES
    return unusable("stl more bytes", SAVE_AGAIN, promised=promised, more=extra)


def _is_text(head: bytes) -> bool:
    return b"\0" not in head


def check_suffix(suffix: str, found: MeshFormat) -> None:
    """Raise MeshError when the file's ending (with dot, any case) does not fit what it holds."""
    expected = SUFFIXES.get(suffix.lower())
    if expected is None and suffix.lower() != ".gltf":
        raise unusable("unread ending", ending=suffix, endings=sorted(SUFFIXES))
    if expected is None or found not in expected:
        good = next(s for s, formats in SUFFIXES.items() if found in formats)
        raise unusable("other ending", ending=suffix, format=found, good=good)
