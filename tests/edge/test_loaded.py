"""A command loads what it uses: with everything in the store nothing that measures, draws or writes pages."""

import subprocess
import sys

import pytest

MEASURES = {"numpy", "scipy", "trimesh", "PIL", "cascadio"}
WRITES_PAGES = {"mkdocs", "material", "jinja2", "markdown", "generator.pages.site", "generator.pages.part.page"}
WRITES_PAPERS = {"typst", "segno"}
ON_A_TERMINAL = {"rich.progress", "rich.table"}
FINDS = {"py_mini_racer"}
PROGRAM = """
import sys
from generator.edge.cli import main
code = main(sys.argv[1:])
print("loaded:", *sys.modules)
sys.exit(code)
"""


def loaded(*arguments):
    run = subprocess.run([sys.executable, "-c", PROGRAM, *arguments], capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr
    return set(run.stdout.rpartition("loaded:")[2].split())


@pytest.mark.parametrize(
    ("command", "unused"),
    [
        (("check",), MEASURES | WRITES_PAGES | WRITES_PAPERS | ON_A_TERMINAL | FINDS),
        (("explain", "EX-0001"), MEASURES | WRITES_PAGES | WRITES_PAPERS | ON_A_TERMINAL | FINDS),
        (("fire", "EX-0001"), MEASURES | WRITES_PAGES | WRITES_PAPERS | ON_A_TERMINAL | FINDS),
        # The finder's data name the anchors of pages, which Markdown makes.
        (("find", "knob"), MEASURES | WRITES_PAGES - {"markdown"} | WRITES_PAPERS | ON_A_TERMINAL),
        (
            ("record", "EX-0001", "condition added", "--by", "reviewer", "--condition", "dry", "--dry-run"),
            MEASURES | WRITES_PAGES | WRITES_PAPERS | ON_A_TERMINAL | FINDS,
        ),
    ],
    ids=lambda each: each[0] if isinstance(each, tuple) else "",
)
def test_with_a_full_store_nothing_is_loaded_that_is_not_used(depot, command, unused):
    assert loaded(*command) & unused == set()


def test_the_list_would_name_what_is_loaded(depot):
    (depot / "catalogue/parts/EX-0001-lid-knob/photos").mkdir()
    (depot / "catalogue/parts/EX-0001-lid-knob/photos/one.png").write_bytes(b"\x89PNG\r\n\x1a\n")
    built = loaded("build")
    assert "PIL" in loaded("check") | built
    assert built >= {"mkdocs", "jinja2", "generator.pages.site"}
