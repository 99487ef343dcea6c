"""What comes after an approval: a question, a trial that does not pass, and a first day that is still to come."""

from datetime import timedelta

import pytest

from generator.records.approvals import TrialResult
from generator.rules.history import history
from tests.rules import cases
from tests.rules.cases import sheet_of
from tests.rules.test_adversary import CAB_11, DAY, WAY, case, event, grant, said, trial

DOOR_13 = ("A1", "cab", 13, None)
LATER = DAY - timedelta(days=1)


def test_a_question_asked_after_the_approval_asks_first_until_it_is_answered():
    asked, answered = event("question asked", on=LATER, question="How hot?"), event("question answered", on=LATER)
    assert said(*WAY, grant(), asked)[CAB_11] == "ask"
    assert said(*WAY, grant(), asked, answered)[CAB_11] == "fit"
    assert said(*WAY, grant(), asked, answered, asked)[CAB_11] == "ask"


def test_one_answer_answers_one_question():
    """The oldest: an approver who asked twice is not answered by one word."""
    first, second = (event("question asked", on=LATER - timedelta(days=ago), question="How hot?") for ago in (5, 3))
    answered = event("question answered", on=LATER)
    assert said(*WAY, grant(), first, second, answered)[CAB_11] == "ask"
    (facts,) = sheet_of(case(*WAY, grant(), first, second, answered)).grounds[0].permits
    assert facts.question_open_since == LATER - timedelta(days=3)
    assert said(*WAY, grant(), first, second, answered, answered)[CAB_11] == "fit"


def test_a_new_prototype_does_not_answer_the_question():
    """It opens the way to another approval; of the one that stands the question stays open, and can be answered."""
    asked, answered = event("question asked", on=LATER, question="How hot?"), event("question answered", on=LATER)
    again = event("prototype printed", on=LATER)
    assert said(*WAY, grant(), asked, again)[CAB_11] == "ask"
    assert said(*WAY, grant(), asked, again, answered)[CAB_11] == "fit"


def closed(result=None):
    more = {"result": result, "fitted_pieces": "come off"} if result else {}
    return event("trial closed", on=LATER, reason="over", **more)


@pytest.mark.parametrize(
    ("result", "verdict"), [("passed", "fit"), ("failed", "ask"), ("broken off", "ask"), (None, "ask")]
)
def test_a_trial_that_does_not_pass_keeps_the_approval_at_ask_first(result, verdict):
    opened = trial([11], until=DAY + timedelta(days=9))
    found = said(*WAY, grant(), opened, closed(result))
    assert found[CAB_11] == verdict
    assert found[DOOR_13] == "fit"  # the trial spoke of other vehicles


@pytest.mark.parametrize("result", ["failed", None])
def test_a_later_approval_has_seen_how_the_trial_went(result):
    opened = trial([11], until=DAY + timedelta(days=9))
    day = DAY - timedelta(days=75)
    first, anew = grant(on=day), grant(on=LATER, replaces=[day])
    assert said(*WAY, first, opened, closed(result), anew)[CAB_11] == "fit"
    assert said(*WAY, first, opened, anew, closed(result))[CAB_11] == "ask"


def test_a_trial_that_ends_without_being_closed_asks_from_the_next_day():
    opened = trial([11], until=DAY)
    for days, verdict in ((0, "fit"), (1, "ask"), (20, "ask")):
        assert said(*WAY, grant(), opened, day=DAY + timedelta(days=days))[CAB_11] == verdict


def test_a_refusal_ends_a_trial_without_a_result():
    opened = trial([11], until=DAY + timedelta(days=9))
    refused = event("approval refused", on=LATER, reason="no")
    walked = history(cases.approval(case(*WAY, grant(), opened, event("sent to technical review", on=LATER), refused)), DAY)
    assert [(each.result, each.ended_on) for each in walked.tried] == [(None, LATER)]


def test_a_trial_whose_place_an_approval_takes_ends_there_and_another_goes_on():
    first, second = (trial([vehicle], on=DAY - timedelta(days=ago), until=DAY + timedelta(days=9)) for vehicle, ago in ((11, 80), (12, 70)))
    for replaces, ended in (([], [None, None]), ([DAY - timedelta(days=80)], [LATER, None])):
        walked = history(cases.approval(case(*WAY, first, second, grant(on=LATER, replaces=replaces))), DAY)
        assert [each.ended_on for each in sorted(walked.tried, key=lambda each: each.event.on)] == ended
        assert {each.result for each in walked.tried} == {None}  # nobody has said how it went


def test_a_passed_trial_is_forgotten_and_another_is_not():
    opened = trial([11], until=DAY + timedelta(days=9))
    for result, count in ((TrialResult.PASSED, 0), (TrialResult.FAILED, 1)):
        assert len(history(cases.approval(case(*WAY, grant(), opened, closed(result.value))), DAY).tried) == count


@pytest.mark.parametrize("days", [-1, 0, 1])
def test_an_approval_that_begins_later_is_not_in_force_before_its_first_day(days):
    first = DAY + timedelta(days=5)
    found = said(*WAY, grant(valid_from=first), day=first + timedelta(days=days))
    assert found[CAB_11] == ("no" if days < 0 else "fit")


def test_until_a_newer_approval_begins_that_was_given_ahead_the_older_goes_on_and_never_again():
    ends, begins = DAY + timedelta(days=2), DAY + timedelta(days=3)
    ahead = grant(on=LATER, valid_from=begins, until=begins + timedelta(days=1))
    for day, word in ((DAY, "fit"), (ends, "fit"), (begins, "fit"), (begins + timedelta(days=2), "no")):
        assert said(*WAY, grant(on=LATER, until=ends), ahead, day=day)[CAB_11] == word
    assert said(*WAY, grant(on=LATER, until=ends), ahead, day=begins)[("A1", "cab", 12, None)] == "fit"


def test_no_approval_begins_before_it_was_given():
    given = grant(on=LATER, valid_from=DAY - timedelta(days=300))
    (facts,) = sheet_of(case(*WAY, given)).grounds[0].permits
    assert (facts.permit_on, facts.permit_from) == (LATER, LATER)


def test_an_approval_cannot_end_before_it_begins():
    first = DAY + timedelta(days=5)
    assert said(*WAY, grant(valid_from=first, until=first), day=first)[CAB_11] == "fit"
    late = grant(valid_from=first, until=first - timedelta(days=1))
    assert said(*WAY, late, day=first)[CAB_11] == "no"
