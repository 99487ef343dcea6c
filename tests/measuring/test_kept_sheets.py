"""The drawing of a part is drawn once, and anew for anything that shows on it."""

import json
from dataclasses import replace

import pytest

from generator.geometry.drawing.views import views_of
from generator.geometry.measured import Kept
from generator.measuring.kept_sheets import kept_sheet
from generator.pages.addresses import addresses
from generator.pages.around import Around
from generator.pages.drawing import page
from generator.pages.drawing.page import drawings
from generator.pages.wording import wording
from generator.systems.store import Store
from tests.geometry.solids import box
from tests.pages.sample import judged_sample


@pytest.fixture(scope="module")
def judged():
    """The first part of the sample with views, and what stands around it."""
    catalogue, sheets, _ = judged_sample()
    views = Kept("views of a box", lambda: json.dumps(views_of(box(40, 20, 10)).to_json()).encode())
    around = Around(catalogue=catalogue, sheets={}, found=addresses(catalogue.parts, catalogue.materials), w=wording("en"))
    return replace(sheets[0], views=views), around


@pytest.fixture
def written(tmp_path, monkeypatch):
    """Writes the drawings of a part, and says how many sheets were drawn for that."""
    drawn, before = [], page.drawn_sheet
    monkeypatch.setattr(page, "drawn_sheet", lambda *told: drawn.append(told) or before(*told))

    def write(sheet, around):
        drawn.clear()
        made = {each.path: each.content for each in drawings([sheet], around, lambda *asked: kept_sheet(Store(tmp_path), *asked))}
        return made, len(drawn)

    return write


def test_the_second_build_draws_no_sheet_and_has_the_same_bytes(judged, written):
    first, drawn = written(*judged)
    assert (len(first), drawn) == (2, 1)
    assert written(*judged) == (first, 0)
    assert {each.path: each.content for each in drawings([judged[0]], judged[1])} == first


@pytest.mark.parametrize("what", ["mesh", "name", "language", "features", "template"])
def test_what_shows_on_it_is_drawn_anew(judged, written, monkeypatch, what):
    sheet, around = judged
    before, _ = written(sheet, around)
    match what:
        case "mesh":
            sheet = replace(sheet, views=Kept("views of another", lambda: json.dumps(views_of(box(30, 20, 10)).to_json()).encode()))
        case "name":
            part = sheet.folder.part.model_copy(update={"name": "Another name"})
            sheet = replace(sheet, folder=replace(sheet.folder, part=part))
        case "language":
            around = replace(around, w=wording("de"))
        case "features":
            from generator.geometry.features.found import features_of

            sheet = replace(sheet, features=features_of(box(40, 20, 10)))
        case "template":
            monkeypatch.setattr(page, "source_of", lambda name: f"another {name}")
    after, drawn = written(sheet, around)
    assert drawn == 1
    assert (after == before) is (what in {"template", "features"})  # of a plain box no feature shows
