"""Features against STEP files of parts that were drawn for this test, read by the tool's own reader.

Source of the round faces: the exact kernel, kept in originals/truth.json; of what else is said: the scripts of the shapes. Asked
are 0.95 / 0.95, as the job does; all shapes are held against by `bench_features`, here those that are cheap or once went wrong.
"""

from functools import cache

from generator.geometry.features.found import features_of
from tests.geometry.features.originals.judging import Verdict, add, originals, truths

NAMES = ("stepped-shaft", "nut", "worm", "tee", "manifold", "windows", "ratchet", "ringed-cap", "in-inches")


@cache
def verdict() -> Verdict:
    told, truth = Verdict(), truths()
    for name, mesh in originals(NAMES):
        add(told, name, features_of(mesh), truth[name])
    return told


def test_round_holes_and_bosses_are_found():
    assert verdict().rounds.found >= 40
    assert verdict().recall >= 0.95, "\n".join(verdict().rounds.missed)


def test_what_is_told_as_round_is_there():
    assert verdict().precision >= 0.95, "\n".join(verdict().rounds.extra)


def test_diameters_are_right():
    """The job: within 0.05 mm or 0.5 %, which is held before a face counts as found; the worst of all is far better."""
    assert verdict().rounds.worst_mm < 0.01


def test_what_else_the_scripts_say_is_told_and_nothing_more():
    assert verdict().said >= 10
    assert len(verdict().wrong) <= 0.05 * verdict().said, "\n".join(verdict().wrong)


def test_every_kept_original_has_its_truth():
    assert set(NAMES) <= set(truths())
    assert len(truths()) >= 30
