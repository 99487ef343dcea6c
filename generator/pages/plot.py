"""What drawn curves and charts share: their frame, their ticks, and words that can only ever be read as text.

Lengths are units of the viewBox, whose width is that of the narrowest screen and more; how large the type is in them, and every
colour, is said by site_src/assets/css/plots.css, for a page may have no style of its own.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import floor, log10
from typing import Final

from markupsafe import Markup

from generator.pages.marks import safe

WIDTH: Final = 480.0
LETTER: Final = 9.5
"""What a figure or letter takes at most, at the largest type (17 units)."""
LINE: Final = 21.0
"""From one line of text to the next, at the largest type."""
_NICE: Final = (1.0, 2.0, 5.0, 10.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlotFrame:
    """A field of the drawing, and which values lie at its edges."""

    left: float
    right: float
    top: float
    bottom: float
    x: tuple[float, float]
    y: tuple[float, float]

    def at_x(self, value: float) -> float:
        low, high = self.x
        return self.left + (value - low) / (high - low) * (self.right - self.left)

    def at_y(self, value: float) -> float:
        low, high = self.y
        return self.bottom - (value - low) / (high - low) * (self.bottom - self.top)


def nice_step(longest: float, most: int) -> float:
    """The least of 1, 2, 5 and their tenfolds, 1 and more, that reaches `longest` in so many steps."""
    wanted = max(longest / most, 1.0)
    power = 10.0 ** floor(log10(wanted))
    return next(step * power for step in _NICE if step * power >= wanted * (1 - 1e-9))


def svg(kind: str, height: float, label: str, inside: Iterable[str]) -> Markup:
    """The drawing in a figure of its own, on one line, so that Markdown leaves it alone."""
    drawn = f'<svg class="plot__drawing" viewBox="0 0 {number(WIDTH)} {number(height)}" role="img" aria-label="{safe(label)}">{"".join(inside)}</svg>'
    return Markup(f'<figure class="plot plot--{kind}">{drawn}</figure>')  # noqa: S704  every text in it went through `safe`


def text(x: float, y: float, said: str, *, kind: str = "", anchor: str = "start") -> str:
    """A line of text on its baseline; kind: its class beside that of all."""
    classes = f' class="{kind}"' if kind else ""
    anchored = "" if anchor == "start" else f' text-anchor="{anchor}"'
    return f'<text x="{number(x)}" y="{number(y)}"{classes}{anchored}>{safe(said)}</text>'


def path(kind: str, data: str) -> str:
    return f'<path class="{kind}" d="{data}"/>' if data else ""


def across(x: float, to: float, y: float) -> str:
    """A level line as the data of a path."""
    return f"M{number(x)} {number(y)}H{number(to)}"


def number(value: float) -> str:
    shown = f"{value:.1f}".removesuffix(".0")
    return "0" if shown == "-0" else shown
