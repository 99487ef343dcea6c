"""Which bytes does a mesh file hold, and may they be read at all?"""

from __future__ import annotations

import os
import stat
from pathlib import Path

from generator.reading.meshes.errors import MeshError
from generator.reading.meshes.limits import MAX_FILE_BYTES, REDUCE


def mesh_bytes(path: Path) -> bytes:
    """Read the file itself: regular, within its folder, and not too large; raises MeshError otherwise."""
    try:
        if path.is_symlink() and path.resolve().parent != path.parent.resolve():
            says = "the file is a link that leads out of the part's folder"
            raise MeshError(says, "copy the file itself into the folder")
        found = path.stat()
        if not stat.S_ISREG(found.st_mode):
            raise MeshError("this is not a file", "put a mesh file in its place")
        _check_file_size(found.st_size)
        with path.open("rb") as stream:
            content = stream.read(MAX_FILE_BYTES + 1)
    except OSError as error:
        reason = os.strerror(error.errno or 0).lower()
        raise MeshError(f"the file cannot be read: {reason}", "check its name and who may read it") from None
    except RuntimeError:
        raise MeshError("the file is a link that leads to itself", "put the file itself there") from None
    _check_file_size(len(content))
    return content


def _check_file_size(size: int) -> None:
    if size > MAX_FILE_BYTES:
        limit_mb = MAX_FILE_BYTES // 1024**2
        raise MeshError(
            f"the file has {size / 1024**2:,.0f} MB, more than the {limit_mb} MB that are read", REDUCE
        )
