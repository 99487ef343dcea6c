"""A file that a tablet made, and that lost its end on the way, is never read as a shorter one."""

import json
from typing import Any

import pytest
from py_mini_racer import MiniRacer

from generator.reading.requests import asked
from generator.reading.validating import record
from generator.reading.yaml_places import YamlFile, read_yaml
from generator.records.fitted_file import FittedList
from generator.records.inspection_sheet import InspectionSheet
from generator.records.queries import Queries
from tests.browser.bundles import SCRIPTS

TYPED = {
    "name": "Hook", "fleet": "A1", "place": "cab", "sizes": ["42.5", "18"], "numbers": "007-1", "what": "Holds the coat:\nin the cab", "stops": "Nothing at all",
    "yearly": "12", "vehicles": "11, 13-14", "photo": "", "by": "fitter", "note": "also in car 12",
}  # fmt: skip
FLEETS = [{"id": "A1", "vehicles": ["11", "12", "13", "14"]}]
VAIN = [{"text": "blind cord", "times": 2, "last": "2026-11-23"}, {"text": "cord: blue", "times": 12, "last": "2026-11-24"}]
FITTED = {"form": 1, "railway": "Example Railway", "depot": "Testing depot"}
ROW = {"day": "2026-11-01", "fleet": "A1", "vehicle": "11", "place": "cab", "part": "EX-0001", "batch": "B-0001", "count": 2, "by": "fitter"}
CHECK = {"kind": "values", "values": ["6.01", "6.02"], "passed": "", "failed": "", "gauge": "pin P-2", "until": "2027-03-31"}
SHEET = {"pieces": "2", "day": "2026-11-11", "by": "specialist", "note": "hall 2", "checks": [CHECK, CHECK]}
OF = {"batch": "B-0001", "part": "EX-0001", "revision": "A", "checks": [{"name": "Bore"}, {"name": "Collar"}]}

MADE: dict[str, str] = {
    "request": f"request.text({json.dumps(TYPED)}, '2026-11-24', '', {json.dumps(FLEETS)})",
    "request with photo": f"request.text({json.dumps(TYPED)}, '2026-11-24', '{'AbC/' * 40}', {json.dumps(FLEETS)})",
    "request with what was looked for": f"request.text({json.dumps(TYPED)}, '2026-11-24', '', {json.dumps(FLEETS)}) + spares.finder.vain.lookedFor({json.dumps(VAIN)}, '2026-11-24')",
    "voice": f"request.voiceText('R-0012', {json.dumps(TYPED)}, '2026-11-24')",
    "what was looked for": f"finder.vain.lookedFor({json.dumps(VAIN)}, '2026-11-24')",
    "what was fitted": f"request.fittedText({json.dumps([ROW | {'row': f'aa-{n}'} for n in range(3)])}, {json.dumps(FITTED)}, '2026-11-24')",
    "inspection sheet": f"request.inspectionText({json.dumps(SHEET)}, {json.dumps(OF)}, {json.dumps(FITTED)})",
}


@pytest.fixture(scope="module")
def made():
    with MiniRacer() as engine:
        engine.eval("".join(SCRIPTS.room(room) for room in ("vehicles", "labels", "judge", "finder", "request")))
        texts = {kind: engine.eval(f"spares.{call}") for kind, call in MADE.items()}
        texts["what was looked for"] = "collected: 2026-11-24\n" + texts["what was looked for"]
        yield {kind: (text, engine.eval(f"spares.request.withLines({json.dumps(text)})")) for kind, text in texts.items()}


def read(kind: str, text: str, ends: str = "\n") -> tuple[Any, YamlFile]:
    source = read_yaml("sent.yml", text.replace("\n", ends).encode())
    kinds = {"what was fitted": FittedList, "inspection sheet": InspectionSheet, "what was looked for": Queries}
    return record(kinds[kind], source) if kind in kinds else asked(source), source


@pytest.mark.parametrize("kind", MADE)
def test_a_file_is_read_whole_and_so_is_one_of_before_that_says_no_number(made, kind: str) -> None:
    before, text = made[kind]
    older, found = read(kind, before)[0], read(kind, text)[0]
    assert older is not None
    assert found == older.model_copy(update={"lines": text.count("\n")})
    assert read(kind, text, "\r\n")[0] == read(kind, text.rstrip("\n") + "\n\n# by mail\n")[0] == found


@pytest.mark.parametrize("kind", MADE)
def test_no_file_that_is_cut_anywhere_is_read(made, kind: str) -> None:
    text = made[kind][1]
    whole = text.rstrip("\n")
    for at in range(len("lines: "), len(whole)):
        found, source = read(kind, whole[:at])
        if kind == "request with photo" and whole.count("\n", at) == 0:
            continue  # a picture that ends too early is told by whoever draws it anew
        assert found is None, whole[:at]
        assert source.problems


def test_what_is_missing_is_told_at_the_number_of_lines(made) -> None:
    text = made["what was fitted"][1]
    source = read("what was fitted", text[: text.rindex("\n", 0, -1) + 1])[1]
    (told,) = source.problems
    assert (str(told.where), told.code, dict(told.facts)) == ("sent.yml:1:8", "YAML12", {"told": 9, "there": 8})
