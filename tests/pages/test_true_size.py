"""On the page of a place all pictures have one scale, and what had to be drawn larger says so."""

from dataclasses import replace

import pytest

from generator.pages.true_size import FRAME_PX, LEAST_SHARE, CommonScale
from generator.pages.wording import wording
from tests.pages.sample import WORKED

W = wording("en")


def picture(mm_per_px):
    assert WORKED.pictures
    return replace(WORKED.pictures, front_scale=lambda: mm_per_px)


def placed(all_of, one):
    scale = CommonScale.of(map(picture, all_of))
    assert scale
    return scale.placed(picture(one), "x.webp", W)


def test_the_part_that_needs_most_room_fills_its_frame():
    largest = placed([0.1, 0.4, 0.2], 0.4)
    assert (largest.x, largest.y, largest.width, largest.height) == ("0.0", "0.0", "640.0", "480.0")


def test_lengths_on_the_screen_are_as_lengths_of_the_parts():
    """60 mm at 0.1 mm a pixel are 600 px of its own picture, and 150 px beside a part at 0.4 mm a pixel."""
    small = placed([0.1, 0.4], 0.1)
    shown = 60 / 0.1 * float(small.width) / FRAME_PX[0]
    assert shown == pytest.approx(60 / 0.4)
    assert float(small.x) + float(small.width) / 2 == pytest.approx(FRAME_PX[0] / 2)
    assert float(small.y) + float(small.height) / 2 == pytest.approx(FRAME_PX[1] / 2)
    assert small.enlarged is None


def test_what_would_be_a_dot_stays_recognisable_and_says_so():
    dot = placed([0.04, 1.0], 0.04)
    assert float(dot.width) == pytest.approx(LEAST_SHARE * FRAME_PX[0])
    assert dot.enlarged == "Too small to be seen at this scale: drawn 5 times as large"


@pytest.mark.parametrize(
    ("mm_per_px", "ruler"), [(0.076, "20 mm"), (0.343, "50 mm"), (2.0, "500 mm"), (0.001, "1 mm")]
)
def test_the_ruler_has_a_round_length_and_the_scale_of_the_pictures(mm_per_px, ruler):
    shown = placed([mm_per_px], mm_per_px)
    assert shown.ruler == ruler
    assert float(shown.ruler_width) * mm_per_px == pytest.approx(float(ruler.split()[0]), rel=0.01)


def test_without_pictures_there_is_no_scale():
    assert CommonScale.of([]) is None
