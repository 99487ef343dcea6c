"""What is finer than a maker prints: by its own rules a doubt, by the usual ones only told; and room in the approved pose."""

from dataclasses import replace

import pytest

from generator.geometry.features.kinds import Feature, Features, Kind, Void
from generator.geometry.plate import Turned, turned_on_plate
from generator.geometry.printing.poses import poses_of
from generator.geometry.sections import Walls
from generator.records.makers import Maker, Process
from generator.records.print_rules import PrintRules, Up
from generator.rules.printable import USUAL, PrintLimit, angle_for, angle_of, finer, held, printable_doubts
from tests.fixtures.told import fix, says
from tests.geometry.solids import box
from tests.rules.cases import knob, tiny

ME, POWDER = Process.MATERIAL_EXTRUSION, Process.POWDER_BED_FUSION
PETG = tiny().materials["petg"]
METAL = PETG.model_copy(update={"combustible": False})


def maker(process=ME, plate=(200.0, 200.0, 200.0), **rules) -> Maker:
    return tiny().makers["bench"].model_copy(update={"process": process, "build_volume_mm": plate, "rules": PrintRules(**rules)})


def walls(thinnest: float) -> Walls:
    return Walls(thinnest_mm=thinnest, thickest_mm=9, nominal_mm=5, thinnest_at=(0, 0, 0), thickest_at=(1, 1, 1))


def features(*sizes: float, kind=Kind.HOLE, arc=360.0, length=9.0) -> Features:
    every = (Feature(kind=kind, at=(0, 0, 0), axis=(0, 0, 1), size_mm=each, within_mm=0.01, length_mm=length, arc_deg=arc) for each in sizes)
    return Features(found=tuple(every), size_mm=(9, 9, 9), box_mm=(9, 9, 9), box_axes=((1, 0, 0), (0, 1, 0), (0, 0, 1)))


def catalogue(*makers: Maker):
    return replace(tiny(), makers={each.id: each for each in makers})


def doubts(part, *makers: Maker, walls=None, poses=None, features=None):
    return printable_doubts(part, catalogue(*makers), walls, poses, features)


@pytest.mark.parametrize(
    ("rules", "thinnest", "told"),
    [
        ({}, 0.5, [False]),  # usual of extrusion: 1.0
        ({}, 0.94, [False]),
        ({}, 0.96, []),  # measured to 0.05
        ({}, 1.0, []),
        ({"min_wall_mm": 0.8}, 0.7, [True]),
        ({"min_wall_mm": 0.8}, 0.9, []),  # its own word goes before what is usual
    ],
)
def test_a_wall_against_the_makers_own_rule_or_the_usual_one(rules, thinnest, told):
    assert [each.held.is_own for each in finer(maker(**rules), PETG, walls(thinnest), None)] == told


def test_only_its_own_rule_makes_a_doubt():
    assert doubts(knob(), maker(), walls=walls(0.5)) == ()
    (doubt,) = doubts(knob(), maker(min_wall_mm=0.8), walls=walls(0.5))
    assert says(doubt) == "is 0.5 mm thick at its thinnest wall, and bench prints none below 0.8 mm by its own rules"
    assert "'min_wall_mm' in makers.yml" in fix(doubt)


def test_holes_and_pins_are_counted_and_the_smallest_is_told():
    (hole,) = doubts(knob(), maker(min_hole_mm=2.0), features=features(1.2, 1.6, 2.0, 5.0))
    assert says(hole).startswith("has holes below the 2 mm")
    assert says(hole).endswith(": 2, the smallest 1.21 mm")
    (pin,) = doubts(knob(), maker(min_pin_mm=3.0), features=features(2.5, kind=Kind.BOSS))
    assert says(pin).startswith("has pins below the 3 mm")
    assert doubts(knob(), maker(min_pin_mm=3.0), features=features(2.5, kind=Kind.BOSS, length=0.5)) == ()  # a raised mark
    assert doubts(knob(), maker(min_hole_mm=2.0), features=features(1.2, arc=90.0)) == ()  # a fillet's round, no hole


