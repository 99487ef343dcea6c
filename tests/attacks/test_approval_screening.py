"""What the screening says, or leaves unsaid: cases that need an authorisation, judgements without an assessment."""

import copy

import pytest

from tests.attacks import approval_depot as depot
from tests.attacks.approval_depot import (
    ASK,
    HANDLE,
    KNOB,
    NO,
    Said,
    asks,
    event,
    fits,
    folder,
    history,
    kept,
    refuses,
    roles,
)

QUESTIONS = [
    "identical_function",
    "failure_consequence",
    "novelty",
    "complexity",
    "monitoring",
    "reversibility",
    "additionality",
]


def screening(catalogue, change, number=KNOB):
    with history(catalogue, number) as record:
        change(record["screening"])


def case_of(letter, number=KNOB):
    """The function is not identical, and the change falls in this case of Article 15(1)."""

    def mutate(catalogue):
        def change(said):
            said["identical_function"] = {
                "answer": "no",
                "reason": "Longer.",
                "by": "design-engineer",
                "on": "2025-01-13",
            }
            said["change_case"] = {"case": letter, "reason": "Longer.", "by": "keeper", "on": "2025-01-13"}

        screening(catalogue, change, number)

    return mutate


@pytest.mark.parametrize("question", QUESTIONS)
def test_an_unanswered_question_is_asked_about(demo, question):
    catalogue = demo()
    screening(catalogue, lambda said: said.pop(question))
    asks(catalogue, "not judged|not answered|screening|unanswered")


@pytest.mark.parametrize(
    "gone",
    [["judged_significant"], ["judged_by"], ["judged_on"], ["judged_significant", "judged_by", "judged_on"]],
)
def test_a_judgement_that_nobody_made_is_not_printed_as_no(demo, gone):
    catalogue = demo()
    screening(catalogue, lambda said: [said.pop(name) for name in gone])
    said = refuses(catalogue, "not judged yet|judged|judged_by|judged_on")
    if "judged_significant" in gone:
        lines = [one for one in said.text.splitlines() if "significant" in one]
        assert not [one for one in lines if one.startswith("✓")], lines


def test_no_screening_at_all(demo):
    catalogue = demo()
    with history(catalogue) as record:
        del record["screening"]
    asks(catalogue, "not judged|not answered|screening")


def test_an_empty_screening(demo):
    catalogue = demo()
    with history(catalogue) as record:
        record["screening"] = {}
    refuses(catalogue, "not judged|not answered|screening")


def test_a_function_that_is_not_identical_and_no_case_said(demo):
    catalogue = demo()
    case_of("a")(catalogue)
    screening(catalogue, lambda said: said.pop("change_case"))
    refuses(catalogue, "case|not judged|not answered|screening|identical")


@pytest.mark.parametrize("number", [KNOB, HANDLE])
@pytest.mark.parametrize("letter", ["c", "d"])
def test_a_case_that_needs_an_authorisation_is_not_fitted_without(demo, letter, number):
    catalogue = demo(number)
    case_of(letter, number)(catalogue)
    assert refuses(catalogue, "authoris|15\\(1\\)|case", number).words() == {NO}


def authorised(catalogue, **changes):
    case_of("d")(catalogue)
    paper = kept(folder(catalogue), "documents/authorisation.txt", "Authorised.\n")
    said = {"reference": "SA-25-0100", "by": "authority", "on": "2025-02-20", "evidence": paper} | changes

    def change(record):
        record["authorisation"] = {name: value for name, value in said.items() if value is not None}

    screening(catalogue, change)


def test_a_case_with_its_authorisation_is_fitted(demo):
    catalogue = demo()
    authorised(catalogue)
    fits(catalogue)


BAD_AUTHORISATION = {
    "no file": {"evidence": None},
    "a file that is gone": {"evidence": {"file": "documents/gone.pdf", "sha256": "0" * 64}},
    "another file": {"evidence": {"file": "documents/authorisation.txt", "sha256": "0" * 64}},
    "no reference": {"reference": None},
    "an empty reference": {"reference": ""},
    "by the customer": {"by": "keeper"},
    "by the reviewer": {"by": "technical-review"},
    "by nobody that there is": {"by": "somebody"},
    "nobody": {"by": None},
    "still to come": {"on": "2027-01-01"},
    "no day": {"on": None},
    "the letter of approval": {"evidence": "letter"},
}


