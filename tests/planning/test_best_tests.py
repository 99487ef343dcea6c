"""The best k tests, against every choice of k (brute force) and by hand."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.planning.best_tests import OpenRows, best_sets

ROW = st.frozensets(st.integers(0, 6), min_size=1, max_size=3)
WISH = st.builds(OpenRows, st.integers(1, 9), st.lists(ROW, min_size=1, max_size=4).map(tuple))


def freed(wishes, chosen):
    return sum(wish.weight for wish in wishes if all(row & set(chosen) for row in wish.rows))


def most_by_brute_force(wishes, k):
    return max(freed(wishes, chosen) for chosen in itertools.combinations(range(7), k))


@given(st.lists(WISH, max_size=7))
def test_no_other_k_tests_free_more(wishes):
    found = best_sets(wishes, 7)
    for best in found:
        assert best.is_exact
        assert len(best.tests) <= best.k
        assert best.freed == freed(wishes, best.tests) == most_by_brute_force(wishes, best.k)
    assert [best.k for best in found] == list(range(1, len(found) + 1))
    assert (found[-1].freed if found else 0) == sum(wish.weight for wish in wishes)


@given(st.lists(WISH, max_size=7), st.integers(0, 4))
def test_cut_short_it_says_what_is_not_ruled_out(wishes, nodes):
    for best in best_sets(wishes, 7, nodes):
        assert best.freed == freed(wishes, best.tests)
        assert best.freed <= most_by_brute_force(wishes, best.k) <= best.at_most


def wish(weight, *tests):
    return OpenRows(weight, tuple(frozenset({test}) for test in tests))


def test_one_after_the_other_would_be_wrong():
    # By hand: 0 alone frees 2; 1 and 2 free 5 together and nothing alone. Of two tests the greedy way takes 0 first: 2.
    wishes = [wish(2, 0), wish(5, 1, 2)]
    assert [(best.tests, best.freed) for best in best_sets(wishes, 3)] == [((0,), 2), ((1, 2), 5), ((0, 1, 2), 7)]


def test_a_row_that_two_tests_answer_wants_one_of_them():
    wishes = [OpenRows(3, (frozenset({0, 1}),)), OpenRows(2, (frozenset({1}),))]
    assert best_sets(wishes, 2)[0].tests == (1,)
    assert best_sets(wishes, 2)[0].freed == 5


def test_nothing_to_wish_for():
    assert best_sets([], 5) == ()


def test_it_ends_where_all_is_freed():
    assert [best.k for best in best_sets([wish(1, 0), wish(1, 1)], 9)] == [1, 2]


@pytest.mark.parametrize("nodes", [0, 1])
def test_a_search_without_room_promises_too_much_rather_than_too_little(nodes):
    (first, *_) = best_sets([wish(2, 0, 1), wish(1, 0, 2), wish(1, 1)], 3, nodes)
    assert first.freed <= 1 <= first.at_most