@pytest.mark.parametrize(("gap", "told"), [(None, []), (0.2, ["own", "usual"]), (0.34, ["own", "usual"]), (0.38, ["usual"]), (0.44, ["usual"]), (0.46, []), (3.0, [])])
def test_bodies_nearer_to_each_other_than_a_maker_keeps_them_apart(gap, told):
    near = replace(walls(9.0), gap_mm=gap, gap_at=None if gap is None else (0, 0, 0))
    found = {"own": maker(min_clearance_mm=0.4), "usual": maker()}
    assert [name for name, each in found.items() if list(finer(each, PETG, near, None))] == told
    doubted = [says(each) for each in doubts(knob(), found["own"], walls=near)]
    words = f"has two bodies {gap} mm apart, and with bench they come out apart from 0.4 mm on by its own rules"
    assert doubted == ([words] if "own" in told else [])
    assert Walls.from_json(near.to_json()) == near


def test_of_metal_and_of_other_processes_nothing_usual_is_held():
    assert held(maker(POWDER), PrintLimit.WALL, PETG) is not None
    assert held(maker(POWDER), PrintLimit.WALL, METAL) is None
    assert held(maker(POWDER, min_wall_mm=0.6), PrintLimit.WALL, METAL) is not None
    assert held(maker(Process.VAT_PHOTOPOLYMERIZATION), PrintLimit.WALL, PETG) is None
    assert set(USUAL) == set(Process)


def test_powder_carries_unless_the_maker_says_how_far_may_lean():
    assert [angle_of(each) for each in (maker(), maker(overhang_deg=60), maker(POWDER), maker(POWDER, overhang_deg=45))] == [45, 60, None, 45]
    assert angle_for([maker(overhang_deg=60), maker(), maker(POWDER)]) == 45
    assert angle_for([maker(POWDER)]) is None
    assert angle_for([]) is None


@pytest.mark.parametrize(
    ("size", "plate", "turned"),
    [
        ((50, 40, 30), (50, 40, 30), Turned.AS_IT_IS),
        ((40, 50, 30), (50, 40, 30), Turned.A_QUARTER),
        ((50, 40, 31), (100, 100, 30), None),
        ((51, 30, 30), (50, 40, 90), None),
        ((40, 41, 10), (40, 40, 90), None),
    ],
)
def test_room_without_tipping_over(size, plate, turned):
    assert turned_on_plate(size, plate) is turned


def test_room_only_in_another_pose_than_the_approved_is_a_doubt():
    poses = poses_of(box(20, 30, 100))
    upright = knob().model_copy(update={"settings": knob().settings.model_copy(update={"up": Up.PLUS_Z})})
    lying = knob().model_copy(update={"settings": knob().settings.model_copy(update={"up": Up.PLUS_X})})
    low = maker(plate=(120.0, 120.0, 50.0))
    (doubt,) = doubts(upright, low, poses=poses)
    assert says(doubt) == "fits on no plate of bench with +z of the model up, though it would in another pose"
    assert doubts(lying, low, poses=poses) == ()
    assert doubts(knob(), low, poses=poses) == ()  # no axis is named
    assert doubts(upright, maker(plate=(90.0, 90.0, 90.0)), poses=poses) == ()  # told already: no room at all


def test_a_closed_hollow_is_a_doubt_with_its_mend():
    """The largest is told, and how many there are besides."""
    told = Void(at=(30.0, 20.0, 6.04), size_mm=(6.04, 5.98, 3.0))
    small = Void(at=(1.0, 1.0, 1.0), size_mm=(1.0, 1.0, 1.0))
    assert doubts(knob(), maker(), features=features(9.0)) == ()
    (one,) = doubts(knob(), maker(), features=replace(features(9.0), voids=(told,)))
    assert (one.code, one.severity.value) == ("PRINT06", "warning")
    assert says(one).startswith("has a closed hollow of about 6 × 6 × 3 mm at (30.0, 20.0, 6.0): support or powder in it cannot be taken out")
    assert fix(one) == "open it with a hole, or fill it in the CAD program"
    (two,) = doubts(knob(), maker(), features=replace(features(9.0), voids=(small, told)))
    assert "6 × 6 × 3 mm at (30.0, 20.0, 6.0), and 1 more:" in says(two)
