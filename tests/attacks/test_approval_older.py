"""Several approvals of one part: what a newer one ended never speaks again, on any day and for any vehicle."""

import copy

import pytest

from tests.attacks import approval_depot as depot
from tests.attacks.approval_depot import (
    FIT,
    KNOB,
    NO,
    WINDOW,
    Said,
    add,
    event,
    folder,
    history,
    kept,
    refuses,
)

FIRST, SECOND = "2025-03-17", "2026-02-02"


def permit(catalogue, on, vehicles, until, number=KNOB, **more):
    """The first approval once more, with other days and vehicles and a letter of its own."""
    with history(catalogue, number) as record:
        one = copy.deepcopy(depot.what(record, "approved", last=False))
    one["scope"][0]["vehicles"] = [vehicles]
    letter = kept(
        folder(catalogue, number), f"documents/letter-{on}-{vehicles}.txt", f"{on} {vehicles} {more}\n"
    )
    return one | {"on": on, "valid_until": until, "reference": f"letter {on}", "evidence": [letter]} | more


def ended_early(catalogue, day="2026-01-31"):
    with history(catalogue) as record:
        depot.what(record, "approved")["valid_until"] = day


def only(catalogue, vehicles, day=depot.DAY):
    fitted = {one[1] for one in Said(catalogue, day=day).fitted}
    assert fitted <= set(vehicles), fitted - set(vehicles)


def renewal(catalogue, approved_on, until="2032-01-31", on="2026-03-03"):
    paper = kept(folder(catalogue), f"documents/renewal-{on}.txt", f"Renewed, {approved_on}.\n")
    return event(on, "renewed", valid_until=until, approved_on=approved_on, evidence=[paper])


def test_a_lapsed_wider_approval_is_renewed_beside_a_newer_narrower_one(demo):
    catalogue = demo()
    ended_early(catalogue)
    add(catalogue, KNOB, permit(catalogue, SECOND, "401-404", "2026-10-31"), renewal(catalogue, FIRST))
    refuses(catalogue, "renew|newer|ended|2026")


def test_a_lapsed_wider_approval_is_renewed_with_the_command(demo):
    catalogue = demo()
    ended_early(catalogue)
    add(catalogue, KNOB, permit(catalogue, SECOND, "401-404", "2027-10-31"))
    paper = kept(folder(catalogue), "documents/renewal.txt", "Renewed.\n")["file"]
    answer = depot.record(
        catalogue,
        KNOB,
        "renewed",
        "technical-review",
        "--reference",
        "R",
        "--until",
        "2032-01-31",
        "--approved-on",
        FIRST,
        "--evidence",
        paper,
    )
    assert answer.returncode != 0, answer.stdout
    only(catalogue, range(401, 405))


@pytest.mark.parametrize("day", ["2026-11-25", "2027-11-25", "2029-12-31"])
def test_after_the_newer_ones_last_day_the_older_one_stays_ended(demo, day):
    catalogue = demo()
    add(catalogue, KNOB, permit(catalogue, SECOND, "401-412", "2026-10-31", replaces=[FIRST]))
    refuses(catalogue, "ended|last day", day=day)


def test_a_newer_one_that_is_narrower_revives_the_older_nowhere(demo):
    catalogue = demo()
    add(catalogue, KNOB, permit(catalogue, SECOND, "401", "2026-10-31", replaces=[FIRST]))
    only(catalogue, [401], "2026-05-05")
    refuses(catalogue, "ended|last day|replaced|place")


def test_withdrawn_then_two_narrower_ones(demo):
    catalogue = demo()
    add(
        catalogue,
        KNOB,
        event("2025-10-01", "withdrawn", reason="cracks"),
        *depot.way("2025-11"),
        permit(catalogue, "2026-01-10", "401-402", "2031-01-01"),
        permit(catalogue, SECOND, "403", "2031-01-01"),
    )
    only(catalogue, [401, 402, 403])


def test_withdrawn_for_all_after_a_narrower_one_wakes_nothing(demo):
    catalogue = demo()
    ended_early(catalogue)
    add(
        catalogue,
        KNOB,
        permit(catalogue, SECOND, "401-404", "2031-10-31"),
        event("2026-03-03", "withdrawn", reason="cracks"),
        renewal(catalogue, FIRST, on="2026-04-04"),
    )
    refuses(catalogue, "withdrawn|renew")


def test_the_withdrawal_is_said_to_be_of_the_newer_one_alone(demo):
    # a field that the event does not have must not narrow it
    catalogue = demo()
    ended = event("2026-03-03", "withdrawn", reason="cracks") | {"approved_on": SECOND}
    add(catalogue, KNOB, permit(catalogue, SECOND, "401", "2031-10-31", replaces=[FIRST]), ended)
    refuses(catalogue, "withdrawn|approved_on")


@pytest.mark.parametrize("order", [(0, 1), (1, 0)], ids=["wide, narrow", "narrow, wide"])
def test_two_approvals_of_one_day(demo, order):
    # which of the two is the newer? what both speak of is at best asked about, never kinder than the careful one
    catalogue = demo()
    ended_early(catalogue)
    pair = [
        permit(catalogue, SECOND, "401-412", "2031-10-31"),
        permit(catalogue, SECOND, "401-404", "2031-10-31", conditions=["Only with a washer."]),
    ]
    add(catalogue, KNOB, *(pair[i] for i in order))
    assert not {one for one in Said(catalogue).fitted if one[1] <= 404}


