"""What pieces made under an approval rest on: its own material and wall, what is known of the place now, the careful role."""

from dataclasses import replace
from datetime import date

import pytest

from generator.geometry.sections import Walls
from generator.records.catalogue import KeptFile
from generator.records.evidence import Evidence
from generator.records.fire import FireExemption
from generator.records.parts import Fit, SafetyRole
from generator.rules.basis import basis_now, basis_then
from generator.rules.fingerprint import canonical_text, place_text
from tests.rules.cases import knob, tiny

STATEMENT = FireExemption(
    reference="N-1", by="fire-engineer", on=date(2026, 1, 1), open_ended=True,
    evidence=Evidence(file="documents/note.txt", sha256="1" * 64),
)  # fmt: skip


FIT = Fit(fleet="A1", place="cab", per_vehicle=2)
WALLS = Walls(thinnest_mm=1.5, thickest_mm=4.0, nominal_mm=2.0, thinnest_at=(0.0, 0.0, 0.0), thickest_at=(1.0, 0.0, 0.0))


def part(*, role=SafetyRole.NONE, **fire):
    """The tiny knob, of PETG, with a wall of 1.5 mm and requirement set R22."""
    own = knob()
    return own.model_copy(update={"safety_role": role, "fire": own.fire.model_copy(update=fire)})


def approved(of=None, version=4):
    return canonical_text(of or part(), tiny().materials["petg"], tiny().makers.values(), "0" * 64, version=version)


def then(text, now=None, catalogue=None, fit=FIT, **model):
    catalogue = catalogue or tiny()
    return basis_then(text, basis_now(now or part(), catalogue, fit, **model), catalogue, fit)


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


@pytest.mark.parametrize("version", [1, 2, 3, 4])
def test_a_fire_engineers_statement_counts_only_as_the_approval_names_it(version):
    named = approved(part(exemption=STATEMENT), version)
    assert then(named, part(exemption=STATEMENT)).fire.exemption == STATEMENT
    other = STATEMENT.model_copy(update={"reference": "N-2"})
    rewritten = STATEMENT.model_copy(update={"evidence": Evidence(file="documents/note.txt", sha256="2" * 64)})
    assert then(named, part(exemption=other)).fire.exemption is None
    assert then(named, part(exemption=rewritten)).fire.exemption is None
    assert then(approved(version=version), part(exemption=STATEMENT)).fire.exemption is None
    assert then(named).fire.exemption is None


@pytest.mark.parametrize("version", [1, 2, 3, 4])
def test_a_statement_for_one_place_counts_only_where_the_approval_names_it_there(version):
    """Somebody writes it for the place after the approval: pieces of before it are not excused by it."""
    there = FIT.model_copy(update={"fire": part(exemption=STATEMENT).fire})
    assert then(approved(version=version), fit=there).fire.exemption is None
    for_the_part = approved(part(exemption=STATEMENT), version)
    own = place_text(tiny().fleets["A1"], tiny().place("A1", "cab"), there.fire, own=True)
    assert then(f"{approved()}{own}", fit=there).fire.exemption == STATEMENT
    # A text of an older form names the part's alone; of a newer one, a place that has its own is asked about that.
    assert then(for_the_part, fit=there).fire.exemption == (STATEMENT if version <= 2 else None)


def test_a_wall_that_was_told_for_the_place_is_that_of_the_place():
    there = FIT.model_copy(update={"fire": part(thinnest_wall_mm=2.5, thickest_section_mm=9.0).fire})
    own = place_text(tiny().fleets["A1"], tiny().place("A1", "cab"), there.fire, own=True)
    fire = then(f"{approved(part(thickest_section_mm=4.0))}{own}", fit=there).fire
    assert (fire.thinnest_wall_mm, fire.thickest_section_mm) == (2.5, 9.0)


def test_the_thickest_section_is_that_of_the_pieces():
    assert then(approved(part(thickest_section_mm=4.0)), part(thickest_section_mm=40.0)).fire.thickest_section_mm == 4.0
    unsaid = "".join(line for line in approved().splitlines(keepends=True) if not line.startswith("thickest section"))
    assert then(unsaid, part(thickest_section_mm=40.0)).fire.thickest_section_mm is None


@pytest.mark.parametrize(("sha256", "walls"), [("0" * 64, WALLS), ("1" * 64, None), (None, None)])
def test_measured_walls_speak_only_of_pieces_of_the_same_model(sha256, walls):
    mesh = KeptFile(path="model/knob.stl", size_bytes=9, sha256=sha256) if sha256 else None
    assert then(approved(), mesh=mesh, walls=WALLS).walls == walls


def test_two_parts_without_a_model_have_no_same_one():
    text = canonical_text(part(), tiny().materials["petg"], tiny().makers.values(), None)
    assert then(text, walls=WALLS).walls is None


def test_what_else_was_or_is_in_the_part_is_looked_at():
    """A clip of nylon that was taken out sits in the pieces of before still, and one that came since is no reason to look away."""
    nylon = tiny().materials["nylon"]
    both = part().model_copy(update={"further_materials": ("nylon",)})
    told = canonical_text(both, tiny().materials["petg"], tiny().makers.values(), "0" * 64, further={"nylon": nylon})
    assert [name for name, _ in then(told).further] == [name for name, _ in then(approved(), both).further] == ["nylon"]
    assert then(told, catalogue=replace(tiny(), materials={"petg": tiny().materials["petg"]})).further == (("nylon", None),)


def test_papers_of_what_else_is_in_it_count_only_as_the_approval_names_them():
    nylon = tiny().materials["nylon"]
    paper = tiny().materials["petg"].certificates[0]
    papered = nylon.model_copy(update={"certificates": (paper,)})
    both = part().model_copy(update={"further_materials": ("nylon",)})
    catalogue = replace(tiny(), materials=tiny().materials | {"nylon": papered})

    def counting(further):
        text = canonical_text(both, tiny().materials["petg"], tiny().makers.values(), "0" * 64, further={"nylon": further})
        return dict(then(text, both, catalogue).further)["nylon"].certificates

    assert counting(papered) == (paper,)
    assert counting(nylon.model_copy(update={"certificates": ()})) == ()


@pytest.mark.parametrize("version", [1, 2])
def test_where_there_is_no_statement_none_counts(version):
    fire = then(approved(version=version)).fire
    assert (fire.requirement_set, fire.exemption) == ("R22", None)
