"""One command at a time writes into a catalogue: it reads, judges and writes while no other one does."""

import json
import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from datetime import datetime
from pathlib import Path

from filelock import FileLock, Timeout

from generator.edge.disk.unbroken import unbroken
from generator.edge.refusals import disk_refusal, refused
from generator.edge.spoken import words
from generator.systems.renaming import loses_open_files

LOCK = ".spares.lock"
HOLDER = ".spares.lock.holder"
# Long enough for any command that writes; its meshes are measured before it takes the lock.
PATIENCE_S = 60.0
SAID_AFTER_S = 1.5


@contextmanager
def held(root: Path, command: str, note: Callable[[str], None]) -> Iterator[None]:
    """Hold the catalogue `root` for `command`, such as 'record TV-0417', waiting for whoever has it; `note` is told that one waits.

    The system lets the lock go when the process ends, however it ends. Raises Refusal after a minute's wait, saying
    who has it, and where nothing can be written there.
    """
    lock = FileLock(root / LOCK)
    try:
        _take(lock, root, note)
    except OSError as error:
        raise disk_refusal(error, "writing_into", root) from error
    try:
        _sign(root / HOLDER, command)
        yield
    finally:
        with unbroken():
            _release(lock, root)


def _take(lock: FileLock, root: Path, note: Callable[[str], None]) -> None:
    try:
        lock.acquire(timeout=SAID_AFTER_S)
    except Timeout:
        note(words()("commands.waiting", holder=_holder(root), root=str(root)))
    else:
        return
    try:
        lock.acquire(timeout=PATIENCE_S - SAID_AFTER_S)
    except Timeout:
        raise refused("held", holder=_holder(root), root=str(root)) from None


def _release(lock: FileLock, root: Path) -> None:
    """Both files go while the lock is still held; who waits on the one that has gone takes a new one (see filelock)."""
    with suppress(OSError):
        (root / HOLDER).unlink(missing_ok=True)
    if loses_open_files():  # elsewhere filelock itself does it
        with suppress(OSError):
            (root / LOCK).unlink(missing_ok=True)
    with suppress(OSError):
        lock.release()


def _sign(file: Path, command: str) -> None:
    """Leave word for those who wait; without it they wait all the same."""
    now = datetime.now().astimezone()
    word = {"command": f"spares {command}", "process": os.getpid(), "since": f"{now:%H:%M:%S on %Y-%m-%d}"}
    with suppress(OSError):
        file.write_text(json.dumps(word), encoding="utf-8", newline="\n")


def _holder(root: Path) -> str:
    try:
        word = json.loads((root / HOLDER).read_text(encoding="utf-8"))
        return f"another command: {word['command']}, process {word['process']}, since {word['since']}"
    except (OSError, ValueError, TypeError, KeyError):
        return "another command of spares"
