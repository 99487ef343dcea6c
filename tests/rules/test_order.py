"""Which events cannot have happened so: by code and place in the record, never by its words."""

import json
from datetime import date, timedelta

import pytest
import yaml

from generator.records.approvals import (
    AcceptanceGiven,
    DocumentsComplete,
    Route,
    Scope,
    SentToTechnicalReview,
)
from generator.rules.canonical import fingerprint, from_record
from generator.rules.history import event_of
from generator.rules.order import complaints
from generator.rules.way import Way
from tests.fixtures.told import all_said
from tests.rules.test_history import TO_AUTHORITY, WAY, told


def wrongs(*whats, route="customer"):
    """Code and place of everything that is wrong."""
    return [(each.code, event_of(each)) for each in told(*whats, route=route).problems]


def advice(*whats):
    """Which advice is given on everything that is wrong."""
    return {each.mend for each in told(*whats).problems}


@pytest.mark.parametrize("ends", ["approved", "approval refused"])
@pytest.mark.parametrize(("route", "way"), [("customer", WAY), ("authority", TO_AUTHORITY)])
def test_what_decides_needs_the_whole_way_before_it(ends, route, way):
    """A refusal is a decision as an approval is: nobody refuses what was never accepted, complete and sent."""
    assert wrongs(*way, ends, route=route) == []
    reviews = ["sent to technical review", "sent to the authority"][: 2 if route == "authority" else 1]
    assert wrongs("prototype printed", ends, route=route) == [("APPR03", 1)] * (2 + len(reviews))
    for left_out in ("customer acceptance given", "documents complete", *reviews):
        short = [what for what in way if what != left_out]
        assert ("APPR03", len(short)) in wrongs(*short, ends, route=route), left_out


def test_the_customers_review_is_not_the_authoritys():
    assert wrongs(*WAY, "approved", route="authority") == [("APPR03", 6)]
    assert wrongs(*WAY, "approval refused", route="authority") == [("APPR03", 6)]


@pytest.mark.parametrize(
    ("before", "event"),
    [
        ([], "sent for customer acceptance"),
        (["design started"], "sent for customer acceptance"),
        ([], "trial opened"),
        ([], "customer acceptance given"),
        ([], "customer acceptance refused"),
        ([], "safety assessment report"),
        (["prototype printed"], "documents complete"),
        (["prototype printed", "customer acceptance given"], "sent to technical review"),
        (WAY[:5], "question asked"),
        (WAY, "withdrawn"),
        (WAY, "trial closed"),
    ],
)  # fmt: skip
def test_each_event_needs_what_it_speaks_of(before, event):
    """Nobody tries what was not printed, sends what is not complete or withdraws what was never approved."""
    assert wrongs(*before) == []
    assert wrongs(*before, event) == [("APPR03", len(before))]


def test_the_authority_is_sent_what_the_technical_reviewer_had():
    assert wrongs(*WAY[:4], "sent to the authority", route="authority") == [("APPR03", 4)]
    assert wrongs(*WAY[:5], "sent to the authority", route="authority") == [("APPR03", 5)]
    assert wrongs(*WAY, "sent to the authority", route="authority") == []
    # Documents that were completed anew were not before him yet.
    assert wrongs(*WAY, "documents complete", "sent to the authority", route="authority") == [("APPR03", 7)]


def test_a_step_that_was_left_out_is_told_once():
    """The authority got the documents too early, and asks: that it asks is no second mistake."""
    assert wrongs(*WAY[:5], "sent to the authority", "question asked", "question answered", route="authority") == [("APPR03", 5)]


@pytest.mark.parametrize("way", [WAY, TO_AUTHORITY])
def test_whoever_got_the_documents_may_ask(way):
    assert wrongs(*way, "question asked", "question answered", route="authority") == []


@pytest.mark.parametrize("permit", [[*WAY, "approved"], [*WAY[:2], "trial opened"]])
def test_an_approval_or_a_trial_alone_may_be_withdrawn(permit):
    assert wrongs(*permit, "withdrawn") == []


def test_a_trial_that_was_opened_may_be_closed():
    assert wrongs(*WAY[:2], "trial opened", "trial closed") == []


