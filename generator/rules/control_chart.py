"""Does a process stay as it was when it began? A chart of means and ranges of subgroups, such as the coupons of each batch.

The limits rest on the first subgroups alone (the baseline), by the factors of ISO 7870-2, and every subgroup is held against
them, the baseline too: one that does not hold its own limits is none. Besides the limits one rule of runs counts: nine means
in a row on one side of the centre line (Nelson 1984, The Shewhart control chart: tests for special causes, test 2, read in
secondary sources). More rules would cry more often than a depot can look.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from math import ceil
from operator import attrgetter
from statistics import fmean
from typing import Final

from generator.rules.control_factors import CONTROL_FACTORS
from generator.rules.coupons import is_number

RUN: Final = 9
FEWEST_SUBGROUPS: Final = 5
_DEGREES: Final = 20


def baseline_for(size: int) -> int:
    """How many subgroups of a size make a baseline: five at least, and as many as give the spread 20 degrees of freedom.

    Common practice asks for 20 to 25 subgroups, which a depot's batches take years to be. With these, chance alone puts two or three of a
    hundred later subgroups outside by mean or range, where limits that are known put one (by simulation): a look each. Common
    practice, no source.
    """
    return max(FEWEST_SUBGROUPS, ceil(_DEGREES / (size - 1)))


class Control(StrEnum):
    IN_CONTROL = "in control"
    OUT_OF_CONTROL = "out of control"
    TOO_FEW = "too few"
    """No baseline yet, or nothing later to hold against it."""
    UNKNOWN = "unknown"


class Unjudged(StrEnum):
    """Why there is no judgement."""

    TOO_FEW_SUBGROUPS = "too few subgroups"
    SIZES_DIFFER = "sizes differ"
    NO_SUCH_SIZE = "no such size"
    """Not 2 to 10 values in a subgroup."""
    NO_NUMBER = "no number"
    """A value is none, or too large to be reckoned with."""
    NO_SPREAD = "no spread"
    """The values of each subgroup of the baseline are the same, as far as numbers go: how they were read, not how they spread."""


class Signal(StrEnum):
    """How a subgroup stands out."""

    MEAN_HIGH = "mean high"
    MEAN_LOW = "mean low"
    RANGE_HIGH = "range high"
    RANGE_LOW = "range low"
    """Too even to be true, or the process has become better: it is looked into as well."""
    RUN_HIGH = "run high"
    RUN_LOW = "run low"


@dataclass(frozen=True, slots=True, kw_only=True)
class Subgroup:
    name: str
    day: date
    values: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ControlLimits:
    low: float
    centre: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """A subgroup on the chart, and how it stands out."""

    name: str
    day: date
    mean: float
    range: float
    signals: tuple[Signal, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Chart:
    """The judgement, and all that a drawn chart shows; limits are None where there is no baseline or nothing is known."""

    control: Control
    unjudged: Unjudged | None = None
    """None where the chart is in or out of control."""
    size: int | None = None
    """Values in a subgroup."""
    baseline: int | None = None
    """How many of the first subgroups the limits rest on, or will."""
    mean: ControlLimits | None = None
    range: ControlLimits | None = None
    points: tuple[Point, ...] = ()
    """In the order of days; none where nothing is known."""


def control_chart(subgroups: Iterable[Subgroup], *, baseline: int | None = None) -> Chart:
    """The chart of subgroups in any order; those of one day stand as they came.

    baseline: how many of the first make the limits, else `baseline_for` their size. Raises ValueError for fewer than five.
    """
    if baseline is not None and baseline < FEWEST_SUBGROUPS:
        raise ValueError(f"a baseline of {baseline} subgroups is none")
    every = sorted(subgroups, key=attrgetter("day"))
    if not every:
        return Chart(control=Control.TOO_FEW, unjudged=Unjudged.TOO_FEW_SUBGROUPS)
    if doubt := _doubt(every):
        return Chart(control=Control.UNKNOWN, unjudged=doubt)
    size, points = len(every[0].values), tuple(_points(every))
    needed = baseline or baseline_for(size)
    if len(points) < needed:
        return Chart(control=Control.TOO_FEW, unjudged=Unjudged.TOO_FEW_SUBGROUPS, size=size, baseline=needed, points=points)
    return _judged(points, size, needed)


def _judged(points: tuple[Point, ...], size: int, baseline: int) -> Chart:
    mean, spread = _limits(points[:baseline], size)
    if not mean.low < mean.centre < mean.high:
        return Chart(control=Control.UNKNOWN, unjudged=Unjudged.NO_SPREAD)
    told = tuple(_told(points, mean, spread))
    if any(point.signals for point in told):
        control, unjudged = Control.OUT_OF_CONTROL, None
    elif len(points) == baseline:
        control, unjudged = Control.TOO_FEW, Unjudged.TOO_FEW_SUBGROUPS
    else:
        control, unjudged = Control.IN_CONTROL, None
    return Chart(control=control, unjudged=unjudged, size=size, baseline=baseline, mean=mean, range=spread, points=told)


def _points(subgroups: Sequence[Subgroup]) -> Iterator[Point]:
    for each in subgroups:
        yield Point(name=each.name, day=each.day, mean=fmean(each.values), range=max(each.values) - min(each.values))


def _doubt(subgroups: Sequence[Subgroup]) -> Unjudged | None:
    sizes = {len(each.values) for each in subgroups}
    if len(sizes) > 1:
        return Unjudged.SIZES_DIFFER
    if not sizes <= CONTROL_FACTORS.rows.keys():
        return Unjudged.NO_SUCH_SIZE
    return None if all(is_number(value) for each in subgroups for value in each.values) else Unjudged.NO_NUMBER


def _limits(points: Sequence[Point], size: int) -> tuple[ControlLimits, ControlLimits]:
    """Of means and of ranges, three standard deviations either way."""
    centre, spread = fmean(point.mean for point in points), fmean(point.range for point in points)
    by = CONTROL_FACTORS.rows[size]
    return (
        ControlLimits(low=centre - by.a2 * spread, centre=centre, high=centre + by.a2 * spread),
        ControlLimits(low=by.d3 * spread, centre=spread, high=by.d4 * spread),
    )


def _told(points: Sequence[Point], mean: ControlLimits, spread: ControlLimits) -> Iterator[Point]:
    run = 0  # how many in a row lie above the centre line, or below nothing: below it
    for point in points:
        side = (point.mean > mean.centre) - (point.mean < mean.centre)
        run = run + side if run * side > 0 else side
        found = (
            (point.mean > mean.high, Signal.MEAN_HIGH), (point.mean < mean.low, Signal.MEAN_LOW),
            (point.range > spread.high, Signal.RANGE_HIGH), (point.range < spread.low, Signal.RANGE_LOW),
            (run >= RUN, Signal.RUN_HIGH), (run <= -RUN, Signal.RUN_LOW),
        )  # fmt: skip
        signals = tuple(signal for out, signal in found if out)
        yield Point(name=point.name, day=point.day, mean=point.mean, range=point.range, signals=signals)
