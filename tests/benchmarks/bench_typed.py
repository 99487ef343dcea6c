"""How much is typed from an empty folder to a first part's page, and on to *technical review*: python -m tests.benchmarks.bench_typed.

The lines are really run, in a copy of the tests' depot; each key counts, Enter too. What a person writes into the files of
the part is not counted, nor `spares check`, `next` and opening the site, which are for comfort. `spares init` stands for the copy.
"""

import os
import re
import shlex
import shutil
import tempfile
from contextlib import redirect_stdout
from io import StringIO
from pathlib import Path

from generator.edge.cli import main as spares
from tests.edge.test_new import filled_in
from tests.edge.test_next_walks import CHECKS, FIRE, SCREENING
from tests.fixtures.tiny import DEPOT

INIT = "spares init depot"
PAGE = ("spares role specialist", "spares new 1001 Knob --mesh ~/knob.stl", "spares build --markdown p")
REVIEW = (
    'spares record "prototype printed" "customer acceptance given@keeper" "documents complete" "sent to technical review"',
)


def typed(lines: tuple[str, ...]) -> str:
    return f"{len(lines)} commands, {sum(len(line) + 1 for line in lines)} keys"


def run(line: str) -> None:
    said = StringIO()
    with redirect_stdout(said):
        code = spares([str(Path(word).expanduser()) for word in shlex.split(line)[1:]])
    if code:
        raise SystemExit(f"{line}\n{said.getvalue()}")


def main() -> int:
    with tempfile.TemporaryDirectory() as made:
        home = Path(made)
        os.environ |= {"HOME": made, "XDG_CONFIG_HOME": made}
        shutil.copytree(DEPOT, home / "depot" / "catalogue")
        knob = (DEPOT / "parts/EX-0001-lid-knob/model.stl").read_text("ascii")
        (home / "knob.stl").write_text(re.sub(r"(vertex \S+ \S+) (\S+)", lambda it: f"{it[1]} {2 * float(it[2])}", knob), "ascii")
        os.chdir(home / "depot")
        for line in PAGE:
            run(line)
        folder = home / "depot/catalogue/parts/1001-knob"
        written(folder)
        os.chdir(folder)
        for line in REVIEW:
            run(line)
        os.chdir("/")
    print(f"to a first part's page: {typed((INIT, *PAGE))}")
    print(f"on to technical review: {typed((INIT, *PAGE, *REVIEW))}")
    return 0


def written(folder: Path) -> None:
    """What only a person knows."""
    filled_in(folder)
    (folder / "documents").mkdir()
    shutil.copy(DEPOT / "parts/EX-0001-lid-knob/documents/fire-note.txt", folder / "documents")
    (folder / "documents/drawing.txt").write_text("20 × 20 × 40", "utf-8")
    for name, more in (("part.yml", FIRE + CHECKS), ("approval.yml", SCREENING)):
        file = folder / name
        file.write_text(file.read_text("utf-8") + more, "utf-8")


if __name__ == "__main__":
    raise SystemExit(main())
