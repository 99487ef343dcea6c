"""Where the way to approval stands, who holds it, since when, and how long each step took."""

from datetime import date, timedelta
from itertools import pairwise

import pytest

from generator.rules.history import History, Holder, Stage, event_of, history
from tests.fixtures.told import all_said, fix, says
from tests.rules import cases

START = date(2026, 1, 1)
NOW = ("EX-0001", "A", "m")
GRANT = {
    "scope": [{"fleet": "A1", "vehicles": [11], "places": ["cab"]}],
    "revision": "A",
    "bound": NOW,
    "valid_until": date(2030, 1, 1),
}
DETAILS = {
    "approved": GRANT,
    "trial opened": GRANT,
    "renewed": {"valid_until": date(2031, 1, 1)},
    "condition added": {"condition": "Dry places."},
    "condition lifted": {"condition": "Dry places."},
    "question asked": {"question": "How hot?"},
    "customer acceptance refused": {"reason": "too soft"},
    "approval refused": {"reason": "too soft"},
    "trial closed": {"reason": "over"},
    "withdrawn": {"reason": "cracks"},
    "superseded": {"superseded_by": "EX-0002"},
    "safety assessment report": {"reference": "SAR-1"},
    "change accepted": {key: GRANT[key] for key in ("scope", "revision", "bound")},
}
MADE = ("design started", "prototype printed", "documents complete", "question answered")
WAY = [
    "design started",
    "prototype printed",
    "sent for customer acceptance",
    "customer acceptance given",
    "documents complete",
    "sent to technical review",
]
TO_AUTHORITY = [*WAY, "sent to the authority"]


def told(
    *whats: str | tuple[str, dict], route: str = "customer", day: date = date(2026, 12, 31), by: dict[str, str] | None = None, **details: dict
) -> History:
    """The history of events ten days apart, from the first of January on.

    whats: names of events, or with what else this one says; by: whose an event is; details: what else every event of
    the name says, with _ for the space.
    """
    named = [each if isinstance(each, tuple) else (each, {}) for each in whats]
    events = [
        {"what": what, "on": START + timedelta(days=10 * i), "by": (by or {}).get(what, "specialist" if what in MADE else "keeper"),
         "evidence": True, "id": i, **DETAILS.get(what, {}), **details.get(what.replace(" ", "_"), {}), **own}
        for i, (what, own) in enumerate(named)
    ]  # fmt: skip
    found = history(cases.approval({"route": route, "events": events, "safety": False, "waiver": False}), day)
    all_said(found.problems)
    return found


@pytest.mark.parametrize(
    ("whats", "stage", "holder", "since"),
    [
        ([], Stage.DESIGN, Holder.SPECIALIST, None),
        (WAY[:1], Stage.DESIGN, Holder.SPECIALIST, 0),
        (WAY[:2], Stage.PROTOTYPE, Holder.SPECIALIST, 10),
        (WAY[:3], Stage.ACCEPTANCE, Holder.CUSTOMER, 20),
        (WAY[:4], Stage.DOCUMENTS, Holder.SPECIALIST, 30),
        (WAY[:5], Stage.DOCUMENTS, Holder.SPECIALIST, 30),
        (WAY[:6], Stage.TECHNICAL_REVIEW, Holder.CUSTOMER, 50),
        ([*WAY, "question asked"], Stage.TECHNICAL_REVIEW, Holder.SPECIALIST, 50),
        ([*WAY, "question asked", "question answered"], Stage.TECHNICAL_REVIEW, Holder.CUSTOMER, 50),
        ([*WAY, "approved"], Stage.APPROVED, Holder.NOBODY, 60),
        ([*WAY, "approval refused"], Stage.DOCUMENTS, Holder.SPECIALIST, 60),
        ([*WAY[:3], "customer acceptance refused"], Stage.PROTOTYPE, Holder.SPECIALIST, 30),
        ([*WAY[:2], "trial opened"], Stage.PROTOTYPE, Holder.SPECIALIST, 10),
        ([*WAY, "approved", "withdrawn"], Stage.WITHDRAWN, Holder.NOBODY, 70),
        ([*WAY, "approved", "superseded"], Stage.SUPERSEDED, Holder.NOBODY, 70),
        ([*WAY, "approved", "design started"], Stage.DESIGN, Holder.SPECIALIST, 70),
        ([*WAY, "approved", "renewed"], Stage.APPROVED, Holder.NOBODY, 60),
    ],
    ids=lambda each: str(each[-1:] if isinstance(each, list) else each),
)
def test_stage_holder_and_since(whats, stage, holder, since):
    found = told(*whats)
    assert found.problems == []
    assert (found.stage, found.holder) == (stage, holder)
    assert found.since == (None if since is None else START + timedelta(days=since))


