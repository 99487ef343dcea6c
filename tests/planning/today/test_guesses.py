"""Own minutes: those that were logged before all guesses."""

from datetime import date
from types import SimpleNamespace

import pytest

from generator.planning.overview import Missing
from generator.planning.today.guesses import (
    GUESSES,
    OF_MISSING,
    OF_STEP,
    Minutes,
    OwnWork,
    logged_minutes,
    minutes_for,
)
from generator.records.approvals import PrototypePrinted, QuestionAnswered
from generator.rules.verdicts import TABLE


def printed(minutes: int | None) -> PrototypePrinted:
    return PrototypePrinted(what="prototype printed", on=date(2026, 1, 1), by="am", minutes=minutes)


def test_without_a_word_it_is_a_guess_and_called_one():
    found = minutes_for(OwnWork.PROTOTYPE, {})
    assert found == Minutes(GUESSES[OwnWork.PROTOTYPE], logged=0)
    assert found.is_guess


@pytest.mark.parametrize(
    ("minutes", "told"),
    [((25,), (25, 1)), ((25, 90), (58, 2)), ((10, 20, 600), (20, 3)), ((None, None), (GUESSES[OwnWork.PROTOTYPE], 0)), ((None, 40), (40, 1))],
)
def test_what_was_logged_counts_by_its_median(minutes, told):
    """One day on which everything went wrong does not move a median; half a minute is rounded up."""
    logged = logged_minutes([*map(printed, minutes), QuestionAnswered(what="question answered", on=date(2026, 1, 1), by="am", minutes=5)])
    found = minutes_for(OwnWork.PROTOTYPE, logged)
    assert (found.minutes, found.logged) == told


def test_events_of_a_batch_count_as_those_of_an_approval():
    measured = SimpleNamespace(what="measured", minutes=12)
    assert minutes_for(OwnWork.MEASURE, logged_minutes([measured])).minutes == 12


def test_everything_that_can_be_missing_has_its_work():
    assert set(OF_MISSING) == set(Missing)
    assert {step.id for step in TABLE} >= set(OF_STEP)


def test_every_work_has_a_guess_of_less_than_two_days():
    assert set(GUESSES) == set(OwnWork)
    assert all(0 < minutes < 2 * 8 * 60 for minutes in GUESSES.values())


def test_letters_and_older_approvals_are_logged_by_what_they_came_for():
    logged = {"approved": [40], "trial opened": [20], "taken over": [35]}
    assert (minutes_for(OwnWork.LETTER, logged).minutes, minutes_for(OwnWork.TAKE_OVER, logged).minutes) == (30, 35)
