"""Groups of small parts, worked out by hand: what burns at a place, and which sets could be meant. All arithmetic stands here."""

import math
from dataclasses import replace
from heapq import nlargest
from random import Random

import pytest

from generator.geometry.facts import MeshFacts
from generator.records.fire import Fire, Neighbour
from generator.records.fleets import Area
from generator.records.parts import Fit
from generator.records.vehicles import vehicles_in
from generator.rules.fire.candidates import candidates
from generator.rules.fire.small_parts import Group, Member, group_at
from tests.rules.cases import tiny

STANDARD = tiny().standard
RULES = STANDARD.small_parts
KNOB, LEVER, CLIP = (tiny().folder(number).part for number in ("EX-0001", "EX-0002", "EX-0003"))
PETG, NYLON = tiny().materials["petg"], tiny().materials["nylon"]


def mesh(volume_mm3, area_mm2):
    return MeshFacts(
        size_mm=(10, 10, 10), oriented_size_mm=(10, 10, 10), faces=12, vertices=8, bodies=1, area_mm2=area_mm2, volume_mm3=volume_mm3,
        is_watertight=volume_mm3 is not None, defects=(),
    )  # fmt: skip


def depot(*parts, petg=None, nylon=None):
    materials = {"petg": PETG.model_copy(update=petg or {}), "nylon": NYLON.model_copy(update=nylon or {})}
    folders = tuple(replace(tiny().folder(part.number), part=part) for part in (parts or (KNOB, LEVER, CLIP)))
    return replace(tiny(), materials=materials, parts=folders)


def knob_at(per_vehicle, **fire):
    said = KNOB.fire.model_copy(update=fire)
    return KNOB.model_copy(update={"fits": (Fit(fleet="A1", place="cab", per_vehicle=per_vehicle),), "fire": said})


def group_of(mass_g, area_m2=0.01, *, pieces=1):
    own = Member(name="x", number="X", pieces=pieces, volume_mm3=1.0, density_g_cm3=1.0, mass_g=mass_g, area_m2=area_m2)
    return Group(own=own)


def told(group, area=Area.INTERIOR, fire=None, standard=STANDARD):
    return [(each.set, each.why) for each in candidates(area, fire, group, standard)]


def other(**rules):
    """The standard with other rules of clause 4, as a depot's own file may have them."""
    return STANDARD.model_copy(update={"small_parts": RULES.model_copy(update=rules)})


def fire(**change):
    return Fire(requirement_set="R22", chosen_by="fire-engineer", reason="x", **change)


def test_a_solid_part_weighs_its_polymer_not_its_print():
    """Laser-sintered PA12: a print weighs 0.95 g/cm³, its polymer 1.01 g/cm³; filled by 20 %, it counts as solid.

    8 000 mm³ = 8 cm³. 8 cm³ × 1.01 g/cm³ = 8.08 g a piece; 14 pieces: 113.12 g.
    2 800 mm² = 0.0028 m². 14 × 0.0028 = 0.0392 m².
    Inside, 113.12 g lies from 100 g and below 500 g: R24. A piece of 8.08 g alone lies below 10 g.
    """
    part = knob_at(14)
    part = part.model_copy(update={"settings": part.settings.model_copy(update={"infill_percent": 20, "wall_mm": 1.2})})
    there = depot(part, petg={"density_g_cm3": 0.95, "solid_density_g_cm3": 1.01})
    group = group_at(part, part.fits[0], there, {"EX-0001": mesh(8000.0, 2800.0)})
    assert (group.own.each_g, group.mass_g, group.area_m2) == (8.08, 113.12, 0.0392)
    assert told(group) == [(None, "alone"), ("R24", "below")]


def test_a_solid_density_that_is_less_than_the_prints_does_not_count():
    """8 cm³ × max(1.27, 1.01) g/cm³ = 10.16 g."""
    part = knob_at(1)
    group = group_at(part, part.fits[0], depot(part, petg={"density_g_cm3": 1.27, "solid_density_g_cm3": 1.01}), {"EX-0001": mesh(8000.0, 2800.0)})
    assert group.mass_g == 10.16


