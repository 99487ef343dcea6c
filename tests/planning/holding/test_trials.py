"""A trial: its pieces are those of its revision, on its vehicles and places, fitted while it ran."""

import json
from datetime import date
from types import SimpleNamespace

import pytest

from generator.planning.holding.trials import Course, trial_doubts, trials_of
from generator.records.approvals import Approval
from tests.planning.holding.histories import DAY, batch, line, produced

OPENED = {
    "what": "trial opened", "on": "2026-06-01", "by": "technical-review", "valid_until": "2026-12-31", "planned_pieces": 4, "revision": "A",
    "scope": [{"fleet": "TR4", "vehicles": ["401", "402"], "places": ["saloon"]}], "approved_as": "spares\n", "fingerprint": "0" * 64,
}  # fmt: skip
CLOSED = {"what": "trial closed", "on": "2026-09-01", "by": "technical-review", "reason": "minutes", "result": "failed", "fitted_pieces": "come off"}


def trials(events, *lines, day=DAY, **batches):
    approval = Approval.model_validate_json(json.dumps({"format": 2, "route": "customer", "events": events}))
    made = produced(*lines, **(batches or {"B_1": batch()}))
    return trials_of("TV-0001", approval, SimpleNamespace(production=made), day)


def fitted(*days, **more):
    return [line(date(2026, *day), on="B-1", **more) for day in days]


def test_a_trial_that_runs():
    (trial,) = trials([OPENED], *fitted((6, 1), (6, 11)), line(date(2026, 7, 1), off="B-1", why="worn"))
    assert (trial.course, trial.days, trial.event.planned_pieces) == (Course.RUNNING, 180, 4)
    assert (trial.figures.pieces, trial.figures.in_use, trial.figures.failed, trial.came_off) == (2, 1, 1, 1)
    assert trial.figures.days == 30 + 170


def test_only_pieces_of_its_revision_on_its_vehicles_and_places_in_its_days_count():
    lines = [*fitted((5, 31)), *fitted((6, 2), vehicle="403"), *fitted((6, 2), place="cab"), *fitted((6, 2), fleet="TR7"), line(date(2026, 6, 2), on="B-2")]
    (trial,) = trials([OPENED], *lines, B_1=batch(), B_2=batch(revision="B"))
    assert trial.figures.pieces == 0
    assert trial.figures.rate is None
    (trial,) = trials([{**OPENED, "valid_from": "2026-06-10"}], *fitted((6, 9), (6, 10)))
    assert trial.figures.pieces == 1


def test_a_failed_trial_counts_until_its_end_and_pieces_that_come_off_later_did_not_fail():
    lines = [*fitted((6, 1), (6, 1)), line(date(2026, 9, 5), off="B-1", why="campaign"), line(date(2026, 9, 9), off="B-1", why="broken")]
    (trial,) = trials([OPENED, CLOSED], *lines)
    assert (trial.course, trial.days, trial.figures.failed, trial.figures.days) == (Course.FAILED, 92, 0, 184)
    assert (trial.came_off, trial.sitting, trial.is_to_come_off, trial_doubts([trial])) == (2, (), False, ())


def test_pieces_that_were_to_come_off_and_sit_still_are_a_doubt_with_their_vehicles():
    lines = [*fitted((6, 1), (6, 1)), *fitted((6, 2), vehicle="402"), *(line(date(2026, 9, 5), off="B-1", why="campaign") for _ in "ab")]
    (doubt,) = trial_doubts(trials([OPENED, CLOSED], *lines))
    assert (doubt.code, doubt.path, dict(doubt.facts)["vehicles"], dict(doubt.facts)["pieces"]) == ("TRIAL01", ("events", 1), ("TR4 402",), 1)
    assert trial_doubts(trials([OPENED, CLOSED], *fitted((6, 2)), day=date(2026, 8, 1))) == ()
    assert trial_doubts(trials([OPENED, {**CLOSED, "fitted_pieces": "stay"}], *fitted((6, 2)))) == ()


@pytest.mark.parametrize(
    ("events", "day", "course"),
    [
        ([{**OPENED, "valid_from": "2026-12-10"}], DAY, Course.AHEAD),
        ([OPENED], date(2027, 1, 1), Course.UNSAID),
        ([OPENED, {**CLOSED, "result": "passed"}], DAY, Course.PASSED),
        ([OPENED, {**CLOSED, "result": "broken off"}], DAY, Course.BROKEN_OFF),
        ([OPENED, {k: v for k, v in CLOSED.items() if k not in {"result", "fitted_pieces"}}], DAY, Course.UNSAID),
        ([OPENED, {"what": "withdrawn", "on": "2026-07-01", "by": "x", "reason": "y"}], DAY, Course.UNSAID),
        ([OPENED, {**CLOSED, "on": "2027-02-01"}], DAY, Course.RUNNING),
    ],
)
def test_course(events, day, course):
    assert [each.course for each in trials(events, day=day)] == [course]


def test_of_several_trials_the_newest_comes_first_and_one_that_replaces_ends_the_older():
    newest, oldest = trials([OPENED, {**OPENED, "on": "2026-08-01", "replaces": ["2026-06-01"]}], *fitted((6, 2), (8, 2)))
    assert (newest.course, oldest.course, oldest.last_day) == (Course.RUNNING, Course.UNSAID, date(2026, 8, 1))
    assert (newest.figures.pieces, oldest.figures.pieces) == (1, 1)


def test_no_record_and_no_trial_is_none():
    assert trials_of("TV-0001", None, SimpleNamespace(production=produced()), DAY) == ()
    assert trials([]) == ()
