"""Ways in which "Fit it" could be had wrongly, each tried once and by name."""

from datetime import date, timedelta

import pytest

from tests.rules.cases import GROUND, sheet_of, verdicts

DAY = date(2026, 11, 25)
NOW = ("EX-0001", "A", "m", "read")
EVERY = {"A1": {"vehicles": [11, 12, 13, 14], "places": ["cab", "door"]}, "B2": {"vehicles": [21, 22], "places": ["bogie"]}}
ALL = [{"fleet": "A1"}]
CAB_11, CAB_12, CAB_13 = ("A1", "cab", 11, None), ("A1", "cab", 12, None), ("A1", "cab", 13, None)
BOGIE = ("B2", "bogie", 21, None)


SUBMISSIONS = ("documents complete", "sent to technical review", "sent to the authority")


def _approved_next(events):
    """What a submission submitted, unless it says so: what comes to be approved."""
    return next((details["bound"] for what, _, details in events if what == "approved"), NOW)


def case(*events, **other):
    """A case whose events are spread over the year, the last a month ago unless they say their day."""
    dated = []
    for i, (what, by, details) in enumerate(events):
        day = DAY - timedelta(days=30 + 10 * (len(events) - i))
        sent = {"submitted": _approved_next(events[i:])} if what in SUBMISSIONS else {}
        dated.append({"what": what, "by": by, "on": day, "evidence": True, "id": i, **sent, **details})
    base = {
        "route": "customer", "safety": False, "waiver": False, "certificate_until": date(2028, 1, 1),
        "fire_until": date(2028, 1, 1), "max_age": 30, "screening": "judged", "authorisation": "not needed", "now": NOW, "mistake": False, "ground": GROUND, "built_on": DAY,
    }  # fmt: skip
    return base | {"events": dated} | other


def said(*events, day=DAY, **other):
    return verdicts(sheet_of(case(*events, **other)), day)


def event(what, by="keeper", **details):
    return (what, by, details)


def grant(scope=ALL, what="approved", by="reviewer", bound=NOW, until=date(2027, 6, 30), **details):
    """A permit for what `scope` names; what it leaves out is every vehicle and place of the fleet, by name."""
    named = [EVERY[one["fleet"]] | one for one in scope]
    details = {"revision": bound[1], "bound": bound, "scope": named, **details}
    return (what, by, details | ({"valid_until": until} if until else {}))


def trial(vehicles, **details):
    return grant([{"fleet": "A1", "vehicles": vehicles}], what="trial opened", by="keeper", **details)


PRINTED = event("prototype printed", "specialist")
GIVEN = event("customer acceptance given")
COMPLETE = event("documents complete", "specialist")
SENT = event("sent to technical review", "specialist")
TO_AUTHORITY = event("sent to the authority")
WAY = (PRINTED, GIVEN, COMPLETE, SENT)
AUTHORITY_WAY = (*WAY, TO_AUTHORITY)
WITHDRAWN = event("withdrawn", reason="cracks")
USED_UP = {"revision": "A", "becomes": "use up", "until": DAY + timedelta(days=20)}
LAST_DAY = grant()[2]["valid_until"]


def test_the_honest_way_may_be_fitted():
    found = said(*WAY, grant())
    assert found[CAB_11] == "fit"
    assert found[BOGIE] == "no"


@pytest.mark.parametrize("missing", range(4))
def test_a_step_left_out(missing):
    way = WAY[:missing] + WAY[missing + 1 :]
    assert said(*way, grant())[CAB_11] == "no"


def test_renewed_after_withdrawal():
    assert (
        said(*WAY, grant(), WITHDRAWN, event("renewed", "reviewer", valid_until=date(2029, 1, 1)))[CAB_11]
        == "no"
    )


def test_approved_again_after_withdrawal_without_a_new_way():
    assert said(*WAY, grant(), WITHDRAWN, grant())[CAB_11] == "no"
    assert said(*WAY, grant(), WITHDRAWN, SENT, grant())[CAB_11] == "no"
    assert said(*WAY, grant(), WITHDRAWN, GIVEN, COMPLETE, SENT, grant())[CAB_11] == "fit"