def test_a_group_is_all_that_the_catalogue_and_the_engineer_know_at_the_place():
    """At the bogie of B2: four clips, one lever, and the original bracket that the fire engineer wrote down.

    Clips:  4 × 12 cm³ × 1.25 g/cm³ = 60 g;    4 × 0.004 m² = 0.016 m².
    Lever:  1 × 200 cm³ × 1.1 g/cm³ = 220 g;   0.03 m².
    Bracket, written down:            40 g;    0.01 m².
    Together 320 g and 0.056 m². Outside, below 400 g: a candidate for exemption.
    """
    clip = CLIP.model_copy(
        update={"fire": CLIP.fire.model_copy(update={"neighbours": (Neighbour(what="bracket", combustible_mass_g=40, exposed_area_m2=0.01),)})}
    )
    there = depot(KNOB, LEVER, clip, petg={"density_g_cm3": 1.25}, nylon={"density_g_cm3": 1.1})
    meshes = {"EX-0003": mesh(12_000.0, 4000.0), "EX-0002": mesh(200_000.0, 30_000.0), "EX-0001": mesh(1e6, 1e6)}
    group = group_at(clip, clip.fits[0], there, meshes)
    assert [(each.number, each.mass_g, each.area_m2) for each in group.members] == [
        ("EX-0003", pytest.approx(60), pytest.approx(0.016)), ("EX-0002", pytest.approx(220), pytest.approx(0.03)), (None, 40, 0.01),
    ]  # fmt: skip
    assert (group.mass_g, group.area_m2) == (320, 0.056)
    assert told(group, Area.EXTERIOR) == [(None, "below")]


def test_what_sits_on_other_vehicles_or_elsewhere_is_no_neighbour():
    own = knob_at(1)
    others = [
        LEVER.model_copy(update={"fits": (Fit(fleet="A1", place="cab", vehicles=("11-12",), per_vehicle=1),)}),
        CLIP.model_copy(update={"fits": (Fit(fleet="A1", place="door", per_vehicle=1),)}),
    ]
    fit = own.fits[0].model_copy(update={"vehicles": ("13-14",)})
    there = depot(own, *others)
    assert [each.number for each in group_at(own, fit, there, {}).members] == ["EX-0001"]
    assert [each.number for each in group_at(own, own.fits[0], there, {}).members] == ["EX-0001", "EX-0002"]


@pytest.mark.parametrize(("area", "limit", "below", "at"), [
    (Area.INTERIOR, 100.0, (None, "below"), ("R24", "below")),
    (Area.CAVITY, 100.0, (None, "below"), ("R24", "below")),
    (Area.INTERIOR, 500.0, ("R24", "below"), ("R22", "above")),
    (Area.EXTERIOR, 400.0, (None, "below"), ("R24", "below")),
    (Area.EXTERIOR, 2000.0, ("R24", "below"), ("R23", "above")),
])  # fmt: skip
def test_equality_counts_as_over(area, limit, below, at):
    assert told(group_of(limit - 0.01), area) == [below]
    assert told(group_of(limit), area) == [at]


def test_a_piece_of_exactly_ten_grams_is_not_below_ten():
    assert told(group_of(9.99))[0] == (None, "alone")
    assert told(group_of(10.0)) == [(None, "below")]


def test_rounding_makes_no_group_smaller():
    """100 pieces of 0.9999 g are 99.99 g; 99.991 g is counted up to 100 g, shown so, and is over."""
    assert told(group_of(99.99, pieces=100))[-1] == (None, "below")
    group = group_of(99.991, pieces=10)
    assert group.mass_g == 100
    assert told(group)[-1] == ("R24", "below")
    # 0.1 g, ten times, is 1 g although a computer's sum of ten tenths is less
    assert Group(own=group_of(0.1).own, written=(group_of(0.1).own,) * 9).mass_g == 1


def test_a_large_surface_asks_for_a_set_of_surfaces_whatever_it_weighs():
    assert told(group_of(50, 0.1999)) == [(None, "below")]
    assert told(group_of(50, 0.2)) == [("R1", "large area")]
    assert told(group_of(50, 0.2), Area.EXTERIOR) == [("R7", "large area")]


