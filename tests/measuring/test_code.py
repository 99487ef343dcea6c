"""A product hangs on the code that makes it, and on no other."""

import subprocess
import sys
import textwrap
from importlib import metadata
from pathlib import Path

import pytest

from generator.measuring.code import code_of, used_by
from tests.reading.meshes import files

FACTS, PICTURES = "generator.measuring.facts_of", "generator.measuring.pictures_of"
WALLS, MARKED = "generator.measuring.walls_of", "generator.measuring.walls_picture_of"
FEATURES = "generator.measuring.features_of"
ROOT = Path(__file__).parents[2]
SOURCES = {
    "generator/__init__.py": "",
    "generator/shop/__init__.py": '"""Where things are made."""',
    "generator/shop/made.py": """
        import json
        from typing import TYPE_CHECKING
        from generator.shop import tools
        import numpy.linalg as la
        if TYPE_CHECKING:
            from generator.shop.forms import Form
        else:
            from generator.shop.otherwise import x
        def f():
            try:
                from generator.shop.late import made
            except ImportError:
                import PIL.Image
    """,
    "generator/shop/tools.py": "from generator.shop.ring import a_name_in_it",
    "generator/shop/ring.py": "import generator.shop.tools\na_name_in_it = 1",
    "generator/shop/late.py": "import re",
    "generator/shop/otherwise.py": "x = 1",
    "generator/shop/forms.py": "import scipy",
    "generator/shop/unused.py": "import generator.shop.made",
}
USED = {name for name in SOURCES if not name.endswith(("forms.py", "unused.py"))}


@pytest.fixture
def package(tmp_path):
    for name, source in SOURCES.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(textwrap.dedent(source))
    return tmp_path


def anew(package):
    return code_of.__wrapped__("generator.shop.made", package)


def test_what_a_module_imports_is_found_however_far(package):
    ours, libraries = used_by("generator.shop.made", package)
    assert {path.relative_to(package).as_posix() for path in ours} == USED
    assert libraries == ("numpy", "pillow")


@pytest.mark.parametrize("name", sorted(SOURCES))
def test_touching_a_file_on_the_way_changes_the_key_and_touching_another_does_not(package, name):
    before = anew(package)
    with (package / name).open("a") as file:
        file.write("\n# touched\n")
    assert (anew(package) != before) == (name in USED)


def test_a_library_of_another_version_changes_the_key(package, monkeypatch):
    before = anew(package)
    real = metadata.version
    monkeypatch.setattr(metadata, "version", lambda name: "99" if name == "scipy" else real(name))
    assert anew(package) == before
    monkeypatch.setattr(metadata, "version", lambda name: "99" if name == "pillow" else real(name))
    assert anew(package) != before


def names(module):
    return {path.relative_to(ROOT / "generator").as_posix() for path in used_by(module)[0]}


def test_facts_know_no_renderer_and_pictures_no_second_opinion():
    facts, pictures = names(FACTS), names(PICTURES)
    assert {"geometry/boxes.py", "reading/meshes/step.py", "measuring/second_opinion.py"} <= facts
    assert not any(name.startswith("geometry/render/") for name in facts)
    assert {"geometry/render/lines.py", "reading/meshes/step.py", "geometry/weld.py"} <= pictures
    assert not {"geometry/boxes.py", "measuring/second_opinion.py"} & pictures
    walls = names(WALLS)
    assert "geometry/rays.py" in walls
    assert "geometry/rays.py" not in facts | pictures
    assert "geometry/defects.py" in walls  # they are those of the solid whose volume is told
    assert "measuring/second_opinion.py" not in walls
    assert not any(name.startswith("geometry/render/") for name in walls)
    assert "trimesh" in used_by(FACTS)[1]
    assert "trimesh" not in used_by(PICTURES)[1]


@pytest.mark.parametrize("module", [FACTS, WALLS, FEATURES, PICTURES, MARKED])
def test_no_product_hangs_on_records_pages_or_the_store(module):
    assert {name for name in names(module) if name.startswith(("records/", "rules/", "pages/", "edge/"))} == {
        "records/__init__.py",
        "records/mesh_units.py",
        "records/problems.py",
    }
    assert "systems/store.py" not in names(module)


@pytest.mark.parametrize("name", ["box.stl", "box.glb", "box.step"])
def test_nothing_runs_that_is_not_in_the_key(tmp_path, name):
    """The oracle is the interpreter: what it has loaded once facts and pictures are made."""
    kinds = {"box.stl": files.binary_stl(*files.box(1, 2, 3)), "box.glb": files.glb(*files.box(1, 2, 3))}
    (tmp_path / name).write_bytes(kinds.get(name) or files.step_box(1, 2, 3))
    program = f"""if 1:
        import sys
        from pathlib import Path
        from generator.measuring.facts_of import facts_of
        from generator.measuring.pictures_of import pictures_of
        from generator.measuring.features_of import features_of
        from generator.measuring.walls_of import walls_of
        from generator.measuring.walls_picture_of import walls_picture_of
        from generator.measuring.opened import Opened
        opened = Opened(Path({str(tmp_path / name)!r}).read_bytes(), Path({name!r}).suffix, None)
        assert "facts.json" in facts_of(opened) and dict(pictures_of(opened, ["thumb"], "#808080"))
        assert walls_picture_of(opened, "#808080", walls_of(opened))["picture.webp"]
        assert "features.json" in features_of(opened)
        print(*sorted(each.__file__ for key, each in sys.modules.items() if key.split(".")[0] == "generator"), sep="\\n")
    """
    run = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    loaded = {Path(line).relative_to(ROOT / "generator").as_posix() for line in run.stdout.splitlines()}
    assert loaded <= names(FACTS) | names(WALLS) | names(FEATURES) | names(PICTURES) | names(MARKED)
