"""What is there beside the reorder point, drawn: a bar for each part, a stroke at its point; what has reached it is framed.

A few far longer than all others would flatten these: the axis ends at a bound, and a longer bar ends in an arrow and its figure.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from markupsafe import Markup

from generator.pages.marks import safe
from generator.pages.plot import LETTER, LINE, WIDTH, PlotFrame, nice_step, number, path, svg, text

MOST_BARS: Final = 20
_ROW, _BAR, _TOP, _TICKS = 27.0, 15.0, 30.0, 5
_REACH: Final = 3.0
"""How far the axis goes, in times of the largest reorder point."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StockBar:
    name: str
    there: int
    point: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BarWords:
    label: str
    """All that the drawing says, for who cannot see it."""
    there: str
    point: str
    axis: str


def stock_svg(bars: Sequence[StockBar], words: BarWords) -> Markup | None:
    """The first of them, down from the top; None where there is none."""
    shown = bars[:MOST_BARS]
    if not shown:
        return None
    longest, points = max(max(bar.there, bar.point) for bar in shown), max(bar.point for bar in shown)
    top = float(max(1, min(longest, max(_REACH * points, 10.0))))
    left = 10 + LETTER * max(len(bar.name) for bar in shown)
    right = WIDTH - 16 - LETTER * min(len(str(longest)), 8)
    frame = PlotFrame(left=left, right=right, top=_TOP, bottom=_TOP + _ROW * len(shown), x=(0.0, top), y=(0.0, 1.0))
    drawn = [*_legend(left, words), *_axis(frame, top, words), *(each for at, bar in enumerate(shown) for each in _bar(bar, frame, at))]
    return svg("bars", frame.bottom + 2 * LINE + 10, words.label, drawn)


def _legend(left: float, words: BarWords) -> Iterator[str]:
    yield f'<rect class="plot__bar" x="4" y="4" width="22" height="{number(_BAR)}"/>'
    yield text(32, 4 + _BAR - 2, words.there)
    at = max(32 + LETTER * (len(words.there) + 1), left + 60)
    yield path("plot__mark", f"M{number(at)} 2V{number(_BAR + 6)}")
    yield text(at + 8, 4 + _BAR - 2, words.point)


def _axis(frame: PlotFrame, top: float, words: BarWords) -> Iterator[str]:
    step = nice_step(top, _TICKS)
    ticks = [step * at for at in range(int(top / step + 1e-9) + 1)]
    yield path("plot__grid", "".join(f"M{number(frame.at_x(tick))} {number(frame.top)}V{number(frame.bottom)}" for tick in ticks[1:]))
    yield path("plot__axis", f"M{number(frame.left)} {number(frame.top)}V{number(frame.bottom)}H{number(frame.right)}")
    yield from (text(frame.at_x(tick), frame.bottom + LINE, number(tick), anchor="middle") for tick in ticks)
    yield text(frame.right, frame.bottom + 2 * LINE, words.axis, kind="plot__title", anchor="end")


def _bar(bar: StockBar, frame: PlotFrame, at: int) -> Iterator[str]:
    middle = frame.top + _ROW * (at + 0.5)
    y, is_short, is_beyond = middle - _BAR / 2, bar.there <= bar.point, bar.there > frame.x[1]
    end = frame.at_x(min(float(bar.there), frame.x[1]))
    kind = "plot__bar plot__bar--short" if is_short else "plot__bar"
    point = frame.at_x(min(float(bar.point), frame.x[1]))
    yield text(frame.left - 6, middle + 5, bar.name, anchor="end", kind="plot__name" if is_short else "")
    told = f"{bar.name}: {bar.there} / {bar.point}"
    beyond = _BAR / 2 if is_beyond else 0.0
    shape = path(kind, f"M{number(frame.left)} {number(y)}H{number(end)}L{number(end + beyond)} {number(middle)}L{number(end)} {number(y + _BAR)}H{number(frame.left)}Z")
    mark = path("plot__mark", f"M{number(point)} {number(y - 3)}V{number(y + _BAR + 3)}")
    yield f"<g><title>{safe(told)}</title>{shape}{mark}</g>"
    yield text(max(end + beyond, point) + 5, middle + 5, str(bar.there))
