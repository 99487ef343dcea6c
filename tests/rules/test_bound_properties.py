"""The lines that bind what a place asks and what was tested: equal lines mean equal records, and each field is told."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.records.environment import Environment, VandalClass, VibrationClass
from generator.records.proof import Proof
from generator.rules.bound_properties import environment_lines, proof_lines
from generator.rules.canonical import is_well_formed, joined
from generator.rules.properties import demands
from tests.rules.cases import tiny
from tests.rules.test_properties import as_json

PETG = tiny().materials["petg"]
AGENTS = st.sampled_from(["foam 3 %", "foam 5 %", 'foam "x"', "a: yes\n".strip(), "ä"])
environments = st.builds(
    Environment,
    hottest_c=st.none() | st.sampled_from([40.0, 60.0, 85.5]), coldest_c=st.none() | st.sampled_from([-40.0, 0.0]), sun=st.booleans(),
    cleaning_agents=st.lists(AGENTS, unique=True, max_size=3).map(tuple), oil=st.booleans(), water=st.booleans(),
    vandal_class=st.sampled_from(VandalClass), shock_vibration=st.none() | st.sampled_from(VibrationClass),
    creepage_mm=st.none() | st.sampled_from([5.0, 8.0]), antistatic=st.booleans(),
)  # fmt: skip


def text(environment):
    return joined(environment_lines(environment))


@given(environments, environments)
def test_equal_lines_mean_equal_demands(one, other):
    assert (text(one) == text(other)) is (set(demands(one)) == set(demands(other)))
    assert not text(one) or is_well_formed(text(one))


def test_the_lines_by_hand():
    asked = Environment(hottest_c=85.0, sun=True, cleaning_agents=("foam 3 %",), vandal_class=VandalClass.HANDLED, shock_vibration=VibrationClass.BODY_B)
    assert text(asked).splitlines() == [
        "environment hottest c: 85", 'environment sun: "yes"', 'environment cleaning agent "foam 3 %": "yes"',
        'environment vandal class: "handled"', 'environment shock vibration: "1B"',
    ]  # fmt: skip
    assert text(None) == text(Environment()) == ""


def proofs(*owns):
    told = tuple(Proof.model_validate_json(json.dumps(as_json(**own)), strict=True) for own in owns)
    return joined(proof_lines(PETG.model_copy(update={"proof": told})))


def test_the_lines_of_a_proof_by_hand():
    assert proofs({"conditions": "1,000 h"}).splitlines() == [
        'proof "hottest_c" "ISO 75-2" value: 85', 'proof "hottest_c" "ISO 75-2" unit: "°C"', 'proof "hottest_c" "ISO 75-2" passed: "yes"',
        'proof "hottest_c" "ISO 75-2" conditions: "1,000 h"', 'proof "hottest_c" "ISO 75-2" tested on: "2025-03-04"',
        'proof "hottest_c" "ISO 75-2" file: "documents/heat.txt"', f'proof "hottest_c" "ISO 75-2" sha256: "{"5" * 64}"',
    ]  # fmt: skip
    assert proofs() == ""


@pytest.mark.parametrize(
    "own",
    [
        {"property": "creepage_mm"}, {"method": "ISO 75-1"}, {"value": 86}, {"passed": False}, {"conditions": "1 h"}, {"tested_on": "2025-03-05"},
        {"file": "documents/x.txt"}, {"sha256": "6" * 64},
    ],
    ids=str,
)  # fmt: skip
def test_every_field_is_bound(own):
    assert proofs(own) != proofs({})


def test_two_proofs_of_one_name_are_told_apart_and_their_order_is_none():
    one, other = {"value": 85}, {"value": 70, "passed": False}
    assert proofs(one, other) == proofs(other, one) != proofs(one, one)
    assert is_well_formed(proofs(one, other))
    assert proofs(one, one) == proofs(one)