@pytest.mark.parametrize(
    ("start", "gone"),
    [
        ("design started", ["prototype printed", "customer acceptance given", "documents complete", "sent"]),
        ("prototype printed", ["customer acceptance given", "documents complete", "sent"]),
        ("customer acceptance refused", ["customer acceptance given", "documents complete", "sent"]),
        ("documents complete", ["sent"]),
        ("approval refused", ["sent"]),
    ],
)  # fmt: skip
@pytest.mark.parametrize(("route", "way"), [("customer", WAY), ("authority", TO_AUTHORITY)])
def test_a_new_start_has_its_whole_way_before_it(start, gone, route, way):
    """What was accepted, completed and sent was the former prototype or the former documents."""
    found = told(*way, start, "approved", route=route)
    said = {fact for each in found.problems for name, fact in each.facts if name == "wanted"}
    reviews = ["sent to technical review", "sent to the authority"][: 2 if route == "authority" else 1]
    missing = {what for what in gone if what not in ("prototype printed", "sent")} | set(reviews)
    assert said == {(f"'{what}'",) for what in missing}
    assert ("APPR03" in dict(wrongs(*way, start, "trial opened", route=route))) is ("prototype printed" in gone)


@pytest.mark.parametrize("end", ["withdrawn", "superseded"])
def test_after_an_end_the_whole_way_is_walked_again(end):
    ended = [*WAY, "trial opened", "approved", end]
    assert wrongs(*ended, "approved") == [("APPR03", 9)] * 3
    assert wrongs(*ended, "withdrawn") == [("APPR03", 9)]
    assert wrongs(*ended, "trial closed") == [("APPR03", 9)]
    assert wrongs(*ended, *WAY[3:], "approved") == []


@pytest.mark.parametrize(
    "settling",
    ["design started", "prototype printed", "customer acceptance refused", "question answered", "approved",
     "approval refused", "superseded"],
)  # fmt: skip
def test_a_question_is_open_until_something_settles_it(settling):
    assert told(*WAY, "question asked").question_open
    assert told(*WAY, "question asked", "condition added").question_open
    assert not told(*WAY, "question asked", settling).question_open


def test_a_withdrawal_settles_the_question_about_what_came_next():
    again = [*WAY, "approved", "sent to technical review", "question asked"]
    assert told(*again).question_open
    assert not told(*again, "withdrawn").question_open
    assert wrongs(*again, "withdrawn", "question answered") == [("APPR03", 10)]


@pytest.mark.parametrize("new", ["prototype printed", "design started", "sent for customer acceptance"])
def test_the_customer_refuses_only_what_came_after_the_approval(new):
    approved = [*WAY, "approved"]
    assert wrongs(*approved, "customer acceptance refused") == [("APPR03", 7)]
    # Of a new design nothing was printed yet; that is all that is wrong.
    assert wrongs(*approved, "design started", "customer acceptance refused") == [("APPR03", 8)]
    between = ["design started", "prototype printed"] if new == "design started" else [new]
    assert wrongs(*approved, *between, "customer acceptance refused") == []


def facts(*whats):
    """What a reader is told of the last thing that is wrong."""
    return dict(told(*whats).problems[-1].facts)


def test_whoever_wrote_too_much_or_too_little_is_told_which_event_and_what_goes_above_it():
    assert facts("customer acceptance given") == {"what": "customer acceptance given", "wanted": ("'prototype printed'",)}
    assert facts("question asked")["wanted"] == ("'sent to technical review'", "'sent to the authority'", "'taken over'")
    assert facts(*WAY, "approved", "customer acceptance refused") == {"what": "customer acceptance refused", "above": "prototype printed"}
    assert facts(*WAY, "approved", "approval refused") == {"what": "approval refused", "above": "sent to technical review"}


@pytest.mark.parametrize(("route", "way"), [("customer", WAY), ("authority", TO_AUTHORITY)])
def test_a_review_refuses_only_what_was_sent_after_the_approval(route, way):
    approved = [*way, "approved"]
    assert wrongs(*approved, "approval refused", route=route) == [("APPR03", len(approved))]
    assert wrongs(*approved, way[-1], "approval refused", route=route) == []
    assert wrongs(*approved, way[-1], "condition added", "approval refused", route=route) == []
    # The documents were sent before it and nothing since.
    assert wrongs(*approved, "condition added", "approval refused", route=route) == [("APPR03", len(approved) + 1)]


@pytest.mark.parametrize("made", ["design started", "prototype printed", "documents complete"])
@pytest.mark.parametrize(
    "granted", ["customer acceptance given", "safety assessment report", "approved", "trial opened", "renewed", "change accepted", "condition lifted"]
)
def test_whoever_made_any_of_it_grants_none_of_it(made, granted):
    """Four eyes; common practice, no source. The assessment body is independent of the design (Regulation (EU) 402/2013 Art. 6, from memory)."""
    granting = ["customer acceptance given", "safety assessment report", "trial opened", "approved", "condition added", "condition lifted"]
    way = [*WAY, *granting, "change accepted", "renewed"]
    assert wrongs(*way) == []
    whose = {made: "designer", granted: "designer"}
    found = [(each.code, event_of(each)) for each in told(*way, by=whose).problems]
    after = way.index("documents complete") if made == "documents complete" else 0
    places = [index for index, what in enumerate(way) if what == granted and index > after]
    assert found == [("APPR12", index) for index in places]
    assert {each for told_of in told(*way, by=whose).problems for each in told_of.facts} == {("what", granted), ("by", "designer")}


