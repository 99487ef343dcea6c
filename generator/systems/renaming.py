"""Names that change hands: in one step where the system has it, with patience where a program holds a file open."""

import ctypes
import errno
import os
import time
from collections.abc import Callable
from pathlib import Path
from typing import Final

from generator import systems
from generator.systems import System

# renameat2(2) of Linux 3.15, renamex_np(2) of macOS 10.12: both names change hands, or none does.
_AT_FDCWD, _RENAME_EXCHANGE, _RENAME_SWAP = -100, 2, 2
_CANNOT = (errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EOPNOTSUPP, errno.EPERM)
# A virus scanner, an indexer or a sync client lets go within a second or so (common practice, no source).
PATIENCE_S = 3.0
_STEP_S: Final = 0.1


def swapped(one: Path, other: Path) -> bool:
    """Whether the two names were exchanged in one step; False where system or file system have no such step."""
    names = os.fsencode(one), os.fsencode(other)
    given: tuple[object, ...]
    if systems.SYSTEM is System.LINUX:
        step, given = "renameat2", (_AT_FDCWD, names[0], _AT_FDCWD, names[1], _RENAME_EXCHANGE)
    elif systems.SYSTEM is System.MACOS:
        step, given = "renamex_np", (*names, _RENAME_SWAP)
    else:
        return False
    call = getattr(ctypes.CDLL(None, use_errno=True), step, None)
    if call is None:
        return False
    if call(*given) == 0:
        return True
    number = ctypes.get_errno()
    if number in _CANNOT:
        return False
    raise OSError(number, os.strerror(number), str(other))


def renamed(one: Path, other: Path) -> None:
    """Rename to a free name, trying again for a moment where a program holds something of it. Raises OSError."""
    _patiently(lambda: one.rename(other))


def replaced(fresh: Path, place: Path) -> None:
    """`fresh` takes the place of a file, trying again for a moment where a program holds that open. Raises OSError."""
    _patiently(lambda: fresh.replace(place))


def _patiently(step: Callable[[], object]) -> None:
    over = time.monotonic() + PATIENCE_S
    while True:
        try:
            step()
        except PermissionError as error:
            if not may_be_held_open(error) or time.monotonic() >= over:
                raise
            time.sleep(_STEP_S)
        else:
            return


def may_be_held_open(error: OSError) -> bool:
    """Whether it may come of another program that holds the file; elsewhere than on Windows a refusal is one of rights."""
    return systems.SYSTEM is System.WINDOWS and isinstance(error, PermissionError)


def loses_open_files() -> bool:
    """Whether the name of a file may be taken away while it is open."""
    return systems.SYSTEM is not System.WINDOWS