def test_authority_review_is_held_by_the_authority():
    found = told(*TO_AUTHORITY, route="authority")
    assert (found.stage, found.holder) == (Stage.AUTHORITY_REVIEW, Holder.AUTHORITY)


def test_the_stays_join_without_gaps():
    stays = told(*WAY, "approved").stays
    assert [stay.stage for stay in stays] == [
        Stage.DESIGN, Stage.PROTOTYPE, Stage.ACCEPTANCE, Stage.DOCUMENTS, Stage.TECHNICAL_REVIEW, Stage.APPROVED,
    ]  # fmt: skip
    assert all(one.left == next_.entered for one, next_ in pairwise(stays))
    assert stays[-1].left is None
    assert stays[3].entered == START + timedelta(days=30)  # documents begin with the acceptance


def stays(*whats):
    found = told(*whats)
    assert found.problems == []
    return [(stay.stage, (stay.entered - START).days) for stay in found.stays]


def test_documents_are_one_stay_from_the_acceptance_on_however_often_they_are_completed():
    more = stays(*WAY[:5], "documents complete", "customer acceptance given")
    assert more[-1] == (Stage.DOCUMENTS, 30)
    assert [stage for stage, _ in more].count(Stage.DOCUMENTS) == 1


@pytest.mark.parametrize(
    ("whats", "complete"),
    [
        (WAY[:4], False), (WAY[:5], True), (WAY, True), ([*WAY, "approved"], True), ([*WAY, "approval refused"], True),
        ([*WAY, "prototype printed"], False), ([*WAY[:5], "customer acceptance refused"], False), ([*WAY, "approved", "withdrawn"], False),
    ],
    ids=lambda each: str(each[-1:] if isinstance(each, list) else each),
)  # fmt: skip
def test_documents_are_complete_until_there_is_something_new_to_document(whats, complete):
    assert told(*whats).documents_complete is complete


def test_documents_changed_after_they_were_sent_are_a_new_stay():
    assert stays(*WAY, "documents complete")[-2:] == [(Stage.TECHNICAL_REVIEW, 50), (Stage.DOCUMENTS, 60)]


@pytest.mark.parametrize(
    ("way", "route", "stage", "since"), [(WAY, "customer", Stage.TECHNICAL_REVIEW, 50), (TO_AUTHORITY, "authority", Stage.AUTHORITY_REVIEW, 60)]
)
def test_the_first_paper_of_an_acceptance_filed_during_a_review_takes_nothing_back_from_it(way, route, stage, since):
    """The minutes came by post: the reviewer has all that was sent, and goes on. Other minutes, or none, are a new acceptance."""
    given = "customer acceptance given"
    bare = [(what, {"evidence": False}) if what == given else what for what in way]
    for walked, then in (([*bare, given], (stage, since)), ([*bare, (given, {"evidence": False})], None), ([*way, given], None)):
        found = told(*walked, route=route)
        assert (found.stage, found.since) == (
            (then[0], START + timedelta(days=then[1])) if then else (Stage.DOCUMENTS, START + timedelta(days=10 * len(way)))
        )


