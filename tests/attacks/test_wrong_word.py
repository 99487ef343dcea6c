"""Histories that tempt the program to say Fit it: endings that come undone, conditions that get lost."""

import re

import pytest

from tests.attacks import wrong_word_depot as depot
from tests.attacks.wrong_word_depot import (
    ASK,
    DAY,
    FIT,
    NO,
    event,
    superseded,
    way,
    withdrawn,
)

DOOR = "Entrance door"
CARE = {"conditions": ["Only with a washer."]}


def after(ending, permit, *later):
    """Revision A was approved everywhere on A1, then ended; the way was walked anew before what follows."""
    return [*way(), permit(), ending, *way("2026-04"), *later]


# Endings


@pytest.mark.parametrize("ending", [superseded(), withdrawn()], ids=["superseded", "withdrawn"])
def test_stock_of_an_ended_revision_is_never_fitted_after_the_next_one_is_approved(permit, history, ending):
    words = history(after(ending, permit, permit("B", on="2026-05-15")), revision="B", label="A")
    assert words.on(11) == {FIT}
    assert words.fitted("A") == set()


@pytest.mark.parametrize("ending", [superseded(), withdrawn()], ids=["superseded", "withdrawn"])
def test_an_ending_stays_on_the_vehicles_of_which_no_later_approval_speaks(permit, history, ending):
    words = history(after(ending, permit, permit("B", "A1:11:cab", on="2026-05-15")), revision="B", label="A")
    assert words.on(11) == {FIT}
    assert words.fitted() == {(11, "Driver's cab")}
    said = "ithdrawn" if ending["what"] == "withdrawn" else "EX-0900"
    others = words.on(12, part=5) | words.on(11, DOOR, part=5)
    assert others
    assert all(said in reason for reason in others), others


def test_an_ended_approval_of_the_same_revision_comes_back_only_where_it_is_approved_anew(permit, history):
    words = history(after(withdrawn(), permit, permit("A", "A1:11:cab", on="2026-05-15")), label="A")
    assert words.fitted() == {(11, "Driver's cab")}
    assert all("ithdrawn" in reason for reason in words.on(12, part=5) | words.on(11, DOOR, part=5))


def test_a_withdrawn_revision_approved_anew_is_fitted_again(permit, history):  # holds already
    words = history(after(withdrawn(), permit, permit(on="2026-05-15")), label="A")
    assert words.on(11) == words.on(14, DOOR) == {FIT}


def test_an_approval_for_another_fleet_wakes_nothing_on_the_first(permit, history):  # holds already
    words = history(
        after(withdrawn(), permit, permit("B", "B2:21-22:cab", on="2026-05-15")), revision="B", label="A"
    )
    assert words.on(21) == {FIT}
    assert words.fitted() == {(21, "Driver's cab"), (22, "Driver's cab")}


def test_a_trial_after_an_ending_wakes_no_older_permit(permit, history):  # holds already
    # whether the trial itself may begin before a new approval is left open here
    trial = permit("B", "A1:11:cab", on="2026-05-15", what="trial opened")
    words = history(after(superseded(), permit, trial), revision="B", label="A")
    assert words.fitted() <= {(11, "Driver's cab")}
    assert words.fitted("A") == set()


def test_a_closed_trial_after_a_withdrawal_leaves_everything_withdrawn(permit, history):  # holds already
    trial = permit("A", "A1:11:cab", on="2026-05-15", what="trial opened")
    closed = event("2026-06-15", "trial closed", reason="done")
    assert history(after(withdrawn(), permit, trial, closed), label="A").fitted() == set()


def test_a_trial_that_ran_before_the_withdrawal_ends_with_it(permit, history):
    events = [
        *way(),
        permit(),
        permit("B", "A1:11:cab", on="2026-02-01", what="trial opened"),
        superseded(),
        *way("2026-04"),
        permit("C", "A1:14:cab", on="2026-05-15"),
    ]
    assert history(events, revision="C", label="B").fitted() == {(14, "Driver's cab")}


def test_two_endings_end_both_revisions(permit, history):  # holds already
    events = after(
        superseded(),
        permit,
        permit("B", "A1:11-12:cab", on="2026-05-15"),
        withdrawn("2026-06-01"),
        *way("2026-07"),
        permit("C", "A1:13:cab", on="2026-08-15"),
    )
    assert history(events, revision="C", label="A").fitted() == {(13, "Driver's cab")}


def test_an_ending_on_the_day_of_the_approval_but_after_it_ends_it(permit, history):
    # the order in the file decides; the way for B is walked, so that only the ending speaks
    events = [
        *way(),
        permit(on="2026-05-15"),
        superseded("2026-05-15"),
        *way("2026-06"),
        permit("B", "A1:11:cab", on="2026-07-01"),
    ]
    assert history(events, revision="B", label="A").fitted() == {(11, "Driver's cab")}


