"""Which questions of the change screening are open, and which earlier changes the sixth question adds up.

Regulation (EU) 2018/545 Art. 15(1) and 16(1), Regulation (EU) 402/2013 Art. 4(2).
"""

from dataclasses import replace
from datetime import date
from itertools import product
from random import Random

import pytest

from generator.records.approvals import Approval, Route
from generator.records.law import UNION, Law, Question, Rules
from generator.records.screening import Answer, ChangeCase, IdenticalFunction, Screening, ScreeningAnswer
from generator.rules.screening import (
    SIX_QUESTIONS,
    EarlierChange,
    EarlierChanges,
    asks_authorisation,
    earlier_for,
    fleets_of,
    is_judged,
    judged_not_significant,
    unanswered,
)
from tests.fixtures.tiny import CLIP, KNOB
from tests.rules.cases import tiny

DAY = date(2026, 5, 4)
# The six criteria in the order (a) to (f) of Regulation (EU) 402/2013 Art. 4(2).
CRITERIA = ("failure_consequence", "novelty", "complexity", "monitoring", "reversibility", "additionality")
SIX_ANSWERED = {key: ScreeningAnswer(answer="Looked at.", by="keeper", on=DAY) for key in CRITERIA}
CASE = ChangeCase(case="b", reason="Another material.", by="keeper", on=DAY)


def identical(answer):
    return IdenticalFunction(answer=answer, reason="Compared.", by="keeper", on=DAY)


def test_the_six_questions_are_those_of_the_regulation_in_its_order():
    assert SIX_QUESTIONS == CRITERIA


@pytest.mark.parametrize("nothing", [None, Screening()], ids=["no screening", "an empty one"])
def test_where_nothing_is_answered_all_is_open_but_the_case(nothing):
    """Art. 15(1) is a question only once the change is known to be no like-for-like substitution."""
    assert unanswered(nothing) == ("identical_function", *CRITERIA)


def test_a_substitution_of_identical_function_needs_no_case():
    assert unanswered(Screening(identical_function=identical(Answer.YES))) == CRITERIA


def test_what_is_no_substitution_asks_for_its_case_before_the_six():
    assert unanswered(Screening(identical_function=identical(Answer.NO))) == ("change_case", *CRITERIA)
    assert unanswered(Screening(identical_function=identical(Answer.NO), change_case=CASE)) == CRITERIA


@pytest.mark.parametrize("left_open", CRITERIA)
def test_each_of_the_six_is_open_until_it_is_answered(left_open):
    answers = {key: answer for key, answer in SIX_ANSWERED.items() if key != left_open}
    assert unanswered(Screening(identical_function=identical(Answer.YES), **answers)) == (left_open,)


def test_everything_answered_leaves_nothing_open():
    assert unanswered(Screening(identical_function=identical(Answer.YES), **SIX_ANSWERED)) == ()
    assert unanswered(Screening(identical_function=identical(Answer.NO), change_case=CASE, **SIX_ANSWERED)) == ()


def test_the_six_do_not_answer_whether_the_function_is_identical():
    assert unanswered(Screening(change_case=CASE, **SIX_ANSWERED)) == ("identical_function",)


def judged(number, answer, on=DAY, at=KNOB):
    """The folder of a tiny part under another number, judged by its proposer."""
    screening = Screening(judged_significant=answer, judged_by="keeper", judged_on=on)
    return replace(tiny().folder(at), number=number, approval=Approval(route=Route.CUSTOMER, screening=screening))


def test_only_what_was_judged_not_significant_adds_up():
    """Regulation (EU) 402/2013 Art. 4(2)(f) speaks of recent changes that were not judged significant."""
    folders = [
        judged("EX-0011", Answer.YES),
        judged("EX-0012", Answer.NO),
        judged("EX-0013", None),
        replace(tiny().folder(KNOB), number="EX-0014", approval=None),
    ]
    (found,) = judged_not_significant(folders)
    assert found == EarlierChange("EX-0012", "Lid knob", DAY, "keeper", frozenset({"A1"}))


def test_the_newest_comes_first_and_one_of_an_unknown_day_last():
    days = {"EX-0011": date(2025, 1, 1), "EX-0012": None, "EX-0013": date(2026, 1, 1), "EX-0014": date(2025, 1, 1)}
    found = judged_not_significant(judged(number, Answer.NO, day) for number, day in days.items())
    assert [each.number for each in found] == ["EX-0013", "EX-0014", "EX-0011", "EX-0012"]


def test_a_number_that_two_folders_share_is_one_change():
    twice = [judged("EX-0011", Answer.NO), judged("EX-0011", Answer.NO, at=CLIP)]
    assert len(judged_not_significant(twice)) == 1


EARLIER = EarlierChange("EX-0011", "Lid knob", DAY, "keeper", frozenset({"A1", "B2"}))
BEFORE, AFTER = date(2026, 5, 3), date(2026, 5, 5)


def test_only_another_change_of_the_same_vehicles_counts():
    assert EARLIER.counts_for("EX-0012", frozenset({"B2", "C3"}), AFTER)
    assert not EARLIER.counts_for("EX-0012", frozenset({"C3"}), AFTER)
    assert not EARLIER.counts_for("EX-0012", frozenset(), AFTER)
    assert not EARLIER.counts_for("EX-0011", frozenset({"A1"}), AFTER)


@pytest.mark.parametrize(("judged_on", "counts"), [(AFTER, True), (DAY, True), (BEFORE, False)])
def test_what_was_judged_later_is_no_earlier_change(judged_on, counts):
    assert EARLIER.counts_for("EX-0012", frozenset({"A1"}), judged_on) is counts


