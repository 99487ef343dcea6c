"""What a reader is told of a permit: what has changed and why that matters, how a trial went, and in which letter it is written."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from generator.rules.changes import Change, Means
from generator.rules.facts.case import Copy
from generator.rules.facts.fields import OPEN
from generator.rules.facts.of_permit import _lines
from generator.rules.sheet import sheet
from tests.fixtures.tiny import DAY as BUILT
from tests.fixtures.tiny import KNOB
from tests.rules import cases
from tests.rules.cases import sheet_of, tiny
from tests.rules.test_adversary import AUTHORITY_WAY, DAY, NOW, WAY, case, event, grant, trial

MONDAY = DAY - timedelta(days=20)


def approved(*events, **other):
    """The facts of the approval at the first place, the cab of 11, in a record of these events."""
    found = sheet_of(case(*events, **other)).grounds[0].permits
    return next(facts for facts in found if facts.permit == "approval")


def knob(petg=None, **part):
    """The facts of the tiny knob, approved as its folder has it, where the record now says this of it."""
    folder, materials = tiny().folder(KNOB), {**tiny().materials, "petg": tiny().materials["petg"].model_copy(update=petg or {})}
    now = replace(folder, part=folder.part.model_copy(update=part))
    (facts,) = sheet(now, None, replace(tiny(), materials=materials), Copy(BUILT, 30)).grounds[0].permits
    return facts


def test_what_was_changed_is_named_by_what_follows_from_it_and_says_why():
    """Three changes of three kinds: another density is another part, another trade name asks, a first measured stiffness keeps nobody."""
    petg = tiny().materials["petg"]
    told = knob({"name": "PETG blue", "properties": petg.properties.model_copy(update={"tensile_modulus_mpa": 2050.0})})
    assert (told.changed, told.changed_why) == ((), ())
    assert (told.asked_about, told.asked_why) == (("material name",), ("ordered otherwise",))
    assert told.changed_freely == ("material tensile modulus mpa",)
    assert told.same_as_approved == "yes"
    told = knob({"density_g_cm3": 1.3})
    assert (told.changed, told.changed_why) == (("material density g/cm3",), ("another material",))
    assert (told.same_as_approved, told.asked_about, told.changed_freely) == ("no", (), ())


def test_where_nobody_knows_what_the_part_is_made_of_nobody_knows_whether_it_is_the_same():
    bare = sheet(tiny().folder(KNOB), None, replace(tiny(), materials={}), Copy(BUILT, 30)).grounds[0]
    assert [facts.same_as_approved for facts in bare.permits] == [None]
    assert bare.on(BUILT).verdict.key == "no"


def test_each_reason_is_said_once_however_many_lines_have_it():
    told = knob({"density_g_cm3": 1.3, "family": "PC"})
    assert (told.changed, told.changed_why) == (("material family", "material density g/cm3"), ("another material",))


@pytest.mark.parametrize("count", range(1, 12))
def test_a_reason_is_short_and_says_where_it_leaves_lines_out(count):
    """One line left out would be as long as the word that says so; common practice, no source."""
    told = _lines(Change(f"line {n}", "1", "2", Means.ASK) for n in range(count))
    named = [each for each in told if each != "more"]
    assert named == [f"line {n}" for n in range(len(named))]
    assert len(told) == min(count, 5)
    assert count - len(named) >= 2 if "more" in told else len(named) == count


def test_who_gave_it_is_told_by_the_name_of_the_role():
    assert approved(*WAY, grant()).permit_by == next(each.name for each in tiny().depot.roles if each.id == "reviewer")


def test_where_nothing_is_permitted_it_is_told_of_which_label_and_what_the_screening_says():
    stopped = (*WAY, grant(), event("withdrawn", reason="cracks"))
    labels = {each.label_revision: each.permits[0].label_revision for each in sheet_of(case(*stopped, now=("EX-0001", "B", "m", "read"))).grounds}
    assert labels == {None: None, "A": "A"}
    for events, screening, said in (
        ((WAY[0],), "judged", "not significant"), ((WAY[0],), "significant", "significant"), ((WAY[0], REPORT), "significant", "assessed"),
    ):  # fmt: skip
        (facts,) = sheet_of(case(*events, screening=screening)).grounds[0].permits
        assert (facts.permit, facts.significance) == (None, said)


@pytest.mark.parametrize(
    ("events", "own", "stands"),
    [
        ((*WAY, grant()), {}, "not needed"),
        ((*WAY, grant()), {"safety": True}, "missing"),
        ((*WAY, grant()), {"safety": True, "waiver": True}, "waived"),
        ((*AUTHORITY_WAY, grant(by="authority")), {"safety": True, "route": "authority"}, "approved"),
        ((*WAY, grant(by="authority")), {"safety": True, "route": "authority"}, "missing"),  # nothing was sent to it
        ((*AUTHORITY_WAY, trial([11])), {"safety": True, "route": "authority"}, "asked"),
        ((WAY[0], trial([11])), {"safety": True, "route": "authority"}, "missing"),
    ],
)
def test_how_a_safety_part_stands_with_the_authority(events, own, stands):
    assert sheet_of(case(*events, **own)).grounds[0].permits[0].authority == stands


def ended(result, day):
    return event("trial closed", on=day, reason="over", **({"result": result, "fitted_pieces": "come off"} if result else {}))


@pytest.mark.parametrize(("result", "told"), [("failed", "failed"), ("broken off", "broken off"), (None, "not said")])
def test_how_a_trial_went_that_speaks_against_an_approval(result, told):
    facts = approved(*WAY, grant(), trial([11]), ended(result, MONDAY))
    assert (facts.trial_until, facts.trial_result) == (MONDAY - timedelta(days=1), told)


def test_where_no_trial_speaks_against_it_there_is_no_end_and_no_result():
    for events in ((*WAY, grant()), (*WAY, grant(), trial([11]), ended("passed", MONDAY)), (*WAY, grant(), trial([12]), ended("failed", MONDAY))):
        facts = approved(*events)
        assert (facts.trial_until, facts.trial_result) == (OPEN, None)


@pytest.mark.parametrize("order", ["first failed", "second failed"])
def test_of_several_trials_the_one_that_went_wrong_first_speaks(order):
    """A second trial that still runs takes nothing back of the first, and neither does one that was broken off later."""
    until = DAY + timedelta(days=9)
    runs, fails = trial([11], on=MONDAY, until=until), (trial([11], on=MONDAY - timedelta(days=9)), ended("failed", MONDAY))
    facts = approved(*WAY, grant(on=MONDAY - timedelta(days=9)), *fails, runs)
    assert (facts.trial_until, facts.trial_result) == (MONDAY - timedelta(days=1), "failed")
    later = ended("broken off", MONDAY + timedelta(days=5))
    kinds = [ended("failed", MONDAY), later] if order == "first failed" else [ended("broken off", MONDAY), ended("failed", MONDAY + timedelta(days=5))]
    facts = approved(*WAY, grant(on=MONDAY - timedelta(days=9)), fails[0], kinds[0], runs, kinds[1])
    assert (facts.trial_until, facts.trial_result) == (MONDAY - timedelta(days=1), "failed" if order == "first failed" else "broken off")


@pytest.fixture
def own_letters(monkeypatch):
    """Each event's letter has a name of its own, as its `letter` says."""
    plain = cases.letter_of
    monkeypatch.setattr(cases, "letter_of", lambda one: plain(one) | {"file": f"documents/{one.get('letter', one['what'])}.txt"})


