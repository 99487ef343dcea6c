"""`record corrected`: who says of which event why it was written anew, and what such a word does not reach."""

import pytest

from tests.attacks import approval_depot as depot
from tests.attacks.approval_depot import (
    KNOB,
    Said,
    add,
    committed,
    event,
    fits,
    folder,
    history,
    kept,
    refuses,
    roles,
)

PAST = "PAST|past|correct|role|quality|four eyes|checked"
NUMBER = 9  # the approval, counted from 1


def place(catalogue):
    """Which number the approval bears, and who acts for quality."""
    with roles(catalogue) as record:
        next(one for one in record["roles"] if one["id"] == "quality")["acts_as"] = ["quality"]
    with history(catalogue) as record:
        return next(i for i, one in enumerate(record["events"], 1) if one["what"] == "approved")


def correction(catalogue, **changes):
    paper = kept(folder(catalogue), "documents/correction.txt", "Typed wrongly.\n")
    said = {
        "corrects": place(catalogue),
        "why": "The reference was typed wrongly.",
        "checked_by": "keeper",
        "evidence": [paper],
    }
    one = event("2026-11-20", "record corrected", "quality", **said) | changes
    return {key: value for key, value in one.items() if value is not None}


def mistyped(catalogue, **more):
    place(catalogue)
    committed(catalogue)
    with history(catalogue) as record:
        depot.what(record, "approved").update({"reference": "letter TR-25-0024"} | more)


def test_a_correction_by_quality_with_four_eyes_is_fitted(demo):
    catalogue = demo()
    mistyped(catalogue)
    refuses(catalogue, PAST)
    add(catalogue, KNOB, correction(catalogue))
    fits(catalogue)


BADLY = {
    "by the maker": {"by": "am-specialist"},
    "by the approver": {"by": "technical-review"},
    "by nobody that there is": {"by": "somebody"},
    "two eyes": {"checked_by": "quality"},
    "nobody looked": {"checked_by": None},
    "looked at by nobody that there is": {"checked_by": "somebody"},
    "no why": {"why": None},
    "an empty why": {"why": ""},
    "of nothing": {"corrects": None},
    "of another event": {"corrects": 2},
    "of an event that there is not": {"corrects": 99},
    "of itself": {"corrects": 10},
    "of event nought": {"corrects": 0},
    "counted from behind": {"corrects": -1},
    "of the screening": {"corrects": "screening"},
    "of everything": {"corrects": "all"},
}


@pytest.mark.parametrize("case", BADLY)
def test_a_correction_said_badly_explains_nothing(demo, case):
    catalogue = demo()
    mistyped(catalogue)
    add(catalogue, KNOB, correction(catalogue, **BADLY[case]))
    refuses(catalogue, PAST + "|corrects|why")


def test_a_correction_does_not_reach_a_second_change(demo):
    catalogue = demo()
    mistyped(catalogue)
    with history(catalogue) as record:
        record["events"][1]["on"] = "2024-11-06"
    add(catalogue, KNOB, correction(catalogue))
    refuses(catalogue, PAST)


def test_a_correction_does_not_reach_a_change_after_it(demo):
    catalogue = demo()
    mistyped(catalogue)
    add(catalogue, KNOB, correction(catalogue))
    fits(catalogue)
    committed(catalogue, "corrected")
    with history(catalogue) as record:
        depot.what(record, "approved")["valid_until"] = "2040-01-01"
    refuses(catalogue, PAST)


def test_a_correction_stood_there_before_the_change(demo):
    # a blank cheque: said of the approval while nothing had changed, then used
    catalogue = demo()
    add(catalogue, KNOB, correction(catalogue))
    committed(catalogue)
    with history(catalogue) as record:
        depot.what(record, "approved")["valid_until"] = "2040-01-01"
    refuses(catalogue, PAST)


def test_a_correction_that_is_taken_out_again(demo):
    catalogue = demo()
    mistyped(catalogue)
    add(catalogue, KNOB, correction(catalogue))
    committed(catalogue, "corrected")
    with history(catalogue) as record:
        del record["events"][-1]
    refuses(catalogue, PAST)


def test_a_withdrawal_is_deleted_and_another_event_said_to_be_corrected(demo):
    catalogue = demo()
    place(catalogue)
    add(catalogue, KNOB, event("2026-05-05", "withdrawn", reason="cracks"))
    committed(catalogue)
    with history(catalogue) as record:
        del record["events"][-1]
    add(catalogue, KNOB, correction(catalogue))
    refuses(catalogue, PAST)


def test_the_correction_is_put_in_the_place_of_the_withdrawal(demo):
    # it bears the very number that it corrects
    catalogue = demo()
    place(catalogue)
    add(catalogue, KNOB, event("2026-05-05", "withdrawn", reason="cracks"))
    committed(catalogue)
    with history(catalogue) as record:
        del record["events"][-1]
        at = len(record["events"]) + 1
    add(catalogue, KNOB, correction(catalogue, corrects=at))
    refuses(catalogue, PAST)


def test_older_commits_are_left_out_by_a_day_in_the_record_and_check_tells_it(demo):
    catalogue = demo()
    with roles(catalogue) as record:
        record["records_kept_since"] = {"day": "2026-11-01", "why": "moved to git", "by": "quality"}
    committed(catalogue)
    assert "2026-11-01" in Said(catalogue).problems() or "1 Nov 2026" in Said(catalogue).problems()


@pytest.mark.parametrize("day", ["2999-01-01", "2026-11-26", "2026-13-01", "soon", None])
def test_a_day_to_come_does_not_switch_the_memory_off(demo, day):
    catalogue = demo()
    add(catalogue, KNOB, event("2026-05-05", "withdrawn", reason="cracks"))
    committed(catalogue)
    with roles(catalogue) as record:
        record["records_kept_since"] = {"day": day, "why": "moved to git", "by": "quality"}
    with history(catalogue) as record:
        del record["events"][-1]
    said = Said(catalogue)
    told = said.why + said.problems()
    assert said.fitted == set(), told


def test_a_day_without_why_or_role_is_a_mistake(demo):
    catalogue = demo()
    committed(catalogue)
    with roles(catalogue) as record:
        record["records_kept_since"] = {"day": "2026-11-01"}
    assert "error" in Said(catalogue).problems()
