"""Does one kind hold better than the other? What is too little to say so is never said to hold."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.planning.holding.comparison import FEWEST_FAILURES, FEWEST_PIECES, Holding, compared
from tests.planning.holding.known import PLACEBO, SIX_MP, seen


def word(ours, theirs):
    return compared(seen(ours), seen(theirs)).holding


def test_six_mp_holds_better_than_placebo_and_the_other_way_round():
    assert word(SIX_MP, PLACEBO) is Holding.HOLDS_BETTER
    assert word(PLACEBO, SIX_MP) is Holding.HOLDS_WORSE


def test_what_is_alike_shows_no_difference():
    assert word(SIX_MP, SIX_MP) is Holding.NO_DIFFERENCE_SHOWN


TEN = [(400, False)] * 10


@pytest.mark.parametrize(
    ("ours", "theirs", "expected"),
    [
        (TEN, TEN, Holding.NOTHING_FAILED),
        ([], [], Holding.TOO_FEW),
        (TEN, [], Holding.TOO_FEW),
        ([], TEN, Holding.TOO_FEW),
        (TEN, [(0, False)] * 10, Holding.TOO_FEW),
        (TEN[:9], [(50, True)] * 10, Holding.TOO_FEW),
        ([(50, True)] * 10, TEN[:9], Holding.TOO_FEW),
        (TEN, [(day, True) for day in (50, 60, 70, 80)] + TEN[:6], Holding.TOO_FEW),
        (TEN, [(day, True) for day in (50, 60, 70, 80, 90)] + TEN[:5], Holding.HOLDS_BETTER),
        ([(day, True) for day in (50, 60, 70, 80, 90)] + TEN[:5], TEN, Holding.HOLDS_WORSE),
        ([(10, False)] * 40, [(20, True)] * 40, Holding.NEVER_AT_ONE_AGE),
        ([(30, False)] * 40, [(20, True)] * 10 + [(60, True)] * 10, Holding.HOLDS_BETTER),
        ([(20, True)] * 10 + [(60, True)] * 10, [(30, False)] * 40, Holding.HOLDS_WORSE),
        ([(day, True) for day in range(100, 160)], [(day, True) for day in range(50, 60)], Holding.HOLDS_BETTER),
        ([(0, True)] * 10, [(0, True)] * 10, Holding.TOO_FEW),
        ([(30, True)] * 10, [(30, True)] * 10, Holding.NO_DIFFERENCE_SHOWN),
    ],
    ids=[
        "nothing failed", "no pieces", "no other pieces", "no own pieces", "others fitted today", "nine of ours", "nine of theirs",
        "four failures", "five failures", "five of ours", "ours are all young",
        "some of theirs failed as young", "some of ours failed as young", "many of ours failed later than few of theirs", "all failed at once, no time in use", "all on one day",
    ],
)  # fmt: skip
def test_word(ours, theirs, expected):
    assert word(ours, theirs) is expected


def test_nothing_failed_of_nine_is_too_few_to_be_said_so():
    """'Nothing failed' must not be read off three pieces: their number stands beside it, and it is another word."""
    found = compared(seen(TEN[:3]), seen(TEN))
    assert found.holding is Holding.TOO_FEW
    assert found.ours.pieces == 3


def test_the_figures_behind_it():
    found = compared(seen(SIX_MP), seen(PLACEBO))
    assert (found.ours.pieces, found.theirs.pieces) == (21, 21)
    assert (found.ours.failed, found.theirs.failed) == (9, 21)
    assert found.test.chi2 == pytest.approx(16.793, abs=5e-4)


PIECES = st.lists(st.tuples(st.integers(0, 9), st.booleans()), max_size=30)


@settings(max_examples=50)
@given(PIECES, PIECES)
def test_a_difference_is_only_said_where_it_is_shown_and_turns_with_the_groups(ours, theirs):
    found, back = compared(seen(ours), seen(theirs)), compared(seen(theirs), seen(ours))
    turned = {Holding.HOLDS_BETTER: Holding.HOLDS_WORSE, Holding.HOLDS_WORSE: Holding.HOLDS_BETTER}
    assert back.holding is turned.get(found.holding, found.holding)
    if found.holding in turned:
        assert found.test.p < 0.05
        assert min(len(ours), len(theirs)) >= FEWEST_PIECES
        assert sum(failed for _, failed in ours + theirs) >= FEWEST_FAILURES


def test_no_such_duration():
    with pytest.raises(ValueError, match="days"):
        compared(seen([(math.nan, False)]), seen(TEN))
