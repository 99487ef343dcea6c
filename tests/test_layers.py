"""Facts flow one way: which folder may import what, read off the syntax trees.

The rule is "The house" of DEVELOPERS.md: records, rules, planning and geometry know no disk, clock, browser or
framework; pages know no folders; only the edge knows MkDocs and prints.
"""

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PACKAGE = ROOT / "generator"

DISK = {
    "os",
    "pathlib",
    "io",
    "shutil",
    "tempfile",
    "glob",
    "fileinput",
    "subprocess",
    "socket",
    "urllib",
    "http",
}
CLOCK = {"time", "calendar", "locale", "random", "secrets", "uuid"}
FRAMEWORK = {
    "mkdocs",
    "material",
    "rich",
    "trimesh",
    "cascadio",
    "jinja2",
    "yaml",
    "webbrowser",
    "argparse",
    "logging",
}
OUTER = {"generator.pages", "generator.edge", "generator.assemble", "generator.store", "generator.workshop"}
PURE = DISK | CLOCK | FRAMEWORK | OUTER | {"generator.reading", "generator.guarded", "generator.sheets"}
BANNED = {
    "records": PURE | {"generator.rules", "generator.planning", "generator.geometry"},
    "rules": PURE,
    "planning": PURE - {"generator.sheets"},  # the sheet of a part is pure, see SHEET
    "writing": PURE - {"yaml"},  # the text of records, for others to write
    "geometry": PURE | {"generator.records", "generator.rules", "generator.planning"},
    "pages": {"generator.reading", "generator.edge", "mkdocs", "rich", "trimesh", "cascadio", *CLOCK}
    - {"calendar"},
    "reading": {"generator.pages", "generator.edge", "mkdocs", "rich", *CLOCK},
}
# Asking what day it is, opening a file, or speaking to the terminal, without an import that would show it.
CLOCK_CALLS = {"today", "now", "utcnow"}
DISK_CALLS = {"open", "input", "exec", "eval", "__import__", "breakpoint"}
PURE_FOLDERS = ("records", "rules", "planning", "geometry", "writing")
SHEET = PACKAGE / "sheets.py"
# Reviewed exceptions, each with its reason.
ALLOWED: set[tuple[str, str]] = {
    ("generator/geometry/render", "io"),  # encoding a picture goes through a buffer in memory
}


def modules(*folders: str) -> list[Path]:
    return sorted(path for folder in folders for path in (PACKAGE / folder).rglob("*.py"))


def name_of(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def imported_by(tree: ast.AST) -> set[str]:
    names = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            names |= {f"{'.' * node.level}{node.module or ''}.{alias.name}" for alias in node.names}
            names.add(f"{'.' * node.level}{node.module or ''}")
    return names


def forbidden(source: str, banned: set[str]) -> set[str]:
    """The imports of a source that are banned, themselves or by a package around them; relative ones always."""
    found = imported_by(ast.parse(source))
    return {
        name
        for name in found
        if name.startswith(".") or any(name == each or name.startswith(f"{each}.") for each in banned)
    }


def called_by(source: str, names: set[str]) -> set[str]:
    """Which of `names` a source calls, as a function or as a method."""
    calls = [node.func for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Call)]
    plain = {call.id for call in calls if isinstance(call, ast.Name)}
    methods = {call.attr for call in calls if isinstance(call, ast.Attribute)}
    return names & (plain | methods)


def plainly_called(source: str, names: set[str]) -> set[str]:
    calls = [node.func for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Call)]
    return names & {call.id for call in calls if isinstance(call, ast.Name)}


def without_allowed(path: Path, found: set[str]) -> set[str]:
    name = name_of(path)
    return {
        each for each in found if not any(name.startswith(p) and each.split(".")[0] == m for p, m in ALLOWED)
    }


LAYERED = [(folder, path) for folder in BANNED for path in modules(folder)]


@pytest.mark.parametrize(
    ("folder", "path"), LAYERED, ids=lambda each: name_of(each) if isinstance(each, Path) else each
)
def test_a_layer_imports_only_downwards(folder, path):
    assert without_allowed(path, forbidden(path.read_text("utf-8"), BANNED[folder])) == set()


def test_the_sheet_of_a_part_is_pure():
    assert forbidden(SHEET.read_text("utf-8"), PURE - {"generator.sheets"}) == set()


@pytest.mark.parametrize("path", [*modules(*PURE_FOLDERS), SHEET], ids=name_of)
def test_pure_folders_ask_no_clock_and_no_disk(path):
    source = path.read_text("utf-8")
    assert called_by(source, CLOCK_CALLS) == set()
    assert plainly_called(source, DISK_CALLS) == set()


@pytest.mark.parametrize("path", modules("."), ids=name_of)
def test_only_the_edge_prints_and_knows_mkdocs(path):
    if "edge" in path.relative_to(PACKAGE).parts[:1]:
        return
    source = path.read_text("utf-8")
    assert plainly_called(source, {"print"}) == set()
    assert forbidden(source, {"mkdocs", "material", "rich", "argparse", "generator.edge"}) == set()


def test_every_folder_has_its_rule():
    folders = {path.name for path in PACKAGE.iterdir() if (path / "__init__.py").exists()}
    assert folders == {*BANNED, "edge"}
    assert len(LAYERED) > 40


@pytest.mark.parametrize(
    "source",
    [
        "import os",
        "import os.path as p",
        "from pathlib import Path",
        "def f():\n    import time",
        "if 1:\n    from mkdocs.plugins import BasePlugin",
        "from generator import reading",
        "from generator.reading.disk import Disk",
        "from . import verdicts",
        "from ..reading import disk",
        "import trimesh as t",
    ],
)
def test_the_rule_bites(source):
    assert forbidden(source, PURE)


@pytest.mark.parametrize(
    "source", ["from datetime import date", "import numpy as np", "from generator.records.parts import Part"]
)
def test_the_rule_lets_through_what_it_should(source):
    assert forbidden(source, BANNED["rules"]) == set()


@pytest.mark.parametrize("source", ["date.today()", "datetime.datetime.now(tz)", "today()"])
def test_the_clock_rule_bites(source):
    assert called_by(source, CLOCK_CALLS)


def test_the_print_rule_bites():
    assert plainly_called("print('x')", {"print"})
    assert not plainly_called("self.print('x')", {"print"})
