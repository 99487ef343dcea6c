"""A command loads what it uses: with everything in the store nothing that measures, draws or writes pages."""

import struct
import subprocess
import sys
import zlib

import pytest

MEASURES = {"numpy", "scipy", "trimesh", "PIL", "cascadio"}
WRITES_PAGES = {"mkdocs", "material", "jinja2", "markdown", "generator.pages.site", "generator.pages.part.page"}
WRITES_PAPERS = {"typst", "segno"}
ON_A_TERMINAL = {"rich.progress", "rich.table"}
FINDS = {"py_mini_racer"}
RUN = "  - {{on: 2026-03-{day:02}, part: EX-0001, revision: A, maker: bench, count: {day}, minutes: {minutes}, grams: {day}}}\n"
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


def chunk(kind, content):
    """Of a PNG (ISO/IEC 15948, 5.3)."""
    return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", zlib.crc32(kind + content))


@pytest.fixture
def used(depot):
    """A depot with a photo and with as many prints as a model needs, one of them mistyped; it was checked before."""
    photos = depot / "catalogue/parts/EX-0001-lid-knob/photos"
    photos.mkdir()
    dots = chunk(b"IHDR", struct.pack(">IIBBBBB", 1, 1, 8, 0, 0, 0, 0)) + chunk(b"IDAT", zlib.compress(b"\0\0"))
    (photos / "one.png").write_bytes(b"\x89PNG\r\n\x1a\n" + dots + chunk(b"IEND", b""))
    runs = "".join(RUN.format(day=day, minutes=600 if day == 4 else 20 + 10 * day) for day in range(1, 9))
    (depot / "catalogue/prints.yml").write_text("prints:\n" + runs, encoding="utf-8")
    assert "PIL" in loaded("check")
    return depot


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
def test_with_a_full_store_nothing_is_loaded_that_is_not_used(used, command, unused):
    assert loaded(*command) & unused == set()


def test_the_list_would_name_what_is_loaded(depot):
    (depot / "catalogue/parts/EX-0001-lid-knob/photos").mkdir()
    (depot / "catalogue/parts/EX-0001-lid-knob/photos/one.png").write_bytes(b"\x89PNG\r\n\x1a\n")
    built = loaded("build")
    assert "PIL" in loaded("check") | built
    assert built >= {"mkdocs", "jinja2", "generator.pages.site"}