def test_whoever_made_any_of_it_does_not_say_what_becomes_of_older_pieces():
    of_b = ("approved", {**TWELVE[1], "revision": "B", "bound": ("EX-0001", "B", "m")})
    settled = ("older stock settled", {"older_stock": [{"revision": "A", "becomes": "stop"}]})
    walked = [*WAY, ELEVEN, *WAY[1:], of_b, settled]
    assert wrongs(*walked) == []
    assert [(each.code, event_of(each)) for each in told(*walked, by={"documents complete": "designer", "older stock settled": "designer"}).problems] == [("APPR12", 13)]


@pytest.mark.parametrize("said", ["question answered", "sent to technical review", "condition added"])
def test_who_answers_sends_or_restricts_has_made_nothing(said):
    way = [*WAY, "question asked", "question answered", "condition added", "sent to technical review", "question asked",
           "question answered", "approved"]  # fmt: skip
    way.remove("condition added")
    way.insert(2, "trial opened")
    way.insert(3, "condition added")
    assert told(*way, by={said: "designer", "approved": "designer"}).problems == []


APPROVED = [*WAY, "approved"]  # on the second of March
DAY = date(2026, 3, 2)


def ends(day, what="approved", **more):
    whats = {"approved": APPROVED, "trial opened": [*WAY, "trial opened"], "renewed": [*WAY[:5], WAY[5], "approved", "renewed"]}[what]
    found = told(*whats, **{what.replace(" ", "_"): {"valid_until": day, **more}}).problems
    return [each.code for each in found]


@pytest.mark.parametrize("what", ["approved", "trial opened"])
def test_a_permit_of_a_single_day_is_one_and_none_ends_before_it_begins(what):
    assert ends(DAY, what) == []
    assert ends(DAY - timedelta(days=1), what) == ["APPR05"]


def test_a_renewal_ends_later_than_it_is_written():
    written = DAY + timedelta(days=10)
    assert ends(written + timedelta(days=1), "renewed") == []
    assert ends(written, "renewed") == ["APPR05"]
    assert ends(written - timedelta(days=1), "renewed") == ["APPR05"]


@pytest.mark.parametrize(("what", "begins"), [("approved", DAY), ("trial opened", DAY), ("renewed", DAY + timedelta(days=10))])
def test_no_permit_holds_more_than_thirty_years(what, begins):
    """Common practice, no source: more is a slip of the pen."""
    longest = begins.replace(year=begins.year + 30)
    assert ends(longest, what) == []
    assert ends(longest + timedelta(days=1), what) == ["APPR05"]


def test_an_approval_says_one_end_or_that_it_has_none():
    assert ends(None) == ["APPR05"]
    assert ends(None, open_ended=True) == []
    assert ends(date(2030, 1, 1), open_ended=True) == ["APPR05"]


CAB = {"fleet": "A1", "vehicles": [11], "places": ["cab"]}


@pytest.mark.parametrize("what", ["approved", "trial opened"])
@pytest.mark.parametrize("gone", ["vehicles", "places"])
def test_a_permit_names_its_vehicles_and_places(what, gone):
    assert ends(date(2030, 1, 1), what, scope=[CAB, CAB | {gone: []}]) == ["APPR11"]
    assert ends(date(2030, 1, 1), what, scope=[CAB]) == []


def test_what_is_shown_of_how_to_name_them_can_be_written_so():
    (told_of,) = told(*APPROVED, approved={"scope": [{"fleet": "A1"}]}).problems
    assert dict(told_of.facts)["missing"] == ("vehicles", "places")
    shown = yaml.safe_load("\n".join(["fleet: A1", *dict(told_of.facts)["lines"]]))
    scope = Scope.model_validate_json(json.dumps(shown))
    assert scope.vehicles
    assert scope.places


