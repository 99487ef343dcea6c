"""Which line is told when lines are added: the one that is at fault, not one that has stood there all along."""

import pytest

from generator.rules.production.adding import adding
from tests.fixtures.production import batch, depot, row

STANDS = [row("2026-02-01", "B-1", vehicle="12"), row("2026-02-02", "B-1", vehicle="13")]


def new(day, *, line=2, **more):
    return row(day, "B-1", file="week.csv", line=line, **more)


CASES = {
    "before its release": ([new("2026-01-07")], ["week.csv:2 FITTED08 before release"]),
    "before its release and before all others": ([new("2026-01-09", vehicle="14")], ["week.csv:2 FITTED08 before release"]),
    "between the others": ([new("2026-02-02")], ["week.csv:2 FITTED07 none left"]),
    "before the others": ([new("2026-01-20")], ["week.csv:2 FITTED07 taken"]),
    "two, of which one is before its release": (
        [new("2026-01-07"), new("2026-02-03", line=3)], ["week.csv:2 FITTED08 before release"],
    ),
}  # fmt: skip


@pytest.mark.parametrize("good_alone", [True, False])
@pytest.mark.parametrize("case", CASES)
def test_where_a_batch_runs_out_the_new_line_is_told(case, good_alone):
    lines, expected = CASES[case]
    found = adding(lines, depot(*STANDS, batches={"B-1": batch(2)}), good_alone=good_alone)
    told = [f"{each.where.file}:{each.where.line} {each.code} {each.key}" for each in found.against]
    assert told[: len(expected)] == expected
    assert all(each.startswith("week.csv") for each in told)
    assert found.new == ()
    assert good_alone or told == expected


def test_the_good_one_is_added_beside_one_before_its_release():
    good, early = new("2026-02-03", line=3, vehicle="14"), new("2026-01-07")
    found = adding([early, good], depot(*STANDS, batches={"B-1": batch(3)}), good_alone=True)
    assert found.new == (good,)
    assert all(each.where.file == "week.csv" for each in found.against)


@pytest.mark.parametrize("position", ["Left  window", " left window", "LEFT WINDOW", "left\u00a0window"])
def test_a_position_that_is_only_typed_otherwise_is_the_same_line(position):
    stands = row("2026-02-01", "B-1", position="left window")
    found = adding([row("2026-02-01", "B-1", position=position, file="week.csv")], depot(stands), good_alone=False)
    assert (len(found.there), found.new, found.against) == (1, (), ())