def test_two_approvals_of_one_day_and_a_renewal_of_that_day(demo):
    catalogue = demo()
    ended_early(catalogue)
    add(
        catalogue,
        KNOB,
        permit(catalogue, SECOND, "401-404", "2026-06-30"),
        permit(catalogue, SECOND, "405-412", "2026-06-30"),
        renewal(catalogue, SECOND),
    )
    refuses(catalogue, "renew|which|several|two|2026-02-02|last day")


@pytest.mark.parametrize(
    "days",
    [[], ["2025-03-18"], ["2024-01-01"], [FIRST, SECOND]],
    ids=["none", "a day off", "long ago", "itself too"],
)
def test_the_day_that_it_replaces_is_not_that_of_the_older_one(demo, days):
    catalogue = demo()
    new = permit(
        catalogue, SECOND, "401-404", "2031-10-31", conditions=["Only with a washer."], replaces=days
    )
    add(catalogue, KNOB, new)
    assert not {one for one in Said(catalogue).fitted if one[1] <= 404}


def test_a_newer_approval_with_a_condition_is_not_outlived_by_the_older(demo):
    catalogue = demo()
    add(
        catalogue,
        KNOB,
        permit(catalogue, SECOND, "401-412", "2026-10-31", conditions=["With a washer."], replaces=[FIRST]),
    )
    refuses(catalogue, "ended|last day")


def test_the_older_one_lapsed_first_and_its_end_is_then_moved(demo):
    catalogue = demo()
    add(catalogue, KNOB, permit(catalogue, "2030-04-02", "401-404", "2030-06-30"))
    with history(catalogue) as record:
        depot.what(record, "approved", last=False)["valid_until"] = "2035-01-01"
    refuses(catalogue, "still speaks|replaces|ended|last day|approv", day="2030-08-01")


def test_superseded_and_then_approved_for_one_vehicle(demo):
    catalogue = demo("TV-0235", "TV-0236")
    one = permit(catalogue, "2025-08-08", "401", "2031-01-01", "TV-0235")
    add(catalogue, "TV-0235", *depot.way("2025-06"), one)
    assert {at[1] for at in Said(catalogue, "TV-0235").fitted} <= {401}


def test_the_supersession_stands_before_the_approval_by_a_swap_on_one_day(demo):
    catalogue = demo("TV-0235", "TV-0236")
    with history(catalogue, "TV-0235") as record:
        at = next(i for i, one in enumerate(record["events"]) if one["what"] == "approved")
        record["events"][at + 1]["on"] = record["events"][at]["on"]
        record["events"][at], record["events"][at + 1] = record["events"][at + 1], record["events"][at]
    refuses(catalogue, "supersed|newer part|order|TV-0236|without", "TV-0235")


def test_the_withdrawal_stands_before_the_approval_by_a_swap_on_one_day(demo):
    catalogue = demo()
    with history(catalogue) as record:
        ended = event(FIRST, "withdrawn", reason="cracks")
        record["events"].insert(len(record["events"]) - 1, ended)
    refuses(catalogue, "withdrawn|order|without")


def test_a_trial_that_a_newer_approval_took_the_place_of_does_not_come_back(demo):
    catalogue = demo()
    trial = permit(catalogue, "2026-01-10", "401", "2031-01-01", what="trial opened")
    trial.pop("open_ended", None)
    ended_early(catalogue, "2026-01-09")
    newer = permit(catalogue, SECOND, "401-404", "2026-06-30", replaces=["2026-01-10"])
    add(catalogue, KNOB, trial, newer)
    refuses(catalogue, "ended|last day|trial|planned")


def test_another_revision_narrower_and_lapsed_leaves_the_first_ones_own_part_changed(demo):
    catalogue = demo()
    depot.other_mesh(catalogue)
    with depot.part(catalogue) as record:
        record["revision"] = "B"
        record["stock"]["revision"] = "A"
    depot.walk(catalogue, on="2026-06-01")
    depot.approve(catalogue, scope="TR4:401:saloon-window", on="2026-06-02", until="2026-10-31")
    assert refuses(catalogue, "ended|last day|No approval").words() == {NO}


def test_a_withdrawn_revision_comes_back_when_the_next_one_is_drawn_back(demo):
    catalogue = demo()
    model = (folder(catalogue) / "model.stl").read_bytes()
    add(catalogue, KNOB, event("2025-10-01", "withdrawn", reason="cracks"))
    depot.other_mesh(catalogue)
    with depot.part(catalogue) as record:
        record["revision"] = "B"
        record["stock"]["revision"] = "A"
    depot.walk(catalogue, on="2026-06-01")
    answer = depot.approve(catalogue, scope="TR4:401:saloon-window", on="2026-06-02")
    assert answer.returncode == 0, answer.stderr
    kept(folder(catalogue), "model.stl", model)
    with depot.part(catalogue) as record:
        record["revision"] = "A"
    refuses(catalogue, "withdrawn")


def test_an_approval_for_another_place_leaves_the_first_in_force(demo):
    # positive: nothing in common, so nothing ended
    catalogue = demo("TV-0101")
    said = Said(catalogue, "TV-0101")
    assert said.words() == {FIT}, said.why
    with history(catalogue, "TV-0101") as record:
        record["events"][-1]["scope"] = [
            one for one in record["events"][-1]["scope"] if one["fleet"] == "TR4"
        ]
    again = Said(catalogue, "TV-0101")
    assert {one[0] for one in again.fitted} == {"TR4"}
    assert WINDOW
