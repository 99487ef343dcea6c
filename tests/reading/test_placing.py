"""A mend names what is near, not all that there is; and one file that cannot be read is one problem, however many name what stands in it."""

import pytest

from generator.reading.placing import must_exist, once_each_cause
from generator.records.problems import Where, doubt, wrong
from tests.fixtures.told import fix, says

NUMBERS = {f"EX-{number:04}" for number in range(1, 60)}


def mend(name, names):
    (found,) = must_exist("part", name, names, ())
    return fix(found.finish(found.problem))


def test_of_many_only_the_near_ones_are_named():
    assert mend("EX-0011X", NUMBERS) == "did you mean 'EX-0011'?"
    named = mend("Q", NUMBERS)
    assert named.startswith("use one that exists; the nearest are: EX-")
    assert named.count("EX-") == 5
    assert mend("Q", {"one", "two"}) == "use one of: one, two"
    assert mend("Q", set()) == "use one of: none is defined yet"


def unread(at, file="makers.yml", code="LINK03"):
    return wrong(code, "unreadable", where=Where(f"parts/EX-{at:04}/part.yml", 3), kind="maker", name="bench", file=file)


@pytest.mark.parametrize(("count", "more"), [(1, ""), (2, ", as does 1 more place"), (60, ", as do 59 more places")])
def test_what_one_unreadable_file_spoils_is_told_once_with_a_count(count, more):
    cause, other = wrong("REC03", "low", where=Where("makers.yml", 9)), doubt("NOTE01", "strange", where=Where("x.yml"))
    (first, *rest) = once_each_cause([cause, *map(unread, range(count)), other])
    assert first is cause
    assert rest[-1] is other
    assert [says(each) for each in rest[:-1]] == [f"names the maker 'bench', which cannot be read{more}"]
    assert rest[0].where == Where("parts/EX-0000/part.yml", 3)


def test_each_file_for_itself_and_nothing_else_is_joined():
    told = once_each_cause([unread(1), unread(2, "fleets.yml"), unread(3), unread(4, code="LINK01"), unread(5, code="LINK01")])
    assert [each.code for each in told] == ["LINK03", "LINK03", "LINK01", "LINK01"]


def test_what_all_others_are_judged_by_comes_first_and_nothing_else_moves():
    files = ("batches/B-0001.yml", "depot.yml", "fleets.yml", "makers.yml", "materials/petg.yml", "depot.yml")
    told = once_each_cause(wrong("REC03", "low", where=Where(file, at)) for at, file in enumerate(files, 1))
    assert [each.where.line for each in told] == [2, 6, 4, 3, 1, 5]
