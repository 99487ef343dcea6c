"""A chart of means and ranges, drawn: each subgroup in its turn, the limits, and what stands out marked by its shape.

What lies far beyond a limit is drawn as an arrow at the edge of the field, so that one wild subgroup does not flatten the others.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import inf
from typing import Final

from markupsafe import Markup

from generator.pages.marks import safe
from generator.pages.plot import LETTER, LINE, WIDTH, PlotFrame, across, number, path, svg, text
from generator.rules.control_chart import Chart, ControlLimits, Point, Signal

_RIGHT, _TOP, _HEIGHT, _APART = WIDTH - 14, 36.0, 130.0, 52.0
_FARTHEST: Final = 2.0
"""How far the field reaches, in distances of the limits from the centre line."""
_ROOM: Final = 1.3
_BEYOND: Final = frozenset({Signal.MEAN_HIGH, Signal.MEAN_LOW, Signal.RANGE_HIGH, Signal.RANGE_LOW})
_OF_MEANS: Final = frozenset({Signal.MEAN_HIGH, Signal.MEAN_LOW, Signal.RUN_HIGH, Signal.RUN_LOW})
_OF_RANGES: Final = frozenset({Signal.RANGE_HIGH, Signal.RANGE_LOW})
_DOT, _MARK = 4.0, 8.0
_GAP, _BOLD_GAP = 12.0, 7.0  # between two numbers below; bold ones are wider than LETTER and may stand closer


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartWords:
    label: str
    """All that the drawing says, for who cannot see it."""
    mean: str
    range: str
    """Above the two fields, with the unit, such as "mean of a batch, MPa"."""
    order: str
    """Below, such as "batches in the order of their days"."""
    baseline: str
    """Such as "limits from these"."""
    figure: Callable[[float], str]
    """A value of the measured quantity as it is written."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Field:
    """One of the two fields: its values, limits and signals."""

    title: str
    values: tuple[float, ...]
    limits: ControlLimits | None
    signals: tuple[frozenset[Signal], ...]
    least: float = -inf
    """Below it no value can be."""

    def reach(self) -> tuple[float, float]:
        """The values at the lower and the upper edge."""
        low, high = min(self.values), max(self.values)
        if self.limits is None:
            room = (high - low) / 4 or abs(high) / 10 or 1.0
            return max(low - room, self.least), high + room
        centre, below, above = self.limits.centre, self.limits.centre - self.limits.low, self.limits.high - self.limits.centre
        return (
            max(centre - min(max(_ROOM * below, centre - low), _FARTHEST * below), self.least),
            centre + min(max(_ROOM * above, high - centre), _FARTHEST * above),
        )

    def levels(self) -> tuple[float, ...]:
        """Where a value is written beside the field."""
        if self.limits is None:
            return tuple(sorted({min(self.values), max(self.values)}))
        return (self.limits.low, self.limits.centre, self.limits.high)


def chart_svg(chart: Chart, words: ChartWords) -> Markup | None:
    """The drawing; without limits where there are none yet, None where nothing is known."""
    if not chart.points:
        return None
    fields = (
        _field(words.mean, [point.mean for point in chart.points], chart.mean, chart.points, _OF_MEANS),
        _field(words.range, [point.range for point in chart.points], chart.range, chart.points, _OF_RANGES, least=0.0),
    )
    left = 12 + LETTER * max(len(words.figure(level)) for field in fields for level in field.levels())
    frames = [
        PlotFrame(left=left, right=_RIGHT, top=_TOP + at * (_HEIGHT + _APART), bottom=_TOP + at * (_HEIGHT + _APART) + _HEIGHT,
              x=(0.5, max(len(chart.points), 5) + 0.5), y=field.reach())
        for at, field in enumerate(fields)
    ]  # fmt: skip
    drawn = (part for field, frame in zip(fields, frames, strict=True) for part in _drawn(field, frame, chart, words))
    return svg("chart", frames[-1].bottom + 3 * LINE + 22, words.label, [*drawn, *_below(chart, frames[-1], words)])


def _field(title: str, values: Sequence[float], limits: ControlLimits | None, points: Sequence[Point], own: frozenset[Signal], *, least: float = -inf) -> _Field:
    return _Field(title=title, least=least, values=tuple(values), limits=limits, signals=tuple(own.intersection(point.signals) for point in points))