@pytest.mark.parametrize(
    ("then", "stage"),
    [
        (["prototype printed"], Stage.PROTOTYPE), (["approval refused"], Stage.DOCUMENTS), (["approved"], Stage.APPROVED), (["documents complete"], Stage.DOCUMENTS),
        (["sent for customer acceptance", "customer acceptance given"], Stage.DOCUMENTS),  # asked anew, and given
    ],
    ids=lambda each: str(each[-1:] if isinstance(each, list) else each),
)  # fmt: skip
def test_any_other_event_moves_a_review_whose_acceptance_has_no_paper_yet(then, stage):
    bare = [(what, {"evidence": False}) if what == "customer acceptance given" else what for what in WAY]
    assert told(*bare, *then).stage is stage


def test_a_refusal_starts_the_documents_anew():
    """Time spent on what was refused is not time spent on what comes next; common practice, no source."""
    again = stays(*WAY, "customer acceptance given", "approval refused")
    assert again[-2:] == [(Stage.DOCUMENTS, 60), (Stage.DOCUMENTS, 70)]


def test_a_second_prototype_is_a_stay_of_its_own():
    assert stays(*WAY[:2], "prototype printed")[-2:] == [(Stage.PROTOTYPE, 10), (Stage.PROTOTYPE, 20)]


def test_no_record_is_the_design_stage_of_the_customer_route():
    found = history(None, START)
    assert (found.stage, found.problems, found.permits) == (Stage.DESIGN, [], [])


@pytest.mark.parametrize("route", ["customer", "authority"])
def test_each_step_needs_the_ones_before_it(route):
    way = [*(TO_AUTHORITY if route == "authority" else WAY), "approved"]
    assert told(*way, route=route).problems == []
    needed = {"prototype printed", "customer acceptance given", "documents complete", *way[5:-1]}
    for left_out in way[:-1]:
        found = told(*(what for what in way if what != left_out), route=route)
        assert bool(found.problems) is (left_out in needed), left_out
        for problem in found.problems:
            assert left_out in says(problem)
            assert left_out in fix(problem)


@pytest.mark.parametrize(
    ("whats", "code"),
    [
        (["customer acceptance given"], "APPR03"),
        (["trial opened"], "APPR03"),
        (["trial closed"], "APPR03"),
        (["withdrawn"], "APPR03"),
        (["renewed"], "APPR03"),
        (["condition added"], "APPR03"),
        (["condition lifted"], "APPR03"),
        (["question asked"], "APPR03"),
        (["question answered"], "APPR03"),
        ([*WAY, "sent to the authority"], "APPR04"),
        ([*WAY, "approved", "condition lifted"], "APPR07"),
        ([*WAY, "approved", "approved"], "APPR06"),
        ([*WAY, "approved", "approval refused"], "APPR03"),
        ([*WAY, "approved", "customer acceptance refused"], "APPR03"),
        ([*WAY, "design started", "customer acceptance given"], "APPR03"),
        ([*WAY, "prototype printed", "approved"], "APPR03"),
        ([*WAY, "approval refused", "approved"], "APPR03"),
        ([*WAY, "documents complete", "approved"], "APPR03"),
    ],
    ids=lambda each: " ".join(each[-2:]) if isinstance(each, list) else each,
)
def test_what_cannot_have_happened_is_told(whats, code):
    found = told(*whats)
    assert {problem.code for problem in found.problems} == {code}
    assert event_of(found.problems[-1]) == len(whats) - 1
    assert all(fix(problem) for problem in found.problems)


def test_an_event_to_come_is_told_and_not_counted():
    day = START + timedelta(days=59)
    found = told(*WAY, "approved", day=day)
    assert [(event_of(problem), problem.code) for problem in found.problems] == [(6, "APPR02")]
    assert (found.stage, found.permits) == (Stage.TECHNICAL_REVIEW, [])
    assert told(*WAY, "approved", day=day + timedelta(days=1)).problems == []


