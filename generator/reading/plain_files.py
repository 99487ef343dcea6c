"""A plain file, opened so that nothing that was put in its place keeps anybody waiting.

Who looks first and opens then may open something else: a pipe or device that came in between, at which an ordinary open waits for ever.
So it is opened without waiting, and asked what it is once it is open.
"""

import errno
import os
import stat
from io import BufferedReader
from pathlib import Path

# Systems without pipes among files have no waiting to leave out; those that know texts from bytes have to be told.
_FLAGS = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0) | getattr(os, "O_CLOEXEC", 0)


class NotPlainError(OSError):
    """A folder, pipe, device or socket."""


def opened_plain(path: str | Path) -> BufferedReader:
    """Raises OSError; NotPlainError where it is no plain file."""
    handle = os.open(path, _FLAGS)
    if stat.S_ISREG(os.fstat(handle).st_mode):
        return os.fdopen(handle, "rb")
    os.close(handle)
    raise NotPlainError(errno.EINVAL, "no plain file", str(path))
