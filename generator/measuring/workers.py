"""How many child processes may work on meshes at once on this machine?"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Final

_WHEN_UNKNOWN: Final = 2  # where nobody says how much memory is free
_MB: Final = 1024 * 1024


def workers_for(cores: int, available_mb: int | None, limit_mb: int) -> int:
    """One worker a core, but no more than could all take their memory limit at once; one at least.

    available_mb: memory that may still be taken; None where the system does not tell.
    """
    fitting = _WHEN_UNKNOWN if available_mb is None else available_mb // limit_mb
    return max(1, min(cores, fitting))


def usual_workers(limit_mb: int) -> int:
    """The same for this machine as it stands now."""
    return workers_for(_cores(), _available_mb(), limit_mb)


def _cores() -> int:
    """The processors that this process may use."""
    with suppress(AttributeError, OSError):  # Linux only
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def _available_mb(root: Path = Path("/")) -> int | None:
    """What the system could still give, and what a container around this process may still take: the lesser."""
    told = [*_free(root), *_left_to_the_group(root)]
    return max(0, min(told)) // _MB if told else None


def _free(root: Path) -> Iterator[int]:
    with suppress(OSError, ValueError, IndexError):
        for line in (root / "proc/meminfo").read_text(encoding="ascii").splitlines():
            if line.startswith("MemAvailable:"):
                yield int(line.split()[1]) * 1024
                return
    with suppress(AttributeError, OSError, ValueError):  # macOS tells what there is, not what is free; Windows nothing
        yield os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES") // 2


def _left_to_the_group(root: Path) -> Iterator[int]:
    """Of each control group around this process that has a limit (cgroups 2, then 1); none elsewhere."""
    two, one = root / "sys/fs/cgroup", root / "sys/fs/cgroup/memory"
    with suppress(OSError, UnicodeDecodeError):
        for line in (root / "proc/self/cgroup").read_text(encoding="utf-8").splitlines():
            _, controllers, path = line.split(":", 2)
            own = Path(path.lstrip("/"))
            for group in (own, *own.parents):
                if not controllers:
                    yield from _left(two / group / "memory.max", two / group / "memory.current")
                elif "memory" in controllers.split(","):
                    yield from _left(one / group / "memory.limit_in_bytes", one / group / "memory.usage_in_bytes")


def _left(limit: Path, used: Path) -> Iterator[int]:
    with suppress(OSError, ValueError):  # ValueError: 'max' is no number, and no limit
        yield int(limit.read_text(encoding="ascii")) - int(used.read_text(encoding="ascii"))