def test_withdrawn_stock_is_not_freed_by_a_new_approval_of_another_mesh_under_its_revision():
    other = ("EX-0001", "A", "n", "read")
    found = said(*WAY, grant(), WITHDRAWN, GIVEN, COMPLETE, SENT, grant(bound=other), now=other)
    assert found[CAB_11] == "no"


def test_another_revision_with_the_same_mesh():
    found = said(*WAY, grant(), now=("EX-0001", "B", "m", "read"))
    assert found[CAB_11] == "no"
    assert found["A1", "cab", 11, "A"] == "fit"  # stock with the label of revision A keeps its own verdict


def test_another_mesh_under_the_same_revision_has_no_label_of_its_own():
    found = said(*WAY, grant(), now=("EX-0001", "A", "n", "read"))
    assert set(found.values()) == {"no"}
    assert {label for *_, label in found} == {None}


def test_an_approval_text_of_another_part():
    found = said(*WAY, grant(bound=("EX-0002", "A", "m", "read")))
    assert found[CAB_11] == "no"
    found = said(*WAY, grant(bound=("EX-0002", "A", "m", "read")), now=("EX-0001", "B", "m", "read"))
    assert set(found.values()) == {"no"}


@pytest.mark.parametrize(
    "after", [event("renewed", "reviewer", valid_until=date(2029, 1, 1)), grant(), trial([11])]
)
def test_superseded_is_not_undone_by_what_comes_after(after):
    gone = event("superseded", superseded_by="EX-0002")
    assert said(*WAY, grant(), gone, after)[CAB_11] == "no"


def test_superseded_is_not_undone_for_other_vehicles_either():
    gone = event("superseded", superseded_by="EX-0002")
    one, two = grant([{"fleet": "A1", "vehicles": [11]}]), grant([{"fleet": "A1", "vehicles": [12]}])
    assert set(said(*WAY, one, gone, two).values()) == {"no"}
    assert said(*WAY, one, gone, *WAY, two)[CAB_12] == "fit"


def test_a_refused_acceptance_is_not_skipped():
    refused = event("customer acceptance refused", reason="too soft")
    assert said(PRINTED, GIVEN, refused, COMPLETE, SENT, grant())[CAB_11] == "no"
    assert said(PRINTED, refused, GIVEN, COMPLETE, SENT, grant())[CAB_11] == "fit"


def test_a_condition_is_lifted_only_where_it_is_said():
    one, two = grant([{"fleet": "A1", "vehicles": [11]}]), grant([{"fleet": "A1", "vehicles": [12]}])
    added = event("condition added", "reviewer", condition="Dry.")
    lifted = event("condition lifted", "reviewer", condition="Dry.")
    first_day = case(*WAY, one, two, added, lifted)["events"][4]["on"]
    of_first = event("condition lifted", "reviewer", condition="Dry.", approved_on=first_day)
    found = said(*WAY, one, two, added, of_first)
    assert (found[CAB_11], found[CAB_12]) == ("fit", "ask")
    found = said(*WAY, one, two, added, lifted)  # it was set on both, so it is lifted from both
    assert (found[CAB_11], found[CAB_12]) == ("fit", "fit")
    own = [grant([{"fleet": "A1", "vehicles": [vehicle]}], conditions=["Dry."]) for vehicle in (11, 12)]
    assert set(said(*WAY, *own, lifted).values()) == {"no"}  # whose is not said


def test_a_trial_ends_with_the_refusal():
    refused = event("customer acceptance refused", reason="too soft")
    assert said(PRINTED, trial([11]))[CAB_11] == "fit"
    assert said(PRINTED, trial([11]), refused)[CAB_11] == "no"
    assert said(*WAY, trial([11]), event("approval refused", "reviewer", reason="no"))[CAB_11] == "no"


def test_a_trial_speaks_only_of_its_vehicles_until_its_day():
    opened = trial([11, 12], until=DAY + timedelta(days=5))
    found = said(PRINTED, opened)
    assert (found[CAB_11], found[CAB_12], found[CAB_13]) == ("fit", "fit", "no")
    days = {n: said(PRINTED, opened, day=DAY + timedelta(days=n))[CAB_11] for n in (5, 6)}
    assert days == {5: "fit", 6: "no"}