def test_an_unknown_day_counts_since_it_may_have_been_earlier():
    assert EARLIER.counts_for("EX-0012", frozenset({"A1"}), None)
    undated = replace(EARLIER, judged_on=None)
    assert undated.counts_for("EX-0012", frozenset({"A1"}), BEFORE)
    assert undated.counts_for("EX-0012", frozenset({"A1"}), None)


def test_a_part_that_cannot_be_read_touches_no_fleet():
    assert fleets_of(tiny().folder(CLIP)) == {"B2"}
    assert fleets_of(replace(tiny().folder(CLIP), part=None)) == frozenset()


OWN_LAW = Law(rules=Rules.OWN, name="Law of another country", questions=(Question(id="gauge", ask="Does it touch the gauge?"), Question(id="brake", ask="Or the brake?")))
OWN_ANSWERED = {"gauge": ScreeningAnswer(answer="No.", by="keeper", on=DAY), "brake": ScreeningAnswer(answer="No.", by="keeper", on=DAY)}
JUDGED = {"judged_significant": Answer.NO, "judged_by": "keeper", "judged_on": DAY}
LIKE_FOR_LIKE = {"identical_function": identical(Answer.YES), **SIX_ANSWERED, **JUDGED}
ANOTHER = {**LIKE_FOR_LIKE, "identical_function": identical(Answer.NO), "change_case": CASE}
OWN = {"own_answers": OWN_ANSWERED, **JUDGED}


@pytest.mark.parametrize(("answers", "law"), [(LIKE_FOR_LIKE, UNION), (ANOTHER, UNION), (OWN, OWN_LAW)], ids=["like for like", "another", "own law"])
def test_a_change_is_judged_once_all_is_answered_and_somebody_has_judged_it_on_days_that_have_come(answers, law):
    assert [is_judged(Screening(**answers), law, day) for day in (BEFORE, DAY, AFTER)] == [False, True, True]
    for left_out in answers:
        assert not is_judged(Screening(**{key: each for key, each in answers.items() if key != left_out}), law, AFTER), left_out
    for ahead in answers.keys() - {"own_answers", "judged_significant", "judged_by", "judged_on"}:
        later = answers[ahead].model_copy(update={"on": AFTER})
        assert [is_judged(Screening(**{**answers, ahead: later}), law, day) for day in (DAY, AFTER)] == [False, True], ahead
    assert [is_judged(Screening(**{**answers, "judged_on": AFTER}), law, day) for day in (DAY, AFTER)] == [False, True]
    assert not is_judged(None, law, AFTER)


@pytest.mark.parametrize("nothing", ["TBD", "n/a", "?", "…"])
def test_words_that_say_nothing_answer_nothing(nothing):
    said_so = {key: each.model_copy(update={"answer": nothing}) for key, each in SIX_ANSWERED.items()}
    assert unanswered(Screening(identical_function=identical(Answer.YES), **said_so)) == CRITERIA
    own = {key: each.model_copy(update={"answer": nothing}) for key, each in OWN_ANSWERED.items()}
    assert unanswered(Screening(own_answers=own), OWN_LAW) == ("gauge", "brake")


def test_under_a_law_of_its_own_a_depot_answers_that_laws_questions_alone():
    assert unanswered(None, OWN_LAW) == unanswered(Screening(**ANOTHER), OWN_LAW) == ("gauge", "brake")
    assert unanswered(Screening(own_answers={"gauge": OWN_ANSWERED["gauge"]}), OWN_LAW) == ("brake",)
    assert unanswered(Screening(own_answers=OWN_ANSWERED), OWN_LAW) == ()
    ahead = {key: each.model_copy(update={"on": AFTER}) for key, each in OWN_ANSWERED.items()}
    assert not is_judged(Screening(own_answers=ahead, **JUDGED), OWN_LAW, DAY)
    assert unanswered(Screening(own_answers=OWN_ANSWERED), UNION) == ("identical_function", *CRITERIA)
    assert is_judged(Screening(own_answers=ahead, **LIKE_FOR_LIKE), UNION, DAY)  # nobody asked what it answers


@pytest.mark.parametrize(("case", "asks"), [("a", False), ("b", False), ("c", True), ("d", True)])
def test_the_authority_authorises_what_changes_the_design_or_needs_it_anew(case, asks):
    """Regulation (EU) 2018/545 Art. 15(1)(c) and (d)."""
    screening = Screening(change_case=CASE.model_copy(update={"case": case}))
    assert asks_authorisation(screening, UNION) is asks
    assert asks_authorisation(screening, OWN_LAW) is False  # of another law nothing is known here
    assert asks_authorisation(Screening(), UNION) is asks_authorisation(None, UNION) is False


def test_of_many_the_same_are_counted_and_named_as_one_by_one():
    rolled = Random(3)
    days = (None, BEFORE, DAY, AFTER)
    fleets = [frozenset(each) for each in ((), ("A1",), ("B2",), ("A1", "B2"), ("C3",))]
    every = [EarlierChange(f"EX-{at:04}", "Lid", rolled.choice(days), "keeper", rolled.choice(fleets)) for at in range(40)]
    every = tuple(sorted(every, key=lambda each: (each.judged_on or date.min, each.number), reverse=True))
    for number, own, judged_on in product(("EX-0001", "EX-0017", "EX-0030", "EX-9999"), fleets, days):
        count = [each for each in every if each.counts_for(number, own, judged_on)]
        for most in (0, 1, 12, 99):
            assert earlier_for(number, own, judged_on, every, most) == EarlierChanges(len(count), tuple(count[:most]))
