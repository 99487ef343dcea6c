"""How are lines and words written as SVG, small and so that a name can only ever be read as text? Lengths are mm on paper."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator
from itertools import pairwise
from typing import Final

from generator.geometry.drawing.kinds import Flat, Line
from generator.pages.drawing.paper import PlacedView
from generator.pages.marks import safe

FONT: Final = "Liberation Sans, Arial, Helvetica, sans-serif"
THICK: Final = 0.35
THIN: Final = 0.18
"""The two widths of ISO 128, one twice the other."""
TEXT: Final = 3.5
"""Size of the type: capitals of 2.5 mm (ISO 3098)."""
SMALL: Final = 2.4
_LEAST_SHARE: Final = 0.8
"""A long text is written so much smaller before it is pressed together."""

_PIECE: Final = math.radians(120)

# What XML 1.0 has no way to write.
_NO_XML: Final = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_NARROW: Final = frozenset("iljtfrI.,:;|!'()[]/ -1")
_WIDE: Final = frozenset("mwMWØ%@—×")


def width_of(text: str, size: float = TEXT) -> float:
    """What a text takes at most in the usual sans-serif types, by three widths of letters."""
    return size * sum(0.4 if each in _NARROW else 0.92 if each in _WIDE or ord(each) > 0x2E00 else 0.72 if each.isupper() else 0.6 for each in text)


def words(at: Flat, text: str, *, size: float = TEXT, anchor: str = "start", most: float | None = None, turned: bool = False, bold: bool = False) -> str:
    """One line of text on its baseline. most: it is pressed together beyond this width. turned: to be read from the right."""
    kept = _NO_XML.sub("", text)
    x, y = number(at[0]), number(at[1])
    if most is not None and width_of(kept, size) > most:
        size = max(_LEAST_SHARE * size, size * most / width_of(kept, size))
    pressed = f' textLength="{number(most)}" lengthAdjust="spacingAndGlyphs"' if most is not None and width_of(kept, size) > most else ""
    where = f'transform="translate({x} {y}) rotate(-90)"' if turned else f'x="{x}" y="{y}"'
    sized = "" if abs(size - TEXT) < 0.005 else f' font-size="{number(size)}"'
    anchored = "" if anchor == "start" else f' text-anchor="{anchor}"'
    heavy = ' font-weight="700"' if bold else ""
    return f"<text {where}{sized}{anchored}{heavy}{pressed}>{safe(kept)}</text>"


def number(value: float) -> str:
    """As short as 0.01 mm is told."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def lines(drawn: Iterable[Line], spot: PlacedView) -> str:
    """Lines of a view as the data of one path."""
    return "".join(_line(line, spot) for line in drawn)


def segments(drawn: Iterable[tuple[Flat, Flat]]) -> str:
    """Straight lines as the data of one path."""
    return "".join(f"M{number(a[0])} {number(a[1])}L{number(b[0])} {number(b[1])}" for a, b in drawn)


def _line(line: Line, spot: PlacedView) -> str:
    at = [spot.at(point) for point in line.points]
    start = f"M{number(at[0][0])} {number(at[0][1])}"
    if line.circle is None:
        return start + _corners(at)
    radius = line.circle.radius_mm * spot.scale
    clockwise = _turns_clockwise(line)
    return start + "".join(_arc(radius, at[stop], clockwise=clockwise) for stop in _stops(line))


def _corners(at: list[Flat]) -> str:
    """Relative, from each rounded corner to the next, so that no error adds up."""
    found = []
    x, y = round(at[0][0], 2), round(at[0][1], 2)
    for to_x, to_y in at[1:]:
        new_x, new_y = round(to_x, 2), round(to_y, 2)
        if (new_x, new_y) != (x, y):
            found.append(f"l{number(new_x - x)} {number(new_y - y)}")
        x, y = new_x, new_y
    return "".join(found) or "l0 0"


def _arc(radius: float, end: Flat, *, clockwise: bool) -> str:
    return f"A{number(radius)} {number(radius)} 0 0 {int(clockwise)} {number(end[0])} {number(end[1])}"


def _turns_clockwise(line: Line) -> bool:
    """As seen, on the paper as in the view."""
    return sum(_steps(line)) < 0


def _stops(line: Line) -> Iterator[int]:
    """At which corners an arc is cut, so that no piece is half a circle and each tells its own way round."""
    turned = 0.0
    for index, step in enumerate(_steps(line)):
        turned += abs(step)
        if turned > _PIECE or index == len(line.points) - 2:
            yield index + 1
            turned = 0.0


def _steps(line: Line) -> list[float]:
    """The angle from each corner to the next, seen from the centre of their circle."""
    cx, cy = line.circle.centre if line.circle else (0.0, 0.0)
    away = [(x - cx, y - cy) for x, y in line.points]
    return [_angle(one, other) for one, other in pairwise(away)]


def _angle(one: Flat, other: Flat) -> float:
    return math.atan2(one[0] * other[1] - one[1] * other[0], one[0] * other[0] + one[1] * other[1])
