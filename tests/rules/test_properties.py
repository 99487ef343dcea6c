"""What a place asks against what was tested: units, days, files, agents, classes, and never kinder than it should be."""

import json
from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from generator.records.catalogue import KeptFile
from generator.records.environment import LIMITS, UNITS, Environment, Property, VandalClass, VibrationClass
from generator.records.parts import Fit
from generator.records.proof import Proof
from generator.rules.basis import Basis
from generator.rules.contested import contested
from generator.rules.facts.case import Case, Copy
from generator.rules.facts.of_place import place_facts, rows_at
from generator.rules.history import history
from generator.rules.properties import Idle, PropertyAnswer, PropertyDemand, Weighed, demands, rows
from tests.fixtures.tiny import DAY, KNOB
from tests.rules.cases import tiny

FILE = KeptFile(path="materials/documents/heat.txt", size_bytes=9, sha256="5" * 64)
MET, NOT_MET, NOT_SHOWN = PropertyAnswer.MET, PropertyAnswer.NOT_MET, PropertyAnswer.NOT_SHOWN
VALUES = {
    Property.HOTTEST: 85.0, Property.COLDEST: -25.0, Property.CREEPAGE: 8.0, Property.CLEANING_AGENTS: "foam 3 %",
    Property.VANDAL_CLASS: "handled", Property.SHOCK_VIBRATION: "1B",
}  # fmt: skip
FLAGS = [kind for kind in Property if kind not in VALUES]


def as_json(**own):
    told = {"property": "hottest_c", "method": "ISO 75-2", "passed": True, "tested_on": "2025-03-04", "file": "documents/heat.txt", "sha256": FILE.sha256}
    kind = Property(own.get("property", "hottest_c"))
    if kind in VALUES:
        told["value"] = VALUES[kind]
    if kind in UNITS:
        told["unit"] = UNITS[kind]
    return {key: value for key, value in (told | own).items() if value is not None}


def proof(kind=Property.HOTTEST, value=None, **own):
    given_value = {} if value is None else {"value": value}
    return Proof.model_validate_json(json.dumps(as_json(property=kind.value, **given_value, **own), default=str), strict=True)


def place(**asked):
    return Environment.model_validate_json(json.dumps(asked), strict=True)


def asking(kind, value=None):
    """An environment that asks one thing alone."""
    told = VALUES.get(kind, True) if value is None else value
    return place(**{kind.value: [told] if kind is Property.CLEANING_AGENTS else told})


def answer(environment, *proofs):
    (row,) = rows(environment, [each if isinstance(each, Weighed) else Weighed(each) for each in proofs])
    return row.answer


@pytest.mark.parametrize("kind", Property)
def test_a_demand_is_met_by_its_proof_and_by_nothing_else(kind):
    asked = asking(kind)
    assert answer(asked, proof(kind)) is MET
    assert answer(asked) is NOT_SHOWN
    assert answer(asked, *(proof(other) for other in Property if other is not kind)) is NOT_SHOWN


@pytest.mark.parametrize("kind", Property)
def test_what_failed_speaks_against_it_whatever_else_is_shown(kind):
    assert answer(asking(kind), proof(kind, passed=False)) is NOT_MET
    assert answer(asking(kind), proof(kind), proof(kind, passed=False)) is NOT_MET
    assert answer(asking(kind), proof(kind, passed=False), proof(kind)) is NOT_MET


@pytest.mark.parametrize("kind", Property)
@pytest.mark.parametrize("idle", Idle)
def test_a_proof_that_does_not_count_shows_nothing_and_is_told(kind, idle):
    (row,) = rows(asking(kind), [Weighed(proof(kind), idle)])
    assert (row.answer, [each.idle for each in row.idle]) == (NOT_SHOWN, [idle])


@pytest.mark.parametrize("empty", ["TBD", "-", "to be written", "?", "unknown", "123"])
@pytest.mark.parametrize("field", ["method", "conditions"])
def test_a_proof_that_says_nothing_proves_nothing(field, empty):
    (row,) = rows(asking(Property.HOTTEST), [Weighed(proof(**{field: empty}))])
    assert (row.answer, row.idle[0].idle) == (NOT_SHOWN, Idle.SAYS_NOTHING)


@pytest.mark.parametrize("asked", [None, Environment(), place(sun=False, oil=False, water=False, antistatic=False, vandal_class="none", cleaning_agents=[])])
def test_what_is_left_out_and_what_is_false_is_no_demand(asked):
    assert demands(asked) == ()
    assert rows(asked, [Weighed(proof(passed=False))]) == ()


