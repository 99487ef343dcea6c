"""Does it hold? Revisions and batches of hand-made histories; limits are scipy's."""

from datetime import timedelta

import pytest

from generator.planning.holding.comparison import Holding, holm
from generator.planning.holding.parts import holding_parts
from tests.planning.holding.histories import DAY, batch, line, produced


def aged(name, lives, still=0, **more):
    """Pieces of a batch, each on a vehicle of its own: lives in days and why they ended, and how many sit still since 200 days."""
    for at, (days, why) in enumerate(lives):
        yield line(200, on=name, vehicle=f"{name}{at}", **more)
        yield line(200 - days, off=name, vehicle=f"{name}{at}", why=why, **more)
    for at in range(still):
        yield line(200, on=name, vehicle=f"{name}s{at}", **more)


BREAKS_EARLY = [(days, "broken") for days in (10, 12, 15, 20, 22, 25, 30, 31, 35, 40)]


def test_figures_of_a_part_its_revision_and_batch():
    lines = aged("B-1", [(100, "worn"), (50, "broken"), (20, "wrong"), (10, "campaign")], still=6)
    found = holding_parts(produced(*lines, B_1=batch(), B_2=batch(part="TV-0002")), DAY)
    assert list(found) == ["TV-0001"]
    (revision,) = found["TV-0001"].revisions
    figures = found["TV-0001"].figures
    assert (figures.pieces, figures.in_use, figures.worn, figures.broken, figures.otherwise, figures.failed) == (10, 6, 1, 1, 2, 2)
    assert figures.days == 180 + 6 * 200
    # chi2.ppf((0.025, 0.975), (4, 6)) / 2 / (1380 / 365.25)
    assert (figures.rate.a_year, figures.rate.low, figures.rate.high) == pytest.approx((0.529348, 0.064106, 1.912186), abs=1e-6)
    assert revision.figures == figures == revision.batches[0].figures
    assert [(step.days, step.at_risk) for step in revision.curve.steps] == [(50, 8), (100, 7)]
    assert revision.batches[0].beside_rest is None


def test_nothing_failed_is_an_upper_limit_alone():
    figures = holding_parts(produced(*aged("B-1", [], still=8), B_1=batch()), DAY)["TV-0001"].figures
    assert figures.rate.one_sided
    assert figures.rate.high == pytest.approx(2.995732 / (8 * 200 / 365.25), abs=1e-5)


def test_a_batch_that_breaks_early_stands_out_and_makes_no_other_look_better():
    lines = [*aged("B-1", [], still=20), *aged("B-2", BREAKS_EARLY, still=5), *aged("B-3", [(100, "worn")], still=19)]
    part = holding_parts(produced(*lines, B_1=batch(), B_2=batch(started="2025-01-02 08:00"), B_3=batch()), DAY)["TV-0001"]
    said = {each.name: each.beside_rest.holding for each in part.revisions[0].batches}
    assert said["B-2"] is Holding.HOLDS_WORSE
    assert Holding.HOLDS_BETTER not in said.values()
    assert {each.beside_rest.among for each in part.revisions[0].batches if each.name == "B-2"} == {3}
    assert [each.name for each in part.standing_out] == ["B-2"]
    assert part.is_worse


def test_one_of_many_batches_does_not_stand_out_by_chance():
    """Alone the batch would: its p is 0.04. Among twenty that hold alike one such is to be expected."""
    weak = [(150, "worn"), (160, "worn"), (170, "worn")]
    few = {f"B-{at}": list(aged(f"B-{at}", [(100 + at, "worn")], still=19)) for at in range(1, 20)}
    lines = [each for some in few.values() for each in some] + list(aged("B-20", weak, still=10))
    part = holding_parts(produced(*lines, **{f"B_{at}": batch() for at in range(1, 21)}), DAY)["TV-0001"]
    last = next(each for each in part.revisions[0].batches if each.name == "B-20").beside_rest
    assert last.test.p < 0.05 < last.p
    assert last.holding is Holding.NO_DIFFERENCE_SHOWN
    assert last.among == 20
    assert part.standing_out == ()


def test_a_revision_stands_beside_the_one_before_that_was_fitted():
    lines = [*aged("B-1", BREAKS_EARLY), *aged("B-3", [], still=12)]
    made = produced(*lines, B_1=batch(), B_2=batch(revision="B", started="2025-02-01 08:00"), B_3=batch(revision="C", started="2025-03-01 08:00"))
    newest, oldest = holding_parts(made, DAY)["TV-0001"].revisions
    assert (newest.revision, newest.before, newest.beside_before.holding) == ("C", "A", Holding.HOLDS_BETTER)
    assert (oldest.revision, oldest.before, oldest.beside_before) == ("A", None, None)


def test_a_revision_that_holds_worse_is_told_of_its_part():
    lines = [*aged("B-1", [], still=12), *aged("B-2", BREAKS_EARLY)]
    made = produced(*lines, B_1=batch(), B_2=batch(revision="B", started="2025-02-01 08:00"))
    assert holding_parts(made, DAY)["TV-0001"].is_worse


def test_batches_that_nobody_wrote_down_are_of_no_part():
    assert holding_parts(produced(line(9, on="B-9")), DAY) == {}


def test_what_came_off_and_never_went_on_is_counted_beside():
    found = holding_parts(produced(line(9, on="B-1"), line(3, off="B-1", removed=3, why="worn"), B_1=batch()), DAY)["TV-0001"]
    assert (found.figures.pieces, found.figures.worn, found.figures.unpaired) == (1, 1, 2)


def test_a_later_day_knows_more():
    lines = list(aged("B-1", [(100, "worn")], still=1))
    earlier = holding_parts(produced(*lines, B_1=batch()), DAY - timedelta(days=101))["TV-0001"].figures
    assert (earlier.in_use, earlier.failed, earlier.days) == (2, 0, 198)


def test_holm_as_by_hand():
    assert holm([0.01, 0.04, 0.03, 0.005]) == pytest.approx((0.03, 0.06, 0.06, 0.02))  # R: p.adjust(…, "holm")
    assert holm([]) == ()
    assert holm([0.6, 0.7]) == (1.0, 1.0)
