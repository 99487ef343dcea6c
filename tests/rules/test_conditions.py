"""Conditions of two kinds: to be met before fitting, or kept in service by the maintenance plan."""

from datetime import date

import pytest

from generator.pages.verdict_lines import in_service
from generator.pages.wording import wording
from tests.rules.cases import sheet_of
from tests.rules.test_adversary import CAB_11, DAY, WAY, case, event, grant, said

TEXT = "Gap is 2 mm."
BEFORE = {"text": TEXT, "applies": "before fitting"}
PLANNED = {"text": TEXT, "applies": "in service", "maintenance_plan": "plan 4, line 6"}
UNPLANNED = {"text": TEXT, "applies": "in service"}


@pytest.mark.parametrize(
    ("condition", "verdict"), [(TEXT, "ask"), (BEFORE, "ask"), (PLANNED, "fit"), (UNPLANNED, "ask")],
    ids=["older form", "before", "planned", "unplanned"],
)  # fmt: skip
@pytest.mark.parametrize("how", ["with the approval", "added"])
def test_only_what_the_maintenance_plan_keeps_lets_it_be_fitted(condition, verdict, how):
    events = (grant(conditions=[condition]),) if how == "with the approval" else (grant(), event("condition added", condition=condition))
    assert said(*WAY, *events)[CAB_11] == verdict


def test_one_that_asks_is_enough():
    assert said(*WAY, grant(conditions=[PLANNED, BEFORE]))[CAB_11] == "ask"


def facts(*conditions):
    (found,) = sheet_of(case(*WAY, grant(conditions=list(conditions)))).grounds[0].permits
    return found


def test_what_a_page_may_tick_is_apart_from_what_it_may_not():
    found = facts("A.", BEFORE, UNPLANNED | {"text": "B."}, PLANNED | {"text": "C."})
    assert found.conditions == ("A.", TEXT, "B.")
    assert found.before_fitting == ("A.", TEXT)
    assert found.unplanned == ("B.",)
    assert found.in_service == ("C. (plan 4, line 6)",)
    assert found.ticked == ()


def test_a_page_tells_what_is_kept_in_service_of_permits_in_force_alone():
    words = wording("en")
    told = sheet_of(case(*WAY, grant(conditions=[PLANNED, BEFORE]))).grounds[0]
    assert in_service(told, DAY, words) == ("In service: Gap is 2 mm. (plan 4, line 6)",)
    assert in_service(told, date(2000, 1, 1), words) == ()


def test_a_condition_is_lifted_by_its_text():
    lifted = event("condition lifted", "reviewer", condition=TEXT)
    assert said(*WAY, grant(conditions=[UNPLANNED]), lifted)[CAB_11] == "fit"


@pytest.mark.parametrize(("lifted", "left"), [("Gap is 2 mm.", ("Dry.", "Clean.")), ("Dry.", ("Gap is 2 mm.", "Clean.")), ("Clean.", ("Gap is 2 mm.", "Dry."))])
def test_no_other_condition_is_lifted_with_it(lifted, left):
    """Whoever lifts what is written last must not free the part of what is written first."""
    given = grant(conditions=[BEFORE, {"text": "Dry.", "applies": "before fitting"}])
    added = event("condition added", "reviewer", condition={"text": "Clean.", "applies": "before fitting"})
    judged = sheet_of(case(*WAY, given, added, event("condition lifted", "reviewer", condition=lifted)))
    (found,) = judged.grounds[0].permits
    assert found.before_fitting == left
    assert judged.grounds[0].on(DAY).verdict.key == "ask"


def test_of_two_with_one_text_one_is_lifted():
    lifted = event("condition lifted", "reviewer", condition=TEXT)
    assert said(*WAY, grant(conditions=[UNPLANNED, BEFORE]), lifted)[CAB_11] == "ask"
