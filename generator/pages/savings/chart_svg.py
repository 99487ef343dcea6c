"""What was saved month by month, drawn: a column for each, upwards or, of a loss, downwards and framed."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import ceil, floor
from typing import Final

from markupsafe import Markup

from generator.pages.marks import safe
from generator.pages.plot import LETTER, LINE, WIDTH, PlotFrame, across, nice_step, number, path, svg, text

MOST_COLUMNS: Final = 24
_TOP, _HEIGHT, _TICKS = 30.0, 170.0, 5
_GAP: Final = 14.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SavingsColumn:
    name: str
    """The month, as short as it goes below its column."""
    told: str
    amount: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class ColumnWords:
    label: str
    axis: str
    """Above the field, with the currency."""
    figure: Callable[[float], str]


def savings_svg(columns: Sequence[SavingsColumn], words: ColumnWords) -> Markup | None:
    """The newest of them, from left to right; None where there is none."""
    shown = columns[-MOST_COLUMNS:]
    if not shown:
        return None
    high, low = max(0.0, *(float(each.amount) for each in shown)), min(0.0, *(float(each.amount) for each in shown))
    step = nice_step(high - low or 1.0, _TICKS)
    y = (floor(low / step) * step, max(ceil(high / step), 0 if low else 1) * step)
    ticks = [y[0] + step * at for at in range(round((y[1] - y[0]) / step) + 1)]
    left = 12 + LETTER * min(max(len(words.figure(tick)) for tick in ticks), 16)
    frame = PlotFrame(left=left, right=WIDTH - 6, top=_TOP, bottom=_TOP + _HEIGHT, x=(0.0, float(len(shown))), y=y)
    drawn = [*_axis(frame, ticks, words), *(_column(each, frame, at) for at, each in enumerate(shown)), *_names(shown, frame)]
    return svg("columns", frame.bottom + LINE + 10, words.label, drawn)


def _axis(frame: PlotFrame, ticks: Sequence[float], words: ColumnWords) -> Iterator[str]:
    yield text(4, 16, words.axis, kind="plot__title")
    yield path("plot__grid", "".join(across(frame.left, frame.right, frame.at_y(tick)) for tick in ticks if tick))
    yield from (text(frame.left - 6, frame.at_y(tick) + 5, words.figure(tick), anchor="end") for tick in ticks)
    yield path("plot__axis", across(frame.left, frame.right, frame.at_y(0.0)))


def _column(each: SavingsColumn, frame: PlotFrame, at: int) -> str:
    wide = frame.at_x(1) - frame.at_x(0)
    x, end, zero = frame.at_x(at) + 0.15 * wide, frame.at_y(float(each.amount)), frame.at_y(0.0)
    kind = "plot__bar plot__bar--short" if each.amount < 0 else "plot__bar"
    shape = path(kind, f"M{number(x)} {number(zero)}V{number(end)}H{number(x + 0.7 * wide)}V{number(zero)}Z")
    return f"<g><title>{safe(each.told)}</title>{shape}</g>"


def _names(shown: Sequence[SavingsColumn], frame: PlotFrame) -> Iterator[str]:
    """Below the columns as many as find room, from the newest back."""
    taken = frame.right + _GAP
    for at in reversed(range(len(shown))):
        middle, half = frame.at_x(at + 0.5), LETTER * len(shown[at].name) / 2
        if middle + half + _GAP <= taken and middle - half >= 0:
            taken = middle - half
            yield text(middle, frame.bottom + LINE, shown[at].name, anchor="middle")
