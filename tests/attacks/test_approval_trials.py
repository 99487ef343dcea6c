"""Trials have pieces, an end and a result; what did not pass keeps asking."""

import copy

import pytest

from tests.attacks import approval_depot as depot
from tests.attacks.approval_depot import (
    KNOB,
    NO,
    Said,
    add,
    approve,
    event,
    fits,
    folder,
    history,
    kept,
    refuses,
)

# Trials


def tried(catalogue, until="2026-06-30", closed=None, first=True, vehicles="401-412", **more):
    """A trial beside the approval, on its vehicles; `first`: the trial came before it."""
    with history(catalogue) as record:
        permit = depot.what(record, "approved")
        trial = copy.deepcopy(permit)
        paper = kept(folder(catalogue), "documents/permit.txt", "Tried.\n")
        trial |= {
            "what": "trial opened",
            "on": "2026-01-10",
            "valid_until": until,
            "reference": "permit T-1",
            "evidence": [paper],
            "planned_pieces": 4,
        } | more
        trial["scope"][0]["vehicles"] = [vehicles]
        record["events"].append(trial)
        if closed is not None:
            record["events"].append(event("2026-05-05", "trial closed", reason="done") | closed)


RESULTS = {
    "failed": {"result": "failed", "fitted_pieces": "come off"},
    "failed, and they stay": {"result": "failed", "fitted_pieces": "stay"},
    "broken off": {"result": "broken off", "fitted_pieces": "come off"},
    "no result": {"fitted_pieces": "stay"},
    "no result and no word of the pieces": {},
    "a result in another word": {"result": "fine", "fitted_pieces": "stay"},
    "a result in capitals": {"result": "PASSED", "fitted_pieces": "stay"},
    "no result, and the reason says passed": {"reason": "passed", "fitted_pieces": "stay"},
}


@pytest.mark.parametrize("case", RESULTS)
def test_a_trial_that_did_not_pass_keeps_the_approval_at_ask_first(demo, case):
    catalogue = demo()
    tried(catalogue, closed=RESULTS[case])
    refuses(catalogue, "trial|result")


def test_a_trial_that_passed_leaves_the_approval_fitted(demo):
    catalogue = demo()
    tried(catalogue, closed={"result": "passed", "fitted_pieces": "stay"})
    fits(catalogue)


def test_a_trial_that_ended_without_being_closed(demo):
    catalogue = demo()
    tried(catalogue)
    refuses(catalogue, "trial")


def test_a_failed_trial_speaks_of_its_own_vehicles_alone(demo):
    catalogue = demo()
    tried(catalogue, closed=RESULTS["failed"], vehicles="401-403")
    said = Said(catalogue)
    assert {one[1] for one in said.fitted} == set(range(404, 413)), said.why


def test_a_failed_trial_and_then_another_that_passed(demo):
    # only a later approval settles it, not a second trial
    catalogue = demo()
    tried(catalogue, closed=RESULTS["failed"])
    with history(catalogue) as record:
        again = copy.deepcopy(record["events"][-2]) | {
            "on": "2026-07-07",
            "valid_until": "2026-10-31",
            "reference": "permit T-2",
        }
        again["evidence"] = [kept(folder(catalogue), "documents/permit-2.txt", "Tried again.\n")]
        record["events"] += [
            again,
            event("2026-08-08", "trial closed", reason="done", result="passed", fitted_pieces="stay"),
        ]
    refuses(catalogue, "trial|result")


def test_a_trial_closed_twice_first_failed_then_passed(demo):
    catalogue = demo()
    tried(catalogue, closed=RESULTS["failed"])
    add(
        catalogue,
        KNOB,
        event("2026-05-06", "trial closed", reason="done", result="passed", fitted_pieces="stay"),
    )
    refuses(catalogue, "trial|result")


@pytest.mark.parametrize("missing", ["--result", "--fitted-pieces"])
def test_the_command_closes_no_trial_without_its_result(demo, missing):
    catalogue = demo()
    tried(catalogue, until="2027-06-30")
    words = {"--result": "passed", "--fitted-pieces": "stay"}
    del words[missing]
    answer = depot.record(
        catalogue,
        KNOB,
        "trial closed",
        "technical-review",
        "--reason",
        "done",
        *[w for pair in words.items() for w in pair],
    )
    assert answer.returncode != 0
    assert missing in answer.stderr or missing.strip("-") in answer.stderr, answer.stderr


@pytest.mark.parametrize(
    "pieces", [[], ["--pieces", "0"], ["--pieces", "-3"], ["--pieces", "some"], ["--pieces", "2.5"]]
)
def test_the_command_opens_no_trial_without_a_number_of_pieces(demo, pieces):
    catalogue = demo()
    with history(catalogue) as record:
        depot.cut(record, "approved")
    answer = approve(catalogue, "--trial", *pieces, scope="TR4:401:saloon-window")
    assert answer.returncode != 0, answer.stdout
    refuses(catalogue, "piece|trial", before=answer.stderr)


@pytest.mark.parametrize(
    "gone", ["revision", "approved_as", "fingerprint", "scope", "valid_until", "evidence"]
)
def test_a_trial_that_lacks_what_an_approval_has(demo, gone):
    catalogue = demo()
    with history(catalogue) as record:
        depot.what(record, "approved").update(what="trial opened", planned_pieces=4)
        record["events"][-1].pop(gone)
    refuses(catalogue, gone.replace("_", ".") + "|letter|missing")


def test_an_approval_that_became_a_trial_by_one_word_stays_no_approval(demo):
    catalogue = demo()
    with history(catalogue) as record:
        depot.what(record, "approved").update(what="trial opened", valid_until="2026-11-24")
    assert refuses(catalogue, "trial|ended|last day|planned").words() == {NO}


def test_a_trial_without_its_way_does_not_become_an_approval_by_one_word(demo):
    catalogue = demo()
    with history(catalogue) as record:
        del record["events"][4:-1]
        record["events"][-1].update(what="approved")
    refuses(catalogue, "without|documents|review")


def test_a_renewal_of_a_trial_is_no_renewal_of_the_approval(demo):
    catalogue = demo()
    with history(catalogue) as record:
        depot.what(record, "approved")["valid_until"] = "2026-05-31"
    tried(catalogue, until="2026-05-31", closed={"result": "passed", "fitted_pieces": "stay"})
    paper = kept(folder(catalogue), "documents/r.txt", "Renewed.\n")
    add(
        catalogue,
        KNOB,
        event("2026-05-20", "renewed", valid_until="2031-01-01", approved_on="2026-01-10", evidence=[paper]),
    )
    refuses(catalogue, "renew|trial|ended|last day")
