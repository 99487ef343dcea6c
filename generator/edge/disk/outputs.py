"""Could everything be shown? An output that is closed, full or no longer read never breaks a command off."""

import codecs
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from typing import Any, TextIO, cast

from generator.edge.refusals import reason_of

READER_GONE = "its reader has gone"
_PLAIN = "spares-plain"
# What consoles of code pages 850 and 1252 lack, and how one writes it on a typewriter.
_WRITTEN_AS = {
    "→": "->", "←": "<-", "×": "x", "–": "-", "—": "-", "−": "-", "…": "...", "✓": "v", "✕": "x", "≤": "<=", "≥": ">=", "±": "+/-",
    "“": '"', "”": '"', "„": '"', "‘": "'", "’": "'", "·": "-", "•": "*", "€": "EUR", "²": "2", "³": "3", "µ": "u",
}  # fmt: skip


def _plainly(error: UnicodeError) -> tuple[str, int]:
    """Signs that the output's encoding lacks, so that they can still be read; a whole letter by its number."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    missing = error.object[error.start : error.end]
    return "".join(_WRITTEN_AS.get(sign) or sign.encode("ascii", "backslashreplace").decode() for sign in missing), error.end


codecs.register_error(_PLAIN, _plainly)


class Watched:
    """A stream as it is, but what it cannot take is lost without an error, and `lost` then says why."""

    def __init__(self, stream: TextIO | None) -> None:
        self._stream = stream
        self.lost = ""

    def write(self, text: str) -> int:
        if self._stream is None:
            self.lost = self.lost or "it is closed"
        elif not self.lost:
            try:
                self._stream.write(text)
            except (OSError, ValueError) as error:
                self._give_up(error)
        return len(text)

    def flush(self) -> None:
        if self._stream is not None and not self.lost:
            try:
                self._stream.flush()
            except (OSError, ValueError) as error:
                self._give_up(error)

    def isatty(self) -> bool:
        return self._stream is not None and self._stream.isatty()

    def __getattr__(self, name: str) -> Any:
        return getattr(self._stream, name)

    def _give_up(self, error: OSError | ValueError) -> None:
        self.lost = (
            READER_GONE
            if isinstance(error, BrokenPipeError)
            else reason_of(error)
            if isinstance(error, OSError)
            else "it is closed"
        )
        # What lies in its buffer would fail once more at the end of the process.
        with suppress(OSError, ValueError, AttributeError):
            nowhere = os.open(os.devnull, os.O_WRONLY)
            os.dup2(nowhere, self._stream.fileno())  # type: ignore[union-attr]
            os.close(nowhere)


@dataclass(frozen=True, slots=True)
class Outputs:
    """Standard output and standard error of a command."""

    out: Watched
    err: Watched

    def flush(self) -> None:
        self.out.flush()
        self.err.flush()


@contextmanager
def watched() -> Iterator[Outputs]:
    """Both outputs watched while the block runs."""
    _fill_gaps()
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors=_PLAIN)
    before = sys.stdout, sys.stderr
    outputs = Outputs(Watched(sys.stdout), Watched(sys.stderr))
    sys.stdout, sys.stderr = cast("TextIO", outputs.out), cast("TextIO", outputs.err)
    try:
        yield outputs
    finally:
        outputs.flush()
        sys.stdout, sys.stderr = before


def _fill_gaps() -> None:
    """A closed stream leaves its number free: the next file opened would get it, and words would land in that file."""
    for number in (0, 1, 2):
        try:
            os.fstat(number)
        except OSError:
            with suppress(OSError):
                os.open(os.devnull, os.O_RDWR)
