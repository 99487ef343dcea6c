"""Which parts go to the reviewer as one, against the definition: same route, materials, processes and desk."""

from dataclasses import replace
from datetime import date, timedelta
from itertools import combinations
from types import SimpleNamespace

import pytest

from generator.planning.families import FURTHER_PART_MINUTES, SUBMISSION_MINUTES, desk_of, families, shared_by
from generator.planning.submitting import Asks, asked_of, can_be_asked, whom
from generator.records.approvals import Route
from generator.rules.changes import Change, Means
from generator.rules.history import Holder, Stage
from tests.pages.sample import DAY, judged_sample

CATALOGUE, SHEETS, _ = judged_sample()
PLAIN = next(each for each in SHEETS if each.number == "P-0001")


def at(stage, number="P-0001", *, route=Route.CUSTOMER, question=False, awaits=False, changes=(), problems=(), **part):
    """A sheet that stands at this stage."""
    history = SimpleNamespace(route=route, stage=stage, question_open=question, awaits=awaits, stays=[], approval=None, permits=[])
    folder = replace(PLAIN.folder, number=number, part=PLAIN.part.model_copy(update={"number": number, **part}))
    return replace(PLAIN, folder=folder, stage=stage, history=history, changes=changes, problems=problems)


ASK = Change("photo x", "a", "b", Means.ASK, "photo")
ASKED = [
    (at(Stage.DESIGN), Asks.ACCEPTANCE, Holder.CUSTOMER),
    (at(Stage.PROTOTYPE), Asks.ACCEPTANCE, Holder.CUSTOMER),
    (at(Stage.ACCEPTANCE, route=Route.AUTHORITY), Asks.ACCEPTANCE, Holder.CUSTOMER),
    (at(Stage.DOCUMENTS), Asks.REVIEW, Holder.CUSTOMER),
    (at(Stage.DOCUMENTS, route=Route.AUTHORITY), Asks.REVIEW, Holder.CUSTOMER),
    (at(Stage.TECHNICAL_REVIEW), Asks.REVIEW, Holder.CUSTOMER),
    (at(Stage.TECHNICAL_REVIEW, route=Route.AUTHORITY), Asks.AUTHORITY, Holder.AUTHORITY),
    (at(Stage.TECHNICAL_REVIEW, route=Route.AUTHORITY, question=True), Asks.REVIEW, Holder.CUSTOMER),
    (at(Stage.AUTHORITY_REVIEW, route=Route.AUTHORITY), Asks.AUTHORITY, Holder.AUTHORITY),
    (at(Stage.TAKEN_OVER, awaits=True), Asks.CONFIRMATION, Holder.CUSTOMER),
    (at(Stage.LAPSED), Asks.RENEWAL, Holder.CUSTOMER),
    (at(Stage.LAPSED, route=Route.AUTHORITY), Asks.RENEWAL, Holder.AUTHORITY),
    (at(Stage.LAPSED, awaits=True), Asks.CONFIRMATION, Holder.CUSTOMER),
    (at(Stage.CHANGED), Asks.REVIEW, Holder.CUSTOMER),
    (at(Stage.APPROVED), Asks.RENEWAL, Holder.CUSTOMER),
    (at(Stage.APPROVED, changes=(ASK,)), Asks.CHANGE, Holder.CUSTOMER),
    (at(Stage.WITHDRAWN), Asks.REVIEW, Holder.CUSTOMER),
    (at(Stage.SUPERSEDED), Asks.REVIEW, Holder.CUSTOMER),
]


@pytest.mark.parametrize(("sheet", "step", "holder"), ASKED)
def test_each_stage_asks_for_one_step_of_one_holder(sheet, step, holder):
    assert (asked_of(sheet), whom(asked_of(sheet), sheet.history.route)) == (step, holder)


def test_every_stage_is_answered():
    assert {sheet.stage for sheet, _, _ in ASKED} | {Stage.UNREAD} == set(Stage)  # of what nobody can read nothing goes to anybody


@pytest.mark.parametrize(("sheet", "usual", "_"), ASKED)
def test_what_nobody_can_answer_cannot_be_asked(sheet, usual, _):
    """No authority beside its route, no letter that nobody took over, no new last day of what never had one."""
    can = can_be_asked(sheet)
    assert usual in can
    assert Asks.AUTHORITY not in can or sheet.history.route is Route.AUTHORITY
    assert Asks.CONFIRMATION not in can or sheet.history.awaits
    assert Asks.RENEWAL not in can or sheet.stage in (Stage.APPROVED, Stage.LAPSED)
    assert Asks.CHANGE not in can or sheet.changes


