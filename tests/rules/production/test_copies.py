"""A batch's file under a second number: one print is not two batches."""

from datetime import datetime

import pytest

from generator.records.problems import Severity
from generator.records.production import Production
from generator.rules.production.faults import copies, overlaps
from tests.fixtures.production import RELEASED, batch
from tests.fixtures.tiny import CLIP

FIRST = batch()


def measured(*values, on="2026-01-08"):
    check = {"check": "Bore", "values_mm": values, "gauge": "caliper", "calibrated_until": "2026-12-31"}
    return [{"what": "measured", "on": on, "by": "specialist", "checks": (check,)}, *RELEASED]


def later(one, **more):
    return one.model_copy(update={"started": datetime.fromisoformat("2026-01-06 08:00"), "ended": datetime.fromisoformat("2026-01-06 12:00"), **more})


FOUR = batch(events=measured(6.01, 6.02, 6.03, 6.02))
CASES = {
    "the same file": (FIRST, ["one print"] * 2),
    "with more events": (batch(events=[*RELEASED, {"what": "counted", "on": "2026-02-01", "by": "x", "on_shelf": 3}]), ["one print"] * 2),
    "of another count and lot": (batch(4, lots=("L-2",)), ["one print"] * 2),
    "another part on the same plate": (batch(part=CLIP), ["overlap"]),
    "another revision on the same plate": (batch(revision="B"), ["overlap"]),
    "on another machine": (FIRST.model_copy(update={"machine": "bench-2"}), []),
    "a minute longer": (FIRST.model_copy(update={"ended": datetime.fromisoformat("2026-01-05 12:01")}), ["overlap"]),
}


@pytest.mark.parametrize("case", CASES)
def test_a_print_is_one_batch(case):
    other, expected = CASES[case]
    production = Production(batches={"B-1": FIRST, "B-2": other})
    told = [*copies(production), *overlaps(production)]
    assert [problem.key for _, problem in told] == expected
    if expected == ["one print"] * 2:
        assert {name for name, _ in told} == {"B-1", "B-2"}
        assert all(problem.severity is Severity.ERROR for _, problem in told)
        assert {dict(problem.facts)["others"] for _, problem in told} == {("batches/B-1.yml",), ("batches/B-2.yml",)}


@pytest.mark.parametrize(
    ("other", "expected"),
    [
        (later(FOUR), ["same figures"] * 2),
        (later(batch(events=measured(6.01, 6.02, 6.03, 6.02, on="2026-01-09"))), ["same figures"] * 2),
        (later(batch(events=measured(6.01, 6.02, 6.03, 6.01))), []),
        (later(batch(events=measured(6.02, 6.01, 6.03, 6.02))), []),
        (later(batch(part=CLIP, events=measured(6.01, 6.02, 6.03, 6.02))), []),
        (FOUR, ["one print"] * 2),
    ],
)
def test_two_prints_do_not_measure_alike_to_the_last_digit(other, expected):
    assert [problem.key for _, problem in copies(Production(batches={"B-1": FOUR, "B-2": other}))] == expected


def test_three_figures_may_be_alike_by_chance():
    three = batch(events=measured(6.01, 6.02, 6.03))
    assert list(copies(Production(batches={"B-1": three, "B-2": later(three)}))) == []
