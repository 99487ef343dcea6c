"""Time and material of a print: what the model says of geometry by hand, and of runs that were made by it."""

import numpy as np
import pytest

from generator.planning.print_time import (
    FEWEST_RUNS,
    GUESSED_MINUTES,
    LEAST_OFF,
    SUPPORT_SHARE,
    PrintWork,
    Run,
    grams_for,
    minutes_for,
    model_of,
    work_of,
)  # fmt: skip
from generator.records.makers import Process

ME, POWDER = Process.MATERIAL_EXTRUSION, Process.POWDER_BED_FUSION
TRUE = (16.0, 4.6, 3.1, 0.08)


def work(**other) -> PrintWork:
    given = {
        "volume_mm3": 20_000, "area_mm2": 8_000, "wall_mm": 1.5, "infill_percent": 40, "layer_mm": 0.2, "height_mm": 30,
        "support_mm3": 5_000, "density_g_cm3": 1.27,
    }  # fmt: skip
    return work_of(**(given | other))


def runs(count, noise=0.0, seed=3):
    draw = np.random.default_rng(seed)
    found = []
    for _ in range(count):
        volume, height, support = draw.uniform(5e3, 6e4), draw.uniform(5, 120), draw.uniform(0, 3e4)
        one = work(volume_mm3=volume, area_mm2=draw.uniform(0.2, 0.6) * volume, height_mm=height, support_mm3=support)
        pieces = int(draw.integers(1, 5))
        minutes = sum(a * b for a, b in zip(one.time_row(pieces), TRUE, strict=True)) * (1 + draw.normal(0, noise))
        grams = sum(a * b for a, b in zip(one.mass_row(pieces), (1.02, 0.13), strict=True)) * (1 + draw.normal(0, noise))
        found.append(Run(work=one, count=pieces, minutes=minutes, grams=grams))
    return found


def test_the_work_of_a_piece_by_hand():
    """Shell 1.5 × 8,000 = 12 cm³; of the 8 cm³ inside 40 % are laid; 30 mm at 0.2 are 150 layers."""
    one = work()
    assert (one.shell_cm3, one.infill_cm3, one.support_cm3, one.layers) == (12.0, pytest.approx(3.2), 5.0, 150)
    assert one.time_row(2) == pytest.approx((1, 24, 2 * (3.2 + SUPPORT_SHARE * 5), 150))
    assert one.mass_row(2) == pytest.approx((2 * 1.27 * 15.2, 2 * 1.27 * 5))


def test_a_solid_print_is_all_shell_and_full_infill_lays_all():
    assert (work(wall_mm=None).shell_cm3, work(wall_mm=None).infill_cm3) == (20.0, 0.0)
    full = work(infill_percent=100)
    assert full.shell_cm3 + full.infill_cm3 == 20.0
    assert work(wall_mm=9.0).shell_cm3 == 20.0  # no more wall than there is part
    assert work(height_mm=0.6, layer_mm=0.2).layers == 3
    assert work(layer_mm=None).layers == 150


def test_runs_without_noise_give_back_what_made_them():
    model = model_of(runs(12), ME)
    assert model.minutes is not None
    assert model.minutes.coefficients == pytest.approx(TRUE, rel=1e-6)
    assert model.grams.coefficients == pytest.approx((1.02, 0.13), rel=1e-6)
    told = minutes_for(model, work())
    assert told is not None
    assert told.likely == pytest.approx(16 + 4.6 * 12 + 3.1 * 3.95 + 0.08 * 150)
    assert (told.low, told.high) == (pytest.approx(told.likely / (1 + 2 * LEAST_OFF)), pytest.approx(told.likely * (1 + 2 * LEAST_OFF)))


def test_with_noise_the_error_that_is_told_is_near_the_noise_and_the_range_holds_what_is_printed_next():
    model, unseen = model_of(runs(40, 0.08), ME), runs(200, 0.08, seed=11)
    assert model.minutes is not None
    assert model.minutes.off == pytest.approx(0.08, abs=0.03)
    told = [minutes_for(model, run.work, run.count) for run in unseen]
    held = np.mean([each is not None and each.low <= run.minutes <= each.high for each, run in zip(told, unseen, strict=True)])
    assert held >= 0.9  # twice the error either way: some 95 %


def test_below_six_runs_it_is_a_guess_from_half_to_twice():
    few = model_of(runs(FEWEST_RUNS - 1), ME)
    assert few.minutes is not None
    assert (few.minutes.coefficients, few.minutes.runs, few.minutes.off) == (GUESSED_MINUTES[ME], 0, None)
    told = minutes_for(few, work())
    assert told is not None
    assert (told.low, told.high) == (told.likely / 2, told.likely * 2)


def test_of_a_chamber_of_powder_nobody_guesses_the_time():
    assert model_of((), POWDER).minutes is None
    assert minutes_for(model_of((), POWDER), work()) is None
    assert grams_for(model_of((), POWDER), work(support_mm3=0)).likely == pytest.approx(1.27 * 15.2)
    assert minutes_for(model_of(runs(8), POWDER), work()) is not None


def test_runs_that_were_not_weighed_tell_the_time_alone():
    unweighed = [Run(work=run.work, count=run.count, minutes=run.minutes, grams=None) for run in runs(8)]
    model = model_of(unweighed, ME)
    assert model.minutes is not None
    assert (model.minutes.runs, model.grams.runs) == (8, 0)


def test_each_run_weighs_the_same_however_long():
    """Relative errors: one long run that is 20 % off does not pull the short ones along."""
    exact = runs(12)
    long = max(exact, key=lambda run: run.minutes)
    off = [Run(work=run.work, count=run.count, minutes=run.minutes * (1.2 if run is long else 1), grams=run.grams) for run in exact]
    model = model_of(off, ME)
    short = min(exact, key=lambda run: run.minutes)
    told = minutes_for(model, short.work, short.count)
    assert told is not None
    assert told.likely == pytest.approx(short.minutes, rel=0.1)
