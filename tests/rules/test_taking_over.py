"""An adversary with an old letter: no route is bypassed, nothing is confirmed that nobody looked at, unknown never passes."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from pydantic import ValidationError

from generator.planning.forecast import forecast, own_waits
from generator.records.approvals import TakenOver
from generator.records.problems import doubt
from generator.rules.history import Holder, Stage, event_of, history
from tests.fixtures.told import all_said
from tests.rules import cases
from tests.rules.test_against_second_judge import SOUND
from tests.rules.test_history import DETAILS, MADE, WAY

DAY = date(2026, 6, 1)
NOW = ("EX-0001", "A", "m", "read")
SCOPE = [{"fleet": "A1", "vehicles": [11, 12], "places": ["cab"]}]
TAKEN = {
    "what": "taken over", "on": DAY, "by": "specialist", "evidence": True, "letter": "old", "reference": "A-17", "letter_of": date(2019, 3, 17),
    "approved_by": "technical office of the keeper", "approver": "customer", "scope": SCOPE, "valid_until": date(2028, 12, 31), "revision": "A",
}  # fmt: skip
CONFIRMED = {
    "what": "take-over confirmed", "on": DAY + timedelta(days=1), "by": "keeper", "evidence": True, "letter": "word", "reference": "K-3",
    "approved_on": DAY, "scope": SCOPE, "revision": "A", "bound": NOW,
}  # fmt: skip
AUTHORITY = {"approver": "authority"}


def step(what, on=DAY, **own):
    return {"what": what, "on": on, "by": "specialist" if what in MADE else "keeper", "evidence": True, **DETAILS.get(what, {}), **own}


def case(*events, **own):
    numbered = [{"id": i, "letter": f"{i}", **each} for i, each in enumerate(events)]
    return SOUND | {"route": "customer", "max_age": 5000, "now": NOW, "mistake": False, "built_on": date(2026, 6, 15), "events": numbered} | own


def verdicts(*events, day=date(2026, 6, 15), **own):
    """The verdict at each place and vehicle that A1 has, of what is labelled as it is now."""
    found = cases.verdicts(cases.sheet_of(case(*events, **own)), day)
    return {where[1:3]: word for where, word in found.items() if where[3] is None and where[0] == "A1"}


def there(*events, **own):
    """The verdict where the letter speaks."""
    return verdicts(*events, **own)["cab", 11]


def told(*events, **own):
    record = case(*events, **own)
    found = history(cases.approval(record), record["built_on"])
    all_said(found.problems)
    return found


def wrongs(*events, **own):
    return [(each.code, each.key, event_of(each)) for each in told(*events, **own).problems]


def test_the_good_case_is_fitted_where_the_letter_speaks_and_nowhere_else():
    found = verdicts(TAKEN, CONFIRMED)
    assert wrongs(TAKEN, CONFIRMED) == []
    assert {where for where, word in found.items() if word == "fit"} == {("cab", 11), ("cab", 12)}
    assert set(found.values()) == {"fit", "no"}


def test_until_it_is_confirmed_it_asks_and_says_who_is_asked():
    judged = cases.sheet_of(case(TAKEN, built_on=DAY))
    ground = next(each for each in judged.grounds if each.place == "cab" and "11" in each.vehicles[0])
    judgement = ground.on(DAY)
    assert judgement.verdict.key == "ask"
    assert judgement.decided_by.step.id == "taken_over"
    facts = judgement.facts
    assert (facts.taken_over, facts.same_as_approved, facts.reviewed, facts.place_as_approved) == ("awaiting", *["taken over"] * 3)
    assert (facts.confirmer, facts.letter_of, facts.permit_by) == ("customer", date(2019, 3, 17), "technical office of the keeper")
    assert facts.letter_by == "technical office of the keeper"
    assert [taken.step.id for taken in judgement.steps if taken.outcome.value != "passed"] == ["taken_over"]


@pytest.mark.parametrize(
    ("own", "word"),
    [
        ({"certificate_until": None}, "no"),
        ({"fire_until": None}, "no"),
        ({"screening": "open"}, "ask"),
        ({"screening": "significant"}, "ask"),
        ({"authorisation": "missing"}, "no"),
        ({"safety": True}, "no"),
        ({"safety": True, "waiver": True}, "no"),
        ({"now": ("EX-0001", "B", "m", "read")}, "no"),
        ({"now": ("EX-0001", "A", "other", "read")}, "no"),
        ({"now": ("EX-0001", "A", "m", "other notes")}, "ask"),
    ],
)
def test_everything_else_is_asked_as_of_any_approval(own, word):
    assert there(TAKEN, CONFIRMED, **own) == word


@pytest.mark.parametrize("own", [{"certificate_until": None}, {"fire_until": None}, {"safety": True}, {"authorisation": "missing"}, {"now": ("EX-0001", "B", "m", "read")}])
def test_what_is_not_to_be_fitted_is_not_asked_about_before_it_is_confirmed(own):
    assert there(TAKEN, **own) == "no"


@pytest.mark.parametrize("mesh", ["m", "other"])
def test_a_letter_that_binds_nothing_asks_whatever_lies_there(mesh):
    assert there(TAKEN, now=("EX-0001", "A", mesh, "read")) == "ask"


@pytest.mark.parametrize(
    ("note", "word"), [(None, "ask"), ("TBD", "ask"), ("folgt noch", "ask"), ("none", "ask"), ("It names the knob, revision A, for 11 and 12.", "fit")]
)
def test_a_letter_that_nobody_can_read_asks_until_its_confirmation_says_what_it_says(note, word):
    """Nothing is shown of a letter without text but that somebody signed for it; who confirms it has held it in a hand."""
    unread = doubt("APPR48", "letter unread", "by eye", path=("events", 0), file="documents/a-17.txt", least=20)
    confirmed = CONFIRMED if note is None else {**CONFIRMED, "note": note}
    assert there(TAKEN, confirmed, problems=(unread,)) == word
    assert there(TAKEN, confirmed) == "fit"
    other = doubt("APPR49", "letter unread", "by eye", path=("events", 0))
    assert there(TAKEN, confirmed, problems=(other,)) == "fit"


@pytest.mark.parametrize(
    ("events", "doubted", "stands", "asked"),
    [
        ([TAKEN], False, "awaiting", "customer"), ([TAKEN], True, "awaiting", "customer"), ([TAKEN, CONFIRMED], False, "confirmed", None),
        ([TAKEN, CONFIRMED], True, "doubtful", "customer"), ([TAKEN, {**CONFIRMED, "note": "It names the knob."}], True, "confirmed", None),
    ],
)  # fmt: skip
def test_how_a_letter_stands_and_who_is_asked_about_it(events, doubted, stands, asked):
    unread = doubt("APPR48", "letter unread", "by eye", path=("events", 0), file="documents/a-17.txt", least=20)
    judged = cases.sheet_of(case(*events, problems=(unread,) if doubted else ()))
    (facts, *_) = next(each for each in judged.grounds if each.place == "cab" and "11" in each.vehicles[0]).permits
    assert (facts.taken_over, facts.confirmer) == (stands, asked)
    assert (facts.letter_of, facts.letter_by) == (date(2019, 3, 17), "technical office of the keeper")
    assert facts.permit_by == ("technical office of the keeper" if stands == "awaiting" else "Keeper of the vehicles")


def test_a_letter_about_a_place_that_the_fleet_does_not_have_says_nothing_of_it(monkeypatch):
    there = cases.with_days

    def without_cab(*ends):
        a1 = there(*ends).fleets["A1"]
        return replace(there(*ends), fleets={**there(*ends).fleets, "A1": a1.model_copy(update={"places": tuple(each for each in a1.places if each.id != "cab")})})

    assert cab().permits[0].place_as_approved == "taken over"
    monkeypatch.setattr(cases, "with_days", without_cab)
    assert cab().permits[0].place_as_approved is None
    assert cab().on(DAY).verdict.key != "fit"


def cab():
    return next(each for each in cases.sheet_of(case(TAKEN)).grounds if each.place == "cab" and "11" in each.vehicles[0])


@pytest.mark.parametrize(
    ("events", "own", "stands"),
    [
        ([TAKEN], {}, "not needed"),
        ([TAKEN], {"safety": True}, "missing"),
        ([TAKEN, CONFIRMED], {"safety": True, "waiver": True}, "missing"),  # who waived it has not read the letter
        ([TAKEN | AUTHORITY], {"safety": True, "route": "authority"}, "taken over"),
        ([TAKEN | AUTHORITY, {**CONFIRMED, "by": "authority"}], {"safety": True, "route": "authority"}, "approved"),
        ([TAKEN | AUTHORITY], {"safety": True}, "missing"),  # on the customer's route the authority has no say
        ([TAKEN], {"safety": True, "route": "authority"}, "missing"),
    ],
)
def test_how_a_safety_part_stands_with_the_authority_by_a_letter(events, own, stands):
    judged = cases.sheet_of(case(*events, **own))
    (facts, *_) = next(each for each in judged.grounds if each.place == "cab" and "11" in each.vehicles[0]).permits
    assert facts.authority == stands


def facts_of(monkeypatch, change):
    """Where the letter speaks, with what is bound told in other words."""
    told = cases.approved_text
    monkeypatch.setattr(cases, "approved_text", lambda *given: change(told(*given)))
    ground = next(each for each in cases.sheet_of(case(TAKEN, CONFIRMED)).grounds if each.place == "cab" and "11" in each.vehicles[0])
    return ground.on(date(2026, 6, 15))


def test_a_text_of_an_older_form_is_asked_about(monkeypatch):
    """It binds no papers: whether they are those that it was given for nobody can tell."""
    found = facts_of(monkeypatch, lambda text: text.replace("spares fingerprint: 4", "spares fingerprint: 3", 1))
    assert found.verdict.key != "fit"
    assert "older form" in found.facts.asked_why
    assert "older form" in found.facts.asked_why


def test_a_text_that_does_not_tell_the_place_is_never_fitted(monkeypatch):
    found = facts_of(monkeypatch, lambda text: "".join(line for line in text.splitlines(keepends=True) if not line.startswith('at "')))
    assert found.verdict.key != "fit"
    assert found.facts.place_as_approved is None


def test_it_binds_what_lay_there_when_it_was_confirmed():
    other = {**CONFIRMED, "bound": ("EX-0001", "A", "other", "read")}
    assert there(TAKEN, other) == "no"
    assert there(TAKEN, other, now=("EX-0001", "A", "other", "read")) == "fit"


def test_a_condition_of_the_letter_stands_and_the_last_day_counts():
    assert there({**TAKEN, "conditions": ["Check it every month."]}, CONFIRMED) == "ask"
    assert there({**TAKEN, "valid_until": DAY}, CONFIRMED, day=date(2026, 6, 1)) == "ask"  # the clock is wrong, it still lasts
    assert there({**TAKEN, "valid_until": date(2026, 6, 14)}, CONFIRMED) == "no"
    assert there({**TAKEN, "valid_until": date(2026, 6, 15)}, CONFIRMED) == "fit"
    assert there(TAKEN, CONFIRMED, day=date(2025, 1, 1)) == "no"  # a tablet's clock from before it stood here


# Routes.
def test_a_safety_role_needs_the_authoritys_letter_and_its_own_confirmation():
    own = {"safety": True, "route": "authority"}
    taken, confirmed = TAKEN | AUTHORITY, CONFIRMED | {"by": "authority"}
    assert there(taken, confirmed, **own) == "fit"
    assert there(taken, **own) == "ask"
    assert there(TAKEN, confirmed, **own) == "no"
    assert wrongs(TAKEN, **own) == [("APPR46", "other route", 0)]
    assert wrongs(taken) == [("APPR46", "other route", 0)]
    assert there(taken, confirmed, safety=True) == "no"


def test_no_set_of_events_without_the_authority_lets_a_safety_part_be_fitted():
    late = step("renewed", DAY + timedelta(days=3), valid_until=date(2030, 1, 1))
    accepted = step("change accepted", DAY + timedelta(days=3), scope=SCOPE, revision="A", bound=NOW)
    for events in ([TAKEN], [TAKEN, CONFIRMED], [TAKEN, CONFIRMED, late], [TAKEN, CONFIRMED, accepted], [CONFIRMED]):
        for waiver in (False, True):
            for route in ("customer", "authority"):
                assert there(*events, safety=True, waiver=waiver, route=route) == "no"


# Only in place of steps that nobody can date.
BEFORE = {"design started": WAY[:1], "prototype printed": WAY[:2]}


@pytest.mark.parametrize("start", BEFORE)
def test_what_was_begun_here_may_stand_before(start):
    begun = [step(what, date(2026, 5, 1)) for what in BEFORE[start]]
    assert wrongs(*begun, TAKEN, CONFIRMED) == []
    assert there(*begun, TAKEN, CONFIRMED) == "fit"


@pytest.mark.parametrize(
    "last",
    ["sent for customer acceptance", "customer acceptance given", "customer acceptance refused", "documents complete",
     "sent to technical review", "safety assessment report", "approval refused", "approved", "trial opened", "trial closed", "withdrawn", "superseded"],
)  # fmt: skip
def test_what_was_walked_or_judged_here_is_never_replaced_by_a_letter(last):
    ways = {
        "customer acceptance refused": WAY[:3], "safety assessment report": WAY[:2], "trial opened": WAY[:2], "trial closed": [*WAY[:2], "trial opened"],
        "approval refused": WAY, "approved": WAY, "withdrawn": [*WAY, "approved"], "superseded": [*WAY, "approved"],
    }  # fmt: skip
    way = ways.get(last, WAY[: WAY.index(last)] if last in WAY else WAY)
    said = {"reference": "S-1"} if last == "safety assessment report" else {}
    walked = [step(what, date(2026, 5, 1), **(said if what == last else {})) for what in (*way, last)]
    assert wrongs(*walked) == []
    assert ("APPR46", "walked here", len(walked)) in wrongs(*walked, TAKEN)
    assert set(verdicts(*walked, TAKEN, CONFIRMED).values()) == {"no"}


def test_a_withdrawal_is_never_undone_by_the_letter_that_it_withdrew():
    gone = step("withdrawn", DAY + timedelta(days=3))
    assert wrongs(TAKEN, CONFIRMED, gone) == []
    assert there(TAKEN, CONFIRMED, gone) == "no"
    again = {**TAKEN, "on": DAY + timedelta(days=4)}
    assert there(TAKEN, CONFIRMED, gone, again, {**CONFIRMED, "on": again["on"], "approved_on": again["on"], "letter": "w2"}) == "no"
    assert there(TAKEN, gone) == "no"


# Days.
@pytest.mark.parametrize(
    ("own", "found"),
    [
        ({"letter_of": date(2026, 6, 2)}, ("APPR46", "later", 0)),
        ({"valid_until": None}, ("APPR05", "no end", 0)),
        ({"open_ended": True}, ("APPR05", "two ends", 0)),
        ({"valid_until": date(2019, 1, 1)}, ("APPR05", "ends before", 0)),
        ({"valid_until": date(2050, 1, 1)}, ("APPR05", "too long", 0)),
        ({"on": date(2026, 6, 16)}, ("APPR02", "to come", 0)),
        ({"approved_by": "-"}, ("APPR46", "says nothing", 0)),
        ({"approved_by": "unknown"}, ("APPR46", "says nothing", 0)),
        ({"approved_by": "🔧"}, ("APPR46", "says nothing", 0)),
        ({"reference": "TBD"}, ("APPR46", "says nothing", 0)),
        ({"reference": "see file"}, ("APPR46", "says nothing", 0)),
        ({"scope": [{"fleet": "A1", "places": ["cab"]}]}, ("APPR11", "unnamed", 0)),
        ({"scope": [{"fleet": "A1", "vehicles": [11]}]}, ("APPR11", "unnamed", 0)),
    ],
)
def test_what_such_a_letter_cannot_say(own, found):
    assert found in wrongs({**TAKEN, **own})
    assert there({**TAKEN, **own}, CONFIRMED) == "no"


def test_the_letter_is_from_before_what_was_begun_here():
    begun = step("design started", date(2019, 3, 16))
    assert wrongs(begun, TAKEN) == [("APPR46", "begun before", 1)]
    assert wrongs({**begun, "on": date(2019, 3, 17)}, TAKEN) == []
    assert wrongs({**TAKEN, "letter_of": DAY}) == []


@pytest.mark.parametrize("on", [date(2026, 5, 31), date(2026, 6, 16)])
def test_a_confirmation_comes_after_what_it_confirms_and_not_tomorrow(on):
    assert there(TAKEN, {**CONFIRMED, "on": on}) == "no"
    assert there(CONFIRMED, TAKEN) == "no"


# Several letters.
ELSEWHERE = [{"fleet": "A1", "vehicles": [13, 14], "places": ["cab"]}]


def test_letters_on_different_vehicles_stand_beside_each_other_each_with_its_confirmation():
    other = {**TAKEN, "scope": ELSEWHERE, "reference": "A-18", "letter": "old 2"}
    word = {**CONFIRMED, "scope": ELSEWHERE, "letter": "word 2"}
    assert wrongs(TAKEN, other, CONFIRMED, word) == []
    first = verdicts(TAKEN, other, CONFIRMED)
    assert (first["cab", 11], first["cab", 13]) == ("fit", "ask")
    both = verdicts(TAKEN, other, CONFIRMED, word)
    assert (both["cab", 11], both["cab", 13]) == ("fit", "fit")
    assert told(TAKEN, other, CONFIRMED).stage is Stage.TAKEN_OVER
    assert told(TAKEN, other, CONFIRMED, word).stage is Stage.APPROVED


@pytest.mark.parametrize(
    ("own", "key"),
    [
        ({}, "twice"),
        ({"letter": "scanned anew"}, "twice"),
        ({"reference": "A-18", "letter": "other"}, "overlap"),
        ({"reference": "A-18", "letter": "other", "scope": ELSEWHERE, "revision": "B"}, "other revision"),
    ],
)
def test_a_second_letter_on_the_same_is_refused(own, key):
    again = {**TAKEN, "on": DAY + timedelta(days=2), **own}
    assert ("APPR46", key, 2) in wrongs(TAKEN, CONFIRMED, again)
    assert set(verdicts(TAKEN, CONFIRMED, again).values()) == {"no"}


def test_the_same_letter_for_other_vehicles_is_refused():
    again = {**TAKEN, "scope": ELSEWHERE, "reference": "A-18"}
    assert wrongs(TAKEN, again) == [("APPR33", "served", 1)]


# Who confirms, and by what.
@pytest.mark.parametrize(
    ("own", "found"),
    [
        ({"by": "specialist"}, ("APPR47", "same role", 1)),
        ({"letter": "old"}, ("APPR47", "paper named", 1)),
        ({"revision": "B", "bound": ("EX-0001", "B", "m", "read")}, ("APPR47", "other revision", 1)),
        ({"revision": "B"}, ("APPR08", "revision", 1)),
        ({"approved_on": date(2026, 5, 31)}, ("APPR47", "none awaits", 1)),
        ({"confirms": "1" * 64}, ("APPR47", "none awaits", 1)),
        ({"scope": [{"fleet": "A1", "vehicles": [11, 12], "places": ["door"]}], "confirms": "found"}, ("APPR47", "place", 1)),
    ],
)
def test_what_no_confirmation_is(own, found):
    if own.get("confirms") == "found":
        own = own | {"confirms": cases.confirms(CONFIRMED, case(TAKEN))}
    assert found in wrongs(TAKEN, {**CONFIRMED, **own})
    assert there(TAKEN, {**CONFIRMED, **own}) == "no"


def test_whoever_made_it_does_not_confirm_it():
    begun = step("prototype printed", date(2026, 5, 1), by="keeper")
    assert wrongs(begun, TAKEN, CONFIRMED) == [("APPR12", "by its maker", 2)]


def test_it_is_confirmed_once():
    again = {**CONFIRMED, "on": DAY + timedelta(days=2), "letter": "another word"}
    assert wrongs(TAKEN, CONFIRMED, again) == [("APPR47", "none awaits", 2)]


def test_a_paper_named_before_confirms_nothing_and_what_confirmed_decides_nothing_else():
    asked = step("question asked", DAY, letter="word")
    answered = step("question answered", DAY, letter="answer")
    assert wrongs(TAKEN, asked, answered, CONFIRMED) == [("APPR47", "paper named", 3)]
    for letter in ("old", "word"):
        late = DAY + timedelta(days=5)
        renewed = step("renewed", late, valid_until=date(2035, 1, 1), letter=letter)
        accepted = step("change accepted", late, scope=SCOPE, revision="A", bound=NOW, letter=letter)
        assert wrongs(TAKEN, CONFIRMED, renewed) == [("APPR33", "served", 2)]
        assert wrongs(TAKEN, CONFIRMED, accepted) == [("APPR33", "served", 2)]


def test_a_question_is_answered_before_it_is_confirmed():
    asked = step("question asked")
    assert wrongs(TAKEN, asked, CONFIRMED) == [("APPR47", "question open", 2)]
    assert told(TAKEN, asked).holder is Holder.SPECIALIST
    assert wrongs(TAKEN, asked, step("question answered"), CONFIRMED) == []
    assert there(TAKEN, CONFIRMED, step("question asked", DAY + timedelta(days=2))) == "ask"


@pytest.mark.parametrize("field", ["reference", "letter_of", "approved_by", "valid_until", "conditions", "scope", "note", "also_for"])
def test_what_was_confirmed_cannot_be_told_otherwise_afterwards(field):
    """No field of the letter's event can be changed or taken out behind its confirmation."""
    letter = {**TAKEN, "conditions": ["Dry places."], "note": "seen", "also_for": ["EX-0009"]}
    bound = cases.confirms(CONFIRMED, case(letter))
    otherwise = {"reference": "A-19", "letter_of": date(2019, 3, 18), "approved_by": "another office", "valid_until": date(2030, 1, 1),
                 "scope": [{"fleet": "A1", "vehicles": [11, 12, 13], "places": ["cab"]}]}  # fmt: skip
    changed = {**letter, field: otherwise[field]} if field in otherwise else {key: value for key, value in letter.items() if key != field}
    assert wrongs(letter, CONFIRMED) == []
    assert wrongs(changed, {**CONFIRMED, "confirms": bound}) == [("APPR47", "none awaits", 1)]