@pytest.mark.parametrize(
    ("sheet", "can"),
    [
        (at(Stage.DOCUMENTS), [Asks.REVIEW]),  # accepted already
        (at(Stage.DESIGN), [Asks.ACCEPTANCE, Asks.REVIEW]),
        (at(Stage.DESIGN, route=Route.AUTHORITY), [Asks.ACCEPTANCE, Asks.REVIEW, Asks.AUTHORITY]),
        (at(Stage.AUTHORITY_REVIEW, route=Route.AUTHORITY), [Asks.AUTHORITY]),
        (at(Stage.APPROVED), [Asks.RENEWAL]),
        (at(Stage.TAKEN_OVER, awaits=True), [Asks.CONFIRMATION]),
        (at(Stage.LAPSED), [Asks.ACCEPTANCE, Asks.REVIEW, Asks.RENEWAL]),
        (at(Stage.WITHDRAWN), [Asks.ACCEPTANCE, Asks.REVIEW]),
    ],
)
def test_a_step_that_lies_ahead_can_be_asked_for_early(sheet, can):
    assert list(can_be_asked(sheet)) == can


MEMBERS = [
    at(Stage.DOCUMENTS, "A-01"),
    at(Stage.LAPSED, "A-02"),
    at(Stage.DESIGN, "A-03"),
    at(Stage.PROTOTYPE, "A-04"),
    at(Stage.DOCUMENTS, "A-05", material="other"),
    at(Stage.DOCUMENTS, "A-06", route=Route.AUTHORITY),
    at(Stage.LAPSED, "A-07", route=Route.AUTHORITY),
    at(Stage.TECHNICAL_REVIEW, "A-08"),
    at(Stage.DOCUMENTS, "A-09", question=True),
    at(Stage.WITHDRAWN, "A-10"),
    at(Stage.DOCUMENTS, "A-11", further_materials=("second",)),
    at(Stage.DOCUMENTS, "A-12", makers=()),
    at(Stage.CHANGED, "A-13"),
    at(Stage.PROTOTYPE, "A-14"),
    at(Stage.DESIGN, "A-15"),
]


def test_families_are_what_shares_all_four_and_waits_with_us():
    """Against every pair: two parts stand together where all is the same, and nowhere else."""
    found = families(MEMBERS, CATALOGUE, DAY)
    together = {frozenset(pair) for family in found for pair in combinations([each.number for each in family.members], 2)}
    with_us = {Stage.PROTOTYPE, Stage.DOCUMENTS, Stage.LAPSED, Stage.CHANGED, Stage.TAKEN_OVER}
    waiting = [each for each in MEMBERS if each.stage in with_us and not each.history.question_open and each.part.makers]
    same = {
        frozenset((one.number, other.number))
        for one, other in combinations(waiting, 2)
        if (one.part.materials, one.history.route, desk_of(one)) == (other.part.materials, other.history.route, desk_of(other))
    }
    assert together == same
    assert [[each.number for each in family.members] for family in found] == [["A-01", "A-02", "A-13"], ["A-04", "A-14"]], "of A-03 and A-15 nobody has printed a prototype that could be tried"


def test_one_alone_is_no_family_and_none_is_none():
    assert families(MEMBERS[:1], CATALOGUE, DAY) == ()
    assert families([], CATALOGUE, DAY) == ()
    assert shared_by(at(Stage.DOCUMENTS, makers=()), CATALOGUE) is None


def test_what_is_saved_is_reckoned_as_it_says():
    three, two = families(MEMBERS, CATALOGUE, DAY)
    assert (three.fewer, three.guessed_minutes) == (2, 2 * (SUBMISSION_MINUTES - FURTHER_PART_MINUTES))
    assert three.guessed_minutes == 3 * SUBMISSION_MINUTES - (SUBMISSION_MINUTES + 2 * FURTHER_PART_MINUTES)
    material = CATALOGUE.materials["plain"]
    assert three.papers == len({each.file for each in (*material.certificates, *material.fire_tests, *material.proof)})
    assert three.guessed_days == 2 * three.step_days
    assert two.desk is Stage.ACCEPTANCE


def test_an_approval_joins_only_when_it_lapses_soon():
    """Within half a year, as the overview of approvals tells lapses."""
    until = next(facts.permit_until for ground in PLAIN.grounds for facts in ground.permits if isinstance(facts.permit_until, date))
    approved, other = at(Stage.APPROVED, "A-20"), at(Stage.DOCUMENTS, "A-21")
    for before, count in ((400, 0), (170, 1), (1, 1)):
        assert len(families([approved, other], CATALOGUE, until - timedelta(days=before))) == count
