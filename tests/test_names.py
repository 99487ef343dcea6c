"""One word for one thing: no two public classes share a name, and the map of DEVELOPERS.md has every module and script.

Read off the syntax trees and the text; nothing is imported.
"""

import ast
import re
from collections import defaultdict
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PACKAGE = ROOT / "generator"
SCRIPTS = ROOT / "site_src/assets/js"
MODULES = sorted(path for path in PACKAGE.rglob("*.py") if path.stem != "__init__")

# What shares a name all the same, where it stands, and why.
_MESH = "what is kept of meshes hangs on this code: another name would have every depot's models measured again"
_EVENT = "a record's class is named after its `what`, and the JSON Schema names it; the other is of meshes alone"
SHARED = {
    "Measured": ({"geometry/measure", "records/batches"}, _EVENT),
    "Opened": ({"measuring/opened", "records/lots"}, _EVENT),
    "Compared": ({"geometry/likeness/kinds", "records/lots"}, _EVENT),
    "Feature": ({"geometry/features/kinds", "records/parts"}, _EVENT),
    "Property": ({"reading/meshes/ply", "records/environment"}, "the PLY format's own word, in its reader alone"),
    "Model": ({"geometry/model/kinds", "reading/meshes/threemf_model"}, "the 3MF format's own word, in its reader alone"),
    "Outside": ({"geometry/features/outwards", "reading/meshes/gltf_tree"}, _MESH),
    "Line": ({"geometry/drawing/kinds", "geometry/features/lines"}, _MESH),
    "View": ({"geometry/drawing/kinds", "geometry/render/camera"}, _MESH),
    "Solid": ({"geometry/drawing/solid", "geometry/solid"}, _MESH),
    "Frame": ({"geometry/features/frames", "geometry/printing/standing"}, _MESH),
    "Surface": ({"geometry/likeness/surface", "geometry/render/surface"}, _MESH),
    "Cell": ({"importing/tables", "pages/printed/views"}, "a cell of a table both times; neither leaves its folder"),
}
# Folders whose modules the map tells by one sentence.
TOLD_WHOLE = {
    "edge/commands": "one module a command",
    "reading/meshes": "one loader a format",
}


def module(path: Path) -> str:
    return path.relative_to(PACKAGE).with_suffix("").as_posix()


def public_classes(source: str) -> set[str]:
    return {node.name for node in ast.parse(source).body if isinstance(node, ast.ClassDef) and not node.name.startswith("_")}


def shared(sources: dict[str, str]) -> dict[str, set[str]]:
    """The names of public classes that several modules have, and which."""
    found: dict[str, set[str]] = defaultdict(set)
    for name, source in sources.items():
        for each in public_classes(source):
            found[each].add(name)
    return {each: names for each, names in found.items() if len(names) > 1}


def rooms_of_map(text: str) -> dict[str, str]:
    """What the map says of each room of generator/: from its line on, two blanks in, to the next such line."""
    the_map = text.partition("\n## The map\n")[2].partition("\n## ")[0]
    inside = the_map.partition("\ngenerator/")[2].partition("\nsite_src/")[0]
    pieces = re.split(r"\n  (?=\w)", inside)[1:]
    return {piece.split()[0].rstrip("/").removesuffix(".py"): piece for piece in pieces}


def is_told(name: str, rooms: dict[str, str]) -> bool:
    """Whether the map has the module, such as 'rules/fire/rows', by its file name in its room's lines."""
    said = rooms.get(name.partition("/")[0], "")
    of_folder = TOLD_WHOLE.get(name.rpartition("/")[0])
    if of_folder is not None and of_folder in said:
        return True
    file = name if "/" not in name else name.rpartition("/")[2]
    return re.search(rf"(?<!\w){re.escape(file)}\.py\b", said) is not None


def rooms_of_scripts(text: str) -> dict[str, list[str]]:
    """Which scripts the map names in each folder of assets/js/, in its order."""
    inside = text.partition("\n  assets/js/")[2].partition("\ntests/")[0]
    pieces = re.split(r"\n    (?=\w)", inside)[1:]
    return {room.rstrip("/"): re.findall(r"(?<![\w/])\w+(?=\.js\b)", said) for room, _, said in (piece.partition(" ") for piece in pieces)}


def scripts() -> dict[str, list[str]]:
    found: dict[str, list[str]] = defaultdict(list)
    for path in SCRIPTS.rglob("*.js"):
        found[path.parent.relative_to(SCRIPTS).as_posix()].append(path.stem)
    return {room: sorted(names) for room, names in found.items()}


def untold(names: list[str], text: str) -> list[str]:
    rooms = rooms_of_map(text)
    return [name for name in names if not is_told(name, rooms)]


def test_no_two_public_classes_share_a_name():
    assert shared({module(path): path.read_text("utf-8") for path in MODULES}) == {each: names for each, (names, _) in SHARED.items()}


def test_a_shared_name_is_seen():
    sources = {"rules/one": "class Row: ...\nclass _Told: ...", "pages/two": "class Row: ...\nclass _Told: ...", "pages/three": "def Row(): ..."}
    assert shared(sources) == {"Row": {"rules/one", "pages/two"}}


def test_the_map_has_every_module():
    assert untold([module(path) for path in MODULES], (ROOT / "DEVELOPERS.md").read_text("utf-8")) == []


def test_the_map_has_every_script_once_and_in_its_folder():
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    heads = re.findall(r"(?m)^    (\w[\w/]*)/ ", text.partition("\n  assets/js/")[2].partition("\ntests/")[0])
    assert len(heads) == len(set(heads))
    assert {room: sorted(names) for room, names in rooms_of_scripts(text).items()} == scripts()


def test_the_scripts_of_a_map_are_read_by_folder():
    text = "\n  assets/js/  scripts\n    judge/  days.js; copy.js: its age,\n            see other/odd.js\n    screen/finder/ box.js\ntests/ lost.js"
    assert rooms_of_scripts(text) == {"judge": ["days", "copy"], "screen/finder": ["box"]}


MAP = "# \n\n## The map\n\n```\ngenerator/  rooms\n  rules/   order.py: in which order; fire/ rows.py\n  finder.py  finds\n  edge/    the edge\n    commands/  one module a command\nsite_src/  lost.py\n```\n\n## Next\n"


@pytest.mark.parametrize("name", ["rules/order", "rules/fire/rows", "finder", "edge/commands/check"])
def test_what_the_map_has_is_told(name):
    assert untold([name], MAP) == []


@pytest.mark.parametrize("name", ["rules/disorder", "rules/der", "finder/rows", "edge/lost", "edge/site/check", "reading/meshes/stl"])
def test_what_the_map_has_not_is_untold(name):
    assert untold([name], MAP) == [name]
