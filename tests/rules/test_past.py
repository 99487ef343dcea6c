"""What a record said stays said: each way to unsay it is told, and a correction explains what it names and no more."""

import json
from itertools import combinations, permutations

import pytest

from generator.records.approvals import Approval
from generator.rules.past import further, past_of, unsaid

NAMES = ("design started", "prototype printed", "documents complete", "question answered")
SIGNIFICANT = {"judged_significant": "yes", "judged_by": "keeper", "judged_on": "2026-01-02"}
APPROVED = {
    "on": "2026-05-01", "what": "approved", "by": "keeper", "revision": "A", "approved_as": "text", "fingerprint": "0" * 64,
    "scope": [{"fleet": "B2", "vehicles": ["21"], "places": ["bogie"]}], "valid_until": "2027-01-01",
}  # fmt: skip


def event(at, what="design started", **more):
    return {"on": f"2026-01-{at:02}", "what": what, "by": "specialist"} | more


def corrected(at, corrects):
    return event(at, "record corrected", corrects=corrects, why="a slip", by="quality", checked_by="keeper")


WITHDRAWN = event(9, "withdrawn", reason="cracks")
TOOK = {
    "withdrawn": WITHDRAWN,
    "superseded": event(9, "superseded", superseded_by="EX-9"),
    "condition added": event(9, "condition added", condition="dry"),
    "question asked": event(9, "question asked", question="how dry?"),
    "trial closed": event(9, "trial closed", reason="cracks", result="failed", fitted_pieces="come off"),
    "approval refused": event(9, "approval refused", reason="cracks"),
}
WAY = [event(at + 1, what) for at, what in enumerate(NAMES)]


def past(*events, route="customer", **more):
    return past_of(Approval.model_validate_json(json.dumps({"route": route, "events": events} | more)))


def found(before, now):
    return [(each.code, each.key, each.path, dict(each.facts).get("event")) for each in unsaid(before, now)]


def test_what_is_only_added_to_has_lost_nothing():
    for count in range(len(WAY)):
        assert unsaid(past(*WAY[:count]), past(*WAY)) == ()
    assert unsaid(past(), past(*WAY, screening=SIGNIFICANT)) == ()


@pytest.mark.parametrize(
    ("now", "told"),
    [
        (WAY, [("PAST02", "gone", ("events", 3), 5)]),
        ([*WAY[:3]], [("PAST02", "gone", ("events", 2), 4), ("PAST02", "gone", ("events", 2), 5)]),
        ([], [("PAST02", "gone", ("events", 0), at) for at in range(1, 6)]),
        ([*WAY[1:], WITHDRAWN], [("PAST02", "gone", ("events", 0), 1)]),
        ([*WAY[:3], WITHDRAWN], [("PAST02", "gone", ("events", 3), 4)]),
        ([*WAY, WITHDRAWN | {"reason": "Cracks"}], [("PAST01", "changed", ("events", 4), 5)]),
        ([*WAY, event(9, "condition added", condition="dry")], [("PAST01", "changed", ("events", 4), 5)]),
        ([*WAY[:2], WITHDRAWN, *WAY[2:]], [("PAST03", "typed in", ("events", 2), 3), ("PAST02", "moved", ("events", 4), 5)]),
        ([*WAY[:2], APPROVED, *WAY[2:], WITHDRAWN], [("PAST03", "typed in", ("events", 2), 3)]),
    ],
    ids=["last gone", "cut off", "all gone", "first gone", "one gone", "reason", "other event", "end moved", "approval typed in"],
)  # fmt: skip
def test_each_way_to_unsay_is_told_at_its_place(now, told):
    assert found(past(*WAY, WITHDRAWN), past(*now)) == told


def test_two_events_that_change_places_are_told():
    for order in permutations(range(4)):
        now = past(*(WAY[at] for at in order))
        assert (order == (0, 1, 2, 3)) == (unsaid(past(*WAY), now) == ())


def test_no_selection_of_the_events_passes_for_the_whole():
    whole = [*WAY, WITHDRAWN]
    for count in range(len(whole)):
        for kept in combinations(whole, count):
            assert unsaid(past(*whole), past(*kept))


@pytest.mark.parametrize(
    ("now", "corrects"),
    [
        ([*WAY, WITHDRAWN | {"reason": "Cracks"}], 5),
        ([*WAY[:3], WITHDRAWN], 4),
        ([*WAY[1:], WITHDRAWN], 1),
        ([*WAY[:2], APPROVED, *WAY[2:], WITHDRAWN], 3),
        ([*WAY[:1], event(2, "design started"), *WAY[2:], WITHDRAWN], 2),
    ],
)
def test_a_correction_explains_the_difference_that_it_names(now, corrects):
    before = past(*WAY, WITHDRAWN)
    assert unsaid(before, past(*now, corrected(20, corrects))) == ()
    for other in {1, 2, 3, 4, 5, 6, "screening", "route"} - {corrects}:
        assert unsaid(before, past(*now, corrected(20, other)))


