"""One file is written whole or not at all."""

import os
import re
import shutil
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import BinaryIO

from generator.systems.processes import lives
from generator.systems.renaming import replaced

_DAY_S = 86_400
_LEFT = re.compile(r"\.new-(\d+)-.*", re.DOTALL)


class ChangedMeanwhileError(Exception):
    """The file is no longer as it was read; it stays as it is now."""


def written_whole(file: Path, content: bytes) -> None:
    """Write `content`, through a link to the file it names, keeping its rights. Raises OSError; the old file then stays."""
    place = file.resolve()
    with _fresh(place, content) as fresh:
        if place.exists():
            shutil.copymode(place, fresh)
        replaced(fresh, place)


def exchanged_whole(file: Path, before: bytes | None, content: bytes) -> None:
    """The same for a file that was read before and held `before`, or was not there (None).

    What an editor saved meanwhile is never overwritten: ChangedMeanwhileError, by a look an instant before.
    """
    if before is None:
        try:
            created_whole(file, content)
        except FileExistsError as error:
            raise ChangedMeanwhileError from error
        return
    place = file.resolve()
    with _fresh(place, content) as fresh:
        shutil.copymode(place, fresh)
        if place.read_bytes() != before:
            raise ChangedMeanwhileError
        replaced(fresh, place)


def created_whole(file: Path, content: bytes) -> None:
    """Write a new file; FileExistsError where one of that name is there, which then stays. Raises OSError."""
    with _fresh(file, content) as fresh:
        try:
            os.link(fresh, file)  # unlike a renaming, it never takes the place of another file
        except FileExistsError:
            raise
        except OSError:  # a stick's file system has no links
            with file.open("xb") as stream:
                stream.write(content)


def filled_whole(file: Path, fill: Callable[[BinaryIO], None], *, force: bool) -> None:
    """Write what `fill` writes, however much it is; over another file only with `force`, else FileExistsError.

    Raises OSError, and what `fill` raises; what was there before then stays.
    """
    place = file.resolve() if force else file
    with _fresh(place, fill) as fresh:
        if not force:
            try:
                os.link(fresh, place)
            except FileExistsError:
                raise
            except OSError:  # as above
                if place.exists():
                    raise FileExistsError(place) from None
                replaced(fresh, place)
            return
        if place.exists():
            shutil.copymode(place, fresh)
        replaced(fresh, place)


@contextmanager
def _fresh(file: Path, content: bytes | Callable[[BinaryIO], None]) -> Iterator[Path]:
    """A file beside `file` that holds `content` for good; it is gone when the block ends."""
    fresh = beside(file)
    try:
        with fresh.open("wb") as stream:
            if callable(content):
                content(stream)
            else:
                stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        yield fresh
    finally:
        with suppress(OSError):
            fresh.unlink(missing_ok=True)


def beside(place: Path) -> Path:
    """Where something grows until it takes its place: hidden, of this process, and no longer than any name may be."""
    return place.with_name(f".new-{os.getpid()}-{place.name[:40]}")


def tidied(folder: Path) -> None:
    """Take away what commands left here that were killed while they wrote."""
    with suppress(OSError):
        for left in folder.glob(".new-*"):
            found = _LEFT.fullmatch(left.name)
            if found and is_abandoned(left, int(found[1])):
                if left.is_dir() and not left.is_symlink():
                    shutil.rmtree(left, ignore_errors=True)
                else:
                    left.unlink(missing_ok=True)


def is_abandoned(left: Path, process: int) -> bool:
    """Whether what a process wrote is nobody's any more; where none can be asked after, a day decides."""
    alive = lives(process)
    if alive is not None:
        return not alive
    with suppress(OSError):
        return time.time() - left.stat().st_mtime > _DAY_S
    return False
