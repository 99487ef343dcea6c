"""How do several pictures look beside each other at one scale, each with its name?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Final

import numpy as np
from PIL import Image, ImageDraw

__all__ = ["Shown", "side_by_side"]

_FRAME: Final = (640, 480)
_ACROSS, _GAP, _FOOT = 2, 12, 40
_GROUND, _INK = "#f4f7fa", "#1d2733"
_ROOM: Final = 0.45  # of a frame, for the ruler
_RULERS_MM: Final = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A picture as it is kept, how many millimetres one pixel of it shows, and what stands beneath it."""

    picture: bytes
    mm_per_px: float
    name: str


def side_by_side(shown: Sequence[Shown]) -> bytes:
    """A PNG, two pictures in a row, a ruler beneath each; the same bytes on every run. Raises ValueError for none."""
    if not shown:
        raise ValueError("nothing to show")
    scale = max(each.mm_per_px for each in shown)
    wide, high = _FRAME[0] + _GAP, _FRAME[1] + _FOOT + _GAP
    rows = -(-len(shown) // _ACROSS)
    sheet = Image.new("RGB", (min(len(shown), _ACROSS) * wide + _GAP, rows * high + _GAP), "white")
    for at, each in enumerate(shown):
        x, y = _GAP + at % _ACROSS * wide, _GAP + at // _ACROSS * high
        sheet.paste(_framed(each, scale), (x, y))
    written = BytesIO()
    sheet.save(written, "PNG")
    return written.getvalue()


def _framed(shown: Shown, mm_per_px: float) -> Image.Image:
    frame = Image.new("RGB", (_FRAME[0], _FRAME[1] + _FOOT), _GROUND)
    with Image.open(BytesIO(shown.picture)) as own:
        share = shown.mm_per_px / mm_per_px
        width, height = (max(1, round(side * share)) for side in own.size)
        small = own.convert("RGB").resize((width, height), Image.Resampling.LANCZOS)
    if share < 1:  # the ground of a picture is its own: a frame of one colour shows no edge about it
        frame.paste(tuple(np.asarray(small)[0, 0].tolist()), (0, 0, _FRAME[0], _FRAME[1]))
    frame.paste(small, ((_FRAME[0] - width) // 2, (_FRAME[1] - height) // 2))
    drawn = ImageDraw.Draw(frame)
    length = max((each for each in _RULERS_MM if each <= _ROOM * _FRAME[0] * mm_per_px), default=_RULERS_MM[0])
    left, base = 12, _FRAME[1] + 12
    right = left + round(length / mm_per_px)
    drawn.line([(left, base), (right, base)], fill=_INK, width=2)
    for end in (left, right):
        drawn.line([(end, base - 5), (end, base + 5)], fill=_INK, width=2)
    drawn.text((right + 8, base - 8), f"{length} mm", fill=_INK, font_size=16)
    drawn.text((left, base + 8), shown.name, fill=_INK, font_size=16)
    return frame
