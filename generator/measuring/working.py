"""What has a running job made so far, and how much of the processor's time may it, and each step of it, still use?

A guarded child says when a job begins; the job itself tells what it has made, so that this stays whatever ends the job later.
Where no child runs it, nothing is told and nothing is limited.
"""

from __future__ import annotations

import contextlib
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any, Final

from generator.systems.limits import limit_processor, struck_after

# A child imports this before its first job, so it stays small.

STEP_SHARE: Final = 0.4
"""Of what a job may use, for one step: what spins leaves most of it to the others."""


class StepTooLong(BaseException):
    """One step of a job has used its share; no Exception, so that nothing on the way takes it for a mistake of the mesh."""

    def __init__(self, seconds: float) -> None:
        super().__init__(seconds)
        self.seconds = seconds


@dataclass(slots=True, kw_only=True)
class Running:
    """The job that a child works on: where it tells, and what it may use.

    began_s: as `time.process_time` says. is_worn: memory ran out once, so that the next job should have another child.
    """

    give: Callable[[Any], None]
    allow: Callable[[float], None]
    began_s: float
    processor_s: float
    memory_mb: int
    is_worn: bool = False


_RUNNING: list[Running] = []


def begin(running: Running) -> None:
    """From here on this is the job, and it is ended when it has used `processor_s` of the processor's time."""
    _RUNNING[:] = [running]
    limit_processor(running.processor_s)


def give(value: object) -> None:
    """Tell the parent what has been made, which it keeps should the job not come to its end."""
    for running in _RUNNING:
        running.give(value)


def allow(seconds: float) -> None:
    """Let the job use so much of the processor's time from its beginning on, and never more than the guard allows it."""
    for running in _RUNNING:
        running.processor_s = min(running.processor_s, seconds)
        running.allow(running.processor_s)
        limit_processor(running.began_s + running.processor_s - time.process_time())


def worn() -> int | None:
    """Say that memory ran out, though the job goes on; give how much there is in MB, None where no child runs it."""
    for running in _RUNNING:
        running.is_worn = True
        return running.memory_mb
    return None


@contextlib.contextmanager
def step() -> Iterator[None]:
    """Raise StepTooLong in this block when it has used its share; not within a call that never comes back to Python.

    Only where the system counts a process's time so; elsewhere the job's own limit ends it.
    """
    if not _RUNNING:
        yield
        return
    seconds = _RUNNING[0].processor_s * STEP_SHARE

    def strike(*_: object) -> None:
        raise StepTooLong(seconds)

    with struck_after(seconds, strike):
        yield
