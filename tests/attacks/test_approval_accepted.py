"""`change accepted`: what the approver has seen since, by whom, and what it does not reach."""

import pytest

from tests.attacks import approval_depot as depot
from tests.attacks.approval_depot import (
    ASK,
    KNOB,
    asks,
    fits,
    folder,
    kept,
    refuses,
)
from tests.attacks.test_approval_careful import WIDER


def test_the_approver_who_has_seen_a_changed_caution_makes_it_fitted_again(demo):
    catalogue = demo(KNOB)
    notes = folder(catalogue) / "fitting.md"
    notes.write_text(notes.read_text().replace("Hand-tight", "Hand tight, no tool"))
    asks(catalogue, "fitting|step")
    kept(folder(catalogue), "documents/seen.txt", "Seen.\n")
    answer = depot.record(
        catalogue,
        KNOB,
        "change accepted",
        "technical-review",
        "--reference",
        "letter C-1",
        "--evidence",
        "documents/seen.txt",
    )
    assert answer.returncode == 0, answer.stdout + answer.stderr
    fits(catalogue)
    notes.write_text(notes.read_text().replace("- No thread-locking fluid", "- Thread-locking fluid"))
    assert depot.Said(catalogue).words() == {ASK}


@pytest.mark.parametrize("by", ["am-specialist", "fitter-body", "keeper"])
def test_a_change_is_accepted_by_who_may_approve_only(demo, by):
    # the keeper acts for the customer and may; the maker and the fitter may not
    catalogue = demo()
    notes = folder(catalogue) / "fitting.md"
    notes.write_text(notes.read_text().replace("Hand-tight", "Hand tight, no tool"))
    kept(folder(catalogue), "documents/seen.txt", "Seen.\n")
    answer = depot.record(
        catalogue,
        KNOB,
        "change accepted",
        by,
        "--reference",
        "letter C-1",
        "--evidence",
        "documents/seen.txt",
    )
    if by == "keeper":
        assert answer.returncode == 0, answer.stdout + answer.stderr
    else:
        refuses(catalogue, "approv|customer|fitting|role", before=answer.stdout + answer.stderr)


@pytest.mark.parametrize("mutate", [depot.other_mesh, WIDER["more above"]], ids=["mesh", "tolerance"])
def test_a_void_change_cannot_be_accepted(demo, mutate):
    catalogue = demo()
    mutate(catalogue)
    kept(folder(catalogue), "documents/seen.txt", "Seen.\n")
    answer = depot.record(
        catalogue,
        KNOB,
        "change accepted",
        "technical-review",
        "--reference",
        "letter C-1",
        "--evidence",
        "documents/seen.txt",
    )
    assert answer.returncode != 0
    refuses(catalogue, "model|mesh|Collar", before=answer.stdout + answer.stderr)
