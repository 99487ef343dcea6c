"""Which likenesses are told between parts, and which of them somebody has to look at."""

from dataclasses import replace

import pytest

from generator.geometry.likeness.kinds import Compared, Sameness
from generator.records.problems import doubt
from generator.rules.alike import alike_doubts, looks_like, told_once, unit_slip
from tests.rules.cases import tiny


def laid(kind, ratio=1.0):
    return Compared(kind=kind, distance_mm=0.02, ratio=ratio, covered=1.0, explained=1.0, within_mm=0.1)


def two(**of_first):
    """Two parts that name each other nowhere, unless it is said here."""
    first, second, *_ = (
        replace(each, part=each.part.model_copy(update={"look_alikes": (), "other_hand": None})) for each in tiny().parts if each.part
    )
    return replace(first, part=first.part.model_copy(update=of_first)), second


def told(folders, kind, ratio=1.0, same_model=()):
    one, other = folders
    found = looks_like(folders, [(one.folder, other.folder, laid(kind, ratio))])
    return [(each.code, each.key) for each in alike_doubts(found.get(other.folder, ()), same_model)]


@pytest.mark.parametrize(
    ("kind", "says"),
    [
        (Sameness.SAME, [("LIKE01", "same shape")]),
        (Sameness.SCALED, [("LIKE01", "scaled")]),
        (Sameness.OTHER_HAND, [("LIKE02", "other hand")]),
        (Sameness.SIMILAR, []),
        (Sameness.OTHER, []),
    ],
)
def test_what_nobody_says_is_asked_about_and_what_is_only_similar_is_not(kind, says):
    assert told(two(), kind, 25.4 if kind is Sameness.SCALED else 1.0) == says


@pytest.mark.parametrize("ratio", [25.4, 1 / 25.4, 10.0, 0.001, 25.45])
def test_another_size_is_asked_about_where_it_is_a_slip_of_the_unit(ratio):
    assert told(two(), Sameness.SCALED, ratio) == [("LIKE01", "scaled")]


@pytest.mark.parametrize("ratio", [0.5, 2.0, 1.2, 24.0, 30.0])
def test_another_size_of_one_form_is_no_mistake(ratio):
    assert told(two(), Sameness.SCALED, ratio) == []


@pytest.mark.parametrize("kind", [Sameness.SAME, Sameness.SCALED, Sameness.OTHER_HAND])
def test_what_one_of_the_two_records_says_is_no_doubt(kind):
    number = two()[1].number
    assert told(two(look_alikes=(number,)), kind) == []
    assert told(two(other_hand=number), kind) == []


def test_the_very_same_triangles_are_told_once():
    folders = two()
    assert told(folders, Sameness.SAME, same_model=(folders[0].number,)) == []


def test_each_sees_the_ratio_from_its_own_side():
    one, other = two()
    found = looks_like((one, other), [(one.folder, other.folder, laid(Sameness.SCALED, 25.4))])
    assert found[one.folder][0].ratio == pytest.approx(25.4)
    assert found[other.folder][0].ratio == pytest.approx(1 / 25.4)


def test_another_shape_is_no_look_alike():
    one, other = two()
    assert looks_like((one, other), [(one.folder, other.folder, laid(Sameness.OTHER))]) == {}


@pytest.mark.parametrize(
    ("ratio", "slip"),
    [(25.4, "25.4"), (1 / 25.4, "1/25.4"), (0.0394, "1/25.4"), (10.0, "10"), (0.001, "1/1000"), (1000 / 25.4, "1000/25.4"), (0.0254, "25.4/1000"), (2.0, None)],
)
def test_a_slip_of_the_unit_is_written_as_it_came_about(ratio, slip):
    assert unit_slip(ratio) == slip


def of_group(pairs):
    """Each number with the line that stands with it, as pairs of alike numbers make them."""
    every = sorted({each for pair in pairs for each in pair})
    named = {number: sorted({each for pair in pairs if number in pair for each in pair} - {number}) for number in every}
    return [(number, doubt("LIKE01", "same shape", numbers=named[number])) for number in every]


def test_of_five_alike_a_list_of_all_problems_has_one_line():
    five = [(one, other) for one in "ABCDE" for other in "ABCDE" if one < other]
    (line,) = told_once(of_group(five))
    assert dict(line.facts)["numbers"] == ("B", "C", "D", "E")


def test_two_groups_have_a_line_each_and_what_is_alike_by_way_of_another_is_told_whole():
    assert len(told_once(of_group([("A", "B"), ("C", "D")]))) == 2
    (line,) = told_once(of_group([("A", "B"), ("B", "C")]))
    assert dict(line.facts)["numbers"] == ("A", "C")


def test_a_chain_of_four_tells_each_of_its_pairs():
    """Nobody is alike to all, so two lines are needed."""
    lines = told_once(of_group([("A", "B"), ("B", "C"), ("C", "D")]))
    assert [dict(each.facts)["numbers"] for each in lines] == [("A", "C"), ("B", "D")]


def test_each_other_problem_of_each_part_is_told():
    other = doubt("LIKE02", "other hand", number="A", within=0.1)
    alone = doubt("SOUND01", "open", number="A")
    told = told_once([("A", alone), ("B", alone), ("A", doubt("LIKE02", "other hand", number="B", within=0.1)), ("B", other)])
    assert [each.code for each in told] == ["SOUND01", "SOUND01", "LIKE02"]


def test_a_part_names_all_that_have_its_shape_in_one_line():
    first, second, *_ = two()
    third = replace(second, folder="parts/EX-0009-third", number="EX-0009", part=second.part.model_copy(update={"number": "EX-0009"}))
    found = looks_like((first, second, third), [(first.folder, each.folder, laid(Sameness.SAME)) for each in (third, second)])
    (line,) = alike_doubts(found[first.folder], ())
    assert dict(line.facts)["numbers"] == (second.number, "EX-0009")