def test_an_ending_later_than_the_new_approval_ends_that_too(permit, history):  # holds already
    events = after(superseded(), permit, permit("B", on="2026-05-15"), withdrawn("2026-09-01"))
    assert history(events, revision="B", label="A").fitted() == set()


@pytest.mark.parametrize(
    ("of_the_first", "revival"),
    [
        ({}, event("2026-06-01", "renewed", valid_until="2030-12-31", approved_on="2026-01-15")),
        (
            CARE,
            event(
                "2026-06-01", "condition lifted", condition=CARE["conditions"][0], approved_on="2026-01-15"
            ),
        ),
    ],
    ids=["renewed", "lifted"],
)
def test_nothing_said_later_of_an_ended_permit_revives_it(permit, history, of_the_first, revival):
    # either `spares check` names the revival as a mistake, or it has no effect
    new = permit("B", "A1:11:cab", on="2026-05-15")
    events = [*way(), permit(**of_the_first), superseded(), *way("2026-04"), new, revival]
    words = history(events, revision="B", label="A")
    assert words.fitted() <= {(11, "Driver's cab")}
    assert words.fitted("A") == set()


def test_a_renewal_without_its_day_does_not_reach_past_an_ending(permit, history):
    renewal = event("2026-06-01", "renewed", valid_until="2030-12-31")
    events = after(
        superseded(), permit, permit("B", "A1:11:cab", on="2026-05-15", until="2026-06-30"), renewal
    )
    assert history(events, revision="B", label="A").fitted() <= {(11, "Driver's cab")}


def test_the_command_line_walks_the_whole_way_and_the_old_revision_stays_ended(history):
    catalogue = history.catalogue(way(), label="A")
    assert depot.approve(catalogue).returncode == 0
    depot.write_part(catalogue, number="EX-0900", name="Newer knob")
    depot.write_events(catalogue, [], "EX-0900")
    ended = depot.run(
        catalogue,
        "record",
        depot.NUMBER,
        "superseded",
        "--by",
        "reviewer",
        "--superseded-by",
        "EX-0900",
        "--on",
        "2026-03-01",
    )
    assert ended.returncode == 0, ended.stderr
    depot.write_part(catalogue, revision="B", stock={"place": "R1", "on_shelf": 3, "revision": "A"})
    for step in way("2026-04"):
        made = depot.run(
            catalogue,
            "record",
            depot.NUMBER,
            step["what"],
            "--by",
            step["by"],
            "--reference",
            "M-2",
            "--on",
            step["on"],
        )
        assert made.returncode == 0, made.stderr
    assert depot.approve(catalogue, scope="A1:11:cab", on="2026-05-15").returncode == 0
    assert depot.Words(catalogue).fitted() == {(11, "Driver's cab")}


# Several permits at once


def test_a_trial_without_the_condition_does_not_lift_the_condition_of_the_approval(permit, history):
    trial = permit("A", "A1:11:cab", on="2026-06-01", what="trial opened")
    words = history([*way(), permit(**CARE), trial])
    assert words.on(11) == words.on(12) == {ASK}


def test_a_trial_with_a_condition_asks_on_its_own_vehicle_only(permit, history):
    trial = permit("A", "A1:11:cab", on="2026-06-01", what="trial opened", **CARE)
    words = history([*way(), permit(), trial])
    assert words.on(11) == {ASK}
    assert words.on(12) == words.on(11, DOOR) == {FIT}


def test_a_second_approval_without_the_condition_lifts_it_only_where_it_replaces_the_first(permit, history):
    events = [*way(), permit(**CARE)]
    assert history([*events, permit(on="2026-06-01")]).fitted() == set()
    assert history([*events, permit(on="2026-06-01", replaces=["2026-01-15"])]).on(11) == {FIT}


@pytest.mark.parametrize("by_name", [{}, {"approved_on": "2026-01-15"}], ids=["on all", "on one"])
def test_a_condition_added_to_the_approval_outlives_a_later_trial(permit, history, by_name):
    added = event("2026-02-01", "condition added", condition="Only with a washer.", **by_name)
    trial = permit("A", "A1:11:cab", on="2026-06-01", what="trial opened")
    assert history([*way(), permit(), added, trial]).on(11) == {ASK}


def test_a_condition_lifted_from_the_trial_still_stands_in_the_approval(permit, history):
    trial = permit("A", "A1:11:cab", on="2026-06-01", what="trial opened", **CARE)
    lifted = event(
        "2026-07-01", "condition lifted", condition=CARE["conditions"][0], approved_on="2026-06-01"
    )
    assert history([*way(), permit(**CARE), trial, lifted]).on(11) == {ASK}


