"""What of the part itself speaks against fitting it: mistakes, a model in doubt, withdrawals and supersessions."""

from dataclasses import replace
from datetime import date

import pytest

from generator.pages.wording import wording
from generator.records.approvals import Superseded, Withdrawn
from generator.records.problems import Severity, Where, wrong
from generator.rules.facts.case import Case, Copy
from generator.rules.facts.of_part import MODEL_DOUBTS, ending_facts, part_facts
from generator.rules.history import history
from generator.rules.verdicts import Verdict
from tests.fixtures.tiny import CLIP, DAY, KNOB
from tests.rules.cases import tiny
from tests.rules.test_grounds import judged

FOLDER = tiny().folder(KNOB)


def case(number=KNOB, catalogue=None, problems=(), **told):
    folder = tiny().folder(number)
    walked = history(folder.approval, DAY)
    for key, value in told.items():
        setattr(walked, key, value)
    return Case(
        folder=folder, part=folder.part, catalogue=catalogue or tiny(), history=walked, copy=Copy(DAY, 30), bound={},
        problems=problems,
    )  # fmt: skip


def problem(code, severity=Severity.WARNING, file="parts/EX-0001-lid-knob/model.stl"):
    return wrong(code, "strange", where=Where(file), severity=severity)


@pytest.mark.parametrize("language", ["en", "de", "da"])
def test_each_doubt_has_its_words_on_the_page(language):
    assert {f"model_doubt.{code}" for code in MODEL_DOUBTS} <= {key.removeprefix("terms.") for key in wording(language).flat}


@pytest.mark.parametrize(
    "code", ["SIZE01", "SIZE02", "SOUND01", "ROOM01", "WALL01", "WALL02", "CHECK01", "CHECK02", "MESH04", "LIKE01", "LIKE02"]
)
def test_a_model_in_doubt_is_asked_about_before_it_is_fitted(code):
    """Size, soundness, room on the plate, walls, checks, a copy of another part's; common practice, no source."""
    assert part_facts(case(problems=(problem(code),))).model_doubt == code
    assert judged(KNOB, problems=(problem(code),)).best is Verdict.ASK_FIRST


def test_another_warning_is_no_doubt_about_the_model():
    assert part_facts(case(problems=(problem("NOTE01"),))).model_doubt is None
    assert judged(KNOB, problems=(problem("NOTE01"),)).best is Verdict.FIT_IT


def test_the_first_mistake_is_told_with_its_place_and_a_warning_is_none():
    found = (problem("NOTE01"), problem("REC02", Severity.ERROR, "part.yml"), problem("REC03", Severity.ERROR, "x.yml"))
    assert part_facts(case(problems=found)).mistake == "part.yml: REC02"
    assert part_facts(case(problems=found[:1])).mistake is None


def test_without_the_depots_record_that_is_the_mistake():
    """Who may say what stands in depot.yml."""
    depot = problem("REC09", Severity.ERROR, "depot.yml")
    told = replace(tiny(), depot=None, problems=(problem("REC01", Severity.ERROR, "fleets.yml"), depot))
    assert part_facts(case(catalogue=told)).mistake == "depot.yml: REC09"
    untold = part_facts(case(catalogue=replace(tiny(), depot=None, problems=())))
    assert untold.mistake == "depot.yml: REC01"
    own = problem("REC02", Severity.ERROR, "part.yml")
    assert part_facts(case(catalogue=told, problems=(own,))).mistake == "part.yml: REC02"


def test_a_mistake_of_the_depots_record_that_was_read_all_the_same_is_not_the_parts():
    catalogue = replace(tiny(), problems=(problem("REC01", Severity.ERROR, "depot.yml"),))
    assert part_facts(case(catalogue=catalogue)).mistake is None


def withdrawn(on, reason):
    return Withdrawn(what="withdrawn", on=on, by="keeper", reason=reason)


def superseded(on, by):
    return Superseded(what="superseded", on=on, by="keeper", superseded_by=by)


ENDINGS = (
    withdrawn(date(2026, 2, 1), "cracks"),
    superseded(date(2026, 3, 1), "EX-0002"),
    withdrawn(date(2026, 4, 1), "melts"),
    superseded(date(2026, 5, 1), "EX-0003"),
)


def test_the_newest_withdrawal_and_the_newest_supersession_are_told():
    found = ending_facts(case(endings=ENDINGS), [], "A")
    assert (found.withdrawn_on, found.withdrawn_for) == (date(2026, 4, 1), "melts")
    assert (found.superseded_on, found.superseded_by) == (date(2026, 5, 1), "EX-0003")
    nothing = ending_facts(case(), [], "A")
    assert (nothing.withdrawn_on, nothing.withdrawn_for, nothing.superseded_on, nothing.superseded_by) == (None,) * 4


def test_only_a_later_approval_of_the_same_revision_ends_an_ending():
    (approval,) = history(FOLDER.approval, DAY).permits
    ended = case(endings=ENDINGS)
    assert ending_facts(ended, [approval], "A").withdrawn_on is None
    assert ending_facts(ended, [approval], "B").withdrawn_on == date(2026, 4, 1)


def test_a_trial_ends_no_withdrawal():
    """A few vehicles tried under watch do not bring a withdrawn part back."""
    trials = [permit for permit in history(tiny().folder(CLIP).approval, DAY).permits if permit.is_trial]
    assert trials
    assert ending_facts(case(endings=ENDINGS), trials, trials[0].event.revision).withdrawn_on == date(2026, 4, 1)
