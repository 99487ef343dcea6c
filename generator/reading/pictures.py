"""Can a file that begins like a picture be shown? A broken one is none.

The library that opens it takes longer to load than most checks take, so an answer is remembered in this process, and kept beside
the products of meshes where somebody keeps them: by the SHA-256 of the picture, of the library and of this module.
"""

import hashlib
import warnings
from collections.abc import Callable, Collection, Mapping
from contextlib import suppress
from functools import cache
from importlib import metadata
from io import BytesIO
from pathlib import Path
from typing import Final, Protocol

from generator.reading.same_bytes import MOST_REMEMBERED
from generator.records.catalogue import FileKind

# A camera's picture has some 12 million dots; more only costs a tablet its memory.
MOST_PIXELS = 50_000_000
# Where the end of a JPEG is looked for: some cameras write a preview behind it.
_TAIL_BYTES = 65_536
FAULT_FILE: Final = "picture_fault.txt"


class KeptFiles(Protocol):
    """Files under keys of 64 hexadecimal digits, as a store has them."""

    def get(self, key: str, only: Collection[str] = (), /) -> Mapping[str, bytes] | None:
        """The files of an entry by name; None where there is none, or it is damaged."""

    def put(self, key: str, blobs: Mapping[str, bytes], /) -> None:
        """Keep an entry."""


_known: dict[tuple[FileKind, str], str] = {}


def picture_fault(kind: FileKind, sha256: str, content: Callable[[], bytes], kept: KeptFiles | None = None) -> str | None:
    """Why a file that begins like a picture of this kind cannot be shown; None where nothing speaks against it.

    sha256: in hexadecimal digits, of its bytes. content: gives them; OSError goes through.
    """
    with suppress(KeyError):
        return _known[kind, sha256] or None
    told = _told(kept, _key(kind, sha256)) if kept else None
    if told is None:
        whole = content()
        try:
            told = _opened(whole, kind) or ""
        except MemoryError:  # there may be more of it another time
            return "is broken"
        if hashlib.sha256(whole).hexdigest() != sha256:  # it changes at this moment
            return told or None
        if kept:
            kept.put(_key(kind, sha256), {FAULT_FILE: told.encode()})
    if len(_known) >= MOST_REMEMBERED:
        _known.clear()
    _known[kind, sha256] = told
    return told or None


def _told(kept: KeptFiles, key: str) -> str | None:
    entry = kept.get(key)
    return entry[FAULT_FILE].decode() if entry and FAULT_FILE in entry else None


def _key(kind: FileKind, sha256: str) -> str:
    return hashlib.sha256(f"{_asked_by()}\n{kind.value}\n{sha256}".encode()).hexdigest()


@cache
def _asked_by() -> str:
    """What the answer rests on beside the picture."""
    return f"{hashlib.sha256(Path(__file__).read_bytes()).hexdigest()}\n{metadata.version('pillow')}"


def _opened(content: bytes, kind: FileKind) -> str | None:
    from PIL import Image  # noqa: PLC0415  a depot whose photos are known needs none of it

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            with Image.open(BytesIO(content), formats=[kind.value.upper()]) as opened:
                width, height = opened.size
    except Image.DecompressionBombError:
        return "has more dots than a tablet can show"
    except (OSError, ValueError, SyntaxError, OverflowError):
        return "is broken"
    if width * height > MOST_PIXELS:
        return f"is {width} × {height} dots large, more than a tablet can show"
    if not width * height or not _is_whole(content, kind):
        return "is cut off"
    return None


def _is_whole(content: bytes, kind: FileKind) -> bool:
    """Whether the end of the picture is there, by its form; what lies behind it does no harm."""
    if kind is FileKind.WEBP:
        return int.from_bytes(content[4:8], "little") + 8 <= len(content)
    return (b"IEND" if kind is FileKind.PNG else b"\xff\xd9") in content[-_TAIL_BYTES:]
