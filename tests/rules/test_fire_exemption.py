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


@pytest.fixture(scope="module")
def catalogue():
    return read_catalogue(Path(__file__).parents[2] / "catalogue")


@pytest.fixture(scope="module")
def spacer(catalogue):
    """PC black has no fire report at all."""
    return catalogue.folder("TV-0215")


@pytest.fixture
def statement(spacer):
    return spacer.part.fire.exemption


def grounds_of(folder, catalogue):
    walked = history(folder.approval, DAY)
    bound = bound_by(walked.permits, catalogue, folder)
    return grounds(folder, catalogue, walked, bound, Copy(DAY, 45), problems=folder.problems)


@pytest.fixture
def steps_that_fail(catalogue, spacer):
    def failing(exemption: FireExemption | None) -> set[str]:
        fire = spacer.part.fire.model_copy(update={"exemption": exemption})
        folder = replace(spacer, part=spacer.part.model_copy(update={"fire": fire}))
        (ground,) = grounds_of(folder, catalogue)
        return {step.step.id for step in ground.on(DAY).steps if step.outcome != "passed"}

    return failing



def test_with_the_statement_the_part_may_be_fitted(steps_that_fail, statement):
    assert steps_that_fail(statement) == set()


def test_without_the_statement_a_report_is_missing_and_the_part_is_no_longer_what_was_approved(steps_that_fail):
    assert steps_that_fail(None) == {"fire_report", "fire_asked", "unchanged", "asked_about"}


def test_another_statement_is_a_change_since_approval(steps_that_fail, statement):
    assert steps_that_fail(statement.model_copy(update={"reference": "fire note FN-99-001"})) == {"fire_report", "fire_asked", "unchanged"}


@pytest.mark.parametrize(
    "change",
    [
        {"file": "documents/lost.pdf"},
        {"sha256": "0" * 64},
        {"on": date(2026, 11, 26)},
    ],
    ids=["not kept", "another file", "still to come"],
)
def test_a_statement_that_is_not_kept_counts_for_nothing(steps_that_fail, statement, change):
    if "on" not in change:
        change = {"evidence": statement.evidence.model_copy(update=change)}
    assert "fire_report" in steps_that_fail(statement.model_copy(update=change))


def test_no_requirement_set_is_unknown_whatever_else_is_written(catalogue, spacer):
    folder = replace(spacer, part=spacer.part.model_copy(update={"fire": None}))
    (ground,) = grounds_of(folder, catalogue)
    assert ground.on(DAY).verdict is Verdict.DO_NOT_FIT


def test_a_part_without_a_statement_keeps_its_text(catalogue, spacer):
    knob = catalogue.folder("TV-0417")
    assert "exemption" not in part_text(knob.part, catalogue, knob)
    assert 'fire exemption reference: "fire note FN-23-004"\n' in part_text(spacer.part, catalogue, spacer)