def test_the_area_that_the_engineer_wrote_down_takes_the_meshs_place():
    part = knob_at(14, exposed_area_m2=0.25)
    group = group_at(part, part.fits[0], depot(part), {"EX-0001": mesh(8000.0, 2800.0)})
    assert group.area_m2 == 0.25
    assert ("R1", "large area") in told(group)


@pytest.mark.parametrize("facts", [None, mesh(None, 2800.0)], ids=["no mesh", "a mesh with holes"])
def test_what_is_not_measured_is_never_a_candidate_for_exemption(facts):
    part = knob_at(1)
    group = group_at(part, part.fits[0], depot(part), {"EX-0001": facts} if facts else {})
    assert (group.mass_g, group.area_m2, group.own.each_g) == (None, None, None)
    assert told(group) == [("R1", "area unknown"), ("R22", "mass unknown")]


def test_one_unknown_neighbour_makes_the_group_unknown():
    part = knob_at(1)
    lever = LEVER.model_copy(update={"fits": part.fits})
    group = group_at(part, part.fits[0], depot(part, lever), {"EX-0001": mesh(1000.0, 600.0)})
    assert group.mass_g is None
    assert [each for each in told(group) if each[0] is None] == []


def test_of_an_unknown_material_or_of_two_nobody_knows_what_burns():
    meshes = {"EX-0001": mesh(1000.0, 600.0)}
    unknown = knob_at(1).model_copy(update={"material": "no-such"})
    two = knob_at(1).model_copy(update={"further_materials": ("nylon",)})
    for part in (unknown, two):
        assert group_at(part, part.fits[0], depot(part), meshes).mass_g is None
    with_insert = depot(two, nylon={"combustible": False})
    assert group_at(two, two.fits[0], with_insert, meshes).mass_g is not None


def test_what_cannot_burn_weighs_nothing_beside_others_and_asks_nothing_itself():
    part = knob_at(1)
    lever = LEVER.model_copy(update={"fits": part.fits})
    there = depot(part, lever, nylon={"combustible": False}, petg={"density_g_cm3": 1.0})
    group = group_at(part, part.fits[0], there, {"EX-0001": mesh(1000.0, 600.0)})
    assert group.mass_g == 1
    assert told(group_at(lever, lever.fits[0], there, {"EX-0001": mesh(1000.0, 600.0)})) == [(None, "cannot burn")]


def test_a_listed_product_is_told_by_table_2_alone():
    light = group_of(1)
    assert told(light, fire=fire(product="IN8")) == [("R1", "listed")]
    assert told(light, Area.EXTERIOR, fire(product="EL2")) == [("R23", "listed")]  # R22 is for the inside
    assert told(light, fire=fire(product="IN99")) == []  # clause 4 does not speak of what is listed


def test_an_electrotechnical_part_may_be_meant_by_more():
    found = told(group_of(600), fire=fire(electrotechnical=True))
    assert found == [("R22", "above"), ("R24", "electrotechnical"), ("R25", "electrotechnical"), ("R26", "electrotechnical")]


def test_a_set_that_the_edition_lacks_is_no_candidate():
    lamp = STANDARD.model_copy(update={"products": (STANDARD.product("IN8").model_copy(update={"sets": ("R1", "R27")}),)})
    assert [each.set for each in candidates(Area.INTERIOR, fire(product="IN8"), group_of(1), lamp)] == ["R1", "R27"]
    assert [each.set for each in candidates(Area.INTERIOR, fire(product="IN8", edition="2013"), group_of(1), lamp)] == ["R1"]


def test_every_candidate_tells_its_clause_and_how_sure_it_is():
    for each in (*candidates(Area.INTERIOR, fire(electrotechnical=True), group_of(600, None), STANDARD), *candidates(Area.INTERIOR, fire(product="IN8"), group_of(1), STANDARD)):
        assert each.clause
        assert each.source
        assert each.certainty


def test_nothing_light_is_exempt_while_its_surface_is_unknown_and_no_small_surface_while_its_mass_is():
    assert told(group_of(50, None)) == [("R1", "area unknown"), ("R22", "area unknown")]
    assert told(group_of(None, 0.01)) == [("R22", "mass unknown")]
    assert told(group_of(None, 0.5)) == [("R1", "large area")]


