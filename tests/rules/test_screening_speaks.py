"""What does the screening of a change do to the verdict? Each case is a spoilt copy of a part that may be fitted.

Regulation (EU) 2018/545 Art. 15(1) and 16(1); Regulation (EU) 402/2013 Art. 4(2), 5 and 6.
"""

import hashlib
from typing import Any

import pytest

from generator.reading.yaml_places import read_yaml
from generator.rules.verdicts import Verdict
from tests.fixtures.tiny import DEPOT, KNOB, LEVER, sheets
from tests.rules.test_mutations import write

RECORDS = {KNOB: "parts/EX-0001-lid-knob", LEVER: "parts/EX-0002-brake-lever"}
LETTER = "documents/authorisation.txt"
SHA256 = hashlib.sha256(b"authorised").hexdigest()
AUTHORISED = {"reference": "A-9", "by": "authority", "on": "2025-11-20", "evidence": {"file": LETTER, "sha256": SHA256}}
OWN_LAW = {"rules": "own", "name": "Tramway ordinance 7", "questions": [{"id": "brakes", "ask": "Does it touch the brakes?"}]}
ANSWER = {"answer": "no", "by": "specialist", "on": "2025-02-20"}
REPORT = {
    "what": "safety assessment report", "on": "2025-11-04", "by": "assessor", "reference": "SAR-1",
    "evidence": [{"file": LETTER, "sha256": SHA256}],
}  # fmt: skip


def case_of(name: str) -> dict[str, Any]:
    return {"case": name, "reason": "a change of case", "by": "specialist", "on": "2025-02-20"}


@pytest.fixture
def judged(depot):
    """Changes the record of a part (and the depot's) and judges it; the authorisation's letter lies there."""

    def change(number=KNOB, *, screening=None, gone=(), events=None, law=None, route=None):
        folder = RECORDS[number]
        file = f"{folder}/approval.yml"
        content: Any = read_yaml(file, (DEPOT / file).read_bytes()).content
        content["screening"] = {key: value for key, value in content["screening"].items() if key not in gone} | (screening or {})
        content["events"] = events(content["events"]) if events else content["events"]
        (depot / folder / LETTER).write_bytes(b"authorised")
        write(depot, file, content)
        if law:
            write(depot, "depot.yml", read_yaml("depot.yml", (DEPOT / "depot.yml").read_bytes()).content | {"law": law})
        sheet = next(each for each in sheets(depot)[0] if each.number == number)
        return sheet.judgements[0]

    return change


def decided(judgement):
    return judgement.verdict.key, judgement.decided_by.step.id if judgement.decided_by else None


NO_CASE = {"identical_function": {"answer": "no", "reason": "it is another", "by": "specialist", "on": "2025-02-20"}}


@pytest.mark.parametrize("number", [KNOB, LEVER])
@pytest.mark.parametrize("name", ["c", "d"])
def test_case_c_and_d_are_not_fitted_without_the_authoritys_paper_on_either_route(judged, number, name):
    other = NO_CASE | {"change_case": case_of(name)}
    assert decided(judged(number, screening=other)) == ("no", "authorisation")
    assert decided(judged(number, screening=other | {"authorisation": AUTHORISED})) == ("fit", None)


@pytest.mark.parametrize("name", ["a", "b"])
def test_case_a_and_b_need_none(judged, name):
    assert decided(judged(screening=NO_CASE | {"change_case": case_of(name)})) == ("fit", None)


def test_a_case_counts_although_the_function_is_said_to_be_identical(judged):
    assert decided(judged(screening={"change_case": case_of("d")})) == ("no", "authorisation")


@pytest.mark.parametrize(
    ("wrong", "step"),
    [
        ({"by": "keeper"}, "record"),
        ({"by": "nobody"}, "record"),
        ({"on": "2026-11-26"}, "authorisation"),
        ({"evidence": {"file": LETTER, "sha256": "0" * 64}}, "record"),
        ({"evidence": {"file": "documents/none.txt", "sha256": SHA256}}, "record"),
        ({"evidence": {"file": "model.stl", "sha256": SHA256}}, "record"),
        ({"reference": ""}, "record"),
    ],
)
def test_a_paper_that_is_none_does_not_help(judged, wrong, step):
    told = {"change_case": case_of("d"), "authorisation": AUTHORISED | wrong}
    judgement = judged(screening=NO_CASE | told)
    if wrong.get("reference") == "":  # the record cannot be read, so there is no permit at all
        assert judgement.verdict is Verdict.DO_NOT_FIT
    else:
        assert decided(judgement) == ("no", step)