def test_what_is_replaced_stands():
    """A slip in the day would leave the other standing."""
    walked = [*WAY[:2], "trial opened", *WAY[2:], "approved"]  # the trial is of the 21st of January
    for day, codes in ((date(2026, 1, 21), []), (date(2026, 1, 22), ["APPR13"])):
        assert [each.code for each in told(*walked, approved={"replaces": [day]}).problems] == codes
    for what in ("approved", "trial opened"):
        nothing = {what.replace(" ", "_"): {"replaces": [date(2026, 1, 22)]}}
        assert [each.code for each in told(*WAY, what, **nothing).problems] == ["APPR13"]


ELEVEN, TWELVE = ("approved", {"scope": [CAB]}), ("approved", {"scope": [CAB | {"vehicles": [12]}]})
OF_B = ("approved", {"revision": "B", "bound": ("EX-0001", "B", "m"), "scope": [CAB | {"vehicles": [12]}]})
FIRST_DAY = date(2026, 3, 2)


def test_what_is_replaced_ends_and_nothing_else():
    walked = [*WAY[:2], "trial opened", *WAY[2:], ELEVEN]  # the trial is of the 21st of January
    assert [permit.index for permit in told(*walked).permits] == [2, 7]
    twelve = ("approved", {**TWELVE[1], "replaces": [date(2026, 1, 21)]})
    assert [permit.index for permit in told(*walked, twelve).permits] == [7, 8]


def test_which_of_two_approvals_is_renewed_must_be_said():
    assert wrongs(*WAY, ELEVEN, TWELVE, "renewed") == [("APPR09", 8)]
    named = told(*WAY, ELEVEN, TWELVE, ("renewed", {"approved_on": FIRST_DAY}))
    assert named.problems == []
    assert [permit.valid_until.year for permit in named.permits] == [2031, 2030]


def test_an_approval_of_a_later_revision_is_the_one_that_is_renewed():
    found = told(*WAY, ELEVEN, *WAY[1:], OF_B, "renewed")
    assert found.problems == []
    assert [permit.valid_until.year for permit in found.permits] == [2030, 2031]


def test_an_approval_that_took_over_the_same_vehicles_is_the_one_that_is_renewed():
    over = ("approved", {"scope": [CAB], "valid_until": FIRST_DAY})
    found = told(*WAY, over, ELEVEN, "renewed")
    assert found.problems == []
    assert [permit.valid_until for permit in found.permits] == [FIRST_DAY, date(2031, 1, 1)]


def test_an_approval_that_a_newer_one_took_the_place_of_is_not_prolonged():
    """It lapsed, another was given for the same vehicles: to prolong the old one would bring it back."""
    over = ("approved", {"scope": [CAB], "valid_until": FIRST_DAY})
    (found,) = told(*WAY, over, ELEVEN, ("renewed", {"approved_on": FIRST_DAY})).problems
    assert (found.code, found.key) == ("APPR35", "ended")
    assert dict(found.facts) == {"day": str(FIRST_DAY), "newer": str(FIRST_DAY + timedelta(days=10))}
    lapsed_too = ("approved", {"scope": [CAB], "valid_until": FIRST_DAY + timedelta(days=10)})
    (found,) = told(*WAY, over, lapsed_too, ELEVEN, ("renewed", {"approved_on": FIRST_DAY})).problems
    assert dict(found.facts)["newer"] == str(FIRST_DAY + timedelta(days=10))  # the first that took its place
    of_that_day = ("approved", {"scope": [CAB | {"vehicles": [12]}], "on": FIRST_DAY})
    both = wrongs(*WAY, of_that_day, ("approved", {**over[1], "on": FIRST_DAY}), ELEVEN, ("renewed", {"approved_on": FIRST_DAY}))
    assert both == [("APPR09", 9), ("APPR35", 9)]
    elsewhere = ("approved", {"scope": [CAB | {"vehicles": [12]}]})
    assert wrongs(*WAY, over, elsewhere, ("renewed", {"approved_on": FIRST_DAY})) == []


def texts(walked):
    return [[each.text for each in permit.conditions] for permit in walked.permits]


def test_a_condition_is_set_on_the_approval_of_the_day_it_names_or_on_all():
    for said, conditions in (({}, [["Dry places."]] * 2), ({"approved_on": FIRST_DAY}, [["Dry places."], []])):
        assert texts(told(*WAY, ELEVEN, TWELVE, ("condition added", said))) == conditions
    assert wrongs(*WAY, ELEVEN, ("condition added", {"approved_on": date(2026, 3, 3)})) == [("APPR03", 7)]


@pytest.mark.parametrize("what", ["approved", "trial opened"])
def test_a_revision_is_bound_to_one_thing_only(what):
    """Stock is told apart by the revision on its label."""
    other = ("approved", {**TWELVE[1], "bound": ("EX-0001", "A", "another model")})
    walked = WAY[1:] if what == "approved" else []
    assert wrongs(*WAY, (what, ELEVEN[1]), *walked, other) == [("APPR10", 7 + len(walked))]
    assert wrongs(*WAY, (what, ELEVEN[1]), TWELVE) == []


