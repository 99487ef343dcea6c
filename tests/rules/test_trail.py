"""A step that holds a day or a number against a limit says how much is left before it fails, or by how much it failed."""

from dataclasses import replace
from datetime import timedelta

import pytest

from generator.rules.facts.fields import OPEN, Facts, as_text
from generator.rules.verdicts import Outcome, judged
from tests.fixtures.tiny import DAY, DEPOT, KNOB, sheets

GOOD: Facts = next(sheet for sheet in sheets(DEPOT)[0] if sheet.number == KNOB).grounds[0].permits[0]


def step(name: str, facts: Facts, day=DAY):
    return next(taken for taken in judged(facts, day).steps if taken.step.id == name)


@pytest.mark.parametrize("days", [-3, 0, 1, 40])
def test_the_last_day_of_a_paper(days):
    taken = step("certificate", replace(GOOD, certificate_until=DAY + timedelta(days=days)))
    assert (taken.limit, taken.margin) == (DAY, days)
    assert (taken.outcome is Outcome.PASSED) is (days >= 0)


@pytest.mark.parametrize("days", [-2, 0, 5])
def test_the_first_day_of_a_permit(days):
    assert step("begun", replace(GOOD, permit_from=DAY - timedelta(days=days))).margin == days


@pytest.mark.parametrize(("age", "margin"), [(0, 30), (30, 0), (31, -1)])
def test_the_age_of_the_copy(age, margin):
    taken = step("copy_age", replace(GOOD, built_on=DAY - timedelta(days=age), max_copy_age_days=30))
    assert (taken.limit, taken.margin) == (30, margin)


def test_where_nothing_is_held_against_anything_there_is_no_margin():
    assert step("permit", GOOD).margin is None
    assert step("lasts", replace(GOOD, permit_until=OPEN)).margin is None
    assert step("lasts", replace(GOOD, permit_until=None)).margin is None


def test_every_fact_has_its_text():
    assert as_text(DAY) == DAY.isoformat()
    assert as_text(OPEN) == "open"
    assert as_text(45) == "45"
    assert as_text(("a", "b")) == ("a", "b")
    assert set(GOOD.text) - set(GOOD.for_browser) == {"copy", "newer_copy", "forgotten"}