def names(files):
    return [each.rpartition("/")[2].removesuffix(".txt") for each in files]


RENEWED = event("renewed", "reviewer", valid_until=date(2029, 1, 1), letter="renewal")
ADDED = event("condition added", "reviewer", condition="Dry.", letter="added")
OTHER = event("condition added", "reviewer", condition="Clean.", letter="added too")
LIFTED = event("condition lifted", "reviewer", condition="Dry.", letter="lifted")
REPORT = event("safety assessment report", "assessor", letter="report", reference="SAR-1")
LETTER = grant(letter="letter")
OWN = grant(letter="letter", conditions=["Dry."])
ASSESSED = (*WAY[:1], REPORT, *WAY[1:], LETTER)


@pytest.mark.usefixtures("own_letters")
@pytest.mark.parametrize(
    ("events", "fact", "letters"),
    [
        ((*WAY, LETTER), "permit_files", ["letter"]),
        ((*WAY, LETTER, RENEWED, ADDED), "permit_files", ["letter"]),
        ((*WAY, LETTER, RENEWED, ADDED, LIFTED), "permit_letters", ["letter", "renewal", "added", "lifted"]),
        ((*WAY, LETTER, RENEWED, ADDED), "lasting_files", ["letter", "renewal"]),  # a condition prolongs nothing
        ((*WAY, OWN), "condition_files", ["letter"]),
        ((*WAY, OWN, OTHER), "condition_files", ["letter", "added too"]),
        ((*WAY, LETTER, ADDED, OTHER), "condition_files", ["added", "added too"]),
        ((*WAY, LETTER, ADDED, OTHER, LIFTED), "condition_files", ["added too"]),
        ((*WAY, LETTER), "condition_files", []),
        (ASSESSED, "assessment_files", ["report"]),
        ((*WAY, LETTER), "assessment_files", []),
        ((*WAY, LETTER, REPORT), "assessment_files", []),  # it came after what it should have told
        (ASSESSED, "authority_files", []),
        ((*AUTHORITY_WAY, LETTER), "authority_files", []),  # on the customer's route the authority is not asked
    ],
)  # fmt: skip
def test_each_question_has_the_letters_that_answer_it(events, fact, letters):
    """Whoever doubts an answer opens the paper behind it, and no other."""
    assert names(getattr(approved(*events), fact)) == letters


@pytest.mark.usefixtures("own_letters")
def test_what_was_sent_to_the_authority_is_what_was_sent_last_before_its_letter():
    sent = [event("sent to the authority", letter=name) for name in ("first", "second", "after")]
    asked = event("question asked", "authority", question="How hot?", letter="question"), event("question answered", "specialist", letter="answer")
    facts = approved(*WAY, *sent[:2], *asked, grant(by="authority", letter="letter"), sent[2], route="authority")
    assert names(facts.authority_files) == ["second"]


def test_the_pieces_of_before_are_asked_about_where_their_material_is_called_otherwise_since():
    """Nobody knows whether a spool of another name is the same plastic: neither of the parts made now, nor of what lies on the shelf."""
    folder = tiny().folder(KNOB)
    later = replace(folder, part=folder.part.model_copy(update={"revision": "B"}))
    for name, word in ((tiny().materials["petg"].name, "fit"), ("PETG blue", "ask")):
        petg = tiny().materials["petg"].model_copy(update={"name": name})
        found = sheet(later, None, replace(tiny(), materials={**tiny().materials, "petg": petg}), Copy(BUILT, 30))
        (old,) = [each.on(BUILT) for each in found.grounds if each.label_revision == "A"]
        assert old.verdict.key == word
    assert (old.facts.asked_about, old.facts.asked_why) == (("material name",), ("ordered otherwise",))
    assert old.facts.permit_revision == NOW[1]
