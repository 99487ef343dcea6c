"""What pieces made under an approval rest on: its own material and wall, what is known of the place now, the careful role."""

from dataclasses import replace
from datetime import date

import pytest

from generator.records.evidence import Evidence
from generator.records.fire import FireExemption
from generator.records.parts import Fit, SafetyRole
from generator.rules.basis import basis_now, basis_then
from generator.rules.fingerprint import canonical_text
from tests.rules.cases import knob, tiny

STATEMENT = FireExemption(
    reference="N-1", by="fire-engineer", on=date(2026, 1, 1), open_ended=True,
    evidence=Evidence(file="documents/note.txt", sha256="1" * 64),
)  # fmt: skip


FIT = Fit(fleet="A1", place="cab", per_vehicle=2)


def part(*, role=SafetyRole.NONE, **fire):
    """The tiny knob, of PETG, with a wall of 1.5 mm and requirement set R22."""
    own = knob()
    return own.model_copy(update={"safety_role": role, "fire": own.fire.model_copy(update=fire)})


def approved(of=None, version=4):
    return canonical_text(of or part(), tiny().materials["petg"], tiny().makers.values(), "0" * 64, version=version)


def then(text, now=None, catalogue=None):
    catalogue = catalogue or tiny()
    return basis_then(text, basis_now(now or part(), catalogue, FIT), catalogue, FIT)


@pytest.mark.parametrize("role_then", SafetyRole)
@pytest.mark.parametrize("role_now", SafetyRole)
def test_a_safety_role_then_or_now_keeps_old_pieces_careful(role_then, role_now):
    """The role belongs to the place that the piece is fitted to; common practice, no source."""
    careful = SafetyRole.SAFETY in (role_then, role_now)
    assert then(approved(part(role=role_then)), part(role=role_now)).is_safety is careful


def test_a_text_that_does_not_say_the_role_is_careful():
    text = "".join(line for line in approved().splitlines(keepends=True) if not line.startswith("safety role"))
    assert then(text).is_safety


def test_the_material_counts_while_the_catalogue_says_the_same_of_it():
    petg = tiny().materials["petg"]
    assert then(approved()).material == petg
    denser = petg.model_copy(update={"density_g_cm3": 1.3})
    assert then(approved(), catalogue=replace(tiny(), materials={"petg": denser})).material is None


def test_a_material_that_has_left_the_catalogue_is_unknown():
    assert then(approved(), catalogue=replace(tiny(), materials={})).material is None


def test_the_wall_is_that_of_the_pieces_and_the_set_that_of_the_place_now():
    fire = then(approved(), part(thinnest_wall_mm=3.0, requirement_set="R24")).fire
    assert (fire.thinnest_wall_mm, fire.requirement_set) == (1.5, "R24")


def test_a_text_that_does_not_say_the_wall_leaves_it_unknown():
    text = "".join(line for line in approved().splitlines(keepends=True) if not line.startswith("thinnest wall"))
    fire = then(text).fire
    assert (fire.thinnest_wall_mm, fire.requirement_set) == (None, "R22")


def test_where_nobody_has_chosen_the_set_now_nobody_knows_it_of_old_pieces():
    assert then(approved(), part().model_copy(update={"fire": None})).fire is None


def test_a_fire_engineers_statement_counts_only_as_the_approval_names_it():
    named = approved(part(exemption=STATEMENT))
    assert then(named, part(exemption=STATEMENT)).fire.exemption == STATEMENT
    other = STATEMENT.model_copy(update={"reference": "N-2"})
    assert then(named, part(exemption=other)).fire.exemption is None
    assert then(approved(), part(exemption=STATEMENT)).fire.exemption is None
    assert then(named).fire.exemption is None


@pytest.mark.parametrize("version", [1, 2])
def test_where_there_is_no_statement_none_counts(version):
    fire = then(approved(version=version)).fire
    assert (fire.requirement_set, fire.exemption) == ("R22", None)