@pytest.mark.parametrize("left_out", ["vehicles", "places"])
def test_a_permit_that_leaves_its_vehicles_or_places_open_is_none(left_out):
    nothing = {left_out: []}
    assert set(said(PRINTED, grant([{"fleet": "A1", **nothing}], what="trial opened", by="keeper")).values()) == {"no"}
    assert set(said(*WAY, grant([{"fleet": "A1", **nothing}])).values()) == {"no"}
    mixed = [{"fleet": "A1", "vehicles": [11]}, {"fleet": "B2", **nothing}]
    assert set(said(*WAY, grant(mixed)).values()) == {"no"}


def test_a_place_or_vehicle_that_comes_later_is_not_approved():
    found = said(*WAY, grant([{"fleet": "A1", "vehicles": [11, 12], "places": ["cab"]}]))
    assert (found[CAB_11], found[CAB_12], found[CAB_13]) == ("fit", "fit", "no")
    assert found["A1", "door", 11, None] == "no"


def test_a_trial_closed_and_an_approval_lapsed():
    lapsed = grant(until=DAY - timedelta(days=1))
    found = said(PRINTED, trial([11]), GIVEN, COMPLETE, SENT, lapsed, event("trial closed", reason="over"))
    assert found[CAB_11] == "no"


def test_a_lenient_trial_does_not_hide_the_condition_of_the_approval():
    way = (PRINTED, trial([11]), GIVEN, COMPLETE, SENT)
    found = said(*way, grant(conditions=["Check every month."]))
    assert (found[CAB_11], found[CAB_12]) == ("ask", "ask")


def test_a_trial_opened_beside_an_approval_does_not_end_it_but_asks_once_it_is_over_without_a_result():
    opened = trial([11], until=DAY + timedelta(days=1))
    days = [said(*WAY, grant(), opened, day=DAY + timedelta(days=n))[CAB_11] for n in (1, 2)]
    assert days == ["fit", "ask"]


def test_a_condition_reaches_everything_that_stands():
    added = event("condition added", "reviewer", condition="Not in winter.")
    one, two = grant([{"fleet": "A1", "vehicles": [11]}]), grant([{"fleet": "A1", "vehicles": [12]}])
    found = said(*WAY, one, two, added)
    assert (found[CAB_11], found[CAB_12]) == ("ask", "ask")
    assert said(PRINTED, trial([11]), added)[CAB_11] == "ask"


def test_a_lenient_approval_beside_a_strict_one():
    strict = grant([{"fleet": "A1", "vehicles": [11, 12]}], conditions=["Check every month."])
    lenient = grant([{"fleet": "A1", "vehicles": [12, 13]}])
    assert set(said(*WAY, strict, lenient).values()) == {
        "no"
    }  # they overlap at 12, so the record is a mistake
    apart = grant([{"fleet": "A1", "vehicles": [13]}])
    found = said(*WAY, strict, apart)
    assert (found[CAB_11], found[CAB_12], found[CAB_13]) == ("ask", "ask", "fit")


@pytest.mark.parametrize(("ends", "found"), [(-21, "fit"), (-20, "no")])
def test_two_approvals_share_not_even_one_day(ends, found):
    """The later one is of twenty days ago; the day on which the earlier one ends is still its own."""
    first = grant(until=DAY + timedelta(days=ends), conditions=["Check every month."])
    later = grant(on=DAY - timedelta(days=20))
    assert said(*WAY, first, later)[CAB_11] == found


def test_a_lapsed_strict_approval_is_not_revived_by_renewing_the_lenient_one():
    one = grant([{"fleet": "A1", "vehicles": [11]}], until=DAY - timedelta(days=20))
    two = grant([{"fleet": "A1", "vehicles": [12]}])
    renewed = event("renewed", "reviewer", valid_until=date(2029, 1, 1))
    assert set(said(*WAY, one, two, renewed).values()) == {"no"}  # which of the two is not said


def test_a_renewal_names_its_approval():
    scopes = [[{"fleet": "A1", "vehicles": [11]}], [{"fleet": "A1", "vehicles": [12]}]]
    events = [
        *WAY,
        grant(scopes[0], until=DAY + timedelta(days=1)),
        grant(scopes[1], until=DAY + timedelta(days=1)),
    ]
    first_day = case(*events, WITHDRAWN)["events"][4]["on"]
    renewed = event("renewed", "reviewer", valid_until=DAY + timedelta(days=9), approved_on=first_day)
    found = said(*events, renewed, day=DAY + timedelta(days=2))
    assert (found[CAB_11], found[CAB_12]) == ("fit", "no")