@pytest.mark.parametrize(
    ("kind", "needed", "shown", "margin"),
    [
        (Property.HOTTEST, 85, 85, 0), (Property.HOTTEST, 85, 90, 5), (Property.HOTTEST, 85, 84.9, -0.1),
        (Property.COLDEST, -25, -25, 0), (Property.COLDEST, -25, -40, 15), (Property.COLDEST, -25, -24, -1),
        (Property.COLDEST, 0, 5, -5), (Property.CREEPAGE, 8, 8, 0), (Property.CREEPAGE, 8, 7, -1),
    ],
)  # fmt: skip
def test_margins_worked_out_by_hand(kind, needed, shown, margin):
    (row,) = rows(asking(kind, needed), [Weighed(proof(kind, shown))])
    assert row.margin == pytest.approx(margin)
    assert row.answer is (MET if margin >= 0 else NOT_MET)


@pytest.mark.parametrize("needed", VibrationClass)
@pytest.mark.parametrize("shown", VibrationClass)
def test_vibration_classes_by_their_severity(needed, shown):
    """EN 61373: 2 > 1B > 1A, and 3 alone, since its range begins at a higher frequency (from memory)."""
    order = ["1A", "1B", "2", "3"]
    wanted = MET if order.index(shown) >= order.index(needed) else NOT_MET
    if shown == "3" != needed:
        wanted = NOT_SHOWN
    assert answer(asking(Property.SHOCK_VIBRATION, needed), proof(Property.SHOCK_VIBRATION, shown)) is wanted


def test_a_harder_class_of_hands_covers_a_milder_one():
    order = ["touched", "handled", "attacked"]
    for needed in order:
        for shown in order:
            wanted = MET if order.index(shown) >= order.index(needed) else NOT_MET
            assert answer(asking(Property.VANDAL_CLASS, needed), proof(Property.VANDAL_CLASS, shown)) is wanted


@pytest.mark.parametrize("other", ["foam 5 %", "foam", "alkaline foam 3 %", "all agents", "water"])
def test_a_proof_of_one_agent_speaks_of_that_agent_alone(other):
    asked = place(cleaning_agents=["foam 3 %"])
    assert answer(asked, proof(Property.CLEANING_AGENTS, other)) is NOT_SHOWN
    assert answer(asked, proof(Property.CLEANING_AGENTS), proof(Property.CLEANING_AGENTS, other, passed=False)) is MET
    two = rows(place(cleaning_agents=["foam 3 %", other]), [Weighed(proof(Property.CLEANING_AGENTS))])
    assert [row.answer for row in two] == [MET, NOT_SHOWN]


def test_an_agent_is_the_same_however_it_is_spaced():
    assert answer(place(cleaning_agents=["Foam  3 %"]), proof(Property.CLEANING_AGENTS)) is MET


def test_what_failed_at_a_harder_test_alone_shows_nothing():
    assert answer(asking(Property.HOTTEST, 60), proof(value=90, passed=False)) is NOT_SHOWN
    assert answer(asking(Property.HOTTEST, 60), proof(value=90, passed=False), proof(value=70)) is MET
    assert answer(asking(Property.HOTTEST, 80), proof(value=75), proof(value=110)) is MET  # tested no further is no failure


numbers = {kind: st.floats(*LIMITS[kind]) for kind in UNITS}
KINDER = {MET: 0, NOT_SHOWN: 1, NOT_MET: 1}


def pairs(kind):
    return st.tuples(st.just(kind), numbers[kind], numbers[kind], st.lists(st.tuples(numbers[kind], st.booleans()), max_size=4))


@given(st.sampled_from(list(UNITS)).flatmap(pairs))
def test_a_harder_place_never_passes_what_a_milder_one_fails(drawn):
    kind, one, other, tested = drawn
    milder, harder = sorted((one, other), reverse=kind is Property.COLDEST)
    proofs = [proof(kind, value, passed=passed) for value, passed in tested]
    assert KINDER[answer(asking(kind, harder), *proofs)] >= KINDER[answer(asking(kind, milder), *proofs)]


classes = st.sampled_from([each for each in VandalClass if each is not VandalClass.NONE])


@given(classes, classes, st.lists(st.tuples(classes, st.booleans()), max_size=4))
def test_a_rougher_place_never_passes_what_a_milder_one_fails(one, other, tested):
    order, kind = list(VandalClass), Property.VANDAL_CLASS
    milder, harder = sorted((one, other), key=order.index)
    proofs = [proof(kind, value, passed=passed) for value, passed in tested]
    assert KINDER[answer(asking(kind, harder), *proofs)] >= KINDER[answer(asking(kind, milder), *proofs)]


