"""How long does a print take, and how much material? A model of four terms, fitted to what was printed here.

    minutes = start + a · shell + b · core + c · layers
    grams   = k · density · (shell + core of the part) + s · density · support as drawn solid

shell: cm³ of solid walls, min(V, wall × area), all of it where the part is printed solid; core: cm³ laid inside of it, infill
share × (V − shell), and as support, a share of its volume; both times the number of pieces. layers: height / layer, once for
pieces side by side. All coefficients are nothing or more and make the *relative* errors least (each run weighs the same, not
each minute); the error that is told is the root mean square of each run foretold by all others (leave-one-out). The range is
twice that either way, a tenth at least. Below six runs of a process with its geometry at hand the model is a guess, and the
range of the time half to twice. Common practice, no source: both models, the guesses and the share of support.

Pure: runs in, model out, so that other records of prints can feed the same.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import ceil
from typing import Final

from generator.geometry.printing.score import SUPPORT_SHARE
from generator.planning.least_squares import left_out_errors, non_negative, root_mean_square, told
from generator.planning.misfits import misfits
from generator.records.makers import Process

FEWEST_RUNS: Final = 6
MOST_RUNS: Final = 100  # the newest: machines and profiles change
USUAL_LAYER_MM: Final = 0.2
LEAST_OFF: Final = 0.05
MOST_OFF: Final = 0.5  # above it the runs do not say one thing
GUESSED_TIMES: Final = 2.0  # the range of a guessed time
GUESSED_GRAMS_TIMES: Final = 1.3  # of a guessed mass: volume and density are known, only support and flow are not
GUESSED_MINUTES: Final[dict[Process, tuple[float, ...]]] = {Process.MATERIAL_EXTRUSION: (10.0, 5.0, 3.0, 0.07)}
"""Start, min/cm³ of shell and of core, min a layer. Of other processes nobody guesses: their time is that of the whole chamber."""
GUESSED_GRAMS: Final = (1.0, SUPPORT_SHARE)


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintWork:
    """What one piece asks of a printer."""

    shell_cm3: float
    infill_cm3: float
    support_cm3: float
    """As drawn solid."""
    layers: int
    density_g_cm3: float

    def time_row(self, count: int) -> tuple[float, ...]:
        core = self.infill_cm3 + SUPPORT_SHARE * self.support_cm3
        return (1.0, count * self.shell_cm3, count * core, float(self.layers))

    def mass_row(self, count: int) -> tuple[float, ...]:
        solid, support = self.shell_cm3 + self.infill_cm3, self.support_cm3
        return (count * self.density_g_cm3 * solid, count * self.density_g_cm3 * support)


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """What was recorded of one run of a printer."""

    work: PrintWork
    count: int
    minutes: float
    grams: float | None
    at: int = 0
    """Its place among all that is recorded."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """A recorded figure that does not belong among the others: of which run, and what they foretell in its place."""

    at: int
    recorded: float
    foretold: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Regression:
    """Coefficients, how many runs they rest on (none: a guess), and how far off they foretell, as a share."""

    coefficients: tuple[float, ...]
    runs: int
    off: float | None
    held: int = 0
    """How many of the runs lay within the range that all others gave for them."""
    slips: tuple[Slip, ...] = ()
    """What was left out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ProcessModel:
    """Of one process. None: neither recorded nor guessed."""

    minutes: Regression | None
    grams: Regression


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """A figure with what it may be at least and at most."""

    likely: float | None
    """None where the runs disagree too much for one figure."""
    low: float
    high: float
    off: float | None
    """The leave-one-out error as a share; None of a guess."""
    runs: int
    held: int = 0
    left_out: int = 0