@pytest.mark.parametrize("what", ["renewed", "condition lifted"])
def test_what_widens_an_approval_needs_its_own_evidence(what):
    details = {"valid_until": date(2028, 1, 1)} if what == "renewed" else {"condition": "Dry places."}
    given = grant(conditions=[] if what == "renewed" else ["Dry places."])
    assert said(*WAY, given, event(what, "reviewer", **details))[CAB_11] == "fit"
    assert said(*WAY, given, event(what, "reviewer", **details, evidence=False))[CAB_11] == "no"


def test_open_ended_only_where_it_is_said():
    assert said(*WAY, grant(until=None))[CAB_11] == "no"
    assert said(*WAY, grant(until=None, open_ended=True))[CAB_11] == "fit"
    shortened = event("renewed", "reviewer", valid_until=DAY)
    days = [
        said(*WAY, grant(until=None, open_ended=True), shortened, day=DAY + timedelta(days=n)) for n in (0, 1)
    ]
    assert [found[CAB_11] for found in days] == ["fit", "no"]


@pytest.mark.parametrize(("last", "found"), [(-1, "no"), (0, "fit"), (1, "fit")])
def test_the_last_day_is_a_day_of_the_approval(last, found):
    assert said(*WAY, grant(until=DAY + timedelta(days=last)))[CAB_11] == found


@pytest.mark.parametrize("part", ["certificate_until", "fire_until"])
@pytest.mark.parametrize(("last", "found"), [(-1, "no"), (0, "fit"), (None, "no")])
def test_material_papers_end_on_their_day(part, last, found):
    until = None if last is None else DAY + timedelta(days=last)
    assert said(*WAY, grant(), **{part: until})[CAB_11] == found


def test_approved_on_the_day_of_reading():
    assert said(*WAY, grant(on=DAY))[CAB_11] == "fit"
    assert said(*WAY, grant(on=DAY + timedelta(days=1)))[CAB_11] == "no"


def test_events_of_one_day_count_in_the_order_written():
    day = {"on": DAY - timedelta(days=1)}
    way = [(what, by, day) for what, by, _ in WAY]
    assert said(*way, grant(**day))[CAB_11] == "fit"
    assert said(grant(**day), *way)[CAB_11] == "no"


def test_safety_never_by_the_customer_alone():
    assert said(*WAY, grant(), safety=True)[CAB_11] == "no"
    assert said(*WAY, grant(), safety=True, waiver=True)[CAB_11] == "ask"
    assert said(*AUTHORITY_WAY, grant(), safety=True)[CAB_11] == "no"  # the route says customer
    assert said(*AUTHORITY_WAY, grant(by="authority"), safety=True, route="authority")[CAB_11] == "fit"
    assert said(*WAY, grant(by="authority"), safety=True, route="authority")[CAB_11] == "no"


def test_safety_on_trial_is_asked_first():
    with_authority = said(*AUTHORITY_WAY, trial([11]), safety=True, route="authority")
    assert with_authority[CAB_11] == "ask"
    assert said(PRINTED, trial([11]), safety=True, route="authority")[CAB_11] == "no"
    assert said(PRINTED, trial([11]), safety=True)[CAB_11] == "no"


def test_the_authority_was_asked_about_an_earlier_prototype():
    again = (PRINTED, GIVEN, COMPLETE, SENT)
    assert said(*AUTHORITY_WAY, *again, grant(by="authority"), safety=True, route="authority")[CAB_11] == "no"


def test_documents_changed_after_they_were_sent():
    assert said(*WAY, COMPLETE, grant())[CAB_11] == "no"
    assert said(*WAY, COMPLETE, SENT, grant())[CAB_11] == "fit"


def test_a_question_left_open():
    asked = event("question asked", "reviewer", question="How hot?")
    answered = event("question answered", "specialist")
    assert said(*WAY, asked, grant())[CAB_11] == "no"
    assert said(*WAY, asked, answered, grant())[CAB_11] == "fit"
    assert said(*WAY, asked, COMPLETE, SENT, grant())[CAB_11] == "no"


