"""What was measured and drawn before, kept on disk under the fingerprint of what it was made from?"""

from __future__ import annotations

import contextlib
import hashlib
import os
import shutil
import tempfile
import time
from collections.abc import Iterable, Mapping
from importlib import metadata
from pathlib import Path
from typing import Final

USUAL_FOLDER: Final = ".store"
Key = str
"""64 hexadecimal digits."""

# What stands between the bytes of a mesh and its facts and pictures, besides our own code.
_LIBRARIES: Final = ("numpy", "scipy", "pillow", "cascadio", "trimesh")
_CODE: Final = ("geometry/**/*.py", "reading/meshes/**/*.py", "measuring/one_mesh.py", "measuring/second_opinion.py")
_SUMS: Final = "sums.sha256"
_ABANDONED_S: Final = 3600.0
_README: Final = "README.txt"
_README_TEXT: Final = (
    "Facts and pictures kept so that a build need not make them again.\n"
    "Each folder belongs to one fingerprint; sums.sha256 can be checked with: sha256sum -c sums.sha256\n"
    "Everything here may be deleted at any time.\n"
)


def key_of(*parts: bytes | str) -> Key:
    """Give the fingerprint of the parts, in which no part can pass for a piece of its neighbour."""
    digest = hashlib.sha256()
    for part in parts:
        content = part.encode() if isinstance(part, str) else part
        digest.update(len(content).to_bytes(8, "big") + content)
    return digest.hexdigest()


def code_version() -> str:
    """Give the fingerprint of all code that turns a mesh file into facts and pictures.

    It changes with any source file of the geometry and of the mesh reading, and with the version of
    any library that they compute with.
    """
    root = Path(__file__).parent.parent
    files = sorted(path for pattern in _CODE for path in root.glob(pattern))
    sources = [piece for path in files for piece in (path.relative_to(root).as_posix(), path.read_bytes())]
    versions = [f"{name} {metadata.version(name)}" for name in _LIBRARIES]
    return key_of(*sources, *versions)


class Store:
    """A folder of named blobs under keys, as plain files.

    Every read checks the sums written with the entry; an entry that does not fit them counts as
    missing and is made anew. A folder that cannot be written or read is no failure: the work is then
    done without it, and `complaint` says why, once.
    """

    def __init__(self, folder: Path) -> None:
        """Touch nothing yet."""
        self._folder = folder
        self.complaint: str | None = None
        """Why entries could not be kept, in words for the depot; None while all goes well."""
        self.used: set[Key] = set()
        """Entries asked for or kept since this object was made: what `prune` should keep."""

    def get(self, key: Key) -> dict[str, bytes] | None:
        """Give all blobs of an entry by name, or None when it is missing or damaged."""
        self.used.add(key)
        entry = self._entry(key)
        try:
            sums = (entry / _SUMS).read_text(encoding="ascii").splitlines()
            names = [Path(line[66:]).name for line in sums]
            blobs = {name: (entry / name).read_bytes() for name in names}
        except (OSError, UnicodeDecodeError, ValueError):
            return None
        return blobs if sums == _sums(blobs) and blobs else None

    def put(self, key: Key, blobs: Mapping[str, bytes]) -> None:
        """Keep an entry, all of it or nothing; ValueError for names that are not plain file names."""
        if not blobs or any(Path(name).name != name or name == _SUMS or "\n" in name for name in blobs):
            raise ValueError(f"an entry needs plain file names, not {sorted(blobs)}")
        self.used.add(key)
        if self.complaint is not None:
            return
        try:
            self._write(self._entry(key), blobs)
        except OSError as error:
            reason = os.strerror(error.errno or 0).lower()
            self.complaint = f"facts and pictures cannot be kept in {self._folder}: {reason}"

    def _write(self, entry: Path, blobs: Mapping[str, bytes]) -> None:
        entry.parent.mkdir(parents=True, exist_ok=True)
        readme = self._folder / _README
        if not readme.exists():
            readme.write_text(_README_TEXT, encoding="ascii")
        fresh = Path(tempfile.mkdtemp(prefix=".new-", dir=self._folder))
        try:
            for name, blob in blobs.items():
                (fresh / name).write_bytes(blob)
            (fresh / _SUMS).write_text("\n".join(_sums(blobs)) + "\n", encoding="ascii")
            fresh.chmod(0o755)  # mkdtemp keeps others out, but a person may look
            self._replace(entry, fresh)
        finally:
            shutil.rmtree(fresh, ignore_errors=True)

    def _replace(self, entry: Path, fresh: Path) -> None:
        """Put the new entry in place; where another build just put a good one, that one stays."""
        try:
            fresh.rename(entry)
        except OSError:
            if not entry.exists():
                raise
            if self.get(entry.parent.name + entry.name) is None:
                shutil.rmtree(entry)
                fresh.rename(entry)

    def prune(self, keep: Iterable[Key]) -> int:
        """Remove all entries but these, and what broken-off builds left; give the number removed."""
        kept = {self._entry(key) for key in keep}
        removed = 0
        for entry in sorted(self._folder.glob("[0-9a-f][0-9a-f]/*")):
            if entry not in kept:
                shutil.rmtree(entry, ignore_errors=True)
                removed += not entry.exists()
                with contextlib.suppress(OSError):
                    entry.parent.rmdir()
        for left in self._folder.glob(".new-*"):
            if _is_abandoned(left):
                shutil.rmtree(left, ignore_errors=True)
        return removed

    def _entry(self, key: Key) -> Path:
        return self._folder / key[:2] / key[2:]


def _is_abandoned(folder: Path) -> bool:
    """Tell whether nobody can be writing it any more; another build may run at the same time."""
    try:
        return time.time() - folder.stat().st_mtime > _ABANDONED_S
    except OSError:
        return False


def _sums(blobs: Mapping[str, bytes]) -> list[str]:
    return [f"{hashlib.sha256(blob).hexdigest()}  {name}" for name, blob in sorted(blobs.items())]