@pytest.mark.parametrize(
    "key",
    ["identical_function", "failure_consequence", "novelty", "complexity", "monitoring", "reversibility", "additionality",
     "judged_by", "judged_on"],
)  # fmt: skip
@pytest.mark.parametrize("number", [KNOB, LEVER])
def test_an_unanswered_question_asks_first(judged, number, key):
    assert decided(judged(number, gone=[key])) == ("ask", "screening")


def test_no_case_where_the_function_is_another_asks_first(judged):
    assert decided(judged(screening=NO_CASE)) == ("ask", "screening")


def test_where_nobody_judged_why_says_so_and_never_no(judged):
    judgement = judged(gone=["judged_significant"])
    assert decided(judgement) == ("ask", "screening")
    assert {taken.step.id: taken.outcome.value for taken in judgement.steps}["significance"] == "unknown"


@pytest.mark.parametrize("number", [KNOB, LEVER])
def test_a_significant_change_asks_first_until_the_assessment_body_has_reported(judged, number):
    significant = {"judged_significant": "yes"}
    assert decided(judged(number, screening=significant)) == ("ask", "significance")
    reported = judged(number, screening=significant, events=lambda events: [*events[:-1], REPORT, events[-1]])
    assert decided(reported) == ("fit", None)


@pytest.mark.parametrize(
    ("wrong", "verdict"),
    [
        ({"by": "keeper"}, "no"),
        ({"by": "specialist"}, "no"),
        ({"evidence": []}, "no"),
        ({"reference": None}, "no"),
        ({"evidence": [{"file": LETTER, "sha256": "1" * 64}]}, "no"),
    ],
)
def test_a_report_by_another_role_or_without_its_paper_is_a_mistake(judged, wrong, verdict):
    judgement = judged(
        screening={"judged_significant": "yes"}, events=lambda events: [*events[:-1], REPORT | wrong, events[-1]]
    )
    assert judgement.verdict.key == verdict


def test_a_report_after_the_approval_was_not_seen_by_it(judged):
    late = REPORT | {"on": "2026-02-01"}
    judgement = judged(screening={"judged_significant": "yes"}, events=lambda events: [*events, late])
    assert decided(judgement) == ("ask", "significance")


def test_a_new_start_forgets_the_report(judged):
    early = REPORT | {"on": "2025-09-01"}
    again = {"what": "prototype printed", "on": "2025-09-02", "by": "specialist"}
    judgement = judged(
        screening={"judged_significant": "yes"}, events=lambda events: [events[0], early, again, *events[1:]]
    )
    assert decided(judgement) == ("ask", "significance")


def test_a_report_before_there_is_a_prototype_is_a_mistake(judged):
    early = REPORT | {"on": "2025-08-01"}
    assert decided(judged(events=lambda events: [early, *events])) == ("no", "record")


def test_another_law_asks_its_own_questions(judged):
    assert decided(judged(law=OWN_LAW)) == ("ask", "screening")
    assert decided(judged(law=OWN_LAW, screening={"own_answers": {"brakes": ANSWER}})) == ("fit", None)
    six = ["identical_function", "novelty", "monitoring"]
    assert decided(judged(law=OWN_LAW, gone=six, screening={"own_answers": {"brakes": ANSWER}})) == ("fit", None)


@pytest.mark.parametrize(
    "wrong",
    [{"judged_significant": None}, {"judged_by": None}, {"own_answers": {"brakes": ANSWER | {"on": "2026-11-26"}}}, {"judged_on": None}],
)
def test_another_law_too_is_judged_by_role_and_day(judged, wrong):
    told = {"own_answers": {"brakes": ANSWER}} | wrong
    assert decided(judged(law=OWN_LAW, screening=told)) == ("ask", "screening")


def test_cases_are_the_unions(judged):
    told = {"own_answers": {"brakes": ANSWER}, "change_case": case_of("d")}
    assert decided(judged(law=OWN_LAW, screening=told)) == ("fit", None)
