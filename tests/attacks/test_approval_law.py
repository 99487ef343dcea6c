"""A depot under rules of its own asks its own questions; a law that asks nothing makes nothing fitted."""

import pytest

from tests.attacks.approval_depot import (
    fits,
    refuses,
    roles,
)
from tests.attacks.test_approval_screening import QUESTIONS, screening

# Whose rules


OWN = {
    "rules": "own",
    "name": "Works railway order",
    "questions": [{"id": "trains", "ask": "Do trains pass it?"}, {"id": "fire", "ask": "Does it burn?"}],
}


def under(catalogue, law, answers):
    with roles(catalogue) as record:
        record["law"] = law

    def change(said):
        for name in [*QUESTIONS, "change_case"]:
            said.pop(name, None)
        if answers is not None:
            said["own_answers"] = answers

    screening(catalogue, change)


def own(*names):
    return {name: {"answer": "No.", "by": "safety-manager", "on": "2025-01-13"} for name in names}


def test_a_depot_under_its_own_rules_answers_its_own_questions(demo):
    catalogue = demo()
    under(catalogue, OWN, own("trains", "fire"))
    fits(catalogue)


BAD_LAWS = {
    "one of its own questions is not answered": (OWN, own("trains")),
    "none is answered": (OWN, None),
    "an answer to a question that nobody asks": (OWN, own("trains", "weather")),
    "no questions of its own": ({"rules": "own", "name": "Works railway order"}, None),
    "an empty list of questions": ({"rules": "own", "name": "Works railway order", "questions": []}, None),
    "two questions of one name": (
        OWN | {"questions": [OWN["questions"][0], OWN["questions"][0]]},
        own("trains"),
    ),
    "own answers under the Union's rules": ({"rules": "union", "name": "Union"}, own("trains", "fire")),
    "rules that there are not": ({"rules": "none", "name": "None"}, own("trains", "fire")),
    "no name of the law": (OWN | {"name": ""}, own("trains", "fire")),
}


@pytest.mark.parametrize("case", BAD_LAWS)
def test_a_law_that_asks_nothing_does_not_make_it_fitted(demo, case):
    catalogue = demo()
    under(catalogue, *BAD_LAWS[case])
    refuses(catalogue, "law|question|answer|screening|rules|depot.yml|name")
