"""Each fact of the table taken away, emptied or turned into garbage: never "Fit it"."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.rules.verdicts import TABLE, Judgement, Look, Outcome, Verdict, judged, judged_together
from tests.fixtures.tiny import DAY, DEPOT, KNOB, sheets
from tests.rules.typed import typed

GOOD = next(sheet for sheet in sheets(DEPOT)[0] if sheet.number == KNOB).grounds[0].permits[0].text
FACTS = sorted({step.fact for step in TABLE} | {"max_copy_age_days"})
# For these, None says "nothing is noted", which is what is asked.
NOTHING_NOTED = {step.fact for step in TABLE if step.test is Look.ABSENT}
GARBAGE = (
    "", " ", "yes!", "APPROVED", "Kept", "None", "null", "true", "0", "-1", "1e9", "45.0", "99999", "٤٥", "open ", "Open",
    "2026-02-30", "2026-13-01", "2026-W48-3", "20261125", "2026-11-25T00:00", "２０２６-11-25", "9999-99-99", "0000-00-00",
    "2026-11-25 ", "+026-11-25", ("x",), ("2026-11-25",), (), 0, 1, True, False, 1.5, float("nan"), datetime(2027, 1, 1, tzinfo=UTC), {}, b"yes",
)  # fmt: skip
# What of the garbage happens to be a right value for a fact.
RIGHT = {
    *((fact, ()) for fact in NOTHING_NOTED),
    *(("max_copy_age_days", value) for value in ("0", 0, 1)),
}


def test_the_good_facts_pass():
    assert judged(typed(GOOD), DAY).verdict is Verdict.FIT_IT


@pytest.mark.parametrize("fact", FACTS)
def test_a_missing_fact_never_passes(fact):
    facts = {key: value for key, value in GOOD.items() if key != fact}
    assert judged(typed(facts), DAY).verdict is not Verdict.FIT_IT


@pytest.mark.parametrize("fact", FACTS)
def test_none_never_passes_where_something_is_asked(fact):
    verdict = judged(typed({**GOOD, fact: None}), DAY).verdict
    assert (verdict is Verdict.FIT_IT) is (fact in NOTHING_NOTED)


@pytest.mark.parametrize("fact", FACTS)
def test_garbage_never_passes(fact):
    garbage = [value for value in GARBAGE if not any((fact, value) == right and type(value) is type(right[1]) for right in RIGHT)]
    assert [value for value in garbage if judged(typed({**GOOD, fact: value}), DAY).verdict is Verdict.FIT_IT] == []


@given(fact=st.sampled_from(FACTS), value=st.text() | st.integers() | st.floats() | st.binary())
def test_nothing_made_up_passes(fact, value):
    facts = {**GOOD, fact: value}
    judgement = judged(typed(facts), DAY)
    may = value in (GOOD[fact], "open") or (fact == "max_copy_age_days" and isinstance(value, int)) or (
        isinstance(value, str) and value.isascii() and value[:4].isdecimal()
    )
    assert may or judgement.verdict is not Verdict.FIT_IT


def test_no_facts_at_all():
    judgement = judged(typed({}), DAY)
    assert judgement.verdict is Verdict.DO_NOT_FIT
    assert {taken.outcome for taken in judgement.steps} == {Outcome.UNKNOWN}
    with pytest.raises(ValueError):
        judged_together([], DAY)


DAYS = {
    # fact: (value, last or first day on which it passes, whether days after or before pass)
    "permit_from": "first",
    "permit_until": "last",
    "certificate_until": "last",
    "fire_until": "last",
}


@pytest.mark.parametrize("fact", DAYS)
@pytest.mark.parametrize("shift", [-2, -1, 0, 1, 2])
def test_the_boundary_day_itself_belongs_to_it(fact, shift):
    facts = {**GOOD, fact: DAY.isoformat(), "built_on": (DAY - timedelta(days=5)).isoformat()}
    passes = judged(typed(facts), DAY + timedelta(days=shift)).verdict is Verdict.FIT_IT
    assert passes is (shift >= 0 if DAYS[fact] == "first" else shift <= 0)


@pytest.mark.parametrize("fact", ["withdrawn_on", "superseded_on"])
@pytest.mark.parametrize("shift", [-1, 0, 1])
def test_withdrawn_whatever_the_tablets_clock_says(fact, shift):
    """A clock that runs behind must not bring a withdrawn part back."""
    facts = {**GOOD, fact: DAY.isoformat(), "built_on": (DAY - timedelta(days=5)).isoformat()}
    assert judged(typed(facts), DAY + timedelta(days=shift)).verdict is Verdict.DO_NOT_FIT


def decided(judgement: Judgement) -> str | None:
    return judgement.decided_by.step.id if judgement.decided_by else None


@pytest.mark.parametrize(
    ("shift", "verdict", "step"),
    [
        (-1, Verdict.ASK_FIRST, "clock"),
        (0, Verdict.FIT_IT, None),
        (30, Verdict.FIT_IT, None),
        (31, Verdict.ASK_FIRST, "copy_age"),
        (400, Verdict.DO_NOT_FIT, "lasts"),
    ],
)
def test_the_age_of_the_copy(shift, verdict, step):
    judgement = judged(typed(GOOD), DAY + timedelta(days=shift))
    assert (judgement.verdict, decided(judgement)) == (verdict, step)


def test_the_worst_answer_is_the_verdict_and_its_first_step_the_reason():
    facts = {**GOOD, "conditions": ("Check it.",), "fire_until": None, "certificate_until": None}
    assert decided(judged(typed(facts), DAY)) == "certificate"
    assert judged(typed(facts), DAY).verdict is Verdict.DO_NOT_FIT
