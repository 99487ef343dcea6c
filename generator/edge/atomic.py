"""One file is written whole or not at all."""

import os
import shutil
from contextlib import suppress
from pathlib import Path


def written_whole(file: Path, content: bytes) -> None:
    """Write `content`, through a link to the file it names, keeping its rights. Raises OSError; the old file then stays."""
    place = file.resolve()
    fresh = place.with_name(f".{place.name}.new-{os.getpid()}")
    try:
        with fresh.open("wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        if place.exists():
            shutil.copymode(place, fresh)
        fresh.replace(place)
    finally:
        with suppress(OSError):
            fresh.unlink(missing_ok=True)


def created_whole(file: Path, content: bytes) -> None:
    """Write a new file; FileExistsError where one of that name is there, which then stays. Raises OSError."""
    fresh = file.with_name(f".{file.name}.new-{os.getpid()}")
    try:
        with fresh.open("wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        try:
            os.link(fresh, file)  # unlike a renaming, it never takes the place of another file
        except FileExistsError:
            raise
        except OSError:  # a stick's file system has no links
            with file.open("xb") as stream:
                stream.write(content)
    finally:
        with suppress(OSError):
            fresh.unlink(missing_ok=True)