# Afterwards.
def test_ordinary_events_work_afterwards():
    late = DAY + timedelta(days=5)
    assert there(TAKEN, CONFIRMED, step("condition added", late, condition="Dry places.")) == "ask"
    added = step("condition added", DAY + timedelta(days=3), condition="Dry places.")
    assert there(TAKEN, CONFIRMED, added, step("condition lifted", late, condition="Dry places.")) == "fit"
    short = {**TAKEN, "valid_until": date(2026, 6, 10)}
    assert there(short, CONFIRMED, step("renewed", late, valid_until=date(2030, 1, 1))) == "fit"
    assert there(short, step("renewed", late, valid_until=date(2030, 1, 1))) == "ask"
    assert wrongs(short, step("renewed", late, valid_until=date(2030, 1, 1))) == [("APPR47", "renewal first", 1)]  # and `record` refuses it
    assert there(TAKEN, CONFIRMED, step("superseded", late)) == "no"
    notes = ("EX-0001", "A", "m", "other notes")
    accepted = step("change accepted", late, scope=SCOPE, revision="A", bound=notes)
    assert there(TAKEN, CONFIRMED, accepted, now=notes) == "fit"
    assert ("APPR47", "change first", 1) in wrongs(TAKEN, accepted)


def test_nothing_of_it_counts_as_walked():
    begun = [step(what, date(2026, 5, 1)) for what in WAY[:2]]
    for after in WAY[2:]:
        assert wrongs(*begun, TAKEN, CONFIRMED, step(after, DAY + timedelta(days=3)))[0][:2] == ("APPR03", "without")
    approved = step("approved", DAY + timedelta(days=3), revision="B", bound=("EX-0001", "B", "m2", "read"))
    assert [each[0] for each in wrongs(TAKEN, CONFIRMED, approved)] == ["APPR03"] * 3


