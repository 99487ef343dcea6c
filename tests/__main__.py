"""Everything that must hold before a change is true: lint, types, tests, browser. `python -m tests [pytest options]`.

The tests run on all cores, the files one after the other, the long ones first (see `conftest.py`); `-n 0` keeps them
in one process.
"""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import psutil

ROOT = Path(__file__).resolve().parent.parent
WAITING = 2  # workers more than cores: a test that waits, for a page or a command, leaves its core to another
WORKER_BYTES = 3 << 29  # with its browser and its commands; as measured, and a third more
BY_FILES = ("--dist", "loadfile", "--no-loadscope-reorder")
# One thread of mathematics a process: there are as many processes as cores, and idle threads wait by turning round.
ONE_THREAD = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}


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
    if _fails("tests", [python, "-m", "pytest", "-n", str(workers()), *BY_FILES, *options]):
        failed.append("tests")
    if failed:
        print(f"failed: {', '.join(failed)}", file=sys.stderr)
    return 1 if failed else 0


def workers() -> int:
    """As many as there is work for, but no more than there is memory for."""
    room = psutil.virtual_memory().available // WORKER_BYTES
    return max(1, min((os.cpu_count() or 1) + WAITING, room))


def _compiling(python: str) -> subprocess.Popen[bytes]:
    """The tests are compiled by one process beside the types, which need one core: else each worker compiles all of them."""
    collect = [python, "-m", "pytest", "--collect-only", "-n", "0"]
    return subprocess.Popen(collect, cwd=ROOT, env=_around(), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


def _fails(name: str, command: list[str]) -> bool:
    print(f"── {name}", flush=True)
    return subprocess.run(command, cwd=ROOT, env=_around(), check=False).returncode != 0


def _around() -> dict[str, str]:
    """What one process has compiled, all others find: else each worker and each command compiles the whole program anew."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return kept | ONE_THREAD


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
