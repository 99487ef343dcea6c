"""How are the pictures of several parts drawn at one scale, so that a large part looks large beside a small one?"""

from collections.abc import Iterable
from dataclasses import dataclass

from generator.geometry.measured import Pictures
from generator.pages.wording import Wording

FRAME_PX = (640, 480)
"""The size of a front picture, and of the frame that a picture at the common scale is placed in."""
LEAST_SHARE = 0.2
"""A picture is never drawn smaller than this share of the frame: what is a dot is not recognised."""
LONGEST_RULER = 0.45  # of the frame's width
RULERS_MM = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000)


@dataclass(frozen=True, slots=True, kw_only=True)
class TrueSize:
    """Where a picture lies in its frame, and the ruler beneath it: all in px of the frame.

    enlarged: says by how much the picture is larger than the common scale would have it; None where it keeps to it.
    """

    href: str
    x: str
    y: str
    width: str
    height: str
    ruler_width: str
    ruler: str
    enlarged: str | None


@dataclass(frozen=True, slots=True)
class CommonScale:
    """One scale for several pictures: the part that needs most room fills its frame."""

    mm_per_px: float

    @classmethod
    def of(cls, pictures: Iterable[Pictures]) -> "CommonScale | None":
        """The scale for these pictures; None where there are none."""
        largest = max((each.front_mm_per_px for each in pictures), default=None)
        return None if largest is None else cls(largest)

    @property
    def ruler_mm(self) -> int:
        """The length of the ruler: the longest of 1, 2, 5, 10 … mm that takes less than half of the frame."""
        room = LONGEST_RULER * FRAME_PX[0] * self.mm_per_px
        return max((each for each in RULERS_MM if each <= room), default=RULERS_MM[0])

    def placed(self, picture: Pictures, href: str, w: Wording) -> TrueSize:
        """A front picture of 640 × 480 px at this scale, in the middle of its frame."""
        share = picture.front_mm_per_px / self.mm_per_px
        drawn = max(share, LEAST_SHARE)
        width, height = (side * drawn for side in FRAME_PX)
        return TrueSize(
            href=href,
            x=_plain((FRAME_PX[0] - width) / 2),
            y=_plain((FRAME_PX[1] - height) / 2),
            width=_plain(width),
            height=_plain(height),
            ruler_width=_plain(self.ruler_mm / self.mm_per_px),
            ruler=f"{w.number(self.ruler_mm)} mm",
            enlarged=w("true_size.enlarged", times=w.measure(drawn / share)) if drawn > share else None,
        )


def _plain(length_px: float) -> str:
    return f"{length_px:.1f}"
