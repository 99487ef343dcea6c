"""What mends it: no question and no step of the way without it, and no command that `spares` does not take."""

import argparse
import re
import shlex

import pytest

from generator.edge.cli import COMMANDS, _parser
from generator.pages.approvals.mends import _step_key
from generator.pages.wording import wording
from generator.planning.overview import Missing
from generator.planning.unfit import DECIDED
from generator.rules.facts.fields import Facts
from generator.rules.verdicts import TABLE, Outcome, Taken

MENDS = wording("en").tree["mends"]
EVERY = {f"{kind} {key}": mend for kind in ("steps", "way") for key, mend in MENDS[kind].items()}
OF_A_PART = {"number", "material", "scope", "route", "otherwise"}


def test_every_question_of_the_table_says_what_mends_it():
    apart = {"significance_unjudged", "piece_unreleased", "piece_alike"}
    assert [key for key in MENDS["steps"] if key not in apart] == [step.id for step in TABLE]


def test_pieces_that_wait_are_released_and_only_stopped_ones_scrapped():
    step = next(each for each in TABLE if each.id == "piece")
    assert [_step_key(Taken(step, Outcome.FAILED, found)) for found in ("choose", "unreleased", "mistaken")] == ["piece", "piece_unreleased", "piece"]


def test_of_a_lot_that_may_be_more_of_a_stopped_one_quality_says_whether_it_is():
    step = next(each for each in TABLE if each.id == "piece_asked")
    found = [("lot nearly stopped elsewhere",), ("lot stopped elsewhere", "lot nearly stopped elsewhere"), ("lot stopped elsewhere", "lot document")]
    assert [_step_key(Taken(step, Outcome.FAILED, each)) for each in found] == ["piece_alike", "piece_alike", "piece_asked"]


def test_a_change_that_nobody_has_judged_is_judged_before_an_assessment_body_reports():
    """Regulation (EU) 402/2013 Art. 4: the proposer judges first; the body's report is for what was judged significant."""
    step = next(each for each in TABLE if each.id == "significance")
    keys = {outcome: _step_key(Taken(step, outcome, None)) for outcome in Outcome}
    assert keys[Outcome.UNKNOWN] == "significance_unjudged"
    assert keys[Outcome.FAILED] == "significance"
    assert "report" not in MENDS["steps"]["significance_unjudged"]["command"]


def test_every_step_of_the_way_says_what_comes_next():
    assert set(MENDS["way"]) == {what.name.lower() for what in Missing} | {"acceptance_answer"}


def test_what_was_decided_is_a_question_of_the_table():
    assert {step.id for step in TABLE} > DECIDED


@pytest.mark.parametrize("which", EVERY)
def test_each_has_its_words_and_only_facts_that_there_are(which):
    assert set(EVERY[which]) == {"do", "command"}
    facts = {name for text in EVERY[which].values() for name in re.findall(r"\{(\w+)\}", text)}
    assert facts <= OF_A_PART | (set(Facts.__dataclass_fields__) if which.startswith("steps") else set())


def without_gaps(command: str) -> list[str]:
    """The command as somebody types it who has filled in what stands in capitals."""
    gaps = {"ROLE": "keeper", "DATE": "2027-01-31", "FILE": "letter.pdf", "TEXT": "L-1", "RESULT": "failed", "WHAT": "come off"}
    facts = {"number": "EX-0001", "scope": "--scope A1:11-14:cab", "permit_from": "2026-01-15", "permit_on": "2026-01-15", "superseded_by": "EX-0002", "permit_revision": "A", "route": "customer"}
    filled = re.sub(r"\{(\w+)\}", lambda found: facts[found[1]], command)
    return [re.sub("|".join(gaps), lambda found: gaps[found[0]], word) for word in shlex.split(filled)]


@pytest.mark.parametrize("which", EVERY)
def test_each_command_is_one_that_spares_takes(which):
    words = without_gaps(EVERY[which]["command"])
    assert words[0] == "spares"
    assert words[1] in {each.name for each in COMMANDS}
    parser, _ = _parser(words[1:])
    assert isinstance(parser.parse_args(words[1:]), argparse.Namespace)
