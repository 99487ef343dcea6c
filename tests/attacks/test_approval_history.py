"""A record that tells another past than it told: by its own git history, or as the last look at it remembers."""

import pytest

from tests.attacks import approval_depot as depot
from tests.attacks.approval_depot import (
    KNOB,
    LETTER,
    Said,
    add,
    committed,
    event,
    folder,
    history,
    kept,
    refuses,
    run,
)

PAST = "PAST|past|vanished|history|remember|taken out|no longer|another past|changed since|corrected"


def withdrawn(catalogue):
    add(catalogue, KNOB, event("2026-05-05", "withdrawn", reason="cracks"))


def conditioned(catalogue):
    paper = kept(folder(catalogue), "documents/c.txt", "Look monthly.\n")
    add(catalogue, KNOB, event("2026-05-05", "condition added", condition="Look monthly.", evidence=[paper]))


def asked(catalogue):
    add(catalogue, KNOB, event("2026-05-05", "question asked", question="Why?"))


def letter_with_condition(catalogue):
    with history(catalogue) as record:
        depot.what(record, "approved")["conditions"] = ["Look monthly."]


def narrow(catalogue):
    with history(catalogue) as record:
        depot.what(record, "approved")["scope"][0]["vehicles"] = ["401-403"]


def short(catalogue):
    with history(catalogue) as record:
        depot.what(record, "approved")["valid_until"] = "2026-06-30"


def significant(catalogue):
    with history(catalogue) as record:
        record["screening"]["judged_significant"] = "yes"


def nothing(catalogue):
    pass


def superseded_two(catalogue):
    conditioned(catalogue)
    withdrawn_later(catalogue)


def withdrawn_later(catalogue):
    add(catalogue, KNOB, event("2026-06-06", "withdrawn", reason="cracks"))


def edit(change):
    def mutate(catalogue):
        with history(catalogue) as record:
            change(record)

    return mutate


def last_gone(record):
    del record["events"][-1]


def of_approval(**changes):
    return edit(lambda record: depot.what(record, "approved").update(changes))


def of_event(name, **changes):
    return edit(lambda record: depot.what(record, name).update(changes))


def between(record):
    """A whole approval typed in before what already stood there."""
    new = dict(depot.what(record, "approved")) | {
        "on": "2025-03-18",
        "reference": "letter TR-25-999",
        "replaces": ["2025-03-17"],
    }
    at = next(i for i, one in enumerate(record["events"]) if one["what"] == "approved")
    record["events"].insert(at + 1, new)


