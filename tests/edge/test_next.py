"""`spares next`: the following step of a part, with its command."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

from generator.edge.refusals import Ending
from generator.pages.wording import wording
from generator.records.depot import Language
from tests.edge.conftest import bytes_of


def test_a_part_on_its_way_is_told_its_next_step(depot, spares):
    code, out, err = spares("next", "ex-0003")
    assert (code, err) == (0, "")
    assert out.startswith("EX-0003 Hose clip, 25 Nov 2026\nprototype (customer), for 85 days. Whose move:")
    assert '\n      spares record EX-0003 "sent for customer acceptance" --by ROLE --reference TEXT\n' in out


SUBMISSION = "\n      spares submission EX-0003\n"


def test_where_documents_go_out_next_the_submission_is_named_and_nowhere_else(depot, spares):
    """Prototype → the customer tries it; documents → review; a part with a reviewer, or approved for long, asks for none."""
    def told():
        return SUBMISSION in spares("next", "EX-0003")[1]

    found = {"prototype": told()}
    for event in ("sent for customer acceptance", "customer acceptance given", "documents complete", "sent to technical review"):
        spares("record", "EX-0003", event, "--by", "keeper" if "given" in event else "specialist", "--on", "2026-11-02")
        found[event] = told()
    assert found == {
        "prototype": True, "sent for customer acceptance": False, "customer acceptance given": True, "documents complete": True,
        "sent to technical review": False,
    }  # fmt: skip
    assert "submission" not in spares("next", "EX-0001")[1], "it is approved, and nothing is to be renewed"


@pytest.mark.parametrize("on", ["2027-06-20", "2027-07-20"])
def test_a_renewal_is_a_submission_too(depot, spares, on):
    assert "\n      spares submission EX-0001\n" in spares("next", "EX-0001", "--on", on)[1]


def test_the_command_of_an_approval_names_all_that_the_part_fits(depot, spares):
    for event in ("customer acceptance given", "documents complete", "sent to technical review"):
        assert spares("record", "EX-0003", event, "--by", "keeper", "--on", "2026-11-02")[0] == 0
    assert "spares approve EX-0003 --by ROLE --reference TEXT --scope B2:21-22:bogie --until" in spares("next", "EX-0003")[1]


def test_the_customers_two_answers_are_two_commands(depot, spares):
    spares("record", "EX-0003", "sent for customer acceptance", "--by", "specialist", "--on", "2026-11-02")
    assert 'spares record EX-0003 "customer acceptance given"' in spares("next", "EX-0003")[1]


AS_KEEPER, AS_MAKER = (("--by", who, "--on", "2026-11-02") for who in ("keeper", "specialist"))


def test_what_is_recorded_without_its_papers_says_what_is_missing_and_next_goes_on_saying_it(depot, spares):
    code, out, _ = spares("record", "EX-0003", "customer acceptance given", *AS_KEEPER)
    assert (code, "✕ the customer's letter or minutes on the acceptance" in out, "a drawing" in out) == (0, True, False)
    for event in ("documents complete", "sent to technical review"):
        code, out, _ = spares("record", "EX-0003", event, *AS_MAKER)
        assert (code, "✕ a drawing in documents/" in out, "✕ the customer's letter" in out) == (0, True, True), event
        told = spares("next", "EX-0003")[1]
        assert "✕ a drawing in documents/" in told
        assert 'spares record EX-0003 "customer acceptance given" --by ROLE --reference TEXT --evidence FILE' in told
    Path("minutes.txt").write_text("tried and liked", "utf-8")
    code, out, _ = spares("record", "EX-0003", "customer acceptance given", "--by", "keeper", "--evidence", "minutes.txt")
    assert (code, "✕" in out) == (0, False)
    told = spares("next", "EX-0003")[1]
    assert ("✕ the customer's letter" in told, "✕ a drawing" in told, "technical review" in told) == (False, True, True)


def test_a_step_that_needs_no_paper_warns_of_none(depot, spares):
    assert "✕" not in spares("record", "EX-0003", "sent for customer acceptance", *AS_MAKER)[1]


def test_a_step_that_an_approval_would_ask_for_anew_is_the_next_one(depot, spares):
    """The knob is approved as revision A; documents of another revision alone are no way to an approval."""
    part = Path("catalogue/parts/EX-0001-lid-knob/part.yml")
    part.write_text(part.read_text("utf-8").replace("revision: A", "revision: B"), "utf-8")
    assert spares("record", "EX-0001", "documents complete", "sent to technical review", *AS_MAKER[:2])[0] == 0
    told = spares("next", "EX-0001")[1].split("\nNext step\n")[1]
    assert "without 'prototype printed' and 'customer acceptance given' since then" in told.splitlines()[0]
    assert told.splitlines()[2].strip() == 'spares record EX-0001 "prototype printed" --by ROLE --reference TEXT'


def test_a_bought_part_is_told_to_print_nothing(depot, spares):
    folder = Path("catalogue/parts/EX-0003-hose-clip")
    (folder / "approval.yml").write_text("format: 2\nroute: customer\nevents: []\n", "utf-8")
    next(folder.glob("model.*")).unlink()
    part = folder / "part.yml"
    part.write_text(part.read_text("utf-8") + "no_model: {because: bought, size_mm: [20, 10, 5]}\n", "utf-8")
    told = spares("next", "EX-0003")[1]
    assert ("Print the prototype" in told, "✕ get a piece to be tried" in told) == (False, True), told


def test_what_may_be_fitted_has_nothing_to_do(depot, spares):
    assert "\nNothing to do\n" in spares("next", "EX-0001")[1]


def test_what_is_approved_yet_not_to_be_fitted_is_told_first(depot, spares):
    _, out, _ = spares("next", "EX-0001", "--on", "2027-07-01")
    assert "\nApproved, yet not to be fitted\n  A1 11–14 · Driver's cab: Do not fit\n" in out
    assert "Nothing to do" not in out


def test_mistakes_are_told_with_their_place(depot, spares):
    part = Path("catalogue/parts/EX-0001-lid-knob/part.yml")
    part.write_text(part.read_text().replace("name: Lid knob", "name: [Lid]"))
    _, out, _ = spares("next", "EX-0001")
    assert "part.yml:3:7: error REC03" in out
    assert "\n      spares check\n" in out


def test_an_unknown_number_is_a_misuse(depot, spares):
    assert spares("next", "EX-0099")[0] == Ending.MISUSE


def test_a_name_that_is_the_number_is_said_once(depot, spares):
    part = Path("catalogue/parts/EX-0003-hose-clip/part.yml")
    part.write_text(part.read_text().replace("name: Hose clip", "name: EX-0003"))
    assert spares("next", "EX-0003")[1].startswith("EX-0003, 25 Nov 2026\n")


@pytest.mark.parametrize("name", ["a:b.txt", "what?.txt", "aux.txt", "letter.txt ", "l\u202eetter.txt", "ACCEPTANCE.txt"])
def test_evidence_whose_name_check_would_refuse_is_refused_before_it_is_written(depot, spares, name):
    Path(name).write_text("tried and liked", "utf-8")
    before = bytes_of(depot / "catalogue")
    code, _, err = spares("record", "EX-0001", "question asked", "--by", "reviewer", "--question", "tried", "--evidence", name)
    assert (code, "mend:" in err, "cannot be filed" in err) == (1, True, True)
    assert bytes_of(depot / "catalogue") == before


def test_every_command_that_is_printed_quotes_in_one_way():
    """Single quotes are letters to cmd."""
    for language in Language:
        told = [str(text) for text in wording(language).flat.values()]
        assert [text for text in told if re.search(r"spares [a-z-]+ [^'`]*'[a-z ]+'", text)] == []


def test_the_module_is_the_command():
    run = subprocess.run([sys.executable, "-m", "generator", "role", "--help"], capture_output=True, text=True, check=False)
    assert (run.returncode, "usage: spares role" in run.stdout) == (0, True)
