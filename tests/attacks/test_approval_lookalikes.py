"""Scopes, places, roles, fleets and days that read like the ones that were approved."""

import pytest

from tests.attacks import approval_depot as depot
from tests.attacks.approval_depot import CAP, DAY, KNOB, Said, edited, folder, history, refuses
from tests.attacks.test_approval_tricks import approval

SCOPES = {
    "a range turned round": ["412-401"],
    "a range that is wider than the fleet": ["401-999"],
    "a range in other digits": ["\uff14\uff10\uff11-\uff14\uff11\uff12"],
    "a range of hundreds": ["4*"],
    "all": ["all"],
    "an empty text": [""],
    "a number beside the fleet": ["401-412", "499"],
}


@pytest.mark.parametrize("case", SCOPES)
def test_a_scope_that_names_what_there_is_not(demo, case):
    catalogue = demo()
    approval(catalogue, scope=[{"fleet": "TR4", "vehicles": SCOPES[case], "places": ["saloon-window"]}])
    refuses(catalogue, "vehicle|scope|range")


@pytest.mark.parametrize("place", ["Saloon-window", "saloon-wind\u043ew", "window", "", "*"])
def test_a_place_that_reads_like_the_one(demo, place):
    catalogue = demo()
    approval(catalogue, scope=[{"fleet": "TR4", "vehicles": ["401-412"], "places": [place]}])
    refuses(catalogue, "place|scope|No approval")


@pytest.mark.parametrize(
    "by", ["technical-rev\u0456ew", "Technical-review", "technical_review", "keeper,technical-review"]
)
def test_a_role_that_reads_like_the_one(demo, by):
    catalogue = demo()
    approval(catalogue, by=by)
    refuses(catalogue, "role|\\bby\\b")


@pytest.mark.parametrize("word", ["Approved", "approved ", "appr\u043eved", "approval", "approved (again)"])
def test_an_event_that_reads_like_an_approval(demo, word):
    catalogue = demo()
    approval(catalogue, what=word)
    refuses(catalogue, "what|event|No approval")


# What the fleets say


def fleets(catalogue):
    return edited(catalogue / "fleets.yml")


def test_vehicles_that_joined_the_fleet_later_are_not_fitted(demo):
    catalogue = demo()
    with fleets(catalogue) as record:
        record["fleets"][0]["vehicles"] = ["401-420"]
    assert {one[1] for one in Said(catalogue).fitted} <= set(range(401, 413))


def test_a_scope_without_vehicles_does_not_grow_with_the_fleet(demo):
    catalogue = demo()
    approval(catalogue, scope=[{"fleet": "TR4", "places": ["saloon-window"]}])
    with fleets(catalogue) as record:
        record["fleets"][0]["vehicles"] = ["401-420"]
    assert {one[1] for one in Said(catalogue).fitted} <= set(range(401, 413))


def test_another_fleet_takes_over_the_id(demo):
    catalogue = demo()
    with fleets(catalogue) as record:
        first, second = record["fleets"][:2]
        first["id"], second["id"] = second["id"], first["id"]
    refuses(catalogue, "fleet|place|vehicle|changed|approv")


def test_a_place_that_became_a_worse_one(demo):
    catalogue = demo()
    with fleets(catalogue) as record:
        record["fleets"][0].update(operation_category=3, design_category="D")
    refuses(catalogue, "category|hazard|fleet|changed|report")


def test_the_vehicles_of_the_fleet_are_numbered_anew(demo):
    # old numbers, other cars: 401 is now a works car
    catalogue = demo()
    with fleets(catalogue) as record:
        record["fleets"][0].update(in_service_since=2019, name="TR4 works car")
    refuses(catalogue, "fleet|service|changed|name")


# Days


@pytest.mark.parametrize(
    "change",
    [
        {"on": "2026-11-26"},
        {"on": "2025-02-30"},
        {"valid_until": "2024-01-01"},
        {"valid_until": "9999-99-99"},
        {"valid_until": "forever"},
        {"valid_until": DAY[:7]},
        {"open_ended": True},
        {"open_ended": "yes", "valid_until": None},
    ],
)
def test_a_day_that_cannot_be(demo, change):
    catalogue = demo()
    approval(catalogue, **change)
    refuses(catalogue, "day|date|on|valid_until|open_ended|end")


@pytest.mark.parametrize("first", range(3, 8))
def test_events_of_one_day_that_change_places(demo, first):
    # all on one day, so that the days do not tell the order; the file does
    catalogue = demo()
    with history(catalogue) as record:
        for one in record["events"][:-1]:
            one["on"] = "2025-02-02"
        events = record["events"]
        events[first], events[first + 1] = events[first + 1], events[first]
    said = Said(catalogue)
    order = [one for one in said.problems().splitlines() if "error" in one]
    assert said.fitted == set() or first == 7, (order, said.why)


def test_one_file_is_letter_minutes_and_drawing(demo):
    catalogue = demo()
    with history(catalogue) as record:
        letter = depot.what(record, "approved")["evidence"]
        for name in ("customer acceptance given", "documents complete"):
            depot.what(record, name)["evidence"] = letter
    refuses(catalogue, "letter|minutes|acceptance|drawing")


def test_the_letter_is_an_empty_file(demo):
    catalogue = demo()
    depot.again(catalogue, KNOB, depot.LETTER, b"")
    refuses(catalogue, "letter|empty")


def test_two_parts_that_exchange_their_approvals(demo):
    catalogue = demo(KNOB, CAP)
    one, two = folder(catalogue) / "approval.yml", folder(catalogue, CAP) / "approval.yml"
    first, second = one.read_text(), two.read_text()
    one.write_text(second)
    two.write_text(first)
    refuses(catalogue, "number|changed|not the file|lies|missing|documents/", KNOB)
    refuses(catalogue, "number|changed|not the file|lies|missing|documents/", CAP)