def test_a_newer_revision_walks_its_whole_way_and_leaves_the_letter_to_its_own_label():
    now = ("EX-0001", "B", "m2", "read")
    way = [step(what, DAY + timedelta(days=3), **({"submitted": now} if what in ("documents complete", "sent to technical review") else {})) for what in WAY]
    approved = step("approved", DAY + timedelta(days=4), revision="B", bound=now, scope=SCOPE)
    assert wrongs(TAKEN, CONFIRMED, *way, approved) == []
    judged = cases.verdicts(cases.sheet_of(case(TAKEN, CONFIRMED, *way, approved, now=now)), date(2026, 6, 15))
    assert judged["A1", "cab", 11, None] == "fit"
    assert judged["A1", "cab", 11, "A"] == "ask"  # nobody has said what becomes of old stock


# Stage, waits and forecasts.
def test_a_record_awaits_somebody_as_long_as_one_letter_does():
    other = {**TAKEN, "on": DAY + timedelta(days=2), "reference": "A-18", "letter": "other", "scope": [{**SCOPE[0], "vehicles": [13]}]}
    for events, awaits in (((), False), ((TAKEN,), True), ((TAKEN, CONFIRMED), False), ((TAKEN, CONFIRMED, other), True), ((TAKEN, step("withdrawn")), False)):
        assert told(*events).awaits is awaits