CASES = {
    "the withdrawal deleted": (withdrawn, edit(last_gone)),
    "the condition deleted": (conditioned, edit(last_gone)),
    "the question deleted": (asked, edit(last_gone)),
    "cut off behind the approval": (
        superseded_two,
        edit(lambda record: record["events"].__delitem__(slice(-2, None))),
    ),
    "the condition before the withdrawal deleted": (
        superseded_two,
        edit(lambda record: record["events"].__delitem__(slice(-2, None))),
    ),
    "the withdrawal became a note": (
        withdrawn,
        edit(
            lambda r: r["events"].__setitem__(-1, event("2026-05-05", "prototype printed", "am-specialist"))
        ),
    ),
    "the withdrawal moved into the future": (
        withdrawn,
        edit(lambda r: r["events"][-1].update(on="2026-11-24")),
    ),
    "a condition of the letter taken out": (letter_with_condition, of_approval(conditions=[])),
    "a condition of the letter in other words": (
        letter_with_condition,
        of_approval(conditions=["Look yearly."]),
    ),
    "a wider scope": (
        narrow,
        of_approval(scope=[{"fleet": "TR4", "vehicles": ["401-412"], "places": ["saloon-window"]}]),
    ),
    "a scope without vehicles": (narrow, of_approval(scope=[{"fleet": "TR4"}])),
    "a later end": (short, of_approval(valid_until="2033-03-31")),
    "no end": (short, of_approval(valid_until=None, open_ended=True)),
    "an earlier first day": (nothing, of_approval(on="2025-03-16")),
    "another reference": (nothing, of_approval(reference="letter TR-25-025")),
    "a note added to an old event": (nothing, of_approval(note="Also holds for trams.")),
    "another role": (nothing, of_approval(by="keeper")),
    "judged not significant": (
        significant,
        edit(lambda record: record["screening"].update(judged_significant="no")),
    ),
    "the judgement moved to another day": (
        nothing,
        edit(lambda record: record["screening"].update(judged_on="2025-01-15")),
    ),
    "the screening taken out": (significant, edit(lambda record: record.pop("screening"))),
    "an answer of the screening taken out": (nothing, edit(lambda r: r["screening"].pop("novelty"))),
    "an approval typed in between": (withdrawn, edit(between)),
    "the answer to the question rewritten": (
        nothing,
        of_event("question answered", note="It holds for ever."),
    ),
    "the question of the review taken out with its answer": (
        nothing,
        edit(lambda record: record["events"].__delitem__(slice(6, 8))),
    ),
    "two events that change places": (
        nothing,
        edit(lambda record: record["events"].__setitem__(slice(0, 2), record["events"][1::-1])),
    ),
    "an event told twice": (
        nothing,
        edit(lambda record: record["events"].insert(4, dict(record["events"][4]))),
    ),
    "a waiver added": (
        nothing,
        edit(lambda r: r.update(waiver={"reason": "so", "by": "safety-manager", "reference": "S"})),
    ),
    "another letter under the same name": (
        nothing,
        lambda catalogue: depot.again(catalogue, KNOB, LETTER, "Approved for ever.\n"),
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_git_remembers_what_the_record_told(demo, case):
    before, after = CASES[case]
    catalogue = demo()
    before(catalogue)
    committed(catalogue)
    after(catalogue)
    refuses(catalogue, PAST)


@pytest.mark.parametrize(
    "case",
    [
        "the withdrawal deleted",
        "a wider scope",
        "a later end",
        "judged not significant",
        "the condition deleted",
    ],
)
def test_git_remembers_what_was_committed_over(demo, case):
    before, after = CASES[case]
    catalogue = demo()
    before(catalogue)
    committed(catalogue)
    after(catalogue)
    committed(catalogue, "mended")
    committed(catalogue, "and something else")
    refuses(catalogue, PAST)


@pytest.mark.parametrize("case", CASES)
def test_the_store_remembers_what_the_record_told(demo, case):
    before, after = CASES[case]
    catalogue = demo()
    before(catalogue)
    run(catalogue, "check")
    after(catalogue)
    refuses(catalogue, PAST)


def test_the_store_does_not_learn_the_shorter_past_by_looking_again(demo):
    catalogue = demo()
    withdrawn(catalogue)
    run(catalogue, "check")
    edit(last_gone)(catalogue)
    run(catalogue, "check")
    run(catalogue, "check")
    refuses(catalogue, PAST)


@pytest.mark.parametrize("rename", ["TV-0417-knob", "TV-0417"])
def test_the_folder_is_renamed_and_the_withdrawal_forgotten(demo, rename):
    catalogue = demo()
    withdrawn(catalogue)
    committed(catalogue)
    run(catalogue, "check")
    edit(last_gone)(catalogue)
    where = folder(catalogue)
    where.rename(where.with_name(rename))
    committed(catalogue, "renamed")
    said = Said(catalogue)
    assert said.fitted == set(), said.why + said.problems()


def test_the_part_is_deleted_in_one_commit_and_comes_back_in_the_next(demo):
    catalogue = demo()
    withdrawn(catalogue)
    committed(catalogue)
    where = folder(catalogue)
    away = catalogue.parent / "away"
    where.rename(away)
    committed(catalogue, "no longer made")
    away.rename(where)
    edit(last_gone)(catalogue)
    committed(catalogue, "made again")
    refuses(catalogue, PAST)