def test_a_trial_is_bound_to_its_revision_as_an_approval_is():
    other = ("trial opened", {**TWELVE[1], "bound": ("EX-0001", "A", "another model")})
    assert wrongs(*WAY, ELEVEN, other) == [("APPR10", 7)]


@pytest.mark.parametrize("end", ["withdrawn", "superseded"])
def test_a_second_withdrawal_is_taken_out_and_a_first_one_lacks_its_approval(end):
    assert advice(*WAY, "approved", end, "withdrawn") == {"has ended"}
    assert advice(*WAY, "approved", end, "approved") == {"without"}
    assert advice(*WAY, "withdrawn") == {"without"}


def test_nothing_is_approved_while_a_question_is_open():
    assert wrongs(*WAY, "question asked", "approved") == [("APPR03", 7)]


def test_a_second_approval_of_the_same_vehicles_takes_the_place_of_the_first_or_is_a_mistake():
    assert wrongs(*WAY, ELEVEN, ELEVEN) == [("APPR06", 7)]
    assert wrongs(*WAY, ELEVEN, ("approved", {"scope": [CAB], "replaces": [FIRST_DAY]})) == []
    assert wrongs(*WAY, ELEVEN, TWELVE) == []


def test_whoever_replaces_what_does_not_stand_is_told_what_stands_in_order_of_days():
    slip = {"replaces": [date(2026, 1, 1)], "scope": [CAB | {"vehicles": [13]}]}
    found = told(*WAY, *[("approved", {"scope": [CAB | {"vehicles": [n]}]}) for n in (11, 12, 14, 21)], ("approved", slip))
    (wrong,) = found.problems
    assert (wrong.code, wrong.mend) == ("APPR13", "stand")
    assert dict(wrong.facts)["known"] == ("2026-03-02", "2026-03-12", "2026-03-22", "2026-04-01")
    assert advice(*WAY, ("approved", slip)) == {"none stands"}


def test_a_condition_is_lifted_word_for_word_and_only_where_it_was_set():
    other = ("condition lifted", {"condition": "Dry place."})
    assert wrongs(*WAY, ELEVEN, "condition added", other) == [("APPR07", 8)]
    assert advice(*WAY, ELEVEN, "condition added", other) == {"word for word"}
    three = [("condition added", {"condition": text}) for text in ("Oil it.", "Clean it.", "Mind the gap.")]
    assert facts(*WAY, ELEVEN, *three, other)["known"] == ("Clean it.", "Mind the gap.", "Oil it.")
    assert advice(*WAY, ELEVEN, other) == {"none set"}
    assert wrongs(*WAY, other) == [("APPR03", 6)]
    assert wrongs(*WAY, ELEVEN, TWELVE, "condition added", "condition lifted") == []


def test_whose_condition_is_lifted_is_said_where_each_approval_set_its_own():
    own = [("approved", {**each[1], "conditions": ["Dry places."]}) for each in (ELEVEN, TWELVE)]
    assert wrongs(*WAY, *own, "condition lifted") == [("APPR09", 8)]
    of_first = told(*WAY, *own, ("condition lifted", {"approved_on": FIRST_DAY}))
    assert of_first.problems == []
    assert texts(of_first) == [[], ["Dry places."]]


def bound_to(text, mark=None, revision="A"):
    """What is wrong with an approval of this text and fingerprint; its own where none is said."""
    (permit,) = told(*WAY, ELEVEN).permits
    change = {"approved_as": text, "fingerprint": mark or fingerprint(from_record(text)), "revision": revision}
    way = Way(Route.CUSTOMER, done={AcceptanceGiven, DocumentsComplete, SentToTechnicalReview})
    found = list(complaints(permit.event.model_copy(update=change), way))
    all_said(found)
    return [each.code for each in found]


def test_an_approval_binds_a_whole_text_of_its_revision_by_its_fingerprint():
    (permit,) = told(*WAY, ELEVEN).permits
    text = permit.event.approved_as
    assert bound_to(text) == []
    assert bound_to(text, mark="0" * 64) == ["APPR08"]
    assert bound_to(text.replace('number: "', 'number "')) == ["APPR08"]  # a broken line
    assert bound_to(text + '\nrevision: "A"') == ["APPR08"]  # a line that stands twice
    assert bound_to(text, revision="B") == ["APPR08"]
