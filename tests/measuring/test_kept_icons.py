"""The icons of the home screen are drawn once, and drawn anew for another picture or another list of icons."""

import io

import pytest
from PIL import Image

from generator.geometry.measured import Kept
from generator.measuring import kept_icons as icons
from generator.measuring.kept_icons import drawn_icons
from generator.systems.store import Store

ICONS = (("icon-192.png", 192, False), ("maskable-512.png", 512, True), ("touch-180.png", 180, False))


def picture(colour: str) -> Kept:
    drawn = Image.new("RGB", (64, 48), "#f6f8fa")
    drawn.paste(Image.new("RGB", (20, 10), colour), (20, 20))
    held = io.BytesIO()
    drawn.save(held, "PNG")
    return Kept(colour, held.getvalue)


@pytest.fixture
def drawn(monkeypatch):
    """How often icons were really drawn."""
    asked = []

    def counted(front, wanted):
        asked.append(front)
        return drawn_icons(front, wanted)

    monkeypatch.setattr(icons, "drawn_icons", counted)
    return asked


def test_the_second_build_draws_no_icon_and_has_the_same_bytes(tmp_path, drawn):
    first = icons.kept_icons(Store(tmp_path), picture("#223344"), ICONS)
    assert icons.kept_icons(Store(tmp_path), picture("#223344"), ICONS) == first == drawn_icons(picture("#223344").read(), ICONS)
    assert len(drawn) == 1
    assert set(first) == {name for name, _, _ in ICONS}
    for name, side, _ in ICONS:
        assert Image.open(io.BytesIO(first[name])).size == (side, side)


def test_another_picture_has_its_own_icons(tmp_path, drawn):
    store = Store(tmp_path)
    assert icons.kept_icons(store, picture("#223344"), ICONS) != icons.kept_icons(store, picture("#882211"), ICONS)
    assert len(drawn) == 2


def test_another_list_of_icons_is_not_taken_from_the_store(tmp_path, drawn):
    store = Store(tmp_path)
    icons.kept_icons(store, picture("#223344"), ICONS)
    more = icons.kept_icons(store, picture("#223344"), (*ICONS, ("icon-96.png", 96, False)))
    assert len(drawn) == 2
    assert "icon-96.png" in more


def test_icons_that_are_kept_read_no_picture(tmp_path):
    first = icons.kept_icons(Store(tmp_path), picture("#223344"), ICONS)
    unread = Kept("#223344", lambda: pytest.fail("the picture was read"))
    assert icons.kept_icons(Store(tmp_path), unread, ICONS) == first


def test_without_a_store_that_can_be_written_icons_are_drawn_all_the_same(tmp_path):
    (tmp_path / "file").write_text("not a folder", encoding="utf-8")
    assert icons.kept_icons(Store(tmp_path / "file"), picture("#223344"), ICONS) == drawn_icons(picture("#223344").read(), ICONS)
