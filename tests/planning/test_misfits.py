"""A slip of the hand among recorded prints: found whatever its size, never found where there is none, and never more than it."""

import pytest

from generator.planning.misfits import misfits
from generator.planning.print_time import FEWEST_RUNS, MOST_OFF, Run, minutes_for, model_of
from generator.records.makers import Process
from tests.planning.test_print_time import runs, work

ME = Process.MATERIAL_EXTRUSION


def slipped(count, which, times, seed=5):
    found = runs(count, 0.06, seed)
    return [Run(work=run.work, count=run.count, minutes=run.minutes * (times if at == which else 1), grams=run.grams, at=at) for at, run in enumerate(found)]


@pytest.mark.parametrize("times", [10, 0.1, 60, 1 / 60, 3, 1 / 3])
@pytest.mark.parametrize("which", [0, 6, 12])
def test_one_wrong_run_among_thirteen_is_named_and_spoils_nothing(which, times):
    """A digit too many, hours for minutes: what is foretold of the next is as if it had been typed rightly."""
    spoilt, clean = model_of(slipped(13, which, times), ME), model_of(slipped(13, which, 1), ME)
    assert spoilt.minutes.runs == 12
    (slip,) = spoilt.minutes.slips
    assert (slip.at, slip.recorded) == (which, pytest.approx(slipped(13, which, times)[which].minutes))
    assert slip.foretold == pytest.approx(slipped(13, which, 1)[which].minutes, rel=0.3)
    assert minutes_for(spoilt, work()).likely == pytest.approx(minutes_for(clean, work()).likely, rel=0.1)
    assert spoilt.minutes.off < 0.15
    assert spoilt.grams.slips == ()  # its weight was right


@pytest.mark.parametrize("seed", range(12))
def test_of_runs_that_only_scatter_none_is_left_out(seed):
    assert model_of(runs(9, 0.1, seed), ME).minutes.slips == ()


def test_two_slips_among_twenty():
    twice = slipped(20, 4, 10)
    wrong = twice[11]
    twice[11] = Run(work=wrong.work, count=wrong.count, minutes=wrong.minutes / 10, grams=wrong.grams, at=11)
    assert {each.at for each in model_of(twice, ME).minutes.slips} == {4, 11}


def test_a_large_part_that_nothing_is_like_is_not_called_a_slip():
    """What small parts foretell of it is off by a half and more, and no wonder."""
    small = [[float(1 + 0.02 * (each % 3)), float(each % 4) * 0.01 + 0.01] for each in range(8)]
    assert misfits([*small, [0.0, 0.4]], FEWEST_RUNS) == ()


def test_of_six_runs_none_can_be_named_so_no_figure_is_told():
    model = model_of(slipped(6, 2, 0.05), ME)
    assert model.minutes.slips == ()
    assert model.minutes.off > MOST_OFF
    told = minutes_for(model, work())
    assert told.likely is None
    assert told.high / told.low > 4  # wider than a guess


def test_runs_that_say_nothing_at_all_give_no_figure():
    wild = [Run(work=run.work, count=run.count, minutes=minutes, grams=None) for run, minutes in zip(runs(9), [5, 900, 20, 3000, 8, 70, 2000, 4, 600], strict=True)]
    assert minutes_for(model_of(wild, ME), work()).likely is None


def test_the_range_says_how_often_it_held():
    model = model_of(runs(30, 0.08), ME)
    assert 26 <= model.minutes.held <= 30
    assert minutes_for(model, work()).held == model.minutes.held
