"""The log-rank test against the textbook's figure and a survival library."""

import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.planning.holding.log_rank import log_rank
from tests.planning.holding.known import PLACEBO, SIX_MP, seen

GROUP = st.lists(st.tuples(st.integers(0, 12), st.booleans()), min_size=1, max_size=25)


def test_six_mp_against_placebo():
    """The textbook's figures: observed 9, expected 19.2505, chi-square 16.793."""
    found = log_rank((seen(SIX_MP), seen(PLACEBO)))
    assert found.observed == (9, 21)
    assert found.expected == pytest.approx((19.2505, 10.7495), abs=5e-5)
    assert (found.chi2, found.degrees) == (pytest.approx(16.793, abs=5e-4), 1)
    assert found.p == pytest.approx(4.17e-5, rel=0.01)


def library(*groups):
    from lifelines.statistics import multivariate_logrank_test

    rows = [(days, failed, at) for at, group in enumerate(groups) for days, failed in group]
    days, failed, at = zip(*rows, strict=True)
    return multivariate_logrank_test(days, at, failed)


@settings(max_examples=50, deadline=None)
@given(st.lists(GROUP, min_size=2, max_size=4))
def test_like_the_survival_library(groups):
    """lifelines 0.30, multivariate_logrank_test, wherever all groups were at risk together, so that the degrees agree."""
    found = log_rank([seen(group) for group in groups])
    if found.degrees == len(groups) - 1:
        theirs = library(*groups)
        assert found.chi2 == pytest.approx(theirs.test_statistic, rel=1e-6, abs=1e-9)
        assert found.p == pytest.approx(theirs.p_value, rel=1e-6, abs=1e-9)


@settings(max_examples=30)
@given(GROUP, GROUP)
def test_which_group_comes_first_changes_nothing(one, other):
    there, back = log_rank((seen(one), seen(other))), log_rank((seen(other), seen(one)))
    assert (there.degrees, there.expected) == (back.degrees, pytest.approx(back.expected[::-1]))
    assert there.chi2 == pytest.approx(back.chi2)


@settings(max_examples=30)
@given(GROUP)
def test_a_group_does_not_differ_from_itself(group):
    found = log_rank((seen(group), seen(group)))
    assert found.chi2 == pytest.approx(0, abs=1e-12)
    assert found.p is None or found.p == pytest.approx(1)


@pytest.mark.parametrize(
    "groups",
    [
        ([], []),
        ([], [(3, True), (4, True)]),
        ([(3, False)], [(4, False)]),
        ([(10, False)] * 30, [(20, True)] * 30),
        ([(10, True)] * 30, [(10, True)] * 30),
        ([(5, True)], [(9, True)]),
    ],
    ids=["nobody", "one group empty", "nothing failed", "never in use at one age", "all at once", "one piece each"],
)
def test_what_says_nothing_has_no_p_or_a_large_one(groups):
    found = log_rank([seen(group) for group in groups])
    if found.p is None:
        assert (found.chi2, found.degrees) == (0.0, 0)
    else:
        assert found.p > 0.3


def test_a_group_without_pieces_takes_no_degree():
    assert log_rank((seen(SIX_MP), seen(PLACEBO), [])).degrees == 1
    assert log_rank((seen(SIX_MP), seen(PLACEBO), [])).chi2 == pytest.approx(16.793, abs=5e-4)


def test_one_group_is_no_comparison():
    with pytest.raises(ValueError, match="two"):
        log_rank((seen(SIX_MP),))


@pytest.mark.parametrize("days", [-1, math.nan, math.inf])
def test_no_such_duration(days):
    with pytest.raises(ValueError, match="days"):
        log_rank((seen(SIX_MP), seen([(days, True)])))


def test_how_often_chance_alone_passes_for_a_difference():
    """At 5 %: 400 pairs of one kind; 99.9 % of such counts lie within 8 and 35."""
    chance = random.Random(417)
    pair = lambda: seen([(chance.expovariate(1 / 500), chance.random() < 0.6) for _ in range(30)])  # noqa: E731
    assert 8 <= sum(log_rank((pair(), pair())).p < 0.05 for _ in range(400)) <= 35
