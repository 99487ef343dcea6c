"""Conditions before fitting and in service; trials with pieces, an end and a result."""

import pytest

from tests.attacks import approval_depot as depot
from tests.attacks.approval_depot import (
    KNOB,
    add,
    approve,
    asks,
    event,
    fits,
    folder,
    history,
    kept,
    refuses,
)

SERVICE = {"text": "Look at it monthly.", "applies": "in service", "maintenance_plan": "MP 12, line 4"}


def set_on(catalogue, *conditions):
    with history(catalogue) as record:
        depot.what(record, "approved")["conditions"] = list(conditions)


def added(catalogue, condition):
    paper = kept(folder(catalogue), "documents/c.txt", "A condition.\n")
    add(catalogue, KNOB, event("2026-05-05", "condition added", condition=condition, evidence=[paper]))


ASKED = {
    "a text alone": "Only with a washer.",
    "before fitting": {"text": "Only with a washer.", "applies": "before fitting"},
    "before fitting, with a line in the plan": SERVICE | {"applies": "before fitting"},
    "in service without a line in the plan": {"text": "Look monthly.", "applies": "in service"},
}


@pytest.mark.parametrize("how", [set_on, added], ids=["letter", "added"])
@pytest.mark.parametrize("case", ASKED)
def test_a_condition_is_asked_about(demo, case, how):
    catalogue = demo()
    how(catalogue, ASKED[case])
    refuses(catalogue, "washer|monthly|condition")


@pytest.mark.parametrize("how", [set_on, added], ids=["letter", "added"])
def test_a_condition_in_service_with_its_line_is_fitted_and_told(demo, how):
    catalogue = demo()
    how(catalogue, SERVICE)
    said = fits(catalogue)
    assert "Look at it monthly." in said.text, said.text
    assert "MP 12, line 4" in said.text, said.text


BADLY = {
    "an empty line in the plan": SERVICE | {"maintenance_plan": ""},
    "a blank line in the plan": SERVICE | {"maintenance_plan": "  "},
    "a dash in the plan": SERVICE | {"maintenance_plan": None},
    "applies to something else": SERVICE | {"applies": "never"},
    "applies in capitals": SERVICE | {"applies": "In Service"},
    "no text": {"applies": "in service", "maintenance_plan": "MP 12"},
    "an empty text": SERVICE | {"text": ""},
    "nothing": {},
    "a list": [SERVICE],
    "a field of another name": SERVICE | {"lifted": True},
}


@pytest.mark.parametrize("case", BADLY)
def test_a_condition_said_badly_is_not_fitted(demo, case):
    catalogue = demo()
    set_on(catalogue, BADLY[case])
    refuses(catalogue, "condition|maintenance|text")


def test_one_condition_in_service_does_not_hide_one_before_fitting(demo):
    catalogue = demo()
    set_on(catalogue, SERVICE, "Only with a washer.")
    refuses(catalogue, "washer")


def test_a_condition_added_in_the_words_of_one_in_service_is_still_before_fitting(demo):
    catalogue = demo()
    set_on(catalogue, SERVICE)
    added(catalogue, SERVICE["text"])
    refuses(catalogue, "monthly")


def test_the_condition_before_fitting_is_lifted_in_the_words_of_another(demo):
    catalogue = demo()
    set_on(catalogue, SERVICE, "Only with a washer.")
    paper = kept(folder(catalogue), "documents/l.txt", "Lifted.\n")
    add(catalogue, KNOB, event("2026-06-06", "condition lifted", condition=SERVICE["text"], evidence=[paper]))
    refuses(catalogue, "washer")


def test_a_condition_lifted_without_its_letter(demo):  # holds already
    catalogue = demo()
    set_on(catalogue, "Only with a washer.")
    add(catalogue, KNOB, event("2026-06-06", "condition lifted", condition="Only with a washer."))
    refuses(catalogue, "washer|evidence|letter")


def test_a_condition_lifted_by_the_maker(demo):  # holds already
    catalogue = demo()
    set_on(catalogue, "Only with a washer.")
    paper = kept(folder(catalogue), "documents/l.txt", "Lifted.\n")
    add(
        catalogue,
        KNOB,
        event(
            "2026-06-06",
            "condition lifted",
            "am-specialist",
            condition="Only with a washer.",
            evidence=[paper],
        ),
    )
    refuses(catalogue, "washer|role|approve")


@pytest.mark.parametrize("word", ["--condition", "--in-service"])
def test_conditions_with_the_command(demo, word):
    catalogue = demo()
    with history(catalogue) as record:
        depot.cut(record, "documents complete")
    depot.walk(catalogue, names=["documents complete", "sent to technical review"])
    more = ["Look monthly."] + (["MP 12, line 4"] if word == "--in-service" else [])
    answer = approve(catalogue, word, *more)
    assert answer.returncode == 0, answer.stdout + answer.stderr
    if word == "--in-service":
        fits(catalogue)
    else:
        asks(catalogue, "Look monthly")
