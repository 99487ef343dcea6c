"""The screening on a part's page: what was answered, what is open, earlier changes, and never a judgement of ours."""

from dataclasses import replace
from datetime import date

import pytest

from generator.pages.addresses import addresses
from generator.pages.around import Around
from generator.pages.part.screening import screening_view
from generator.pages.wording import wording
from generator.records.screening import Answer, Screening
from generator.rules.screening import judged_not_significant
from tests.pages.sample import judged_sample

W = wording("en")
CATALOGUE, SHEETS, _ = judged_sample()
FOUND = addresses(CATALOGUE.parts)
BY_NUMBER = {sheet.number: sheet for sheet in SHEETS}
LATCH, PLUG, VANE = (BY_NUMBER[number] for number in ("P-0001", "P-0002", "P-0004"))
# The letters of Regulation (EU) 402/2013, Article 4(2), from its text.
LETTERS = {
    "failure_consequence": "a",
    "novelty": "b",
    "complexity": "c",
    "monitoring": "d",
    "reversibility": "e",
    "additionality": "f",
}


def screened(sheet, **answers):
    """The sheet with these answers in its approval record."""
    given = Screening.model_validate(answers) if answers else None
    assert sheet.folder.approval
    approval = sheet.folder.approval.model_copy(update={"screening": given})
    return replace(sheet, folder=replace(sheet.folder, approval=approval))


def answer(text="It falls."):
    return {"answer": text, "by": "reviewer", "on": date(2026, 1, 2)}


def same(value):
    return {"answer": Answer(value), "reason": "as before", "by": "reviewer", "on": date(2026, 1, 2)}


def not_significant(sheet, on):
    return screened(sheet, judged_significant=Answer.NO, judged_by="reviewer", judged_on=on)


def view_of(sheet, others=()):
    earlier = judged_not_significant(each.folder for each in (sheet, *others))
    view = screening_view(sheet, Around(catalogue=CATALOGUE, sheets={}, found=FOUND, w=W, earlier=earlier))
    assert view
    return view


def test_every_question_nobody_answered_says_so():
    view = view_of(screened(LATCH))
    assert [line.answer for line in view.lines] == ["Not answered yet"] * 7 + ["Not judged yet"]
    assert all(line.is_open for line in view.lines)


def test_answered_ones_stand_among_the_open_ones_in_the_order_of_the_law():
    view = view_of(screened(LATCH, identical_function=same("yes"), novelty=answer("New here.")))
    assert view.lines[0].answer == "Yes: as before"
    assert [line.answer for line in view.lines if not line.is_open] == ["Yes: as before", "New here."]
    assert "2 Jan 2026" in view.lines[2].who


@pytest.mark.parametrize(("value", "asked"), [("yes", False), ("no", True)])
def test_the_case_is_asked_only_where_the_change_is_no_substitution(value, asked):
    view = view_of(screened(LATCH, identical_function=same(value)))
    assert any("15(1)" in line.question for line in view.lines) is asked


@pytest.mark.parametrize(("key", "letter"), LETTERS.items())
def test_each_question_names_article_and_letter(key, letter):
    assert f"402/2013, Article 4(2)({letter})" in W(f"screening.{key}")


def test_earlier_changes_of_the_same_fleet_are_listed_newest_first_without_later_ones():
    own = not_significant(LATCH, date(2026, 3, 1))
    others = (not_significant(PLUG, date(2026, 2, 1)), not_significant(VANE, date(2026, 2, 20)))
    view = view_of(own, others)
    assert [(line.number, line.day) for line in view.earlier] == [
        ("P-0004", "20 Feb 2026"),
        ("P-0002", "1 Feb 2026"),
    ]
    assert view.earlier[0].page == "parts/P-0004.md"
    later = view_of(own, (not_significant(PLUG, date(2026, 4, 1)),))
    assert later.earlier == ()


def test_while_nobody_has_judged_this_change_all_others_are_listed():
    assert len(view_of(screened(LATCH), (not_significant(PLUG, date(2026, 4, 1)),)).earlier) == 1


def test_changes_on_other_fleets_or_judged_significant_are_left_out():
    assert PLUG.part
    elsewhere = replace(PLUG, folder=replace(PLUG.folder, part=PLUG.part.model_copy(update={"fits": ()})))
    assert view_of(screened(LATCH), (not_significant(elsewhere, date(2026, 2, 1)),)).earlier == ()
    significant = screened(PLUG, judged_significant=Answer.YES, judged_by="reviewer", judged_on=date(2026, 2, 1))
    assert view_of(screened(LATCH), (significant,)).earlier == ()


def test_a_complete_screening_without_a_judgement_stays_without_one():
    """The catalogue never works out whether a change is significant."""
    view = view_of(screened(LATCH, identical_function=same("yes"), **{key: answer() for key in LETTERS}))
    assert [line.answer for line in view.lines if line.is_open] == ["Not judged yet"]
