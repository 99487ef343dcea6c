"""What may a child process use, where the system can hold it to that? A child imports this first, so it stays small."""

import contextlib
import math
import signal
import time
from collections.abc import Callable, Iterator

from generator import systems
from generator.systems import System

OUT_OF_TIME = "SIGXCPU"
"""What ends a process that has used its processor's time."""
UNLIMITED_MEMORY = "no memory limit on this system: a huge mesh may fill memory"


def limit_memory(memory_mb: int) -> bool:
    """Cap the address space of this process; False where the system does not do that."""
    if systems.SYSTEM in (System.WINDOWS, System.MACOS):  # macOS takes the call and ignores it
        return False
    try:
        import resource  # noqa: PLC0415  not on every system
    except ImportError:
        return False
    limit = memory_mb * 1024 * 1024
    try:
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        resource.setrlimit(resource.RLIMIT_AS, (limit, limit))
    except (ValueError, OSError):
        return False
    return True


def limit_processor(seconds: float) -> None:
    """End this process when it has used so much of the processor's time from now on, be its parent dead or alive.

    In whole seconds, rounded up; nothing where the system does not do that: there the parent's clock ends it.
    """
    try:
        import resource  # noqa: PLC0415  not on Windows
    except ImportError:
        return
    _, hard = resource.getrlimit(resource.RLIMIT_CPU)
    soft = math.ceil(time.process_time() + seconds)
    if hard == resource.RLIM_INFINITY or soft < hard:
        resource.setrlimit(resource.RLIMIT_CPU, (soft, hard))


@contextlib.contextmanager
def struck_after(seconds: float, strike: Callable[..., None]) -> Iterator[None]:
    """Call `strike`, which may raise, when this block has used so much of the processor's time, and each second after.

    Each second, for Python ignores what is raised in a destructor. Only where the system counts so and a call comes back to
    Python; in the main thread.
    """
    if systems.SYSTEM is System.WINDOWS:
        yield
        return
    before = signal.signal(signal.SIGPROF, strike)
    signal.setitimer(signal.ITIMER_PROF, seconds, 1.0)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)
