"""How long does a commit wait for its check where a depot keeps gigabytes of papers? `python -m tests.benchmarks.bench_staged [--megabytes 1000]`.

The tiny depot with large papers in its parts' folders, one line of a record changed and staged; what one paper costs is
bytes that no packing makes smaller. Prints figures and asserts none; processor seconds include git's.
"""

import argparse
import os
import resource
import shutil
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from generator.edge.commands.terminal import Terminal
from generator.provenance.remembering.as_of import AsOf, written
from generator.provenance.remembering.git import Repository
from generator.reading.catalogue import read_catalogue
from tests.fixtures.committing import git
from tests.fixtures.tiny import DAY, DEPOT

_PAPER_MB = 20
_KNOB = "parts/EX-0001-lid-knob"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--megabytes", type=int, default=1000)
    asked = parser.parse_args().megabytes
    with tempfile.TemporaryDirectory() as made:
        root = _laid_out(Path(made) / "catalogue", asked)
        repository = Repository.around(root)
        assert repository
        state = AsOf(replace(repository, head=repository.staged()), repository.staged(), DAY)
        rows = [
            _row("laid out by copies", lambda: written(state, Path(made) / "copied")),
            _row("laid out beside the work tree", lambda: written(state, Path(made) / "linked", beside=root)),
            _row("read", lambda: read_catalogue(Path(made) / "linked")),
        ]
    Terminal().table((f"{asked} MB of papers", "s", "s of the processor"), rows)


def _laid_out(root: Path, megabytes: int) -> Path:
    shutil.copytree(DEPOT, root)
    for at in range(max(1, megabytes // _PAPER_MB)):
        with (root / _KNOB / f"documents/measured-{at}.pdf").open("wb") as stream:
            stream.write(b"%PDF-1.4\n")
            for _ in range(_PAPER_MB):
                stream.write(os.urandom(1_000_000))
    git(root, "init", "-q", "-b", "main")
    git(root, "config", "core.compression", "0")
    git(root, "add", "-A")
    git(root, "commit", "-q", "-m", "x")
    part = root / _KNOB / "part.yml"
    part.write_text(part.read_text("utf-8") + "what_changed: rib added\n", encoding="utf-8")
    git(root, "add", "-A")
    return root


def _row(name: str, job: Callable[[], object]) -> tuple[str, str, str]:
    began, used = time.perf_counter(), _used()
    job()
    return name, f"{time.perf_counter() - began:.1f}", f"{_used() - used:.1f}"


def _used() -> float:
    own = (resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(each.ru_utime + each.ru_stime for each in own)


if __name__ == "__main__":
    main()