@given(st.lists(st.tuples(st.sampled_from(list(Property)), st.booleans()), max_size=6), st.sampled_from(list(Property)))
def test_one_more_failed_test_never_makes_it_kinder(tested, kind):
    proofs = [proof(each, passed=passed) for each, passed in tested]
    before, after = answer(asking(kind), *proofs), answer(asking(kind), *proofs, proof(kind, passed=False))
    assert KINDER[after] >= KINDER[before]


# What no record may say; each is one message.
REFUSED = {
    "fahrenheit": {"value": 185, "unit": "°F"}, "kelvin by name": {"value": 85, "unit": "K"}, "kelvin by number": {"value": 358},
    "no unit": {"unit": None}, "another's unit": {"unit": "mm"}, "degrees in words": {"unit": "C"}, "below nothing": {"value": -300},
    "a text": {"value": "85"}, "no value": {"value": None}, "true": {"value": True}, "a list": {"value": [85]},
    "a unit of what has none": {"property": "sun", "unit": "°C"}, "a value of what has none": {"property": "oil", "value": 3},
    "a class that is none": {"property": "shock_vibration", "value": "1C"}, "a class as a number": {"property": "shock_vibration", "value": 2},
    "hands that do nothing": {"property": "vandal_class", "value": "none"}, "an agent without a name": {"property": "cleaning_agents", "value": "TBD"},
    "an agent by number": {"property": "cleaning_agents", "value": 3}, "creepage in cm": {"property": "creepage_mm", "unit": "cm"},
    "creepage of nothing": {"property": "creepage_mm", "value": 0}, "coldest in kelvin": {"property": "coldest_c", "value": 233},
    "not said how it went": {"passed": None}, "passed as a word": {"passed": "yes"}, "not said by which method": {"method": None},
    "thirteenth month": {"tested_on": "2025-13-01"}, "of before plastics": {"tested_on": "1925-01-01"}, "outside": {"file": "../x.pdf"},
}  # fmt: skip


@pytest.mark.parametrize("own", REFUSED.values(), ids=REFUSED)
def test_bad_proofs_are_refused_with_one_message(own):
    with pytest.raises(ValidationError) as found:
        Proof.model_validate_json(json.dumps(as_json(**own)), strict=True)
    assert found.value.error_count() == 1


@given(st.sampled_from(list(UNITS)), st.text(max_size=4))
def test_units_cannot_be_mixed(kind, unit):
    told = as_json(property=kind.value) | {"unit": unit}
    if unit.strip() == UNITS[kind]:
        Proof.model_validate_json(json.dumps(told), strict=True)
    else:
        with pytest.raises(ValidationError):
            Proof.model_validate_json(json.dumps(told), strict=True)


@pytest.mark.parametrize(
    "asked",
    [
        {"hottest_c": 20, "coldest_c": 30}, {"hottest_c": 343}, {"hottest_c": -5}, {"coldest_c": 233}, {"coldest_c": -273.15}, {"hottest_c": "85"},
        {"hottest_c": True}, {"sun": "yes"}, {"sun": 1}, {"vandal_class": "rough"}, {"shock_vibration": "1C"}, {"shock_vibration": 2},
        {"creepage_mm": 0}, {"creepage_mm": -8}, {"cleaning_agents": ["TBD"]}, {"cleaning_agents": ["Foam 3 %", "foam  3 %"]},
        {"cleaning_agents": "foam"}, {"hotest_c": 85}, {"antistatic": None},
    ],
    ids=str,
)  # fmt: skip
def test_bad_environments_are_refused_with_one_message(asked):
    with pytest.raises(ValidationError) as found:
        place(**asked)
    assert found.value.error_count() == 1


def case_of(*proofs, asked=None, files=None, certificates=None, day=DAY):
    """The knob at A1's cab, which asks `asked`, printed of PETG with these proofs; and its facts."""
    environment = place(**({"hottest_c": 80} if asked is None else asked))
    a1 = tiny().fleets["A1"]
    there = tuple(each.model_copy(update={"environment": environment if each.id == "cab" else None}) for each in a1.places)
    petg = tiny().materials["petg"].model_copy(update={"proof": proofs})
    if certificates:
        petg = petg.model_copy(update={"certificates": certificates(petg)})
    kept = tiny().material_files | {"documents/heat.txt": FILE} if files is None else files
    catalogue = replace(
        tiny(), fleets=tiny().fleets | {"A1": a1.model_copy(update={"places": there})}, materials=tiny().materials | {"petg": petg}, material_files=kept
    )
    folder = tiny().folder(KNOB)
    return Case(
        folder=folder, part=folder.part, catalogue=catalogue, history=history(None, day), copy=Copy(day, 30), bound={}, problems=(),
        contested=contested(catalogue.materials),
    )  # fmt: skip