def test_refused_after_approval():
    assert said(*WAY, grant(), event("approval refused", "reviewer", reason="no"))[CAB_11] == "no"
    assert said(*WAY, grant(), event("customer acceptance refused", reason="no"))[CAB_11] == "no"
    refused = event("approval refused", "reviewer", reason="no")
    assert said(*WAY, grant(), SENT, refused)[CAB_11] == "fit"  # something else was sent and refused
    assert said(*WAY, refused, grant())[CAB_11] == "no"


@pytest.mark.parametrize("what", ["approved", "acceptance", "trial", "renewed", "lifted"])
def test_nobody_approves_what_he_made(what):
    own = "specialist"
    events = {
        "approved": (*WAY, grant(by=own)),
        "acceptance": (PRINTED, event("customer acceptance given", own), COMPLETE, SENT, grant()),
        "trial": (PRINTED, grant([{"fleet": "A1", "vehicles": [11]}], what="trial opened", by=own)),
        "renewed": (*WAY, grant(), event("renewed", own, valid_until=date(2028, 1, 1))),
        "lifted": (*WAY, grant(conditions=["Dry."]), event("condition lifted", own, condition="Dry.")),
    }
    assert said(*events[what])[CAB_11] == "no"


def test_scope_of_fleet_vehicles_and_places():
    found = said(*WAY, grant([{"fleet": "A1", "vehicles": [12, 14], "places": ["cab"]}]))
    fit = {where[:3] for where, verdict in found.items() if verdict == "fit"}
    assert fit == {("A1", "cab", 12), ("A1", "cab", 14)}


def test_overlapping_vehicle_ranges_count_once():
    scope = [{"fleet": "A1", "vehicles": [11, 12]}, {"fleet": "A1", "vehicles": [12, 13]}]
    found = said(*WAY, grant(scope))
    assert [found[where] for where in (CAB_11, CAB_12, CAB_13)] == ["fit"] * 3
    assert found["A1", "cab", 14, None] == "no"


def test_evidence_must_be_named():
    assert said(*WAY, grant(evidence=False))[CAB_11] == "no"
    assert said(PRINTED, trial([11], evidence=False))[CAB_11] == "no"


def test_old_stock_loses_its_verdict_when_its_approval_ends():
    found = said(*WAY, grant(until=DAY), now=("EX-0001", "B", "m", "read"), day=DAY + timedelta(days=1))
    assert found["A1", "cab", 11, "A"] == "no"


def test_a_withdrawal_reaches_old_stock():
    newer = ("EX-0001", "B", "m", "read")
    of_b = grant(bound=newer, older_stock=[USED_UP])
    found = said(*WAY, grant(), *WAY, of_b, now=newer)
    assert (found[CAB_11], found["A1", "cab", 11, "A"]) == ("fit", "fit")
    found = said(*WAY, grant(), *WAY, of_b, WITHDRAWN, now=newer)
    assert set(found.values()) == {"no"}


def test_each_label_is_judged_by_the_approval_of_its_own_revision():
    of_b = grant(bound=("EX-0001", "B", "m", "read"), older_stock=[USED_UP])
    found = said(*WAY, grant(conditions=["Dry."]), *WAY, of_b, now=("EX-0001", "C", "m", "read"))
    assert (found["A1", "cab", 11, "A"], found["A1", "cab", 11, "B"]) == ("ask", "fit")


def test_a_part_that_was_changed_is_told_from_one_that_was_never_approved():
    changed = sheet_of(case(*WAY, grant(), now=("EX-0001", "B", "m", "read"))).grounds[0].permits
    assert [(facts.permit_revision, facts.same_as_approved) for facts in changed] == [("A", "no")]


def test_vehicles_of_the_fleet_that_the_part_does_not_fit_have_no_verdict():
    found = said(*WAY, grant())
    assert found["A1", "door", 12, None] == "fit"
    assert ("A1", "door", 13, None) not in found


def test_the_newest_permit_of_a_vehicle_is_told_first():
    """Where two say the same, a mechanic reads the letter that came last."""
    stands = sheet_of(case(PRINTED, trial([11]), GIVEN, COMPLETE, SENT, grant())).grounds[0]
    assert (stands.vehicles, [facts.permit for facts in stands.permits]) == (("11",), ["approval", "trial"])