@pytest.mark.parametrize("kind", ["withdrawn", "superseded", "condition added", "question asked", "trial closed", "approval refused"])
def test_what_took_a_permission_is_never_corrected_away(kind):
    taken = past(APPROVED, took := TOOK[kind])
    assert found(taken, past(APPROVED, corrected(20, 2))) == [("PAST01", "changed", ("events", 1), 2)]
    assert found(taken, past(APPROVED, event(10), corrected(20, 2))) == [("PAST01", "changed", ("events", 1), 2)]
    assert found(taken, past(took, APPROVED, corrected(20, 1), corrected(20, 2)))
    assert unsaid(taken, past(APPROVED, took | {"note": "seen twice"}, corrected(20, 2))) == ()
    assert unsaid(taken, past(APPROVED, event(10), took, corrected(20, 2))) == ()  # as after a merge


def test_what_gave_a_permission_is_never_corrected_away_or_moved():
    given = past(APPROVED, WITHDRAWN)
    assert found(given, past(WITHDRAWN, corrected(20, 1)))
    assert found(given, past(WITHDRAWN, APPROVED, corrected(20, 1), corrected(20, 2)))


def test_a_correction_explains_one_difference_and_not_the_next_one():
    told = [("PAST01", "changed", ("events", 3), 5)]
    assert found(past(*WAY, event(9)), past(*WAY[1:], corrected(20, 1))) == told


def test_a_correction_that_is_remembered_explains_nothing_more():
    once = [*WAY, WITHDRAWN | {"reason": "Cracks"}, corrected(20, 5)]
    assert unsaid(past(*once), past(*once)) == ()
    twice = [*WAY, WITHDRAWN | {"reason": "none"}, corrected(20, 5)]
    assert found(past(*once), past(*twice)) == [("PAST01", "changed", ("events", 4), 5)]
    assert unsaid(past(*once), past(*twice, corrected(21, 5))) == ()
    assert unsaid(past(*once), past(*once[:-1]))


@pytest.mark.parametrize("screening", [{}, {**SIGNIFICANT, "judged_significant": "no"}], ids=["removed", "other"])
def test_a_judgement_stays_judged(screening):
    before = past(*WAY, screening=SIGNIFICANT)
    told = [("PAST04", "other", ("screening", "judged_significant"), None)]
    assert found(before, past(*WAY, screening=screening)) == told
    assert unsaid(before, past(*WAY, corrected(20, "screening"), screening=screening)) == ()


def test_answers_may_be_worded_anew_until_they_carry_a_permit():
    answer = {"answer": "it rattles", "by": "keeper", "on": "2026-01-02"}
    one, other = {"novelty": answer}, {"novelty": answer | {"answer": "it rattles a little"}}
    assert unsaid(past(*WAY, screening=one), past(*WAY, screening=other)) == ()
    told = [("PAST04", "other", ("screening", "novelty", "answer"), None)]
    assert found(past(APPROVED, screening=one), past(APPROVED, screening=other)) == told
    assert unsaid(past(APPROVED, screening=one), past(APPROVED, screening=one | SIGNIFICANT)) == ()


def test_route_and_waiver_stay_once_they_carry_a_permit():
    waiver = {"reason": "no load", "by": "keeper", "reference": "W-1"}
    before = past(APPROVED, waiver=waiver)
    assert found(before, past(APPROVED, waiver=waiver | {"by": "quality"})) == [("PAST04", "other", ("waiver",), None)]
    assert found(before, past(APPROVED, route="authority", waiver=waiver)) == [("PAST04", "other", ("route",), None)]
    assert unsaid(before, past(APPROVED, corrected(20, "waiver"))) == ()
    assert found(past(APPROVED), past(APPROVED, waiver=waiver)) == [("PAST04", "other", ("waiver",), None)]
    assert unsaid(past(*WAY), past(*WAY, waiver=waiver)) == ()
    assert unsaid(past(*WAY), past(*WAY, route="authority")) == ()


def test_a_memory_never_goes_backwards():
    whole, less = past(*WAY, WITHDRAWN), past(*WAY)
    assert further(None, less) is less
    assert further(less, whole) is whole
    assert further(whole, less) is whole


def test_a_record_of_thousands_of_events_is_compared_soon():
    many = [event(1, note=str(at)) for at in range(1500)]
    assert unsaid(past(*many, WITHDRAWN), past(*many[1:], WITHDRAWN))