def test_its_letter_is_what_it_rests_on_and_what_sets_its_conditions():
    judged = cases.sheet_of(case({**TAKEN, "conditions": ["Dry.", "Clean."]}))
    (facts, *_) = next(each for each in judged.grounds if each.place == "cab" and "11" in each.vehicles[0]).permits
    assert [each.rpartition("/")[2] for each in facts.permit_letters] == ["approval-letter.txt"]
    assert facts.condition_files == facts.permit_letters == facts.permit_files
    (letter,) = told({**TAKEN, "conditions": ["Dry.", "Clean."]}).permits
    assert {text: len(files) for text, files in letter.set_by.items()} == {"Dry.": 1, "Clean.": 1}


def test_a_confirmation_is_a_paper_too():
    """Who says in no writing that the letter speaks of what lies here has said it to nobody: no record takes that."""
    (kept,) = told(TAKEN, CONFIRMED).permits
    assert (len(kept.letters), kept.evidence_kept) == (2, True)
    with pytest.raises(ValidationError):
        told(TAKEN, {**CONFIRMED, "evidence": False})


def test_a_part_that_is_made_anew_stands_where_its_own_way_stands_whatever_letter_is_confirmed():
    again = step("prototype printed", DAY + timedelta(days=1))
    found = told(TAKEN, again, {**CONFIRMED, "on": DAY + timedelta(days=2)})
    assert (found.stage, found.since) == (Stage.PROTOTYPE, DAY + timedelta(days=1))
    assert found.approval is not None


