"""Which bytes does a mesh file hold, and may they be read at all?"""

from __future__ import annotations

import os
import stat
from pathlib import Path

from generator.reading.meshes.errors import REDUCE, unusable
from generator.reading.meshes.limits import MAX_FILE_BYTES


def mesh_bytes(path: Path) -> bytes:
    """Read the file itself: regular, within its folder, and not too large; raises MeshError otherwise."""
    try:
        if path.is_symlink() and path.resolve().parent != path.parent.resolve():
            raise unusable("link outside")
        found = path.stat()
        if not stat.S_ISREG(found.st_mode):
            raise unusable("no file")
        _check_file_size(found.st_size)
        with path.open("rb") as stream:
            content = stream.read(MAX_FILE_BYTES + 1)
    except OSError as error:
        reason = os.strerror(error.errno or 0).lower()
        raise unusable("unreadable", reason=reason) from None
    except RuntimeError:
        raise unusable("link to itself") from None
    _check_file_size(len(content))
    return content


def _check_file_size(size: int) -> None:
    if size > MAX_FILE_BYTES:
        limit_mb = MAX_FILE_BYTES // 1024**2
        raise unusable("file too large", REDUCE, megabytes=round(size / 1024 ** 2), most=limit_mb)
