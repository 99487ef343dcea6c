"""What was made before, kept on disk under the fingerprint of what it was made from?"""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import tempfile
import time
from collections.abc import Collection, Mapping
from contextlib import suppress
from pathlib import Path
from typing import Final

from generator.systems.renaming import renamed

USUAL_FOLDER: Final = ".store"
Key = str
"""64 hexadecimal digits."""
Blobs = Mapping[str, bytes]
"""The files of an entry by name."""

_SUMS: Final = "sums.sha256"
_SHELF: Final = re.compile("[0-9a-f]{2}")
_FRESH: Final = ".new-"  # what is being written, or taken out
_DAY_S: Final = 86400.0
_ABANDONED_S: Final = 3600.0
_ATTEMPTS: Final = 5  # at putting an entry in place while others put and remove
_README: Final = "README.txt"
_README_TEXT: Final = (
    "Facts and pictures kept so that a build need not make them again.\n"
    "Each folder belongs to one fingerprint; sums.sha256 can be checked with: sha256sum -c sums.sha256\n"
    "Everything here may be deleted at any time; a build removes what none has used for a month.\n"
    "Only memory/ cannot be made again: without it nobody here can tell whether an event of a record was taken out.\n"
)


def key_of(*parts: bytes | str) -> Key:
    """Give the fingerprint of the parts, in which no part can pass for a piece of its neighbour."""
    digest = hashlib.sha256()
    for part in parts:
        content = part.encode() if isinstance(part, str) else part
        digest.update(len(content).to_bytes(8, "big") + content)
    return digest.hexdigest()


class Store:
    """A folder of named blobs under keys, as plain files.

    Every read checks the sums written with the entry; an entry that does not fit them counts as
    missing and is made anew. Several programs may put, read and prune at once: the worst that one does
    to another is that something is made twice. A folder that cannot be written or read is no failure:
    what is put is then held in memory, and `unkept` says why.
    """

    def __init__(self, folder: Path) -> None:
        """Touch nothing yet."""
        self._folder = folder
        self.folder: Final = folder
        """What else is kept there is no entry, and is never pruned."""
        self._held: dict[Key, Blobs] = {}
        self.unkept: OSError | None = None
        """Why entries could not be kept, once; None while all goes well."""

    def has(self, key: Key) -> bool:
        """Whether there is an entry; its blobs are not read, so one that is damaged shows when it is asked for."""
        return key in self._held or self._noted_use(self._entry(key))

    def get(self, key: Key, only: Collection[str] = ()) -> Blobs | None:
        """Give the blobs of an entry by name, all or `only` some, or None when one is missing or damaged."""
        if key in self._held:
            return {name: blob for name, blob in self._held[key].items() if not only or name in only}
        entry = self._entry(key)
        if not self._noted_use(entry):
            return None
        try:
            sums = (entry / _SUMS).read_text(encoding="ascii").splitlines()
            lines = [line for line in sums if not only or line[66:] in only]
            blobs = {name: (entry / name).read_bytes() for name in (Path(line[66:]).name for line in lines)}
        except (OSError, UnicodeDecodeError, ValueError):
            return None
        return blobs if lines == _sums(blobs) and blobs and blobs.keys() >= set(only) else None

    def put(self, key: Key, blobs: Blobs) -> None:
        """Keep an entry, all of it or nothing; ValueError for names that are not plain file names."""
        if not blobs or any(Path(name).name != name or name == _SUMS or "\n" in name for name in blobs):
            raise ValueError(f"an entry needs plain file names, not {sorted(blobs)}")
        if self.unkept is None:
            try:
                self._write(key, blobs)
            except OSError as error:
                self.unkept = error
        if self.unkept is not None:
            self._held[key] = blobs

    def _write(self, key: Key, blobs: Blobs) -> None:
        self._folder.mkdir(parents=True, exist_ok=True)
        readme = self._folder / _README
        if not readme.exists():
            readme.write_text(_README_TEXT, encoding="ascii", newline="\n")
        fresh = Path(tempfile.mkdtemp(prefix=_FRESH, dir=self._folder))
        try:
            for name, blob in blobs.items():
                (fresh / name).write_bytes(blob)
            (fresh / _SUMS).write_text("\n".join(_sums(blobs)) + "\n", encoding="ascii", newline="\n")
            fresh.chmod(0o755)  # mkdtemp keeps others out, but a person may look
            self._replace(key, fresh)
        finally:
            shutil.rmtree(fresh, ignore_errors=True)

    def _replace(self, key: Key, fresh: Path) -> None:
        """Put the new entry in place; where another build just put a good one, that one stays."""
        entry = self._entry(key)
        for attempt in range(_ATTEMPTS):
            try:
                entry.parent.mkdir(exist_ok=True)  # gone again where another build removed the last of it
                renamed(fresh, entry)
            except OSError:
                if self.get(key) is not None:
                    return
                if attempt == _ATTEMPTS - 1:
                    raise
                self._removed(entry)
            else:
                return

    def prune(self, unused_days: float) -> int:
        """Remove what no program used for so many days, two at least, and what broken-off ones left; give the number.

        By age and not by what one catalogue needs: a store may serve several, and several builds at once.
        """
        before, removed = time.time() - max(unused_days, 2) * _DAY_S, 0
        for shelf in _inside(self._folder):
            for entry in _inside(shelf) if _SHELF.fullmatch(shelf.name) else ():
                if _written_at(entry / _SUMS) < before:
                    removed += self._removed(entry)
                    with suppress(OSError):
                        shelf.rmdir()
            if shelf.name.startswith(_FRESH) and _written_at(shelf) < time.time() - _ABANDONED_S:
                shutil.rmtree(shelf, ignore_errors=True)
        return removed

    def _removed(self, entry: Path) -> bool:
        """Take an entry out in one step, so that nobody meets half of it; whether it went."""
        with suppress(OSError):
            aside = Path(tempfile.mkdtemp(prefix=_FRESH, dir=self._folder))
            with suppress(OSError):
                entry.rename(aside / "old")
            shutil.rmtree(aside, ignore_errors=True)
        return not entry.exists()

    def _noted_use(self, entry: Path) -> bool:
        """Whether the entry is there; its sums carry, to a day, when it was last used."""
        used = _written_at(entry / _SUMS)
        if time.time() - used > _DAY_S:
            with suppress(OSError):  # a store that can only be read is pruned by nobody
                os.utime(entry / _SUMS)
        return used > 0

    def _entry(self, key: Key) -> Path:
        return self._folder / key[:2] / key[2:]


def _inside(folder: Path) -> list[Path]:
    """What lies in a folder; nothing where another program just removed it."""
    try:
        return sorted(folder.iterdir())
    except OSError:
        return []


def _written_at(path: Path) -> float:
    """The time of a file or folder in seconds since 1970; 0 where there is none."""
    try:
        return path.stat().st_mtime
    except OSError:
        return 0.0


def _sums(blobs: Blobs) -> list[str]:
    return [f"{hashlib.sha256(blob).hexdigest()}  {name}" for name, blob in sorted(blobs.items())]
