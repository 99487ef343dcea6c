"""Steps that belong together are not broken apart: Ctrl-C and a polite end (SIGTERM) wait until they are done."""

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

from generator.systems.processes import HELD_BACK


@contextmanager
def unbroken() -> Iterator[None]:
    """Hold signals back; one that came is raised behind the block, unless the block itself failed."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    came: list[int] = []

    def wait(number: int, _frame: FrameType | None) -> None:
        came.append(number)

    before = {number: signal.signal(number, wait) for number in HELD_BACK}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, signal.SIG_DFL if handler is None else handler)
    if came:
        signal.raise_signal(came[0])  # so that a block around this one holds it back in turn