@pytest.mark.parametrize("case", BAD_AUTHORISATION)
def test_an_authorisation_that_proves_nothing_is_not_fitted(demo, case):
    catalogue = demo()
    changes = copy.deepcopy(BAD_AUTHORISATION[case])
    if changes.get("evidence") == "letter":
        with history(catalogue) as record:
            changes["evidence"] = {
                k: depot.what(record, "approved")["evidence"][0][k] for k in ("file", "sha256")
            }
    authorised(catalogue, **changes)
    refuses(catalogue, "authoris|role|letter|still to come|documents/")


@pytest.mark.parametrize("letter", ["C", "D", "e", "", "c, d", None, ["d"]])
def test_a_case_that_there_is_not(demo, letter):
    catalogue = demo()
    case_of(letter)(catalogue)
    refuses(catalogue, "case")


# Significant


def assessed(catalogue, number=KNOB, by="assessment-body", **changes):
    with roles(catalogue) as record:
        body = {"id": "assessment-body", "name": "Assessment body", "acts_as": ["assessment body"]}
        record["roles"] = [one for one in record["roles"] if one["id"] != body["id"]] + [body]
    paper = kept(folder(catalogue, number), "documents/assessment.txt", "Assessed.\n")
    report = event("2025-02-28", "safety assessment report", by, reference="AB-1", evidence=[paper]) | changes
    with history(catalogue, number) as record:
        at = next(i for i, one in enumerate(record["events"]) if one["what"] == "approved")
        day = record["events"][at - 1]["on"]
        record["events"].insert(
            at, {k: v for k, v in (report | {"on": changes.get("on", day)}).items() if v is not None}
        )


def judged(catalogue, number=KNOB):
    screening(catalogue, lambda said: said.update(judged_significant="yes"), number)


@pytest.mark.parametrize("number", [KNOB, HANDLE])
def test_a_significant_change_without_any_assessment_is_asked_about(demo, number):
    catalogue = demo(number)
    judged(catalogue, number)
    asks(catalogue, "assess|significant", number)


@pytest.mark.parametrize("number", [KNOB, HANDLE])
def test_a_significant_change_with_its_assessment_is_fitted(demo, number):
    catalogue = demo(number)
    judged(catalogue, number)
    assessed(catalogue, number)
    fits(catalogue, number)


BAD_REPORTS = {
    "no file": {"evidence": None},
    "an empty list of files": {"evidence": []},
    "no reference": {"reference": None},
    "by the safety manager": {"by": "safety-manager"},
    "by the keeper": {"by": "keeper"},
    "by the authority": {"by": "authority"},
    "by the maker": {"by": "am-specialist"},
    "a file that is gone": {"evidence": [{"file": "documents/gone.txt", "sha256": "0" * 64}]},
}


@pytest.mark.parametrize("case", BAD_REPORTS)
def test_an_assessment_that_proves_nothing_is_not_fitted(demo, case):
    catalogue = demo()
    judged(catalogue)
    assessed(catalogue, **BAD_REPORTS[case])
    refuses(catalogue, "assess|significant|role|evidence|reference|documents/gone")


def test_the_assessment_was_of_the_way_before_a_new_start(demo):
    catalogue = demo()
    judged(catalogue)
    assessed(catalogue)
    depot.other_mesh(catalogue)
    with depot.part(catalogue) as record:
        record["revision"] = "B"
        record["stock"]["revision"] = "A"
    depot.walk(catalogue)
    answer = depot.approve(catalogue)
    refuses(catalogue, "assess|significant", before=answer.stdout + answer.stderr)


def test_an_assessment_after_the_approval(demo):
    # who approved did not have it
    catalogue = demo()
    judged(catalogue)
    assessed(catalogue)
    with history(catalogue) as record:
        report = depot.what(record, "safety assessment report")
        record["events"].remove(report)
        record["events"].append(report | {"on": "2026-11-20"})
    said = Said(catalogue)
    assert said.words() <= {ASK, NO}, said.why


@pytest.mark.parametrize("value", ["maybe", "", None, False, "YES", "No"])
def test_a_judgement_in_another_word(demo, value):
    catalogue = demo()
    screening(catalogue, lambda said: said.update(judged_significant=value))
    refuses(catalogue, "judged|significant")


@pytest.mark.parametrize("by", ["somebody", "am-specialist", ""])
def test_a_judgement_by_who_does_not_judge(demo, by):
    catalogue = demo()
    screening(catalogue, lambda said: said.update(judged_by=by))
    refuses(catalogue, "judged|role|significant")


def test_a_judgement_that_is_still_to_come(demo):
    catalogue = demo()
    screening(catalogue, lambda said: said.update(judged_on="2027-01-01"))
    refuses(catalogue, "judged|still to come|2027")
