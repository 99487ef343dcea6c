"""A folder is replaced as a whole or not at all: it grows beside the old one and takes its place in one step."""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from generator.edge.disk import done
from generator.edge.disk.atomic import is_abandoned
from generator.edge.disk.unbroken import unbroken
from generator.edge.refusals import Ending, disk_refusal, refused
from generator.systems.renaming import renamed, swapped

MARKER = "made-by-spares.txt"
MARKER_TEXT = (
    "Everything in this folder is made from the catalogue and replaced as a whole by the next build.\n"
    "Do not edit here: edit the catalogue and build again.\n"
)


def is_made(target: Path) -> bool:
    """Whether what lies there was made by spares, as a whole: it alone is replaced."""
    return (target / MARKER).is_file()


@contextmanager
def replaced(target: Path) -> Iterator[Path]:
    """An empty folder to fill, which takes the place of `target` when the block ends without an error.

    On an error, Ctrl-C included, it is taken away again and `target` stays as it was. Raises Refusal where
    `target` holds files that were not made by spares, or where the disk does not allow it.
    """
    place = target.resolve()
    _refuse_strangers(place, target)
    _tidy(place)
    fresh = place.with_name(f".{place.name}.new-{os.getpid()}")
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        fresh.mkdir()
    except OSError as error:
        raise disk_refusal(error, "writing", target) from error
    try:
        yield fresh
        (fresh / MARKER).write_text(MARKER_TEXT, encoding="utf-8", newline="\n")
        with unbroken():
            _exchange(fresh, place)
            done.wrote(f"{target} is in place")
    except OSError as error:
        raise disk_refusal(error, "writing", target) from error
    finally:
        with unbroken():
            shutil.rmtree(fresh, ignore_errors=True)


def _refuse_strangers(place: Path, target: Path) -> None:
    if place.exists() and not place.is_dir():
        raise refused("site_is_file", Ending.MISUSE, folder=str(target))
    try:
        holds_something = place.is_dir() and any(place.iterdir())
    except OSError as error:
        raise disk_refusal(error, "reading", target) from error
    if holds_something and not is_made(place):
        raise refused("site_strangers", Ending.MISUSE, folder=str(target))
    hidden = (
        sorted(each.name for each in place.iterdir() if each.name.startswith(".")) if holds_something else []
    )
    if hidden:
        raise refused("site_hidden", Ending.MISUSE, folder=str(target), files=hidden)


def _tidy(place: Path) -> None:
    """Mend what a build left that was killed: put the old folder back where it was being replaced."""
    for old in sorted(place.parent.glob(f".{place.name}.old-*")):
        if not _is_left(old):
            continue
        if place.exists():
            shutil.rmtree(old, ignore_errors=True)
        else:
            with suppress(OSError):
                old.rename(place)
    for left in sorted(place.parent.glob(f".{place.name}.new-*")):
        if _is_left(left):
            shutil.rmtree(left, ignore_errors=True)


def _is_left(folder: Path) -> bool:
    number = folder.name.rpartition("-")[2]
    return number.isdecimal() and is_abandoned(folder, int(number))


def _exchange(fresh: Path, place: Path) -> None:
    """`fresh` becomes `place`; where the system can, in one step, so that no moment is without it."""
    if not place.exists():
        renamed(fresh, place)
        return
    fresh.chmod(place.stat().st_mode & 0o7777)
    if swapped(fresh, place):
        return  # the old one now has the name of the fresh one, and goes with it
    old = place.with_name(f".{place.name}.old-{os.getpid()}")
    renamed(place, old)
    try:
        renamed(fresh, place)
    except OSError:
        renamed(old, place)
        raise
    shutil.rmtree(old, ignore_errors=True)
