"""How many processors and how much memory may this process use, where the system tells?"""

import os
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path


def cores() -> int:
    """The processors that this process may use."""
    with suppress(AttributeError, OSError):  # not on every system
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def available_mb(root: Path = Path("/")) -> int | None:
    """What the system could still give, and what a container around this process may still take: the lesser."""
    told = [*_free(root), *_left_to_the_group(root)]
    return max(0, min(told)) // (1024 * 1024) if told else None


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