def test_renewals_conditions_and_their_lifting_change_the_permit():
    (permit,) = told(*WAY, "approved", "condition added", "renewed").permits
    assert permit.valid_until == date(2031, 1, 1)
    assert [each.text for each in permit.conditions] == ["Dry places."]
    (permit,) = told(*WAY, "approved", "condition added", "condition lifted").permits
    assert (permit.conditions, permit.valid_until) == ([], date(2030, 1, 1))


def test_withdrawal_leaves_no_permit_and_only_a_new_approval_stands():
    found = told(*WAY, "trial opened", "approved", "withdrawn")
    assert (found.permits, [each.reason for each in found.endings]) == ([], ["cracks"])
    again = told(*WAY, "approved", "withdrawn", *WAY[3:], "approved")
    assert (len(again.endings), len(again.permits), again.problems) == (1, 1, [])


def test_a_trial_ends_when_it_is_closed_and_the_approval_stays():
    found = told(*WAY, "trial opened", "approved", "trial closed")
    assert [permit.is_trial for permit in found.permits] == [False]


AGAIN = [*WAY, "approved", *WAY[3:], "approved"]


def test_the_newest_approval_is_the_one_that_counts_and_a_trial_is_none():
    walked = [*AGAIN, "trial opened"]
    found = told(*walked, approved={"replaces": []})
    assert [permit.index for permit in found.permits] == [6, 10, 11]
    assert found.approval.index == 10
    assert told(*WAY, "trial opened").approval is None


def test_the_part_that_takes_its_place_is_told_until_something_is_approved_anew():
    ended = [*WAY, "approved", "superseded"]
    assert told(*ended).superseded_by == "EX-0002"
    assert told(*ended, *WAY[3:], "trial opened").superseded_by == "EX-0002"
    assert told(*ended, *WAY[3:], "approved").superseded_by is None
    assert told(*WAY, "approved", "withdrawn").superseded_by is None
    assert told(*ended, "withdrawn").superseded_by == "EX-0002"
    assert told(*WAY, "approved").superseded_by is None


def test_the_last_of_several_parts_that_take_its_place_is_told():
    whats = {"what": "superseded", "by": "keeper", "evidence": True}
    events = [whats | {"on": START + timedelta(days=day), "superseded_by": by, "id": day} for day, by in ((1, "EX-0002"), (2, "EX-0003"), (3, "EX-0002"), (4, "EX-0003"))]
    record = cases.approval({"route": "customer", "events": events, "safety": False, "waiver": False})
    assert history(record, date(2026, 12, 31)).superseded_by == "EX-0003"


@pytest.mark.parametrize(
    ("days", "wrong"),
    [((1, 2, 3), []), ((1, 1, 1), []), ((2, 1, 3), [1]), ((3, 1, 2), [1, 2]), ((1, 3, 2), [2])],
    ids=str,
)
def test_no_event_stands_below_a_later_one(days, wrong):
    """The record only ever grows at its end."""
    events = [
        {"what": "design started", "on": START + timedelta(days=day), "by": "specialist", "evidence": True, "id": day} for day in days
    ]
    record = cases.approval({"route": "customer", "events": events, "safety": False, "waiver": False})
    found = history(record, date(2026, 12, 31)).problems
    assert [(each.code, each.path) for each in found] == [("APPR01", ("events", index)) for index in wrong]
    all_said(found)
    on = [START + timedelta(days=day) for day in days]
    assert [dict(each.facts) for each in found] == [{"on": str(on[index]), "last": str(max(on[:index]))} for index in wrong]


def test_a_revision_is_told_once_however_often_it_was_approved():
    assert told(*AGAIN).revisions == ("A",)


def test_only_on_its_own_route_has_the_authority_been_asked():
    """Whoever sends it papers on the customer's route has not made it the one that decides."""
    on_its_route, = told(*TO_AUTHORITY, "approved", route="authority").permits
    on_the_customers, = told(*TO_AUTHORITY, "approved").permits
    assert (on_its_route.authority_asked, on_the_customers.authority_asked) == (True, False)
