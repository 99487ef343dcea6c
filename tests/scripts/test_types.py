"""Do the browser's scripts keep their word? TypeScript's compiler checks their JSDoc types, strictly."""

import os
import re
import shutil
import subprocess
from pathlib import Path

import pytest

from tests.browser.bundles import SCRIPTS
from tests.scripts.test_rooms import PURE

OPTIONS = (
    "--noEmit", "--strict", "--checkJs", "--allowJs", "--target", "es2021",
    "--skipDefaultLibCheck",  # the compiler's own libraries
    "--noUnusedLocals", "--noUnusedParameters", "--noFallthroughCasesInSwitch", "--noImplicitReturns",
)  # fmt: skip
# What pure scripts may use of the browser, for the compiler that does not know the browser.
WITHOUT_PAGE = Path(__file__).with_name("without_page.d.ts")
INSTALL = "the type check needs TypeScript's compiler, and there is none: sudo apt install node-typescript"


@pytest.fixture(scope="module")
def compiler() -> str:
    found = shutil.which("tsc")
    if not found:
        if os.environ.get("CI"):
            pytest.fail(INSTALL)
        pytest.skip(INSTALL)
    return found


def complaints(compiler: str, library: str, *files: Path) -> str:
    command = [compiler, *OPTIONS, "--lib", library, *map(str, files)]
    return subprocess.run(command, capture_output=True, text=True, check=False).stdout


def of_the_pure_rooms(folder: Path) -> list[Path]:
    rooms = [file for room in PURE for file in sorted((folder / room).rglob("*.js"))]
    types = [file for room in PURE for file in sorted((folder / room).rglob("*.d.ts"))]
    return [folder / "types.d.ts", *types, WITHOUT_PAGE, *rooms]


def of_all_rooms(folder: Path) -> list[Path]:
    return [*sorted(folder.rglob("*.d.ts")), *sorted(folder.rglob("*.js"))]


def test_every_script_is_of_the_types_that_it_says(compiler: str) -> None:
    assert complaints(compiler, "es2021,dom,dom.iterable", *of_all_rooms(SCRIPTS.folder)) == ""


WRONG = {
    "finder/fold.js": ("  fold(7);\n", "TS2345"),
    "judge/days.js": ("  document.title = '';\n", "TS2584"),
    "request/file.js": ("  spares.request.sizes('9 mm').push('9');\n", "TS2345"),
    "finder/near.js": ("  spares.finder.nearest();\n", "TS2339"),
    "model/camera.js": ("  requestAnimationFrame(() => 0);\n", "TS2304"),
    "vehicles/said.js": ("  window.name = '';\n", "TS2304"),
    "truesize/scale.js": ("  window.name = '';\n", "TS2304"),
}


@pytest.fixture(scope="module")
def said_of_pure_rooms(compiler: str, tmp_path_factory: pytest.TempPathFactory) -> dict[str, list[str]]:
    """What is said of the pure rooms and of the wrong lines in them, each in a file of its own: one run for both.

    By script, where it is said of the wrong line; under '' what is said of anything else.
    """
    folder = tmp_path_factory.mktemp("wrong") / "js"
    shutil.copytree(SCRIPTS.folder, folder)
    places = {}
    for script, (line, _) in WRONG.items():
        text = (folder / script).read_text(encoding="utf-8")
        end = text.rindex("  spares.")
        (folder / script).write_text(text[:end] + line + text[end:], encoding="utf-8")
        places[f"{script}({text[:end].count(chr(10)) + 1},"] = script
    said: dict[str, list[str]] = {script: [] for script in ("", *WRONG)}
    for line in complaints(compiler, "es2021", *of_the_pure_rooms(folder)).split("\n"):
        if line.strip():
            said[next((script for place, script in places.items() if place in line), "")].append(line)
    return said


def test_the_pure_rooms_know_no_page(said_of_pure_rooms: dict[str, list[str]]) -> None:
    assert said_of_pure_rooms[""] == []


@pytest.mark.parametrize("script", WRONG)
def test_a_wrong_line_is_seen(said_of_pure_rooms: dict[str, list[str]], script: str) -> None:
    assert [line for line in said_of_pure_rooms[script] if f"error {WRONG[script][1]}:" in line], said_of_pure_rooms


ANY = re.compile(r"(?<![\w'\"-])any\b(?=\s*[\]\[}>,;|&)=])|[{<:|(]\s*any\b(?!: )")


def without_reason(text: str) -> list[str]:
    """Lines with the type any that do not say why."""
    return [line.strip() for line in text.split("\n") if ANY.search(line) and not re.search(r"// any: \w+", line)]


@pytest.mark.parametrize("file", of_all_rooms(SCRIPTS.folder), ids=lambda file: file.name)
def test_no_type_is_any_without_a_reason(file: Path) -> None:
    types = "\n".join(line for line in file.read_text("utf-8").split("\n") if "@" in line or file.suffix == ".ts")
    assert without_reason(types) == []


def test_an_any_is_seen() -> None:
    for line in ("/** @param {any} x */", "/** @type {any[]} */", "@returns {Map<string, any>}", "f(x: any): void;"):
        assert without_reason(line) == [line]
        assert without_reason(f"{line} // any: whatever a file holds") == []
    assert without_reason("/** @param {string} filter of any part */") == []
