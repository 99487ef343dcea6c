"""An approver has seen what has changed, and accepts it: of which approval, and what can be accepted so at all?"""

from dataclasses import replace
from datetime import date

import pytest

from generator.records.approvals import Route
from generator.rules.history import event_of
from generator.rules.order import complaints
from generator.rules.way import Way
from tests.fixtures.told import all_said
from tests.rules import cases
from tests.rules import test_taking_over as taking
from tests.rules.forms import FORM_1
from tests.rules.test_adversary import CAB_11, grant, said
from tests.rules.test_adversary import WAY as SAID_WAY
from tests.rules.test_adversary import event as said_event
from tests.rules.test_history import DETAILS, WAY, told

CAB = [{"fleet": "A1", "vehicles": [11], "places": ["cab"]}]
ELEVEN, TWELVE = ("approved", {"scope": CAB}), ("approved", {"scope": [{**CAB[0], "vehicles": [12]}]})
FIRST_DAY = date(2026, 3, 2)
READ_OTHERWISE = ("EX-0001", "A", "m", "other notes")


def accepted(*bound, **more):
    """What was accepted: the part as it was approved, unless `bound` says otherwise."""
    return ("change accepted", {"bound": bound or DETAILS["change accepted"]["bound"], **more})


def wrongs(*whats):
    return [(each.code, each.key, event_of(each)) for each in told(*whats).problems]


@pytest.mark.parametrize(
    ("whats", "wrong"),
    [
        ((*WAY, ELEVEN, accepted()), []),
        ((*WAY, ELEVEN, accepted(*READ_OTHERWISE)), []),
        ((*WAY, ELEVEN, TWELVE, accepted(approved_on=FIRST_DAY)), []),
        ((*WAY, ELEVEN, TWELVE, accepted()), [("APPR09", "several stand", 8)]),
        ((*WAY, accepted()), [("APPR03", "none stands", 6)]),
        ((*WAY[:2], "trial opened", accepted()), [("APPR03", "none stands", 3)]),  # a trial is closed or opened anew
        ((*WAY, ELEVEN, "withdrawn", accepted()), [("APPR03", "none stands", 8)]),
        ((*WAY, ELEVEN, accepted(approved_on=date(2026, 3, 3))), [("APPR03", "none of that day", 7)]),
        ((*WAY, accepted(approved_on=FIRST_DAY)), [("APPR03", "none of that day", 6)]),
        ((*WAY, ELEVEN, accepted("EX-0001", "A", "another model")), [("APPR45", "void", 7)]),
        ((*WAY, ELEVEN, accepted("EX-0002", "A", "m")), [("APPR45", "void", 7)]),
        ((*WAY, ELEVEN, accepted("EX-0001", "B", "m", "read")), [("APPR08", "revision", 7), ("APPR45", "void", 7)]),
    ],
)  # fmt: skip
def test_of_what_a_change_can_be_accepted(whats, wrong):
    """What would make it another part walks the whole way; common practice, no source."""
    assert wrongs(*whats) == wrong


def test_whoever_accepts_another_part_is_told_what_makes_it_one():
    (found,) = told(*WAY, ELEVEN, accepted("EX-0001", "A", "another model")).problems
    assert (dict(found.facts)["lines"], found.mend) == (("mesh sha256",), "walk")


def test_an_approval_of_the_first_form_binds_too_little_to_accept_a_change_of_it():
    walked = told(*WAY, ELEVEN)
    (permit,) = walked.permits
    change = told(*WAY, ELEVEN, accepted()).permits[0]
    of_old = replace(permit, text=FORM_1.text())
    event = _event(accepted())
    assert change.bound_at == 7
    for stands, keys in (([permit], []), ([of_old], [("APPR45", "older form", "anew")])):
        way = Way(Route.CUSTOMER, permits=stands)
        assert [(each.code, each.key, each.mend) for each in complaints(event, way)] == keys


def _event(change):
    what, more = change
    plain = {"what": what, "on": date(2026, 4, 1), "by": "keeper", "evidence": True, "id": 9, **DETAILS[what], **more}
    return cases.approval({"route": "customer", "events": [plain], "safety": False, "waiver": False}).events[0]


def test_what_was_accepted_is_bound_by_its_fingerprint_and_whole():
    (permit,) = told(*WAY, ELEVEN).permits
    event = _event(accepted())
    for change, keys in (
        ({"fingerprint": "0" * 64}, ["fingerprint"]),
        ({"revision": "B"}, ["revision"]),
        ({"approved_as": event.approved_as.replace('number: "', 'number "')}, ["fingerprint"]),
    ):
        found = list(complaints(event.model_copy(update=change), Way(Route.CUSTOMER, permits=[permit])))
        all_said(found)
        assert [each.key for each in found if each.code == "APPR08"] == keys


def test_of_a_letter_that_awaits_its_confirmation_that_alone_is_told():
    """It binds nothing yet that could have changed."""
    change = {**taking.step("change accepted", taking.DAY), "scope": taking.SCOPE}
    assert {code for code, *_ in taking.wrongs(taking.TAKEN, change)} == {"APPR47"}
    (letter,) = taking.told(taking.TAKEN, change).permits
    assert (letter.text, letter.awaits) == ("", True)


def test_only_the_approval_that_is_meant_binds_the_newer_text_with_its_letter():
    first, second = told(*WAY, ELEVEN, TWELVE, accepted(*READ_OTHERWISE, approved_on=FIRST_DAY)).permits
    before = told(*WAY, ELEVEN, TWELVE).permits
    assert (first.bound_at, second.bound_at) == (8, 7)
    assert first.text != before[0].text
    assert second.text == before[1].text
    assert [len(each.letters) for each in (first, second)] == [2, 1]
    unkept = told(*WAY, ELEVEN, accepted(*READ_OTHERWISE, evidence=False)).permits
    assert [each.evidence_kept for each in (*unkept, first, second)] == [False, True, True]
    assert [each.prolonged for each in (first, second)] == [[], []]  # an accepted change prolongs nothing


def test_what_is_read_otherwise_asks_until_it_is_accepted_with_a_letter():
    change = said_event("change accepted", "reviewer", scope=grant()[2]["scope"], revision="A", bound=READ_OTHERWISE)
    assert said(*SAID_WAY, grant(), now=READ_OTHERWISE)[CAB_11] == "ask"
    assert said(*SAID_WAY, grant(), change, now=READ_OTHERWISE)[CAB_11] == "fit"
    assert said(*SAID_WAY, grant(), (*change[:2], {**change[2], "evidence": False}), now=READ_OTHERWISE)[CAB_11] == "no"
