"""How long does git take to tell what changed lately: of 5,000 commits, at first, with one commit more, and kept?

Run as `.venv/bin/python -m tests.benchmarks.bench_lately [--commits 5000]`; it prints figures and asserts none.
"""

import argparse
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from generator.edge.commands.terminal import Terminal
from generator.provenance.remembering.lately import Lately, lately
from tests.fixtures.committing import git
from tests.fixtures.tiny import DEPOT

_PART = DEPOT / "parts/EX-0003-hose-clip"
_EVENT = b"  - {on: 2026-11-02, what: condition added, by: keeper, condition: look at it, applies: at fitting}\n"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--commits", type=int, default=5000)
    commits = parser.parse_args().commits
    terminal = Terminal()
    with tempfile.TemporaryDirectory() as made:
        root, file = Path(made) / "catalogue", Path(made) / "lately.json"
        root.mkdir()
        git(root, "init", "-q", "-b", "main")
        git(root, "fast-import", "--quiet", given=b"".join(_stream(commits)))
        rows = [_row("first", root, file), _row("kept", root, file)]
        git(root, "reset", "-q", "--hard")
        (root / "depot.yml").write_text("x: 1\n")
        git(root, "add", "-A", ".")
        git(root, "commit", "-q", "-m", "x")
        rows.append(_row("one commit more", root, file))
        terminal.table((f"of {commits} commits", "ms", "commits told", "MB kept"), rows)


def _row(name: str, root: Path, file: Path) -> tuple[str, str, str, str]:
    began = time.perf_counter()
    found = lately(root, file) or Lately()
    taken = time.perf_counter() - began
    return name, f"{1000 * taken:.0f}", str(len(found.changes)), f"{file.stat().st_size / 1e6:.2f}"


def _stream(commits: int) -> Iterator[bytes]:
    """Each commit changes the record and the approval of one of a hundred parts."""
    part, approval = (_PART / "part.yml").read_bytes(), (_PART / "approval.yml").read_bytes()
    for at in range(commits):
        number = b"EX-%04d" % (at % 100 + 3000)
        folder = b"parts/" + number + b"-clip/"
        yield b"commit refs/heads/main\ncommitter x <x> %d +0000\ndata 1\nx\n" % (1_700_000_000 + at * 3600)
        yield _file(folder + b"part.yml", part.replace(b"EX-0003", number).replace(b"Hose clip", b"Hose clip %d" % at))
        yield _file(folder + b"approval.yml", approval + _EVENT * (at // 100))


def _file(path: bytes, content: bytes) -> bytes:
    return b"M 100644 inline %s\ndata %d\n%s\n" % (path, len(content), content)


if __name__ == "__main__":
    main()