def test_a_revision_that_two_letters_speak_of_is_one():
    other = {**TAKEN, "reference": "A-18", "letter": "other", "scope": [{**SCOPE[0], "vehicles": [13]}]}
    assert told(TAKEN, other).revisions == ("A",)
    assert told(TAKEN, {**other, "revision": "B"}).revisions == ("A", "B")


def test_nobody_has_asked_the_authority_here_about_a_letter_of_before():
    """What was sent to it before speaks of something else."""
    sent = [step(what, date(2026, 5, 1)) for what in (*WAY, "sent to the authority")]
    letter = told(*sent, TAKEN | AUTHORITY, route="authority").permits[-1]
    assert (letter.authority_asked, letter.assessment) == (False, ())


def test_it_stands_as_taken_over_with_whoever_confirms_it():
    found = told(TAKEN)
    assert (found.stage, found.since, found.holder) == (Stage.TAKEN_OVER, DAY, Holder.CUSTOMER)
    assert told(TAKEN | AUTHORITY, route="authority").holder is Holder.AUTHORITY
    done = told(TAKEN, CONFIRMED)
    assert (done.stage, done.since, done.holder) == (Stage.APPROVED, date(2019, 3, 17), Holder.NOBODY)


def test_no_wait_comes_of_it():
    begun = [step(what, date(2019, 5, 1)) for what in WAY[:2]]
    for events in ([TAKEN], [TAKEN, CONFIRMED], [*begun, TAKEN], [*begun, {**TAKEN, "letter_of": date(2019, 1, 1)}, CONFIRMED]):
        found = told(*events)
        assert own_waits([found], date(2026, 6, 15)) == {}
        assert forecast(found, {}, date(2026, 6, 15)) is None


def test_exchanged_or_missing_lines_never_make_it_kinder():
    every = [TAKEN, CONFIRMED, step("condition added", DAY + timedelta(days=3), condition="Dry places.")]
    assert there(*every) == "ask"
    for order in ([1, 0, 2], [0, 2, 1], [2, 0, 1], [1, 2, 0], [2, 1, 0]):
        assert there(*(every[i] for i in order)) == "no"
    assert there(CONFIRMED) == "no"


def test_it_is_no_event_of_the_way():
    assert isinstance(cases.approval(case(TAKEN)).events[0], TakenOver)
    assert told(TAKEN).submitted is None
