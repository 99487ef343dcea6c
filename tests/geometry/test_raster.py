"""Of very many large faces a picture shows the nearest, and costs no more than its bound."""

import numpy as np
import pytest

from generator.geometry.render import lines, raster
from generator.geometry.render.camera import View
from generator.geometry.render.picture import picture
from generator.geometry.render.raster import rasterised
from tests.geometry.solids import box, sphere, together


def anywhere(count, seed=1):
    random = np.random.default_rng(seed)
    middle = random.uniform(-20, 220, (count, 1, 3))
    return middle + random.uniform(-40, 40, (count, 3, 3)) * [1, 1, 0.1]


@pytest.fixture
def watched(monkeypatch):
    drawn = []
    before = raster._draw
    monkeypatch.setattr(raster, "_draw", lambda *a: (drawn.append(len(a[2])), before(*a))[1])
    monkeypatch.setattr(raster, "ROWS_AT_ONCE", 20_000)
    return drawn


def test_what_is_hidden_is_passed_and_the_layer_stays_as_it_was(monkeypatch, watched):
    corners = anywhere(1500)
    whole = rasterised(corners, 200, 200)
    assert sum(watched) == 1500
    watched.clear()
    monkeypatch.setattr(raster, "MANY", 0)
    nearest_first = rasterised(corners, 200, 200)
    assert (nearest_first.face == whole.face).all()
    assert (nearest_first.depth == whole.depth).all()
    assert sum(watched) < 750


def test_beyond_the_bound_what_lies_farthest_is_left_out(monkeypatch, watched):
    corners = anywhere(1500)
    whole = rasterised(corners, 200, 200)
    watched.clear()
    monkeypatch.setattr(raster, "MANY", 0)
    monkeypatch.setattr(raster, "MOST", 60_000)
    some = rasterised(corners, 200, 200)
    assert 0 < len(watched) <= 3
    shown = some.face >= 0
    assert (some.face[shown] == whole.face[shown]).mean() > 0.99
    assert shown.sum() < (whole.face >= 0).sum()


def test_of_too_many_lines_the_outline_is_drawn(monkeypatch):
    part = together(sphere(10), box(4, 4, 4, at=(15, 0, 0)))
    whole = picture(part, view=View.FRONT, size_px=(160, 120))
    monkeypatch.setattr(lines, "MOST_DOTS", 5_000)
    assert (picture(part, view=View.FRONT, size_px=(160, 120)) == whole).all()
    dots = []
    before = lines._dots
    monkeypatch.setattr(lines, "_dots", lambda *a: dots.append(before(*a)) or dots[-1])
    monkeypatch.setattr(lines, "MOST_DOTS", 200)
    assert (picture(part, view=View.FRONT, size_px=(160, 120)) != whole).any()
    assert 0 < len(dots[-1].edge) <= 300