def test_the_older_of_three_permits_still_asks(permit, history):
    trials = [permit("A", "A1:11:cab", on=day, what="trial opened") for day in ("2026-05-01", "2026-06-01")]
    trials[1]["replaces"] = ["2026-05-01"]  # says nothing of the first
    assert history([*way(), permit(**CARE), *trials]).on(11) == {ASK}


def test_a_permit_asks_up_to_its_last_day_and_from_its_first(permit, history):
    trial = permit("A", "A1:11:cab", on="2026-06-01", what="trial opened")
    catalogue = history.catalogue([*way(), permit(until="2026-06-30", **CARE), trial])
    assert depot.Words(catalogue, day="2026-06-30").on(11) == {ASK}
    assert depot.Words(catalogue, day="2026-07-01").on(11) == {FIT}


def test_the_condition_of_one_revision_does_not_ask_for_another(permit, history):  # holds already
    # that the older pieces may be used up is said, so that the condition alone asks for them
    newer = permit("B", on="2026-06-01", uses_up="A")
    words = history([*way(), permit(**CARE), newer], revision="B", label="A")
    assert words.on(11) == {FIT}
    assert words.on(11, label="A") == {ASK}


def test_a_replaced_revision_is_not_fitted_from_the_shelf(permit, history):
    words = history(
        [*way(), permit(), permit("B", on="2026-06-01", replaces=["2026-01-15"])], revision="B", label="A"
    )
    assert words.on(11) == {FIT}
    assert words.fitted("A") == set()


def test_a_trial_that_replaces_an_approval_and_closes_does_not_give_it_back(permit, history):
    trial = permit("A", "A1:11:cab", on="2026-06-01", what="trial opened", replaces=["2026-01-15"])
    closed = event("2026-07-01", "trial closed", reason="cracks")
    opened = history([*way(), permit(**CARE), trial])
    assert opened.on(11) == {FIT}, opened.text  # the control: the history itself is allowed
    assert history([*way(), permit(), trial, closed]).on(11) == {NO}


def test_a_replacement_that_lapsed_or_was_withdrawn_does_not_give_the_old_permit_back(permit, history):
    new = permit("A", "A1:11:cab", on="2026-06-01", until="2026-08-31", replaces=["2026-01-15"])
    catalogue = history.catalogue([*way(), permit(), new])
    assert depot.Words(catalogue, day="2026-07-01").on(11) == {FIT}
    assert depot.Words(catalogue, day=DAY).on(11) == {NO}
    renewal = event("2026-07-01", "renewed", valid_until="2029-12-31", approved_on="2026-01-15")
    assert history([*way(), permit(), new, renewal]).on(11) == {NO}


@pytest.mark.parametrize(
    "day",
    ["2026-01-16", "2025-10-03", "2026-06-01", "2026-09-01", "2026-02-01"],
    ids=["no event", "documents complete", "itself", "a later permit", "a condition"],
)
def test_a_replacement_of_what_is_no_earlier_permit_is_named_and_lifts_nothing(permit, history, day):
    added = event("2026-02-01", "condition added", condition="Only in summer.")
    trials = [
        permit("A", "A1:11:cab", on="2026-06-01", what="trial opened", replaces=[day]),
        permit("A", "A1:14:cab", on="2026-09-01", what="trial opened"),
    ]
    words = history([*way(), permit(**CARE), added, *trials])
    # explain lists the part's mistakes below the verdicts, as check does; "not a key" is no answer
    assert re.search(rf"approval\.yml.*(error|warning).*({day}|replaces)", words.text), words.text
    assert "is not a key" not in words.text
    assert words.fitted() == set()


def test_a_replacement_of_another_vehicles_permit_is_a_mistake_or_ends_it(permit, history):  # holds already
    other = permit("A", "A1:12:cab", **CARE)
    words = history([*way(), other, permit("A", "A1:11:cab", on="2026-06-01", replaces=["2026-01-15"])])
    assert words.on(12) == {NO}


def test_the_command_line_writes_the_replacement_and_refuses_a_day_without_permit(permit, history):
    catalogue = history.catalogue([*way(), permit(**CARE)])
    before = depot.read_events(catalogue)
    wrong = depot.approve(catalogue, "--replaces", "2026-01-16", on="2026-06-01")
    assert wrong.returncode == 1
    assert "2026-01-16" in wrong.stdout + wrong.stderr
    assert depot.read_events(catalogue) == before
    right = depot.approve(catalogue, "--replaces", "2026-01-15", on="2026-06-01")
    assert right.returncode == 0, right.stderr
    assert depot.read_events(catalogue)[-1]["replaces"] == ["2026-01-15"]
    assert depot.Words(catalogue).on(11) == {FIT}
