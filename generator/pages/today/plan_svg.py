"""What gets done by when, drawn: a row for each task, with a bar from the day on which it is begun to the day on which it is done."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from markupsafe import Markup

from generator.pages.marks import safe
from generator.pages.plot import LETTER, LINE, WIDTH, PlotFrame, across, nice_step, number, path, svg, text

MOST_WEEKS: Final = 13
"""Farther than a quarter of a year nobody plans tasks of an hour (common practice, no source)."""
_TOP, _MOST_STEPS, _LEAST = 34.0, 6, 2.0
_BAR: Final = 12.0
_ROW: Final = 17.0
"""Of a task: many stand one below the other, and their names have no letter that hangs low."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskBar:
    """A task: its place in the table, a short name, and its weeks from now."""

    name: str
    begins: float
    ends: float
    is_pressing: bool
    told: str
    """What the bar says where one points at it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanWords:
    label: str
    """All that the drawing says, for who cannot see it."""
    weeks: str
    """Such as "weeks from 28 Nov 2026"."""
    pressing: str
    """What the mark of such a bar means."""


def plan_svg(bars: Sequence[TaskBar], words: PlanWords) -> Markup | None:
    """The drawing of what is done within MOST_WEEKS; None of nothing."""
    shown = [bar for bar in bars if bar.ends <= MOST_WEEKS]
    if not shown:
        return None
    left = 12 + LETTER * max(len(bar.name) for bar in shown)
    step = nice_step(shown[-1].ends, _MOST_STEPS)
    last = step * max(1, -(-shown[-1].ends // step))
    bottom = _TOP + _ROW * len(shown)
    frame = PlotFrame(left=left, right=WIDTH - 14, top=_TOP, bottom=bottom, x=(0.0, last), y=(0.0, 1.0))
    rows = (part for at, bar in enumerate(shown) for part in _row(bar, _TOP + _ROW * at, frame))
    pressing = any(bar.is_pressing for bar in shown)
    legend = _legend(words, bottom + 2 * LINE + 8) if pressing else ()
    return svg("plan", bottom + (3 if pressing else 1) * LINE + 8, words.label, [*_axes(frame, step, last, words), *rows, *legend])


def _axes(frame: PlotFrame, step: float, last: float, words: PlanWords) -> Iterator[str]:
    ticks = [step * at for at in range(round(last / step) + 1)]
    yield text(4, frame.top - 16, words.weeks, kind="plot__title")
    yield path("plot__grid", "".join(f"M{number(frame.at_x(tick))} {number(frame.top)}V{number(frame.bottom)}" for tick in ticks[1:]))
    yield path("plot__axis", f"M{number(frame.left)} {number(frame.top)}V{number(frame.bottom)}" + across(frame.left, frame.right, frame.bottom))
    yield from (text(frame.at_x(tick), frame.bottom + LINE - 4, number(tick), anchor="middle") for tick in ticks)


def _row(bar: TaskBar, top: float, frame: PlotFrame) -> Iterator[str]:
    yield text(frame.left - 6, top + _ROW - 4, bar.name, anchor="end")
    x = frame.at_x(bar.begins)
    width = max(frame.at_x(bar.ends) - x, _LEAST)
    yield _bar(x, top + (_ROW - _BAR) / 2, width, is_pressing=bar.is_pressing, told=bar.told)


def _bar(x: float, y: float, width: float, *, is_pressing: bool, told: str = "") -> str:
    """What presses differs by its outline as well as by its fill."""
    kind = "plot__task plot__task--pressing" if is_pressing else "plot__task"
    title = f"<title>{safe(told)}</title>" if told else ""
    return f'<rect class="{kind}" x="{number(x)}" y="{number(y)}" width="{number(width)}" height="{number(_BAR)}">{title}</rect>'


def _legend(words: PlanWords, y: float) -> Iterator[str]:
    yield _bar(4, y - _BAR + 2, 26, is_pressing=True)
    yield text(38, y, words.pressing)
