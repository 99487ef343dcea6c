"""Everything that must hold before a change is true: lint, types, tests, browser. `python -m tests [pytest options]`.

The tests run on all cores, the files one after the other, the long ones first (see `conftest.py`); `-n 0` keeps them
in one process.
"""

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import psutil

ROOT = Path(__file__).resolve().parent.parent
WAITING = 2  # workers more than cores: a test that waits, for a page or a command, leaves its core to another
FEW = 40  # files of tests that each worker may compile for itself
WORKER_BYTES = 3 << 29  # with its browser and its commands; as measured, and a third more
BY_FILES = ("--dist", "loadfile", "--no-loadscope-reorder")
MEMORY = Path("/dev/shm")
# What lies there at once of a run, as measured, and half as much again: sites and stores that many tests look at, and a folder for each
# test under way. Besides, what the workers take.
IN_MEMORY_BYTES = 3 << 30
# One thread of mathematics a process: there are as many processes as cores, and idle threads wait by turning round. What a process
# has given back it soon asks for again: fetched from the system each time, the arrays of geometry take a tenth longer.
AROUND = {
    "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1", "MALLOC_MMAP_THRESHOLD_": str(1 << 25), "MALLOC_TRIM_THRESHOLD_": str(1 << 27),
}  # fmt: skip


def main(options: list[str]) -> int:
    if not os.environ.get("SPARES_CHROMIUM") and not shutil.which("chromium-headless-shell"):
        print("The browser tests need Chromium, and there is none: sudo apt install chromium-headless-shell", file=sys.stderr)
        return 2
    if not shutil.which("tsc"):
        print("The scripts' types are checked by TypeScript's compiler, and there is none: sudo apt install node-typescript", file=sys.stderr)
        return 2
    python = sys.executable
    checks = {"lint": [python, "-m", "ruff", "check", "."], "types": [python, "-m", "mypy"]}
    with _compiling(python):
        failed = [name for name, command in checks.items() if _fails(name, command)]
    with _folder() as place:
        if _fails("tests", [python, "-m", "pytest", "-n", str(workers()), *BY_FILES, *place, *options]):
            failed.append("tests")
    if failed:
        print(f"failed: {', '.join(failed)}", file=sys.stderr)
    return 1 if failed else 0


def workers() -> int:
    """As many as there is work for, but no more than there is memory for."""
    room = psutil.virtual_memory().available // WORKER_BYTES
    return max(1, min((os.cpu_count() or 1) + WAITING, room))


@contextmanager
def _folder() -> Iterator[list[str]]:
    """Where the tests write, in memory if there is room and programs may run there: a new file costs a tenth of one on a disk.

    Files of tests that passed go at once, and all the rest at the end; who wants to look at them gives `--basetemp`.
    """
    if not _has_room():
        yield []
        return
    with tempfile.TemporaryDirectory(prefix="spares-tests-", dir=MEMORY, ignore_cleanup_errors=True) as folder:
        yield ["--basetemp", f"{folder}/run", "-o", "tmp_path_retention_policy=failed"]


def _has_room() -> bool:
    try:
        free = os.statvfs(MEMORY)
    except OSError:
        return False
    if free.f_flag & os.ST_NOEXEC or free.f_bavail * free.f_frsize < IN_MEMORY_BYTES:
        return False
    return psutil.virtual_memory().available > IN_MEMORY_BYTES + WORKER_BYTES * ((os.cpu_count() or 1) + WAITING)


@contextmanager
def _compiling(python: str) -> Iterator[None]:
    """The tests are compiled by one process beside the types, which need one core: else each worker compiles all of them.

    What it collects besides takes as long again, so where nearly all are compiled it is left out.
    """
    if sum(map(_is_to_be_compiled, ROOT.glob("tests/**/test_*.py"))) < FEW:
        yield
        return
    collect = [python, "-m", "pytest", "--collect-only", "-n", "0"]
    with subprocess.Popen(collect, cwd=ROOT, env=_around(), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL):
        yield


def _is_to_be_compiled(test: Path) -> bool:
    """Whether pytest's own compiled form of it is missing or older."""
    made = test.parent.glob(f"__pycache__/{test.stem}.{sys.implementation.cache_tag}-pytest-*.pyc")
    return max((each.stat().st_mtime for each in made), default=0) < test.stat().st_mtime


def _fails(name: str, command: list[str]) -> bool:
    print(f"── {name}", flush=True)
    return subprocess.run(command, cwd=ROOT, env=_around(), check=False).returncode != 0


def _around() -> dict[str, str]:
    """What one process has compiled, all others find: else each worker and each command compiles the whole program anew."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return kept | AROUND


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
