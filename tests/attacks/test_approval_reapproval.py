"""A new revision that did not walk: approved with the papers, the steps or the letter of the one before it."""

import shutil

import pytest

from tests.attacks import approval_depot as depot
from tests.attacks.approval_depot import (
    CAP,
    KNOB,
    LETTER,
    add,
    approve,
    event,
    folder,
    history,
    part,
    refuses,
    walk,
)

NEEDS = "prototype|acceptance|documents|review|carries|letter|submitted|walk"
STEPS = ["prototype printed", "customer acceptance given", "documents complete", "sent to technical review"]


def revised(catalogue, revision="B", number=KNOB, **stock):
    """The next revision is drawn: another model, another orientation; the stock's labels are told."""
    depot.other_mesh(catalogue, number)
    with part(catalogue, number) as record:
        record["revision"] = revision
        record["settings"]["orientation"] = "lying on its side"
        if "stock" in record:
            record["stock"] |= {"revision": "A"} | stock


def told(answer):
    return answer.stdout + answer.stderr


def test_the_next_revision_in_one_command_with_the_old_letter(demo):
    catalogue = demo()
    revised(catalogue)
    refuses(catalogue, NEEDS, before=told(approve(catalogue, letter=LETTER)))


def test_the_next_revision_in_one_command_with_a_new_letter(demo):
    catalogue = demo()
    revised(catalogue)
    refuses(catalogue, NEEDS, before=told(approve(catalogue)))


def test_another_parts_mesh_in_the_next_revision(demo):
    # its mirror image: same size, same checks
    catalogue = demo(CAP)
    (other,) = depot.DEMO.glob(f"parts/{depot.OTHER_CAP}-*/model.stl")
    with part(catalogue, CAP) as record:
        record["revision"] = "B"
        record["stock"]["revision"] = "A"
    shutil.copy(other, folder(catalogue, CAP) / "model.stl")
    answer = approve(catalogue, "--despite-warnings", number=CAP, letter=LETTER)
    refuses(catalogue, NEEDS, CAP, before=told(answer))


def test_the_same_revision_with_another_mesh_takes_the_first_ones_place(demo):
    catalogue = demo()
    depot.other_mesh(catalogue)
    refuses(catalogue, NEEDS, before=told(approve(catalogue, "--replaces", "2025-03-17")))


def test_the_same_revision_with_another_mesh_after_the_first_lapsed(demo):
    catalogue = demo()
    depot.other_mesh(catalogue)
    answer = approve(catalogue, on="2030-06-01", until="2035-01-01")
    refuses(catalogue, NEEDS, day="2030-06-02", before=told(answer))


@pytest.mark.parametrize("left_out", STEPS)
def test_one_step_of_the_way_is_left_out(demo, left_out):
    catalogue = demo()
    revised(catalogue)
    for name in [one for one in STEPS if one != left_out]:
        walk_or_not(catalogue, name)
    refuses(catalogue, NEEDS, before=told(approve(catalogue)))


def walk_or_not(catalogue, name):
    """The step with its command; where it is refused already, all the better."""
    try:
        walk(catalogue, names=[name])
    except AssertionError as refused:
        assert "recorded" in str(refused), refused  # noqa: PT017


@pytest.mark.parametrize("last", range(1, 5))
def test_the_steps_of_the_new_way_stand_before_the_last_approval(demo, last):
    # written into the file in front of the approval of A, on days that fit
    catalogue = demo()
    revised(catalogue)
    with history(catalogue) as record:
        at = next(i for i, one in enumerate(record["events"]) if one["what"] == "approved")
        steps = [
            event("2025-03-16", name, "keeper" if "accept" in name else "am-specialist")
            for name in STEPS[:last]
        ]
        record["events"][at:at] = steps
    for name in STEPS[last:]:
        walk_or_not(catalogue, name)
    refuses(catalogue, NEEDS, before=told(approve(catalogue)))


def test_the_new_way_stands_behind_the_new_approval(demo):
    catalogue = demo()
    revised(catalogue)
    approve(catalogue, on="2026-11-20")
    add(
        catalogue,
        KNOB,
        *[event("2026-11-24", name, "keeper" if "accept" in name else "am-specialist") for name in STEPS],
    )
    refuses(catalogue, NEEDS)


def test_the_way_was_walked_with_the_old_model_and_the_new_one_approved(demo):
    catalogue = demo()
    walk(catalogue)
    revised(catalogue)
    refuses(catalogue, NEEDS, before=told(approve(catalogue)))


def test_a_way_typed_by_hand_says_not_what_was_submitted(demo):
    catalogue = demo()
    revised(catalogue)
    add(catalogue, KNOB, *depot.way())
    refuses(catalogue, "submit|review", before=told(approve(catalogue)))


def test_acceptance_with_the_minutes_of_the_first_acceptance(demo):
    catalogue = demo()
    revised(catalogue)
    walk(catalogue, names=["prototype printed", "sent for customer acceptance"])
    minutes = ["--reference", "minutes", "--evidence", "documents/acceptance-minutes.pdf"]
    first = depot.record(catalogue, KNOB, "customer acceptance given", "keeper", *minutes)
    for name in STEPS[2:]:
        walk_or_not(catalogue, name)
    answer = approve(catalogue)
    refuses(catalogue, "minutes|acceptance", before=told(first) + told(answer))