def _drawn(field: _Field, frame: PlotFrame, chart: Chart, words: ChartWords) -> Iterator[str]:
    yield text(4, frame.top - 14, field.title, kind="plot__title")
    if chart.baseline and field.limits:
        width = frame.at_x(chart.baseline + 0.5) - frame.left
        yield f'<rect class="plot__baseline" x="{number(frame.left)}" y="{number(frame.top)}" width="{number(width)}" height="{number(frame.bottom - frame.top)}"/>'
    yield path("plot__axis", f"M{number(frame.left)} {number(frame.top)}V{number(frame.bottom)}H{number(frame.right)}")
    if field.limits:
        yield path("plot__centre", across(frame.left, frame.right, frame.at_y(field.limits.centre)))
        yield path("plot__limit", "".join(across(frame.left, frame.right, frame.at_y(each)) for each in (field.limits.low, field.limits.high) if each > field.least))
    yield from (text(frame.left - 6, frame.at_y(level) + 5, words.figure(level), anchor="end") for level in field.levels())
    spots = [(frame.at_x(at + 1), _inside(value, frame)) for at, value in enumerate(field.values)]
    yield path("plot__way", "M" + "L".join(f"{number(x)} {number(y)}" for x, y in spots))
    for (x, y), value, signals, point in zip(spots, field.values, field.signals, chart.points, strict=True):
        yield _marked(x, y, _beyond(value, frame), signals, apart=frame.at_x(2) - frame.at_x(1), told=f"{point.name}: {words.figure(value)}")


def _inside(value: float, frame: PlotFrame) -> float:
    return min(max(frame.at_y(value), frame.top), frame.bottom)


def _beyond(value: float, frame: PlotFrame) -> int:
    """1 above the field, -1 below, 0 in it."""
    low, high = frame.y
    slack = 1e-9 * (high - low)
    return (value > high + slack) - (value < low - slack)


def _marked(x: float, y: float, beyond: int, signals: frozenset[Signal], *, apart: float, told: str) -> str:
    """A dot; a filled diamond beyond a limit, an arrow beyond the field; a ring from the ninth of a run on."""
    dot, ring = min(_DOT, 0.35 * apart), min(_MARK, max(0.5 * apart, _DOT))
    if beyond:
        kind, data = "out", f"M{number(x)} {number(y - beyond * _MARK)}l{number(_MARK)} {number(beyond * 2 * _MARK)}h{number(-2 * _MARK)}Z"
    elif signals & _BEYOND:
        kind, data = "out", f"M{number(x)} {number(y - _MARK)}l{_MARK:g} {_MARK:g}l{-_MARK:g} {_MARK:g}l{-_MARK:g} {-_MARK:g}Z"
    else:
        kind, data = ("run" if signals else "dot"), _circle(x, y, ring if signals else dot)
    inner = path("plot__dot", _circle(x, y, dot)) if kind == "run" else ""
    return f'<g><title>{safe(told)}</title>{path(f"plot__{kind}", data)}{inner}</g>'


def _circle(x: float, y: float, radius: float) -> str:
    r, across_it = number(radius), number(2 * radius)
    return f"M{number(x - radius)} {number(y)}a{r} {r} 0 1 0 {across_it} 0a{r} {r} 0 1 0 -{across_it} 0Z"


def _below(chart: Chart, frame: PlotFrame, words: ChartWords) -> Iterator[str]:
    """Which subgroup is which: as many by their number as find room, first of all those that stand out, in bold; and from which the limits come."""
    out = [at for at, point in enumerate(chart.points, 1) if point.signals]
    shown: list[int] = []
    for at in [*out, 1, len(chart.points), *range(1, len(chart.points))]:
        gap = _BOLD_GAP if at in out else _GAP
        if all(abs(frame.at_x(at) - frame.at_x(other)) >= LETTER * (len(str(at)) + len(str(other))) / 2 + gap for other in shown):
            shown.append(at)
    for at in sorted(shown):
        yield text(frame.at_x(at), frame.bottom + LINE, str(at), anchor="middle", kind="plot__name" if at in out else "")
    if chart.baseline and chart.mean:
        end = frame.at_x(min(chart.baseline, len(chart.points)) + 0.5)
        yield path("plot__from", f"M{number(frame.left)} {number(frame.bottom + LINE + 7)}v5H{number(end)}v-5")
        yield text(frame.left, frame.bottom + 2 * LINE + 12, words.baseline)
    yield text(frame.right, frame.bottom + 3 * LINE + 14, words.order, kind="plot__title", anchor="end")