def test_where_the_tables_name_no_set_nothing_is_suggested_and_never_that_no_test_is_asked():
    """A depot's own file may leave rows out."""
    assert told(group_of(50, 0.5), standard=other(surface_sets={})) == []
    for mass_g, area_m2 in ((600, 0.01), (None, 0.01)):
        assert told(group_of(mass_g, area_m2), standard=other(steps=tuple(each for each in RULES.steps if Area.EXTERIOR in each.areas))) == []
        ends_open = tuple(each.model_copy(update={"set": None}) if each.below_g is None else each for each in RULES.steps)
        assert told(group_of(mass_g, area_m2), standard=other(steps=ends_open)) == []


def test_a_candidate_tells_what_it_is_for_and_the_limit_that_it_turns_on():
    def limits(group, fire=None, standard=STANDARD):
        return [(each.set, each.limit, each.says) for each in candidates(Area.INTERIOR, fire, group, standard)]

    says = {name: STANDARD.set_of(name).says for name in ("R1", "R22", "R24")}
    assert limits(group_of(9)) == [(None, 10, ""), (None, 100, "")]
    assert limits(group_of(150)) == [("R24", 500, says["R24"])]
    assert limits(group_of(600)) == [("R22", 500, says["R22"])]
    assert limits(group_of(50, 0.3)) == [("R1", 0.2, says["R1"])]
    assert limits(group_of(None)) == [("R22", None, says["R22"])]
    only = other(steps=tuple(each for each in RULES.steps if each.below_g is None))
    assert limits(group_of(600), standard=only) == [("R22", None, says["R22"])]
    bare = STANDARD.model_copy(update={"sets": ()})
    assert limits(group_of(1), fire(product="IN8"), bare) == [("R1", None, "")]


def test_more_sets_are_meant_of_what_is_electrotechnical_and_not_listed_alone():
    assert told(group_of(600), fire=fire()) == [("R22", "above")]
    assert told(group_of(600), fire=fire(product="IN8", electrotechnical=True)) == [("R1", "listed")]


def test_a_set_is_held_against_the_edition_that_counts_and_what_we_hold_nothing_of_stays():
    def found(standard=STANDARD, **chosen):
        lamp = standard.product("IN8").model_copy(update={"sets": ("R1", "R26", "R27")})
        own = standard.model_copy(update={"products": (lamp,)})
        return [each.set for each in candidates(Area.INTERIOR, fire(product="IN8", **chosen), group_of(1), own)]

    assert found(edition="2013") == ["R1", "R26"]  # it has 26 sets
    assert found() == found(edition="2031") == ["R1", "R26", "R27"]
    assert found(STANDARD.model_copy(update={"limits_of": ("2013",)})) == ["R1", "R26"]
    assert found(STANDARD.model_copy(update={"sets": ()})) == ["R1", "R26", "R27"]


def test_what_burns_in_it_besides_makes_its_weight_and_surface_unknown_also_where_most_of_it_cannot_burn():
    """A metal body with a plastic insert is no metal part."""
    meshes = {"EX-0001": mesh(1000.0, 600.0)}
    metal = knob_at(1).model_copy(update={"material": "nylon", "further_materials": ("petg",)})
    unknown = knob_at(1).model_copy(update={"further_materials": ("no-such",)})
    for part in (metal, unknown):
        group = group_at(part, part.fits[0], depot(part, nylon={"combustible": False}), meshes)
        assert (group.own.burns, group.own.has_further) == (True, True)
        assert (group.mass_g, group.area_m2) == (None, None)
        assert [each for each in told(group) if each[0] is None] == []


def test_what_cannot_burn_adds_no_surface():
    part, lever = knob_at(1), LEVER.model_copy(update={"fits": knob_at(1).fits})
    meshes = {"EX-0001": mesh(1000.0, 600.0), "EX-0002": mesh(1e6, 1e6)}
    group = group_at(part, part.fits[0], depot(part, lever, nylon={"combustible": False}, petg={"density_g_cm3": 1.0}), meshes)
    assert [(each.mass_g, each.area_m2) for each in group.members] == [(1.0, 0.0006), (0.0, 0.0)]


