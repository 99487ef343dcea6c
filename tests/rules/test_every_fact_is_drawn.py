"""A question whose fact nobody draws is not passed by a default: whoever draws its subject has to say it."""

import ast
import inspect
from dataclasses import MISSING, fields

import pytest

from generator.rules.facts.fields import OF_THE_TABLET, OPEN, Facts
from generator.rules.production.piece import of_batch
from generator.rules.verdicts import TABLE, Look, Step

DEFAULTS = {field.name: field.default for field in fields(Facts) if field.default is not MISSING}
# Of a piece whose part keeps no batches nothing is asked; of one of a batch, this is said.
OF_A_BATCH = {
    keyword.arg
    for call in ast.walk(ast.parse(inspect.getsource(of_batch)))
    if isinstance(call, ast.Call) and ast.unparse(call.func) == "PieceFacts"
    for keyword in call.keywords
}


def undrawn(table, defaults):
    """Facts that pass by their default where nobody says them."""
    said = {*OF_A_BATCH, *OF_THE_TABLET}
    return [step.fact for step in table if step.fact in defaults and step.fact not in said and passes(step, defaults[step.fact])]


def passes(step, value):
    match step.test:
        case Look.ABSENT:
            return value in (None, ())
        case Look.ONE_OF:
            return value in step.needed
        case _:
            return value is OPEN


def test_no_question_is_passed_by_a_default():
    assert undrawn(TABLE, DEFAULTS) == []


def test_of_a_piece_all_that_passes_is_said():
    """So that what is taken for said is really of a piece, and the sum above cannot hide anything else."""
    asked = {step.fact for step in TABLE if step.fact in DEFAULTS and passes(step, DEFAULTS[step.fact])}
    assert {each for each in asked if not each.startswith("piece")} == set(OF_THE_TABLET)
    assert {each for each in asked if each.startswith("piece")} <= OF_A_BATCH


@pytest.mark.parametrize(
    ("step", "default"),
    [
        (Step("sealed", "sealed", Look.ABSENT), None),
        (Step("sealed", "sealed", Look.ABSENT), ()),
        (Step("sealed", "sealed", Look.ONE_OF, ("any", "yes")), "any"),
        (Step("sealed", "sealed", Look.LASTS), OPEN),
    ],
)
def test_a_new_question_that_nobody_answers_shows(step, default):
    assert undrawn((*TABLE, step), {**DEFAULTS, step.fact: default}) == ["sealed"]


def test_a_new_question_whose_default_is_unknown_asks_by_itself():
    assert undrawn((Step("sealed", "sealed", Look.ONE_OF, ("yes",)),), {"sealed": None}) == []
