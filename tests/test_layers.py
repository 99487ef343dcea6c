"""Facts flow one way: which room may use which, read off the syntax trees.

The rules are "The rule" and "The map" of DEVELOPERS.md: each room uses only rooms on floors below its own; what can be
computed without a disk, clock, browser or framework knows none of them; only the edge knows MkDocs and prints.
"""

import ast
from collections.abc import Iterable
from functools import cache
from pathlib import Path
from typing import NamedTuple

import pytest

ROOT = Path(__file__).parent.parent
PACKAGE = ROOT / "generator"

# From the ground up; in each room those that it uses.
FLOORS: tuple[dict[str, set[str]], ...] = (
    {"records": set(), "geometry": set(), "systems": set()},
    {"writing": {"records"}, "rules": {"records", "geometry"}},
    {"reading": {"records", "geometry", "rules"}, "planning": {"records", "geometry", "rules"}},
    {
        "measuring": {"records", "geometry", "reading", "systems"},
        "provenance": {"records", "rules", "reading", "systems"},
        "importing": {"records", "writing", "reading"},
        "pages": {"records", "geometry", "writing", "rules", "planning", "reading"},
    },
    {
        "papers": {"pages"},
        "finder": {"records", "rules", "pages", "systems"},
        "assemble": {"records", "geometry", "rules", "reading", "planning", "measuring", "provenance", "pages", "systems"},
    },
    {
        "edge": {"records", "geometry", "systems", "writing", "rules", "reading", "planning", "measuring", "provenance", "importing", "pages", "papers", "finder", "assemble"},
    },
    {"__main__": {"edge"}},
)  # fmt: skip
ROOMS = {room: uses for floor in FLOORS for room, uses in floor.items()}
# The same inside the edge; what lies in no folder of it stands as a room of its own.
EDGE: tuple[dict[str, set[str]], ...] = (
    {"around": set(), "meant": set()},
    {"spoken": {"around"}},
    {"refusals": {"spoken"}},
    {"clock": {"refusals"}},
    {"standing": {"refusals"}},
    {"one_part": {"refusals", "clock", "meant", "spoken"}},
    {"disk": {"meant", "refusals", "one_part", "spoken"}},
    {"site": {"refusals", "disk", "clock"}},
    {"commands": {"around", "meant", "spoken", "refusals", "disk", "clock", "one_part", "site", "standing"}},
    {"cli": {"around", "spoken", "refusals", "disk", "commands"}},
)
EDGE_ROOMS = {room: uses for floor in EDGE for room, uses in floor.items()}

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
EDGE_ONLY = {"mkdocs", "material", "rich", "argparse"}
FRAMEWORK = EDGE_ONLY | {"trimesh", "cascadio", "jinja2", "yaml", "webbrowser", "logging", "py_mini_racer"}
PURE = DISK | CLOCK | FRAMEWORK
# What of the world outside a room may not know.
UNKNOWN = {
    "records": PURE,
    "geometry": PURE,
    "systems": FRAMEWORK,
    "rules": PURE,
    "planning": PURE,
    "writing": PURE - {"yaml"},  # the text of records, for others to write
    "reading": EDGE_ONLY | CLOCK,
    "measuring": EDGE_ONLY | CLOCK - {"time"},  # a job has its time, what a broken-off build left has its age
    "provenance": FRAMEWORK | CLOCK,
    "importing": EDGE_ONLY | CLOCK,
    "pages": EDGE_ONLY | (CLOCK - {"calendar"}) | {"trimesh", "cascadio", "pathlib", "os"},
    "papers": PURE,  # its templates lie in the package
    "finder": EDGE_ONLY | CLOCK | {"trimesh", "cascadio"},
    "assemble": EDGE_ONLY | CLOCK,
    "edge": set(),
    "__main__": set(),
}
# Asking what day it is, opening a file, or speaking to the terminal, without an import that would show it.
CLOCK_CALLS = {"today", "now", "utcnow"}
DISK_CALLS = {"open", "input", "exec", "eval", "__import__", "breakpoint"}
PURE_ROOMS = ("records", "rules", "planning", "geometry", "writing")
# Reviewed exceptions, each with its reason.
ALLOWED: set[tuple[str, str]] = {
    ("generator/geometry/render", "io"),  # encoding a picture goes through a buffer in memory
}


