"""Which code does a product hang on? The modules of this package that it uses, however far, and their libraries."""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from functools import cache
from importlib import metadata
from pathlib import Path
from typing import Final

from generator.systems.lacking import PACKAGES
from generator.systems.store import Key, key_of

_ROOT: Final = Path(__file__).parents[2]
_PACKAGE: Final = "generator"


@cache
def code_of(module: str, root: Path = _ROOT) -> Key:
    """The fingerprint of a module, of all that it imports of ours, and of the versions of the libraries they name.

    module: such as 'generator.measuring.facts_of'. Imports are read off the syntax trees, those inside functions too;
    those for the type checker alone do not count, since nothing of them runs.
    """
    ours, libraries = used_by(module, root)
    sources = [piece for path in ours for piece in (path.relative_to(root).as_posix(), path.read_bytes())]
    return key_of(*sources, *(f"{name} {metadata.version(name)}" for name in libraries))


def used_by(module: str, root: Path = _ROOT) -> tuple[tuple[Path, ...], tuple[str, ...]]:
    """The source files that a module runs, its own and the packages' around it first among them, and its libraries."""
    files: set[Path] = set()
    libraries: set[str] = set()
    waiting = [module]
    while waiting:
        name = waiting.pop()
        path = _file(name, root)
        if path is None or path in files:
            continue
        files.add(path)
        waiting += _around(name)
        for found in _imports(path.read_bytes()):
            if found.split(".")[0] == _PACKAGE:
                waiting.append(found)
            elif found.split(".")[0] not in sys.stdlib_module_names:
                libraries.add(found.split(".")[0])
    return tuple(sorted(files)), tuple(sorted(PACKAGES.get(name, name) for name in libraries))


@cache
def _imports(source: bytes) -> tuple[str, ...]:
    """By the source itself: most modules stand in the way of more than one product."""
    return tuple(dict.fromkeys(imported(ast.parse(source))))


@cache
def _file(name: str, root: Path) -> Path | None:
    """The source of a module or package; None for a name inside of one, such as a function that is imported."""
    place = root.joinpath(*name.split("."))
    candidates = (place.with_suffix(".py"), place / "__init__.py")
    return next((path for path in candidates if path.is_file()), None)


def _around(name: str) -> list[str]:
    pieces = name.split(".")
    return [".".join(pieces[:count]) for count in range(1, len(pieces))]


def imported(node: ast.AST) -> Iterator[str]:
    """The names that the statements below a node import when they run; of 'from a import b' both a and a.b."""
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.Import):
            yield from (alias.name for alias in child.names)
        elif isinstance(child, ast.ImportFrom):
            yield child.module or ""
            yield from (f"{child.module}.{alias.name}" for alias in child.names)
        elif isinstance(child, ast.If) and "TYPE_CHECKING" in ast.unparse(child.test):
            yield from (name for each in child.orelse for name in imported(ast.Module([each], [])))
        elif isinstance(child, ast.stmt | ast.excepthandler | ast.match_case):  # no import stands in an expression
            yield from imported(child)
