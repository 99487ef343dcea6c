"""`spares record NUMBER "change accepted"`: what is asked about is accepted, what makes it another part is not."""

import pytest

from generator.rules.verdicts import Verdict
from tests.fixtures.tiny import KNOB, sheets

NOTES = "catalogue/parts/EX-0001-lid-knob/fitting.md"
PART = "catalogue/parts/EX-0001-lid-knob/part.yml"
ACCEPT = ("record", KNOB, "change accepted", "--by", "reviewer", "--reference", "L-9", "--evidence", "letter.txt")


@pytest.fixture
def asked(depot, spares):
    """The knob with a caution more than its approver has read."""
    notes = depot / NOTES
    notes.write_text(notes.read_text("utf-8").replace("## Cautions\n", "## Cautions\n- Gloves.\n"), "utf-8")
    (depot / "letter.txt").write_text("We have read it.", "utf-8")
    assert verdict(depot) == {Verdict.ASK_FIRST}
    return depot


def verdict(depot):
    (knob,) = [each for each in sheets(depot / "catalogue")[0] if each.number == KNOB]
    return {judgement.verdict for judgement in knob.judgements}


def test_what_is_accepted_is_bound_from_then_on(asked, spares):
    code, said, _ = spares(*ACCEPT)
    assert code == 0
    assert "what: change accepted" in said
    assert 'fitting cautions: "- Gloves.' in said
    assert verdict(asked) == {Verdict.FIT_IT}
    notes = asked / NOTES
    notes.write_text(notes.read_text("utf-8").replace("- Gloves.", "- No gloves."), "utf-8")
    assert verdict(asked) == {Verdict.ASK_FIRST}


def test_it_needs_its_letter_and_whoever_may_approve(asked, spares):
    assert spares(*ACCEPT[:-2])[0] == 2
    maker = [each if each != "reviewer" else "specialist" for each in ACCEPT]
    code, _, said = spares(*maker)
    assert code == 1
    assert "does not act as customer" in said
    assert verdict(asked) == {Verdict.ASK_FIRST}


def test_another_part_is_never_accepted(asked, spares):
    part = asked / PART
    part.write_text(part.read_text("utf-8").replace("layer_mm: 0.2", "layer_mm: 0.3"), "utf-8")
    code, _, said = spares(*ACCEPT)
    assert code == 1
    assert "setting layer mm" in said
    assert verdict(asked) == {Verdict.DO_NOT_FIT}
