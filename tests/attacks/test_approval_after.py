"""What is said after the approval, or of the day from which it holds."""

import pytest

from tests.attacks import approval_depot as depot
from tests.attacks.approval_depot import (
    ASK,
    FIT,
    HANDLE,
    KNOB,
    Said,
    add,
    approve,
    asks,
    event,
    fits,
    folder,
    history,
    kept,
    refuses,
)

ASKED = {"question": "Does the wing break in the cold?"}


def question(on="2026-05-05", **more):
    return event(on, "question asked", **ASKED | more)


def answer_to(on="2026-06-06", by="am-specialist"):
    return event(on, "question answered", by)


def test_a_question_asked_after_the_approval_is_open(demo):
    catalogue = demo()
    add(catalogue, KNOB, question())
    asks(catalogue, "question")


def test_a_question_asked_with_the_command_is_open(demo):
    catalogue = demo()
    answer = depot.record(
        catalogue, KNOB, "question asked", "technical-review", "--question", "Why?", "--reference", "L"
    )
    assert answer.returncode == 0, answer.stderr
    asks(catalogue, "question")


def test_a_question_on_the_day_of_the_approval_and_after_it(demo):
    catalogue = demo()
    add(catalogue, KNOB, question("2025-03-17"))
    asks(catalogue, "question")


def test_two_questions_and_one_answer(demo):
    catalogue = demo()
    add(catalogue, KNOB, question(), question("2026-05-06", question="And in the heat?"), answer_to())
    refuses(catalogue, "question")


def test_a_question_of_the_keeper_counts_as_much(demo):
    catalogue = demo()
    add(catalogue, KNOB, question(by="keeper"))
    asks(catalogue, "question")


def test_a_question_of_the_authority_on_its_own_part(demo):
    catalogue = demo(HANDLE)
    add(catalogue, HANDLE, question(by="authority"))
    refuses(catalogue, "question", HANDLE)


def test_who_asks_does_not_answer(demo):
    catalogue = demo()
    add(catalogue, KNOB, question(), answer_to(by="technical-review"))
    said = Said(catalogue)
    assert said.words() <= {
        FIT,
        ASK,
    }  # told here so that somebody decides it: the reviewer may close his own question


def test_the_answer_stands_before_the_question(demo):
    catalogue = demo()
    add(catalogue, KNOB, answer_to("2026-05-05"), question("2026-05-05"))
    refuses(catalogue, "question")


def test_a_renewal_does_not_answer_a_question(demo):
    catalogue = demo()
    paper = kept(folder(catalogue), "documents/r.txt", "Renewed.\n")
    add(
        catalogue,
        KNOB,
        question(),
        event("2026-06-06", "renewed", valid_until="2032-01-01", evidence=[paper]),
    )
    refuses(catalogue, "question")


def test_a_lifted_condition_does_not_answer_a_question(demo):
    catalogue = demo()
    paper = kept(folder(catalogue), "documents/r.txt", "Lifted.\n")
    add(
        catalogue,
        KNOB,
        event("2026-04-04", "condition added", condition="Look monthly.", evidence=[paper]),
        question(),
        event("2026-06-06", "condition lifted", condition="Look monthly.", evidence=[paper]),
    )
    refuses(catalogue, "question")


def test_a_question_that_was_answered_leaves_it_fitted(demo):
    catalogue = demo()
    add(catalogue, KNOB, question(), answer_to())
    fits(catalogue)


def test_before_the_question_it_was_fitted(demo):
    catalogue = demo()
    add(catalogue, KNOB, question())
    fits(catalogue, day="2026-05-04")


# The day from which it holds


def begins(catalogue, day, **more):
    with history(catalogue) as record:
        depot.what(record, "approved").update({"valid_from": day} | more)


@pytest.mark.parametrize("day", ["2026-11-26", "2027-01-01", "2029-12-31"])
def test_an_approval_that_begins_later_does_not_hold_yet(demo, day):
    catalogue = demo()
    begins(catalogue, day)
    refuses(catalogue, "begin|begun|first day|not before|from")


@pytest.mark.parametrize("day", ["2025-03-17", "2026-11-25"])
def test_an_approval_that_has_begun_holds(demo, day):
    catalogue = demo()
    begins(catalogue, day)
    fits(catalogue)


BAD_DAYS = {
    "behind its last day": {"day": "2030-04-01"},
    "on a day that there is not": {"day": "2025-02-30"},
    "as a word": {"day": "soon"},
    "as a year": {"day": 2025},
}


@pytest.mark.parametrize("case", BAD_DAYS)
def test_a_first_day_that_cannot_be(demo, case):
    catalogue = demo()
    begins(catalogue, **BAD_DAYS[case])
    refuses(catalogue, "valid_from|first day|begin|begun|day", day="2030-03-30")


def test_a_first_day_before_the_approval_does_not_reach_back(demo):
    catalogue = demo()
    begins(catalogue, "2024-01-01")
    refuses(catalogue, "valid_from|No approval|begin|begun|day", day="2025-03-16")


def test_with_the_command_it_begins_when_the_letter_says(demo):
    catalogue = demo()
    with history(catalogue) as record:
        depot.cut(record, "documents complete")
    depot.walk(catalogue, names=["documents complete", "sent to technical review"])
    answer = approve(catalogue, "--from", "2027-03-01")
    assert answer.returncode == 0, answer.stdout + answer.stderr
    refuses(catalogue, "begin|begun|first day|not before|from")
    fits(catalogue, day="2027-03-01")


def test_a_newer_approval_that_begins_later_ends_the_older_not_before(demo):
    # whichever way it is ruled: nothing says Fit it on a day on which neither holds
    catalogue = demo()
    begins(catalogue, "2026-12-31")
    add(catalogue, KNOB, event("2026-12-01", "withdrawn", reason="cracks"))
    refuses(catalogue, "withdrawn|begin|begun|come", day="2027-01-15")


def test_an_approval_is_refused_after_it_was_given(demo):
    # the reviewer sends the way back: not fitted, or an error that says what to record instead
    catalogue = demo()
    add(catalogue, KNOB, event("2026-05-05", "approval refused", reason="Cracked in the cold."))
    refuses(catalogue, "refused|withdrawn")


def test_the_customer_refuses_after_the_approval(demo):
    catalogue = demo()
    add(catalogue, KNOB, event("2026-05-05", "customer acceptance refused", "keeper", reason="Cracked."))
    refuses(catalogue, "refused|withdrawn|acceptance")


def test_a_condition_in_the_letter_of_today_counts_from_today(demo):
    catalogue = demo()
    paper = kept(folder(catalogue), "documents/c.txt", "Look monthly.\n")
    add(catalogue, KNOB, event(depot.DAY, "condition added", condition="Look monthly.", evidence=[paper]))
    refuses(catalogue, "Look monthly")
