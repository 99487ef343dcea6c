"""The share of pieces that still holds, by their age, drawn: one kind or two, with bounds, and how many are left below.

The two kinds differ by more than a colour: ours is a full line on a filled band, the other a dashed line between dotted ones. The axis
of shares begins at nothing and ends at all, so that no difference looks larger than it is.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from markupsafe import Markup

from generator.pages.plot import LETTER, LINE, WIDTH, PlotFrame, across, nice_step, number, path, svg, text
from generator.planning.holding.curve import Curve, CurveStep
from generator.planning.holding.rate import DAYS_A_YEAR

_LEFT, _RIGHT, _TOP, _BOTTOM = 4 * LETTER + 6, WIDTH - 14, 36.0, 250.0
_MONTH: Final = DAYS_A_YEAR / 12
_MONTHS_TO_3_YEARS: Final = 36
_MONTH_STEPS: Final = (1, 2, 3, 6)
_MOST_STEPS: Final = 6
_SHARES: Final = (0, 25, 50, 75, 100)
_TICK: Final = 6.0
_APART: Final = 5.0
"""Ticks nearer than this would hide the line."""
_KINDS: Final = ("ours", "theirs")


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedCurve:
    """A kind of pieces and what it is called, with its counts if they are to be read, such as "printed: 24 pieces, 5 failed"."""

    name: str
    curve: Curve


@dataclass(frozen=True, slots=True, kw_only=True)
class CurveWords:
    label: str
    """All that the drawing says, for who cannot see it."""
    share: str
    """Above the axis, such as "still holding, %"."""
    months: str
    years: str
    """Below the axis, such as "months in use"."""
    at_risk: str
    """Above the counts, such as "pieces that were in use so long"."""


def curve_svg(groups: Sequence[NamedCurve], words: CurveWords) -> Markup | None:
    """The drawing of one kind or two, ours first; None without pieces that were in use. ValueError for more kinds."""
    if not 1 <= len(groups) <= len(_KINDS):
        raise ValueError(f"{len(groups)} kinds of pieces are not drawn beside each other")
    longest = max(group.curve.longest for group in groups)
    if not longest:
        return None
    unit, ticks = _ticks(longest)
    frame = PlotFrame(left=_LEFT, right=_RIGHT, top=_TOP, bottom=_BOTTOM, x=(0.0, ticks[-1] * unit), y=(0.0, 100.0))
    shown = list(zip(_KINDS, groups, strict=False))
    below = _BOTTOM + 2 * LINE + 10
    inside = [
        *_axes(frame, unit, ticks, words),
        *(path(f"plot__band plot__band--{kind}", _band(group.curve, frame)) for kind, group in shown),
        *(path(f"plot__line plot__line--{kind}", _line(group.curve, frame)) for kind, group in reversed(shown)),
        *(path(f"plot__cut-off plot__cut-off--{kind}", _cut_off(group.curve, frame)) for kind, group in shown),
        text(4, below + LINE - 4, words.at_risk, kind="plot__title"),
        *(part for at, (kind, group) in enumerate(shown) for part in _counts(kind, group, frame, [tick * unit for tick in ticks], below + (2 * at + 2) * LINE)),
    ]
    return svg("holding", below + (2 * len(shown) + 1) * LINE + 8, words.label, inside)


def _ticks(longest: float) -> tuple[float, list[int]]:
    """Days of a month or a year, and at which numbers of them the axis has ticks, from nothing to all there is."""
    months = longest / _MONTH
    if months <= _MONTHS_TO_3_YEARS:
        unit, step = _MONTH, next(each for each in _MONTH_STEPS if months <= each * _MOST_STEPS + 1e-9)
    else:
        unit, step = DAYS_A_YEAR, int(nice_step(longest / DAYS_A_YEAR, _MOST_STEPS))
    count = 1
    while count * step * unit < longest * (1 - 1e-9):
        count += 1
    return unit, [step * at for at in range(count + 1)]


def _axes(frame: PlotFrame, unit: float, ticks: Sequence[int], words: CurveWords) -> Iterator[str]:
    yield path("plot__grid", "".join(across(frame.left, frame.right, frame.at_y(share)) for share in _SHARES[1:]))
    stubs = "".join(f"M{number(frame.at_x(tick * unit))} {number(frame.bottom)}v5" for tick in ticks)
    yield path("plot__axis", across(frame.left, frame.right, frame.bottom) + stubs)
    yield text(4, frame.top - 16, words.share, kind="plot__title")
    yield from (text(frame.left - 6, frame.at_y(share) + 5, str(share), anchor="end") for share in _SHARES)
    yield from (text(frame.at_x(tick * unit), frame.bottom + LINE, str(tick), anchor="middle") for tick in ticks)
    yield text(frame.right, frame.bottom + 2 * LINE, words.months if unit == _MONTH else words.years, kind="plot__title", anchor="end")


def _line(curve: Curve, frame: PlotFrame) -> str:
    """From all, down at each failure, to the day of the last piece."""
    data = f"M{number(frame.left)} {number(frame.at_y(100))}"
    for step in _told(curve, frame):
        data += f"H{number(frame.at_x(step.days))}V{number(frame.at_y(100 * step.share))}"
    return data + f"H{number(frame.at_x(curve.longest))}"


def _band(curve: Curve, frame: PlotFrame) -> str:
    """From the first failure on, out along the upper bound and back along the lower."""
    told = _told(curve, frame)
    ends = [*(step.days for step in told), curve.longest][1:]
    rooms = [
        (frame.at_x(step.days), frame.at_x(end), frame.at_y(100 * step.low), frame.at_y(100 * step.high))
        for step, end in zip(told, ends, strict=True)
        if step.low is not None and step.high is not None
    ]
    if not rooms:
        return ""
    out = "".join(f"V{number(high)}H{number(end)}" for _, end, _, high in rooms)
    back = "".join(f"V{number(low)}H{number(start)}" for start, _, low, _ in reversed(rooms))
    return f"M{number(rooms[0][0])} {number(rooms[0][3])}{out}{back}Z"


def _told(curve: Curve, frame: PlotFrame) -> list[CurveStep]:
    """The steps that can be told apart: of those within a unit of the drawing the last."""
    places = [round(frame.at_x(step.days)) for step in curve.steps]
    return [step for step, (here, following) in zip(curve.steps, pairwise([*places, -1]), strict=True) if here != following]


def _cut_off(curve: Curve, frame: PlotFrame) -> str:
    """A tick on the line where pieces left it without a failure; of those that crowd, the last."""
    places = {round(frame.at_x(days) / _APART): days for days, _ in curve.cut_off}
    return "".join(f"M{number(frame.at_x(days))} {number(frame.at_y(100 * curve.share(days)) - _TICK)}v{number(2 * _TICK)}" for days in places.values())


def _counts(kind: str, group: NamedCurve, frame: PlotFrame, days: Sequence[float], y: float) -> Iterator[str]:
    """The line's look with its name, and below the ticks how many pieces were in use just before."""
    yield path(f"plot__line plot__line--{kind}", across(4, 34, y - 5))
    yield text(42, y, group.name, kind="plot__name")
    yield from (text(frame.at_x(at), y + LINE, str(group.curve.at_risk(at)), anchor="middle") for at in days)
