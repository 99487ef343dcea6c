"""What hangs on a file's bytes alone is worked out once of the same bytes.

Whoever writes into a catalogue reads it before and after, and one paper lies beside many parts.
"""

import hashlib
from collections.abc import Callable
from contextlib import suppress
from typing import TypeVar

Told = TypeVar("Told")

# Answers are remembered by the SHA-256 of what was asked, some hundred bytes each; of more files than these it begins anew.
MOST_REMEMBERED = 10_000


def once_of_same_bytes(ask: Callable[[bytes], Told]) -> Callable[[bytes], Told]:
    """The same question, whose answer is remembered in this process; it must be frozen. What raises is asked anew."""
    known: dict[bytes, Told] = {}

    def told(content: bytes) -> Told:
        key = hashlib.sha256(content).digest()
        with suppress(KeyError):
            return known[key]
        answer = ask(content)
        if len(known) >= MOST_REMEMBERED:
            known.clear()
        known[key] = answer
        return answer

    return told