def modules(*folders: str) -> list[Path]:
    return sorted(path for folder in folders for path in (PACKAGE / folder).rglob("*.py"))


def name_of(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


class Seen(NamedTuple):
    """What these rules look at in a source."""

    imported: frozenset[str]
    called: frozenset[str]
    """By name alone."""
    methods: frozenset[str]
    attributes: frozenset[tuple[str, str]]
    """Of names: the name, and what of it."""


@cache
def seen(source: str) -> Seen:
    """Every module is taken apart once, whatever is asked of it."""
    nodes = list(ast.walk(ast.parse(source)))
    calls = [node.func for node in nodes if isinstance(node, ast.Call)]
    attributes = (node for node in nodes if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name))
    return Seen(
        imported=frozenset(imported_by(nodes)),
        called=frozenset(call.id for call in calls if isinstance(call, ast.Name)),
        methods=frozenset(call.attr for call in calls if isinstance(call, ast.Attribute)),
        attributes=frozenset((node.value.id, node.attr) for node in attributes),
    )


def imported_by(nodes: Iterable[ast.AST]) -> set[str]:
    names = set()
    for node in nodes:
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            names |= {f"{'.' * node.level}{node.module or ''}.{alias.name}" for alias in node.names}
            names.add(f"{'.' * node.level}{node.module or ''}")
    return names


def forbidden(source: str, banned: set[str]) -> set[str]:
    """The imports of a source that are banned, themselves or by a package around them; relative ones always."""
    return {
        name
        for name in seen(source).imported
        if name.startswith(".") or any(name == each or name.startswith(f"{each}.") for each in banned)
    }


def called_by(source: str, names: set[str]) -> set[str]:
    """Which of `names` a source calls, as a function or as a method."""
    return names & (seen(source).called | seen(source).methods)


def plainly_called(source: str, names: set[str]) -> set[str]:
    return names & seen(source).called


def without_allowed(path: Path, found: set[str]) -> set[str]:
    name = name_of(path)
    return {
        each for each in found if not any(name.startswith(p) and each.split(".")[0] == m for p, m in ALLOWED)
    }


EVERY = sorted(PACKAGE.rglob("*.py"))


def room_of(path: Path, package: Path = PACKAGE) -> str:
    """The folder right below `package` that a module lies in, or the module itself where it lies in none."""
    return path.relative_to(package).parts[0].removesuffix(".py")


def used_by(source: str, package: str) -> set[str]:
    """The rooms of a package, such as 'generator', that a source imports from."""
    names = (name.removeprefix(f"{package}.") for name in seen(source).imported if name.startswith(f"{package}."))
    return {name.split(".")[0] for name in names}


def arrows(package: Path) -> dict[str, set[str]]:
    """What each room of a package really uses of the others."""
    dotted = ".".join(package.relative_to(ROOT).parts)
    found: dict[str, set[str]] = {}
    for path in package.rglob("*.py"):
        if path.parent == package and path.stem == "__init__":
            continue
        room = room_of(path, package)
        found.setdefault(room, set()).update(used_by(path.read_text("utf-8"), dotted) - {room})
    return found


def test_each_room_uses_what_the_plan_says_and_nothing_else():
    assert arrows(PACKAGE) == ROOMS
    assert arrows(PACKAGE / "edge") == EDGE_ROOMS


@pytest.mark.parametrize("floors", [FLOORS, EDGE], ids=["house", "edge"])
def test_no_arrow_runs_back(floors):
    below: set[str] = set()
    for floor in floors:
        assert all(uses <= below for uses in floor.values())
        below |= set(floor)


def breaking(rule, paths=EVERY):
    """What each file has that it must not have, by the rule; nothing of files that keep it."""
    told = {name_of(path): rule(path) for path in paths}
    return {name: found for name, found in told.items() if found}


def test_a_room_does_not_know_the_world_it_has_no_business_with():
    def known(path):
        return without_allowed(path, forbidden(path.read_text("utf-8"), UNKNOWN.get(room_of(path), PURE)))

    assert breaking(known) == {}