def facts_of(*proofs, where="cab", material=True, **own):
    case = case_of(*proofs, **own)
    basis = Basis(case.catalogue.materials["petg"] if material else None, None, is_safety=False)
    return place_facts(case, Fit(fleet="A1", place=where, per_vehicle=1), basis)


def test_the_facts_name_what_is_not_met_and_what_is_not_shown():
    found = facts_of(proof(value=75), asked={"hottest_c": 80, "sun": True, "oil": True, "cleaning_agents": ["a 1 %", "b 2 %"]})
    assert found.unproven == ("hottest_c", "sun", "cleaning_agents", "oil")
    assert (found.unmet, found.unshown) == (("hottest_c",), ("sun", "cleaning_agents", "oil"))
    assert found.proof_files == ("materials/documents/heat.txt",)


def test_a_proof_that_is_kept_and_of_its_day_is_enough():
    found = facts_of(proof())
    assert (found.unproven, found.asked_there) == ((), ("hottest_c",))
    assert facts_of(where="door").unproven == ()


def test_a_material_or_a_place_that_nobody_knows_shows_nothing():
    assert facts_of(proof(), material=False).unshown == ("hottest_c",)
    assert facts_of(proof(), where="nowhere").unproven == ("place",)


@pytest.mark.parametrize(("shift", "counts"), [(-1, True), (0, True), (1, False)])
def test_a_proof_counts_from_its_day(shift, counts):
    assert (facts_of(proof(tested_on=DAY + timedelta(days=shift))).unproven == ()) is counts


@pytest.mark.parametrize(
    "files",
    [{}, {"documents/heat.txt": replace(FILE, size_bytes=0)}, {"documents/heat.txt": replace(FILE, sha256="6" * 64)}, {"documents/cold.txt": FILE}],
    ids=["gone", "empty", "another", "elsewhere"],
)  # fmt: skip
def test_a_proof_whose_file_is_not_kept_proves_nothing(files):
    assert facts_of(proof(), files=files).unshown == ("hottest_c",)


def test_two_proofs_of_which_one_is_not_kept():
    assert facts_of(proof(), proof(file="documents/gone.txt")).unproven == ()
    assert facts_of(proof(value=75), proof(file="documents/gone.txt")).unmet == ("hottest_c",)


def test_the_material_certificate_is_no_proof():
    def same_file(petg):
        return (petg.certificates[0].model_copy(update={"file": "documents/heat.txt", "sha256": FILE.sha256}),)

    assert facts_of(proof(), certificates=same_file).unshown == ("hottest_c",)


MUTATIONS = {
    "property": {"property": "coldest_c"}, "method": {"method": "TBD"}, "value": {"value": 79.9}, "passed": {"passed": False},
    "conditions": {"conditions": "?"}, "tested_on": {"tested_on": DAY + timedelta(days=1)}, "file": {"file": "documents/gone.txt"},
    "sha256": {"sha256": "7" * 64},
}  # fmt: skip
HARMLESS = {
    "method": {"method": "ISO 2578"}, "value": {"value": 200}, "conditions": {"conditions": "5,000 h"}, "tested_on": {"tested_on": date(2020, 1, 1)},
}  # fmt: skip


def mutated(*changes):
    told = {key: value for change in changes for key, value in change.items()}
    kind = Property(told.pop("property", "hottest_c"))
    if kind is Property.COLDEST:
        told["value"] = min(told.get("value", 0), 0)
    return proof(kind, told.pop("value", None), **told)


@pytest.mark.parametrize("spoilt", MUTATIONS)
@pytest.mark.parametrize("other", [*MUTATIONS, *(f"{each} well" for each in HARMLESS)])
def test_no_change_of_another_field_mends_a_spoilt_one(spoilt, other):
    """Each field alone can keep the proof from counting, and no other field makes up for it."""
    assert facts_of(mutated(MUTATIONS[spoilt])).unproven == ("hottest_c",)
    name, is_well = other.removesuffix(" well"), other.endswith(" well")
    if name != spoilt:
        change = HARMLESS[name] if is_well else MUTATIONS[name]
        assert facts_of(mutated(MUTATIONS[spoilt], change)).unproven == ("hottest_c",)


@pytest.mark.parametrize("property_", FLAGS)
def test_flags_are_asked_by_true_alone(property_):
    assert demands(place(**{property_.value: True})) == (PropertyDemand(property_),)
    assert demands(place(**{property_.value: False})) == ()


def test_every_property_is_a_field_of_the_environment():
    assert {each.value for each in Property} == set(Environment.model_fields)


def test_rows_stand_in_the_order_of_the_record():
    found = rows_at(Fit(fleet="A1", place="cab", per_vehicle=1), None, case_of(asked={"water": True, "hottest_c": 60}).catalogue, DAY, ())
    assert [row.demand.property.value for row in found] == ["hottest_c", "water"]
