"""The fewest thicknesses, against every choice of as many or fewer (brute force) and by hand."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.planning.stabbing import Interval, fewest_from_thick, fewest_from_thin

WALLS = st.integers(1, 12).map(lambda tenths: tenths / 4)


@st.composite
def up_to_walls(draw):
    """Where a specimen may be no thicker than the wall, and what has failed bars all that is as thin."""
    most = draw(WALLS)
    above = draw(st.one_of(st.just(-1.0), WALLS))
    return Interval(least=0.1, most=most, above=above)


@st.composite
def from_sections(draw):
    least = draw(WALLS)
    below = draw(st.one_of(st.just(2000.0), WALLS))
    return Interval(least=least, most=1000.0, below=below)


def meets_all(points, intervals):
    return all(any(map(each.holds, points)) for each in intervals)


def fewest_by_brute_force(intervals):
    """Somewhere in each optimum every point can be moved to an end, or beside an end that is shut out."""
    ends = {end for each in intervals for end in (each.most, each.least, each.above + 0.01, each.below - 0.01) if 0 < end < 1000}
    for k in range(len(intervals) + 1):
        if any(meets_all(points, intervals) for points in itertools.combinations(sorted(ends), k)):
            return k
    raise AssertionError("no choice meets all")


@given(st.lists(up_to_walls().filter(lambda one: not one.is_empty), max_size=5))
def test_no_fewer_thin_specimens_would_do(intervals):
    found = fewest_from_thin(intervals)
    assert meets_all(found, intervals)
    assert len(found) == fewest_by_brute_force(intervals)


@given(st.lists(from_sections().filter(lambda one: not one.is_empty), max_size=5))
def test_no_fewer_thick_specimens_would_do(intervals):
    found = fewest_from_thick(intervals)
    assert meets_all(found, intervals)
    assert len(found) == fewest_by_brute_force(intervals)


@given(st.one_of(up_to_walls(), from_sections()))
def test_empty_is_what_nothing_lies_in(interval):
    tried = {interval.least, interval.most, interval.above + 0.01, interval.below - 0.01}
    assert interval.is_empty is not any(map(interval.holds, tried))


def test_the_thinnest_wall_answers_for_all():
    # By hand: walls of 1.4, 2 and 3 mm; a specimen of 1.4 mm is no thicker than any of them.
    assert fewest_from_thin(Interval(least=0.1, most=wall) for wall in (2.0, 1.4, 3.0)) == (1.4,)


def test_the_thickest_section_answers_for_all():
    assert fewest_from_thick(Interval(least=thick, most=1000.0) for thick in (6.0, 4.0)) == (6.0,)


def test_what_failed_thin_parts_the_walls():
    # By hand: at the hard limit 1 mm failed, so a wall of 2 mm wants more than 1 mm; a wall of 0.8 mm wants at most 0.8.
    assert fewest_from_thin((Interval(least=0.1, most=0.8), Interval(least=0.1, most=2.0, above=1.0))) == (0.8, 2.0)


@pytest.mark.parametrize(("wall", "specimen"), [(1.4137, 1.4), (1.4, 1.4), (0.7, 0.7), (0.1, 0.1), (1.1, 1.1)])
def test_specimens_come_in_tenths_and_never_thicker_than_the_wall(wall, specimen):
    assert fewest_from_thin((Interval(least=0.1, most=wall),)) == (specimen,)


@pytest.mark.parametrize(("section", "specimen"), [(5.91, 6.0), (6.0, 6.0), (0.3, 0.3)])
def test_and_never_thinner_than_the_section(section, specimen):
    assert fewest_from_thick((Interval(least=section, most=1000.0),)) == (specimen,)


def test_where_no_tenth_lies_inside_the_end_itself_is_taken():
    assert fewest_from_thin((Interval(least=0.1, most=1.46, above=1.4),)) == (1.46,)
