"""Which model does a page name, and is it another one as soon as anything in its file is otherwise?"""

import base64
import json
from dataclasses import replace
from types import SimpleNamespace

from generator.geometry.features.kinds import Feature, Features, Hand, Kind
from generator.geometry.measured import Kept, Turnable
from generator.pages.offline.service_worker import BuiltFile
from generator.pages.part.turnable import model_asset, model_view

HOLE = Feature(kind=Kind.HOLE, at=(1.0, 2.0, 3.0), axis=(0.0, 0.0, 1.0), size_mm=6.4, within_mm=0.01, length_mm=9.0, is_inner=True, is_through=True)
FACES = replace(HOLE, kind=Kind.FACES, is_inner=False)


def features(*found: Feature) -> Features:
    axes = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    return Features(found=found, size_mm=(9, 9, 9), box_mm=(9, 9, 9), box_axes=axes)


def sheet(mark: str = "ab" * 32, found: Features | None = None) -> SimpleNamespace:
    packed = Kept("key", lambda: b"packed bytes")
    return SimpleNamespace(turnable=Turnable(packed=packed, read_mark=lambda: mark), features=found)


def test_the_script_holds_the_model_and_its_round_holes_under_the_mark_that_the_page_names():
    asked = sheet(found=features(HOLE, FACES))
    asset, view = model_asset(asked, "P-1"), model_view(asked, "P-1")
    assert asset.path == view.path == "assets/models/P-1.js"
    given = json.loads(asset.content.decode("ascii").removeprefix("globalThis.sparesModel=").removesuffix(";\n"))
    assert given["mark"] == view.mark
    assert base64.b64decode(given["packed"]) == b"packed bytes"
    assert [(each["size_mm"], each["at"], each["is_through"]) for each in given["rounds"]] == [(6.4, [1, 2, 3], True)]


def test_drives_heads_and_threads_say_what_they_are_and_a_thread_stands_for_its_core():
    hexagon = replace(HOLE, kind=Kind.HEXAGON, size_mm=24.0, is_inner=False, is_through=None)
    thread = replace(HOLE, kind=Kind.THREAD, size_mm=20.0, length_mm=14.0, second_mm=2.5, hand=Hand.LEFT, is_through=None)
    core = replace(HOLE, size_mm=17.29, length_mm=14.0)
    given = json.loads(model_asset(sheet(found=features(HOLE, core, hexagon, thread)), "P-1").content.decode("ascii").removeprefix("globalThis.sparesModel=").removesuffix(";\n"))
    assert [(each["size_mm"], each.get("shape"), each.get("pitch_mm"), each.get("hand")) for each in given["rounds"]] == [
        (6.4, None, None, None), (24.0, "hexagon", None, None), (20.0, "thread", 2.5, "left"),
    ]  # fmt: skip


def test_another_content_has_another_mark():
    asked = [sheet(), sheet("cd" * 32), sheet(found=features(HOLE)), sheet(found=features(replace(HOLE, size_mm=6.5)))]
    assert len({model_view(each, "P-1").mark for each in asked}) == 4
    assert model_view(sheet(found=features(FACES)), "P-1").mark == model_view(sheet(), "P-1").mark


def test_where_there_is_nothing_to_turn_the_page_names_nothing():
    for each in (sheet(mark=""), SimpleNamespace(turnable=None, features=None)):
        assert model_view(each, "P-1") is None
        assert model_asset(each, "P-1") is None


def test_a_tablet_fetches_a_model_when_it_is_opened_or_with_everything():
    assert not BuiltFile(path="assets/models/P-1.js", sha256="", size_bytes=9).is_kept_at_once
    assert BuiltFile(path="assets/js/model.js", sha256="", size_bytes=9).is_kept_at_once