def test_a_square_metre_is_a_million_square_millimetres_and_what_floats_is_not_taken_for_water():
    part = knob_at(1)
    group = group_at(part, part.fits[0], depot(part, petg={"density_g_cm3": 0.9, "solid_density_g_cm3": None}), {"EX-0001": mesh(1000.0, 1e6)})
    assert (group.own.area_m2, group.own.mass_g) == (1.0, 0.9)


def test_what_is_chosen_for_the_place_alone_names_the_neighbours_there():
    bracket, seal = (Neighbour(what=what, combustible_mass_g=mass, exposed_area_m2=0.01) for what, mass in (("bracket", 40), ("seal", 7)))
    part = knob_at(1, neighbours=(bracket,), exposed_area_m2=0.05)
    own = part.fits[0].model_copy(update={"fire": part.fire.model_copy(update={"neighbours": (seal,), "exposed_area_m2": 0.11})})
    for fit, told_mass, area_m2 in ((own, 7, 0.11), (part.fits[0], 40, 0.05)):
        group = group_at(part, fit, depot(part), {})
        assert [(each.pieces, each.mass_g, each.each_g) for each in group.members[1:]] == [(1, told_mass, told_mass)]
        assert group.area_m2 == area_m2


def test_a_part_of_which_nobody_chose_anything_or_whose_fleet_is_unknown_stands_alone():
    part = knob_at(1).model_copy(update={"fire": None})
    assert len(group_at(part, part.fits[0], depot(part), {}).members) == 1
    astray = part.fits[0].model_copy(update={"fleet": "Z9"})
    assert [each.number for each in group_at(part, astray, depot(part), {}).members] == ["EX-0001"]


def test_many_parts_at_a_place_come_to_the_last_digit_to_what_each_of_them_adds_up_to():
    """Against the plain sum over all members (math.fsum is exact), for each part that hangs there; some of them twice."""
    rolled = Random(6)
    vehicles = ((), ("11-12",), ("13-14",), ("12-13",))
    parts = [
        KNOB.model_copy(update={"number": f"EX-{at:04}", "fits": tuple(
            Fit(fleet="A1", place="cab", vehicles=rolled.choice(vehicles), per_vehicle=rolled.randint(1, 9)) for _ in range(rolled.choice((1, 1, 2)))
        )}) for at in range(1, 61)
    ]  # fmt: skip
    there = replace(tiny(), materials={"petg": PETG}, parts=tuple(replace(tiny().folder("EX-0001"), part=part) for part in parts))
    meshes = {part.number: mesh(rolled.choice((1e4, rolled.uniform(0.1, 1e6))), rolled.uniform(0.1, 1e5)) for part in parts}
    for known in (meshes, {number: found for number, found in meshes.items() if number != "EX-0007"}):
        for own, fit in ((each, fit) for each in parts for fit in each.fits):
            adds_up(group_at(own, fit, there, known), own, fit, parts)


def adds_up(group, part, fit, parts):
    own, *others = group.members
    hangs = [
        each.number for each in parts if each.number != part.number for other in each.fits
        if not other.vehicles or not fit.vehicles or set(vehicles_in(other.vehicles)) & set(vehicles_in(fit.vehicles))
    ]  # fmt: skip
    assert (own.number, [each.number for each in others]) == (part.number, hangs)
    sums(group, group.members)
    named, rest = group.heaviest(5)
    heaviest = {id(each) for each in nlargest(5, others, key=lambda each: math.inf if each.mass_g is None else each.mass_g)}
    assert [id(each) for each in named] == [id(each) for each in others if id(each) in heaviest]
    left = [each for each in others if id(each) not in heaviest]
    assert rest.count == len(left)
    sums(rest, left)


def sums(found, members):
    masses, areas = [each.mass_g for each in members], [each.area_m2 for each in members]
    assert found.mass_g == (None if None in masses else math.ceil(math.fsum(masses) * 100 - 1e-6) / 100)
    assert found.area_m2 == (None if None in areas else math.ceil(math.fsum(areas) * 10_000 - 1e-6) / 10_000)
