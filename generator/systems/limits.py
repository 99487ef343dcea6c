"""What may a child process use, where the system can hold it to that? A child imports this first, so it stays small."""

import time

from generator import systems
from generator.systems import System

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
    """End a job that the parent can no longer end: one that holds the interpreter after the parent died."""
    try:
        import resource  # noqa: PLC0415  not on Windows
    except ImportError:
        return
    _, hard = resource.getrlimit(resource.RLIMIT_CPU)
    soft = int(time.process_time() + 2 * seconds) + 5
    if hard == resource.RLIM_INFINITY or soft < hard:
        resource.setrlimit(resource.RLIMIT_CPU, (soft, hard))
