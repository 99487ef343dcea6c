"""Which of what a request's model is like has to be settled by somebody?"""

import pytest

from generator.geometry.likeness.kinds import Compared, Sameness
from generator.rules.asked_alike import Resembled, asked_doubts


def doubts(kind, number="EX-0001", *, is_request=False, ratio=1.0):
    lies = Compared(kind=kind, distance_mm=0.02, ratio=ratio, covered=1.0, explained=1.0, within_mm=0.1)
    found = asked_doubts("R-0007", [Resembled(number=number, is_request=is_request, compared=lies)])
    return [(each.code, each.key, dict(each.facts)["number"]) for each in found]


def test_the_shape_of_a_part_is_asked_about_and_what_is_only_similar_is_not():
    assert doubts(Sameness.SAME) == [("LIKE03", "part", "EX-0001")]
    for kind in (Sameness.SIMILAR, Sameness.OTHER, Sameness.OTHER_HAND):
        assert doubts(kind) == []


@pytest.mark.parametrize(("ratio", "says"), [(25.4, "scaled"), (0.001, "scaled"), (2.0, None)])
def test_another_size_is_asked_about_where_it_is_a_slip_of_the_unit(ratio, says):
    assert [key for _, key, _ in doubts(Sameness.SCALED, ratio=ratio)] == ([says] if says else [])


def test_of_two_requests_with_one_model_the_later_is_asked_about():
    assert doubts(Sameness.SAME, "R-0003", is_request=True) == [("LIKE03", "request", "R-0003")]
    assert doubts(Sameness.SAME, "R-0009", is_request=True) == []
    assert doubts(Sameness.SCALED, "R-0003", is_request=True, ratio=25.4) == []