def test_only_the_site_knows_the_site_builder():
    knows = [path for path in EVERY if forbidden(path.read_text("utf-8"), {"mkdocs", "material"})]
    assert {path.parent.name for path in knows} == {"site"}


def test_only_papers_knows_the_typesetter_and_each_is_loaded_where_it_is_used():
    knows = {name_of(path) for path in EVERY if forbidden(path.read_text("utf-8"), {"typst", "segno"})}
    assert knows == {"generator/papers/codes.py", "generator/papers/typesetting.py"}
    at_once = [node for name in knows for node in ast.parse((ROOT / name).read_text("utf-8")).body if isinstance(node, ast.Import)]
    assert not {alias.name for node in at_once for alias in node.names} & {"typst", "segno"}


def test_pure_rooms_ask_no_clock_and_no_disk():
    def asked(path):
        source = path.read_text("utf-8")
        return called_by(source, CLOCK_CALLS) | plainly_called(source, DISK_CALLS)

    assert breaking(asked, modules(*PURE_ROOMS)) == {}


def test_only_the_edge_prints():
    elsewhere = [path for path in EVERY if room_of(path) != "edge"]
    assert breaking(lambda path: plainly_called(path.read_text("utf-8"), {"print"}), elsewhere) == {}


def test_every_room_has_its_rule():
    assert set(UNKNOWN) == set(ROOMS)


@pytest.mark.parametrize(
    "source",
    [
        "import os",
        "import os.path as p",
        "from pathlib import Path",
        "def f():\n    import time",
        "if 1:\n    from mkdocs.plugins import BasePlugin",
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
    assert forbidden(source, UNKNOWN["rules"]) == set()


@pytest.mark.parametrize("source", ["date.today()", "datetime.datetime.now(tz)", "today()"])
def test_the_clock_rule_bites(source):
    assert called_by(source, CLOCK_CALLS)


def test_the_print_rule_bites():
    assert plainly_called("print('x')", {"print"})
    assert not plainly_called("self.print('x')", {"print"})


# Of os and signal, what every system has; the rest belongs to generator/systems.
EVERYWHERE = {
    "os": {"environ", "path", "getpid", "access", "W_OK", "link", "fsync", "open", "close", "fstat", "fdopen", "dup", "dup2", "devnull",
           "O_RDONLY", "O_RDWR", "O_WRONLY", "fsdecode", "fsencode", "PathLike", "strerror", "walk", "pathsep", "utime", "_exit",
           "stat", "lstat", "listdir"},
    "signal": {"signal", "SIGINT", "SIGTERM", "SIG_DFL", "raise_signal"},
    "sys": {"argv", "stdout", "stderr", "executable", "path", "modules", "stdlib_module_names", "exit", "version_info", "stdin",
            "prefix", "setrecursionlimit", "getrecursionlimit", "exc_info", "flags"},
}  # fmt: skip
OF_SOME = {"resource", "fcntl", "pwd", "grp", "termios", "ctypes", "msvcrt", "winreg", "posix", "nt", "platform"}


def of_some(source: str) -> set[str]:
    """What a source uses that not every system has, or by which it asks on which one it runs."""
    used = {f"{name}.{what}" for name, what in seen(source).attributes if what not in EVERYWHERE.get(name, {what})}
    return used | {name for name in seen(source).imported if name.split(".")[0] in OF_SOME or name.startswith(("os.", "signal."))}


# What every system has alike, though it lies beside what they have not.
ALIKE = {"generator/systems/store.py", "generator/systems/own_site.py"}


def test_only_one_room_knows_what_systems_do_in_their_own_way():
    elsewhere = [path for path in EVERY if room_of(path) != "systems" or name_of(path) in ALIKE]
    assert {name_of(path) for path in elsewhere} >= ALIKE
    assert breaking(lambda path: of_some(path.read_text("utf-8")), elsewhere) == {}


@pytest.mark.parametrize(
    "source", ["import resource", "os.killpg(1, 9)", "from os import fork", "sys.platform", "signal.SIGALRM", "os.name"]
)
def test_the_ways_of_one_system_are_seen(source):
    assert of_some(source)
