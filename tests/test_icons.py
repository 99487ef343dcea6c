"""The icons of the home screen are drawn once, and drawn anew for another picture or another list of icons."""

import io

import pytest
from PIL import Image

from generator import icons
from generator.pages.app_manifest import ICONS, drawn_icons
from generator.store import Store


def picture(colour: str) -> bytes:
    drawn = Image.new("RGB", (64, 48), "#f6f8fa")
    drawn.paste(Image.new("RGB", (20, 10), colour), (20, 20))
    held = io.BytesIO()
    drawn.save(held, "PNG")
    return held.getvalue()


@pytest.fixture
def drawn(monkeypatch):
    """How often icons were really drawn."""
    asked = []

    def counted(front):
        asked.append(front)
        return drawn_icons(front)

    monkeypatch.setattr(icons, "drawn_icons", counted)
    return asked


def test_the_second_build_draws_no_icon_and_has_the_same_bytes(tmp_path, drawn):
    first = icons.kept_icons(Store(tmp_path), picture("#223344"))
    assert icons.kept_icons(Store(tmp_path), picture("#223344")) == first == drawn_icons(picture("#223344"))
    assert len(drawn) == 1
    assert set(first) == {name for name, _, _ in ICONS}
    for name, side, _ in ICONS:
        assert Image.open(io.BytesIO(first[name])).size == (side, side)


def test_another_picture_has_its_own_icons(tmp_path, drawn):
    store = Store(tmp_path)
    assert icons.kept_icons(store, picture("#223344")) != icons.kept_icons(store, picture("#882211"))
    assert len(drawn) == 2


def test_another_list_of_icons_is_not_taken_from_the_store(tmp_path, drawn, monkeypatch):
    store = Store(tmp_path)
    icons.kept_icons(store, picture("#223344"))
    monkeypatch.setattr(icons, "ICONS", (*ICONS, ("icon-96.png", 96, "any")))
    icons.kept_icons(store, picture("#223344"))
    assert len(drawn) == 2


def test_kept_icons_survive_pruning(tmp_path):
    store = Store(tmp_path)
    icons.kept_icons(store, picture("#223344"))
    assert store.prune(store.used) == 0


def test_without_a_store_that_can_be_written_icons_are_drawn_all_the_same(tmp_path):
    (tmp_path / "file").write_text("not a folder", encoding="utf-8")
    assert icons.kept_icons(Store(tmp_path / "file"), picture("#223344")) == drawn_icons(picture("#223344"))