def work_of(
    *, volume_mm3: float, area_mm2: float, wall_mm: float | None, infill_percent: float | None, layer_mm: float | None,
    height_mm: float, support_mm3: float, density_g_cm3: float,
) -> PrintWork:  # fmt: skip
    """What a piece asks, of its geometry, pose and settings; without a wall or with full infill it is printed solid."""
    volume = volume_mm3 / 1000
    is_solid = wall_mm is None or infill_percent is None
    shell = volume if is_solid else min(volume, (wall_mm or 0) * area_mm2 / 1000)
    return PrintWork(
        shell_cm3=shell,
        infill_cm3=(volume - shell) * (100 if infill_percent is None else infill_percent) / 100,
        support_cm3=support_mm3 / 1000,
        layers=max(1, ceil(round(height_mm / (layer_mm or USUAL_LAYER_MM), 6))),
        density_g_cm3=density_g_cm3,
    )


def model_of(runs: Sequence[Run], process: Process) -> ProcessModel:
    """The model of a process by its runs, the oldest first."""
    return _model_of(tuple(runs[-MOST_RUNS:]), process)


@lru_cache(64)
def _model_of(newest: tuple[Run, ...], process: Process) -> ProcessModel:
    """A build asks for it twice, for the problems and for the pages, and leaving each run out in turn is what it costs."""
    guess = GUESSED_MINUTES.get(process)
    return ProcessModel(
        minutes=_fitted([(run.at, run.work.time_row(run.count), run.minutes) for run in newest])
        or (Regression(coefficients=guess, runs=0, off=None) if guess else None),
        grams=_fitted([(run.at, run.work.mass_row(run.count), run.grams) for run in newest if run.grams is not None])
        or Regression(coefficients=GUESSED_GRAMS, runs=0, off=None),
    )


def _fitted(recorded: Sequence[tuple[int, Sequence[float], float]]) -> Regression | None:
    """By the least relative errors: each row is divided by what was wanted of it."""
    if len(recorded) < FEWEST_RUNS:
        return None
    every = [[each / wanted for each in row] for _, row, wanted in recorded]
    out = misfits(every, FEWEST_RUNS)
    rows = [row for at, row in enumerate(every) if at not in {each.row for each in out}]
    ones = [1.0] * len(rows)
    errors = left_out_errors(rows, ones)
    off = root_mean_square(errors)
    return Regression(
        coefficients=non_negative(rows, ones),
        runs=len(rows),
        off=off,
        held=sum(1 / _times(off) <= 1 + error <= _times(off) for error in errors),
        slips=tuple(Slip(at=recorded[row][0], recorded=recorded[row][2], foretold=foretold * recorded[row][2]) for row, foretold in out),
    )


def minutes_for(model: ProcessModel, work: PrintWork, count: int = 1) -> Range | None:
    return _range(model.minutes, work.time_row(count), GUESSED_TIMES) if model.minutes else None


def grams_for(model: ProcessModel, work: PrintWork, count: int = 1) -> Range:
    return _range(model.grams, work.mass_row(count), GUESSED_GRAMS_TIMES)


def minutes_of_plate(model: ProcessModel, pieces: Sequence[tuple[PrintWork, int]]) -> Range | None:
    """Of pieces side by side in one run, each kind with its count: it starts once, and has the layers of the tallest."""
    if model.minutes is None or not pieces:
        return None
    rows = [work.time_row(count) for work, count in pieces]
    start, *_ = rows[0]
    together = (start, *(sum(each) for each in list(zip(*rows, strict=True))[1:-1]), max(row[-1] for row in rows))
    return _range(model.minutes, together, GUESSED_TIMES)


def grams_of_plate(model: ProcessModel, pieces: Sequence[tuple[PrintWork, int]]) -> Range:
    """Of the same all material, support included."""
    rows = [work.mass_row(count) for work, count in pieces]
    return _range(model.grams, tuple(sum(each) for each in zip(*rows, strict=True)), GUESSED_GRAMS_TIMES)


def _range(fitted: Regression, row: Sequence[float], guessed_times: float) -> Range:
    likely = told(row, fitted.coefficients)
    times = guessed_times if fitted.off is None else _times(fitted.off)
    return Range(
        likely=None if fitted.off is not None and fitted.off > MOST_OFF else likely,
        low=likely / times,
        high=likely * times,
        off=fitted.off,
        runs=fitted.runs,
        held=fitted.held,
        left_out=len(fitted.slips),
    )


def _times(off: float) -> float:
    return 1 + 2 * max(off, LEAST_OFF)
