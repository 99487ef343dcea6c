"""Does each script stand where it belongs? Read off the sources, the order file and the types."""

import re
from collections import Counter
from pathlib import Path

import pytest

from generator.finder.scripts import ORDER, read_scripts
from tests.browser.bundles import SCRIPTS

PURE = ("vehicles", "labels", "judge", "finder", "request", "model", "truesize")
OF_THE_PAGE = re.compile(
    r"\b(document|window|navigator|location|history|localStorage|sessionStorage|fetch|console|setTimeout|setInterval"
    r"|addEventListener|Date\.now|new Date\(\)|Math\.random|spares\.screen|sparesRules|sparesPart|sparesIndex)\b|new Date\(\)"
)
FILES = sorted(file.relative_to(SCRIPTS.folder).as_posix() for file in SCRIPTS.folder.rglob("*.js"))


def code(script: str) -> str:
    """A script without its comments."""
    text = (SCRIPTS.folder / script).read_text(encoding="utf-8")
    return re.sub(r"/\*.*?\*/|(?<![:\"'\\])//[^\n]*", "", text, flags=re.DOTALL)


@pytest.mark.parametrize("script", [name for name in FILES if name.split("/")[0] in PURE])
def test_a_pure_script_touches_no_page_and_no_clock(script: str) -> None:
    assert OF_THE_PAGE.findall(code(script)) == []


def test_a_room_is_pure_or_is_the_screen() -> None:
    assert {name.split("/")[0] for name in FILES} == {*PURE, "screen"}


def test_what_touches_a_page_is_seen() -> None:
    assert OF_THE_PAGE.search(code("screen/verdicts.js"))
    assert OF_THE_PAGE.search("const today = new Date();")


def test_a_room_uses_only_what_lies_before_it() -> None:
    # judge and finder know vehicles and labels besides; a request is written with the finder's letters.
    before = {"labels": set(), "judge": {"labels"}, "finder": {"labels"}, "request": {"labels", "finder"}, "model": set()}
    allowed = {"vehicles": {"vehicles"}, "truesize": {"trueSize"}} | {room: {room, "vehicles", *others} for room, others in before.items()}
    for script in FILES:
        room = script.split("/")[0]
        used = set(re.findall(r"(?<![\"'])\bspares\.(\w+)", code(script)))
        assert used <= allowed.get(room, {"vehicles", "labels", "judge", "finder", "request", "model", "trueSize", "screen"}), script


def test_every_script_stands_in_one_bundle() -> None:
    named = [name for names in SCRIPTS.bundles.values() for name in names]
    assert Counter(named).most_common(1)[0][1] == 1
    assert sorted(named) == FILES
    assert list(SCRIPTS.bundles) == ["early", "judge", "finder", "code", "part", "model", "truesize", "request", "fitted", "inspection", "whole"]


def test_a_bundle_is_its_scripts_in_order_and_nothing_else() -> None:
    for name, scripts in SCRIPTS.bundles.items():
        bundle = SCRIPTS.bundle(name)
        assert re.findall(r"^// (\S+\.js)$", bundle, flags=re.MULTILINE) == list(scripts)
        for script in scripts:
            assert (SCRIPTS.folder / script).read_text(encoding="utf-8").strip() in bundle
        assert bundle == SCRIPTS.bundle(name)


@pytest.mark.parametrize("room", ["vehicles", "labels", "judge", "finder", "request", "model", "screen"])
def test_a_room_offers_what_its_types_say(room: str) -> None:
    said = "\n".join(file.read_text(encoding="utf-8") for file in sorted(SCRIPTS.folder.rglob("*.d.ts")))
    block = re.search(rf"^interface {room.capitalize()}Room {{\n(.*?)^}}", said, flags=re.MULTILINE | re.DOTALL)
    assert block
    typed = re.findall(r"^  (\w+)[(:<]", block[1], flags=re.MULTILINE)
    offers = [each for script in FILES for each in re.findall(rf"spares\.{room} = {{ \.\.\.spares\.{room}, (.*) }};", code(script))]
    offered = [name for offer in offers for name in re.findall(r"(\w+)(?=[,:]|$)", re.sub(r"\{[^}]*\}", "", offer))]
    assert sorted(typed) == sorted(offered)


@pytest.mark.parametrize("content", ["- early.js\n", "judge: screen/early.js\n", "just words\n", "judge: [\n"])
def test_an_order_that_is_no_list_of_bundles_is_refused(tmp_path: Path, content: str) -> None:
    (tmp_path / ORDER).write_text(content)
    with pytest.raises(ValueError, match=r"order\.yml"):
        read_scripts(tmp_path)
