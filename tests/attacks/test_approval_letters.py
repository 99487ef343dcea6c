"""A letter that serves twice, and what is said to be carried over from one revision to the next."""

import shutil

import pytest

from tests.attacks import approval_depot as depot
from tests.attacks.approval_depot import (
    CAP,
    FIT,
    KNOB,
    LETTER,
    approve,
    fits,
    folder,
    history,
    kept,
    part,
    refuses,
    walk,
)
from tests.attacks.test_approval_reapproval import NEEDS, revised, told
from tests.fixtures import written_once

# Letters


def test_what_is_written_twice_is_the_same_to_the_byte(demo):
    catalogue = demo()
    before = {file: file.read_bytes() for file in folder(catalogue).rglob("*") if file.is_file()}
    written = []
    for _ in range(2):
        written_once.forget()
        walk(catalogue)
        written.append({file: file.read_bytes() for file in folder(catalogue).rglob("*") if file.is_file()})
        for file in written[-1]:
            file.write_bytes(before[file]) if file in before else file.unlink()
        depot.forgotten(catalogue)
    assert written[0] == written[1] != before


def walked(demo, *numbers):
    """Revision B has walked the whole way and waits for its letter."""
    catalogue = demo(*numbers)
    revised(catalogue)
    walk(catalogue)
    return catalogue


STOP = ["--replaces", "2025-03-17"]


def with_letter(catalogue, letter, *more):
    answer = approve(catalogue, *more, letter=letter)
    if "replaces" in told(answer) and not more:
        answer = approve(catalogue, *STOP, letter=letter)
    return told(answer)


def test_the_letter_of_the_first_approval(demo):
    catalogue = walked(demo)
    refuses(catalogue, "letter", before=with_letter(catalogue, LETTER))


def test_the_letter_of_the_first_approval_under_another_name(demo):
    catalogue = walked(demo)
    shutil.copy(folder(catalogue) / LETTER, folder(catalogue) / "documents/letter-TR-26-200.pdf")
    refuses(catalogue, "letter", before=with_letter(catalogue, "documents/letter-TR-26-200.pdf"))


def test_the_first_letter_beside_a_second_file(demo):
    # which of them is the letter? the file that lies there for show proves nothing
    catalogue = walked(demo)
    kept(folder(catalogue), "documents/cover.txt", "Enclosed: the letter.\n")
    words = [
        "--by",
        "technical-review",
        "--reference",
        "TR-26-9",
        "--scope",
        depot.WINDOW,
        "--until",
        "2031-11-30",
    ]
    answer = depot.run(catalogue, "approve", KNOB, *words, "--evidence", "documents/cover.txt", LETTER)
    refuses(catalogue, "letter", before=told(answer))


@pytest.mark.parametrize("file", ["documents/new-minutes.txt", "documents/acceptance-minutes.pdf"])
def test_minutes_of_the_acceptance_are_no_letter(demo, file):
    catalogue = walked(demo)
    refuses(catalogue, "minutes|letter", before=with_letter(catalogue, file))


def test_the_letter_of_another_part(demo):
    catalogue = walked(demo, KNOB, CAP)
    shutil.copy(folder(catalogue, CAP) / LETTER, folder(catalogue) / "documents/letter.pdf")
    refuses(catalogue, "letter", before=with_letter(catalogue, "documents/letter.pdf"))


def test_the_letter_of_a_trial(demo):
    catalogue = demo()
    with history(catalogue) as record:
        depot.cut(record, "approved")
    kept(folder(catalogue), "documents/permit.txt", "A trial on 401.\n")
    scope = "TR4:401:saloon-window"
    answer = approve(
        catalogue,
        "--trial",
        "--yes",
        "--pieces",
        "2",
        scope=scope,
        letter="documents/permit.txt",
        on="2026-02-02",
        until="2026-06-30",
    )
    depot.record(
        catalogue,
        KNOB,
        "trial closed",
        "technical-review",
        "--reason",
        "done",
        "--result",
        "passed",
        "--fitted-pieces",
        "stay",
        on="2026-06-30",
    )
    revised(catalogue)
    walk(catalogue)
    refuses(catalogue, "letter|permit", before=told(answer) + with_letter(catalogue, "documents/permit.txt"))


# What is carried over


CARRIED = "prototype,acceptance"


