"""A folder is replaced as a whole or not at all: it grows beside the old one and takes its place by renaming."""

import os
import shutil
import signal
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from generator.edge.refusals import Ending, Refusal, disk_refusal

MARKER = "made-by-spares.txt"
MARKER_TEXT = (
    "Everything in this folder is made from the catalogue and replaced as a whole by the next build.\n"
    "Do not edit here: edit the catalogue and build again.\n"
)


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
        raise disk_refusal(error, f"writing {target}") from error
    try:
        yield fresh
        (fresh / MARKER).write_text(MARKER_TEXT, encoding="utf-8", newline="\n")
        with _uninterrupted():
            _exchange(fresh, place)
    except OSError as error:
        raise disk_refusal(error, f"writing {target}") from error
    finally:
        with _uninterrupted():
            shutil.rmtree(fresh, ignore_errors=True)


def _refuse_strangers(place: Path, target: Path) -> None:
    if place.exists() and not place.is_dir():
        raise Refusal(f"{target} is a file", "name a folder that may be replaced", Ending.MISUSE)
    try:
        holds_something = place.is_dir() and any(place.iterdir())
    except OSError as error:
        raise disk_refusal(error, f"reading {target}") from error
    if holds_something and not (place / MARKER).is_file():
        says = f"{target} holds files that spares did not make, and a build replaces the whole folder"
        raise Refusal(says, "name a new or empty folder, or empty this one yourself first", Ending.MISUSE)
    hidden = (
        sorted(each.name for each in place.iterdir() if each.name.startswith(".")) if holds_something else []
    )
    if hidden:
        says = f"{target} holds {', '.join(hidden)}, which spares did not make and a build would delete"
        raise Refusal(says, "move it out of there, or build into another folder with --site", Ending.MISUSE)


def _tidy(place: Path) -> None:
    """Mend what a build left that was killed: put the old folder back where it was being replaced."""
    for old in sorted(place.parent.glob(f".{place.name}.old-*")):
        if _is_running(old.name):
            continue
        if place.exists():
            shutil.rmtree(old, ignore_errors=True)
        else:
            with suppress(OSError):
                old.rename(place)
    for left in sorted(place.parent.glob(f".{place.name}.new-*")):
        if not _is_running(left.name):
            shutil.rmtree(left, ignore_errors=True)


def _is_running(name: str) -> bool:
    """Whether the process that made it lives; where that cannot be told, it is taken for alive."""
    number = name.rpartition("-")[2]
    if not number.isdecimal() or sys.platform == "win32":
        return True
    if int(number) == os.getpid():
        return False
    try:
        os.kill(int(number), 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True


def _exchange(fresh: Path, place: Path) -> None:
    if not place.exists():
        fresh.rename(place)
        return
    fresh.chmod(place.stat().st_mode & 0o7777)
    old = place.with_name(f".{place.name}.old-{os.getpid()}")
    place.rename(old)
    try:
        fresh.rename(place)
    except OSError:
        old.rename(place)
        raise
    shutil.rmtree(old, ignore_errors=True)


@contextmanager
def _uninterrupted() -> Iterator[None]:
    """Hold Ctrl-C back while two renames belong together."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = {number: signal.signal(number, signal.SIG_IGN) for number in (signal.SIGINT, signal.SIGTERM)}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
