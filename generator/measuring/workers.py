"""How many child processes may work on meshes at once on this machine?"""

from typing import Final

from generator.systems.capacity import available_mb, cores

_WHEN_UNKNOWN: Final = 2  # where nobody says how much memory is free


def workers_for(cores: int, available_mb: int | None, limit_mb: int) -> int:
    """One worker a core, but no more than could all take their memory limit at once; one at least.

    available_mb: memory that may still be taken; None where the system does not tell.
    """
    fitting = _WHEN_UNKNOWN if available_mb is None else available_mb // limit_mb
    return max(1, min(cores, fitting))


def usual_workers(limit_mb: int) -> int:
    """The same for this machine as it stands now."""
    return workers_for(cores(), available_mb(), limit_mb)
