"""A second copy of a record is found whatever an editor or a person calls it; a letter is not taken for one."""

import pytest

from generator.rules.verdicts import Verdict
from tests.fixtures.tiny import CLIP, KNOB, LEVER, sheets, verdicts
from tests.fixtures.told import line

FOLDER = "parts/EX-0003-hose-clip"
COPIES = [
    "approval.yml~", ".approval.yml.swp", ".approval.yml.kate-swp", "#approval.yml#", "approval.yml.orig", "approval.yml.rej",
    "approval (1).yml", "approval - copy.yml", "Copy of approval.yml", "Approval.yml", "approval.yaml", "approval_old",
    "approval.bak", "approval-2026.yml", ".~lock.approval.yml#", "old/approval.yml", ".history/approval.yml",
    "documents/approval.yml", "documents/.approval.yml.un~", "documents/approval copy.yml", "photos/approval.yml",
    "documents/old/approval.yml", "documents/TV-1 approval.yml",
]  # fmt: skip
NO_COPIES = ["documents/approval-letter.pdf", "documents/letter of approval.txt", "documents/counterpart.yml.pdf"]


def said(depot):
    return [line(problem) for problem in sheets(depot)[1]]


def put(depot, name, content=b"x"):
    file = depot / FOLDER / name
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(content)


@pytest.mark.parametrize("name", COPIES)
def test_a_second_copy_of_the_approval_is_an_error_of_that_part(depot, name):
    put(depot, name)
    assert f"{FOLDER}/{name}: error FOLD04" in "\n".join(said(depot))
    assert verdicts(depot) == {KNOB: Verdict.FIT_IT, LEVER: Verdict.FIT_IT, CLIP: Verdict.DO_NOT_FIT}


@pytest.mark.parametrize("name", ["documents/kept.pdf", "documents/kept", "photos/kept.jpg", "documents/in/kept.md", "kept.txt"])
def test_it_is_known_by_what_it_says(depot, name):
    put(depot, name, (depot / FOLDER / "approval.yml").read_bytes())
    assert f"{FOLDER}/{name}: error FOLD04" in "\n".join(said(depot))


def test_flow_style_and_quotes_do_not_hide_it(depot):
    put(depot, "documents/kept.json", b'{"route": "customer", "events": []}')
    assert verdicts(depot)[CLIP] is Verdict.DO_NOT_FIT


@pytest.mark.parametrize("name", NO_COPIES)
def test_a_letter_is_no_copy(depot, name):
    put(depot, name, b"We approve the route. All events are listed.\n")
    assert "FOLD04" not in "\n".join(said(depot))
    assert verdicts(depot)[CLIP] is Verdict.FIT_IT


@pytest.mark.parametrize("name", [".new-123-approval.yml", "._approval.yml", ".DS_Store"])
def test_what_a_command_writes_just_now_and_what_systems_leave_is_none(depot, name):
    put(depot, name)
    assert said(depot) == []


@pytest.mark.parametrize("name", ["part.yml", "approval.yml", "fitting.md"])
def test_a_record_is_no_link_to_another_parts(depot, name):
    file = depot / FOLDER / name
    file.unlink()
    file.symlink_to(f"../EX-0002-brake-lever/{name}")
    assert f"{FOLDER}/{name}: error FOLD05: is a link to a file outside of the part's folder" in "\n".join(said(depot))


def test_a_link_from_elsewhere_into_the_part_is_a_second_copy(depot):
    (depot / FOLDER / "documents/approval.yml").symlink_to("../approval.yml")
    assert verdicts(depot)[CLIP] is Verdict.DO_NOT_FIT