def carrying(catalogue, steps=CARRIED, walked=("documents complete", "sent to technical review"), **statement):
    """B approved by what it has walked itself and what is carried over; then a hand says that otherwise."""
    if walked:
        walk(catalogue, names=walked)
    kept(folder(catalogue), "documents/carried.txt", "Carried over.\n")
    said = [steps, "A chamfer at the wing.", "letter TR-26-300", "documents/carried.txt"]
    answer = approve(catalogue, "--carries-over", *said)
    if statement:
        assert answer.returncode == 0, told(answer)
        with history(catalogue) as record:
            whole = record["events"][-1]["carries_over"] | statement
            record["events"][-1]["carries_over"] = {k: v for k, v in whole.items() if v is not None}
        depot.forgotten(catalogue)
    return answer


def test_what_is_carried_over_by_the_approver_with_its_letter_is_fitted(demo):
    catalogue = demo()
    revised(catalogue)
    answer = carrying(catalogue)
    assert answer.returncode == 0, told(answer)
    said = depot.Said(catalogue)
    assert said.words() == {FIT}, said.why + said.problems()


STATEMENTS = {
    "by the maker": {"by": "am-specialist"},
    "by the authority on the customer's route": {"by": "authority"},
    "by a role that nobody has": {"by": "somebody"},
    "without its file": {"evidence": None},
    "without a reason": {"why": None},
    "without a reference": {"reference": None},
    "of no step": {"steps": []},
    "of one step of the two": {"steps": ["prototype"]},
    "of a step that there is not": {"steps": ["prototype", "acceptance", "everything"]},
    "of a file that is not there": {"evidence": {"file": "documents/carried.txt", "sha256": "0" * 64}},
}


@pytest.mark.parametrize("case", STATEMENTS)
def test_what_is_carried_over_otherwise_is_not_fitted(demo, case):
    catalogue = demo()
    revised(catalogue)
    carrying(catalogue, **STATEMENTS[case])
    refuses(catalogue, "carries|carried|prototype|acceptance|role|reason|why|reference|evidence|sha|approved")


def test_review_itself_is_carried_over(demo):
    catalogue = demo()
    revised(catalogue)
    answer = carrying(catalogue, "prototype,acceptance,documents,review", walked=())
    # nobody submitted this model, so nobody reviewed it: at best somebody is asked
    refuses(catalogue, "submit|review|carr", before=told(answer))


# A revision renamed


def test_a_revision_renamed_back_to_the_approved_one(demo):  # holds already
    catalogue = demo()
    revised(catalogue)
    with part(catalogue) as record:
        record["revision"] = "A"
        del record["stock"]["revision"]
    refuses(catalogue, "changed|model")


def test_a_revision_approved_and_then_named_as_the_first_one(demo):
    catalogue = demo()
    revised(catalogue)
    walk(catalogue)
    approve(catalogue)
    with part(catalogue) as record:
        record["revision"] = "A"
        del record["stock"]["revision"]
    refuses(catalogue, "revision|changed|model")


def test_the_first_revision_comes_back_after_the_second_and_walks_no_more(demo):
    catalogue = demo()
    with part(catalogue) as record:
        first = dict(record)
    model = (folder(catalogue) / "model.stl").read_bytes()
    revised(catalogue)
    walk(catalogue)
    approve(catalogue)
    depot.kept(folder(catalogue), "model.stl", model)
    with part(catalogue) as record:
        record.clear()
        record.update(first | {"stock": first["stock"] | {"revision": "A"}})
    answer = approve(catalogue, "--replaces", "2025-03-17", on="2026-11-26")
    refuses(catalogue, NEEDS, day="2026-11-26", before=told(answer))


# Positive


def test_a_new_revision_by_the_whole_way_is_fitted(demo):
    catalogue = demo()
    revised(catalogue)
    walk(catalogue)
    answer = approve(catalogue)
    assert answer.returncode == 0, told(answer)
    said = depot.Said(catalogue)
    assert said.words() == {FIT}, said.why + said.problems()


def test_the_same_revision_approved_anew_by_the_whole_way_is_fitted(demo):
    catalogue = demo()
    walk(catalogue)
    answer = approve(catalogue, "--replaces", "2025-03-17")
    assert answer.returncode == 0, told(answer)
    fits(catalogue)
