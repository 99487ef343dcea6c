"""Does Python's reading of the table agree with verdicts worked out by hand?"""

from datetime import date

import pytest

from generator.rules.verdicts import TABLE, judged, judged_together
from tests.rules import vectors
from tests.rules.typed import typed

VECTORS = vectors.read()


@pytest.mark.parametrize("vector", VECTORS["vectors"], ids=lambda each: each["name"])
def test_each_vector(vector):
    judgement = judged(
        typed(vectors.facts_of(vector, VECTORS["good"])), date.fromisoformat(vector["day"])
    )
    assert {
        "verdict": judgement.verdict.key,
        "decided_by": judgement.decided_by.step.id if judgement.decided_by else None,
        "outcomes": {taken.step.id: taken.outcome.value for taken in judgement.steps},
    } == vectors.expected(vector, VECTORS["steps"])


@pytest.mark.parametrize("case", VECTORS["permits"], ids=lambda each: each["name"])
def test_which_of_several_permits_counts(case):
    permits = [typed(VECTORS["good"] | change) for change in case["permits"]]
    judgement = judged_together(permits, date.fromisoformat(case["day"]))
    assert judgement.verdict.key == case["verdict"]
    assert judgement.facts is permits[case["chosen"]]


def test_each_step_is_seen_to_fail():
    assert [step.id for step in TABLE] == VECTORS["steps"]
    decided = {vector["decided_by"] for vector in VECTORS["vectors"]}
    assert decided >= set(VECTORS["steps"])
