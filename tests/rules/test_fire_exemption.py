"""Does a fire engineer's statement stand in for a test report, and only then?"""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from generator.reading.catalogue import read_catalogue
from generator.records.fire import FireExemption
from generator.rules.binding import bound_by, part_text
from generator.rules.facts.case import Copy
from generator.rules.grounds import grounds
from generator.rules.history import history
from generator.rules.verdicts import Verdict

DAY = date(2026, 11, 25)
CATALOGUE = read_catalogue(Path(__file__).parents[2] / "catalogue")
SPACER = CATALOGUE.folder("TV-0215")  # PC black has no fire report at all
STATEMENT = SPACER.part.fire.exemption


def grounds_of(folder):
    walked = history(folder.approval, DAY)
    bound = bound_by(walked.permits, CATALOGUE, folder)
    return grounds(folder, CATALOGUE, walked, bound, Copy(DAY, 45), problems=folder.problems)



def steps_that_fail(exemption: FireExemption | None) -> set[str]:
    fire = SPACER.part.fire.model_copy(update={"exemption": exemption})
    folder = replace(SPACER, part=SPACER.part.model_copy(update={"fire": fire}))
    (ground,) = grounds_of(folder)
    return {step.step.id for step in ground.on(DAY).steps if step.outcome != "passed"}


def test_with_the_statement_the_part_may_be_fitted():
    assert steps_that_fail(SPACER.part.fire.exemption) == set()


def test_without_the_statement_a_report_is_missing_and_the_part_is_no_longer_what_was_approved():
    assert steps_that_fail(None) == {"fire_report", "fire_asked", "unchanged", "asked_about"}


def test_another_statement_is_a_change_since_approval():
    assert steps_that_fail(STATEMENT.model_copy(update={"reference": "fire note FN-99-001"})) == {"fire_report", "fire_asked", "unchanged"}


@pytest.mark.parametrize(
    "change",
    [
        {"evidence": STATEMENT.evidence.model_copy(update={"file": "documents/lost.pdf"})},
        {"evidence": STATEMENT.evidence.model_copy(update={"sha256": "0" * 64})},
        {"on": date(2026, 11, 26)},
    ],
    ids=["not kept", "another file", "still to come"],
)
def test_a_statement_that_is_not_kept_counts_for_nothing(change):
    assert "fire_report" in steps_that_fail(STATEMENT.model_copy(update=change))


def test_no_requirement_set_is_unknown_whatever_else_is_written():
    folder = replace(SPACER, part=SPACER.part.model_copy(update={"fire": None}))
    (ground,) = grounds_of(folder)
    assert ground.on(DAY).verdict is Verdict.DO_NOT_FIT


def test_a_part_without_a_statement_keeps_its_text():
    knob = CATALOGUE.folder("TV-0417")
    assert "exemption" not in part_text(knob.part, CATALOGUE, knob)
    assert 'fire exemption reference: "fire note FN-23-004"\n' in part_text(SPACER.part, CATALOGUE, SPACER)
