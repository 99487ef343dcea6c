"""All of it for one part: pose, room, time and material, from records and geometry."""

from dataclasses import replace
from datetime import date
from types import SimpleNamespace

import pytest

from generator.geometry.features.kinds import Feature, Features, Kind
from generator.geometry.plate import Turned
from generator.geometry.printing.poses import poses_of
from generator.planning.printing import PrintedShape, models_of, printing_of, slip_doubts
from generator.records.makers import Process
from generator.records.print_rules import PrintRules, Up
from generator.records.prints import PrintRun
from tests.geometry.solids import Mesh, blocks
from tests.rules.cases import knob, tiny

DAY = date(2026, 11, 25)
ME = Process.MATERIAL_EXTRUSION
TABLE: Mesh = blocks([0, 5, 55, 60], [0, 5, 35, 40], [0, 30, 34], lambda i, j, k: k == 1 or (i != 1 and j != 1))


class Facts:
    volume_mm3 = 60 * 40 * 4 + 4 * 25 * 30.0
    area_mm2 = 2 * 60 * 40 + 2 * 4 * 100 + 4 * 20 * 30.0


class Sheet:
    mesh, walls, features, poses = Facts(), None, None, poses_of(TABLE)

    def __init__(self, part):
        self.part = part


def part(up=None, revision="A"):
    settings = knob().settings.model_copy(update={"up": up, "wall_mm": 1.2})
    return knob().model_copy(update={"settings": settings, "revision": revision})


def run(minutes, **other):
    given = {"on": date(2026, 3, 2), "part": "EX-0001", "revision": "A", "maker": "bench", "count": 1, "minutes": float(minutes), "grams": 20.0}
    return PrintRun(**(given | other))


def of(up=None, catalogue=None, models=None):
    found = printing_of(Sheet(part(up)), catalogue or tiny(), models or {})
    assert found is not None
    return found


def test_the_approved_pose_is_held_against_the_best():
    found = of(Up.PLUS_Z)
    assert (found.best.axis, found.approved.axis, found.is_as_good, found.pose) == ("-z", "+z", False, found.approved)
    assert of(Up.MINUS_Z).is_as_good
    unsaid = of()
    assert (unsaid.approved, unsaid.is_as_good, unsaid.pose) == (None, True, unsaid.best)


def test_in_the_approved_pose_the_support_is_printed_and_paid_for():
    told, best = of(Up.PLUS_Z).told[0], of(Up.MINUS_Z).told[0]
    assert told.minutes.likely > best.minutes.likely + 10
    assert told.grams.likely > best.grams.likely + 5


def test_room_is_told_in_the_approved_pose():
    narrow = tiny().makers["bench"].model_copy(update={"build_volume_mm": (45.0, 70.0, 50.0)})
    in_it = replace(tiny(), makers={"bench": narrow})
    assert [room.turned for room in of(Up.PLUS_Z, in_it).rooms] == [Turned.A_QUARTER]
    assert [room.turned for room in of(Up.PLUS_X, in_it).rooms] == [None]  # 60 mm high


def test_runs_of_this_revision_alone_count():
    counted = [run(100 + each) for each in range(6)]
    other = [run(500, revision="B"), run(500, part="EX-0999"), run(500, maker="nobody")]
    shapes = {"EX-0001": PrintedShape(part(), Facts(), Sheet.poses)}
    models = models_of(replace(tiny(), prints=(*counted, *other)), shapes, DAY)
    assert list(models) == [ME]
    assert models[ME].minutes.runs == 6
    assert of(models=models).told[0].minutes.likely == pytest.approx(102.5, rel=0.01)


def test_a_run_of_days_to_come_and_one_typed_twice_teach_nothing():
    counted = [run(100 + each) for each in range(6)]
    shapes = {"EX-0001": PrintedShape(part(), Facts(), Sheet.poses)}
    folder = SimpleNamespace(number="EX-0001", part=part(), approval=None)
    held = replace(tiny(), prints=(*counted, counted[0], counted[1], run(400, on=date(2027, 3, 2))), parts=(folder,))
    assert models_of(held, shapes, DAY)[ME].minutes.runs == 6
    assert models_of(held, shapes, date(2027, 3, 2))[ME].minutes.runs + len(models_of(held, shapes, date(2027, 3, 2))[ME].minutes.slips) == 7


def test_of_an_infill_without_walls_nobody_knows_what_was_laid():
    hollow = part().model_copy(update={"settings": part().settings.model_copy(update={"wall_mm": None, "infill_percent": 20.0})})
    folder = SimpleNamespace(number="EX-0001", part=hollow, approval=None)
    held = replace(tiny(), prints=tuple(run(100 + each) for each in range(6)), parts=(folder,))
    assert models_of(held, {"EX-0001": PrintedShape(hollow, Facts(), Sheet.poses)}, DAY) == {}


def test_a_slip_is_a_doubt_at_its_figure():
    counted = [run(100 + each) for each in range(9)] + [run(1005)]
    shapes = {"EX-0001": PrintedShape(part(), Facts(), Sheet.poses)}
    (doubt,) = slip_doubts(models_of(replace(tiny(), prints=tuple(counted)), shapes, DAY).values())
    assert (doubt.code, doubt.path, dict(doubt.facts)) == ("PRINT05", ("prints", 9, "minutes"), {"recorded": 1005.0, "foretold": 100.0})


def test_a_run_stood_as_it_says_else_as_the_settings_say():
    shapes = {"EX-0001": PrintedShape(part(Up.MINUS_Z), Facts(), Sheet.poses)}
    runs = [run(100.0 + 200 * (each % 2), up=Up.PLUS_Z if each % 2 else None, on=date(2026, 3, 1 + each)) for each in range(8)]
    models = models_of(replace(tiny(), prints=tuple(runs)), shapes, DAY)
    lying, standing = (of(up, models=models).told[0].minutes.likely for up in (Up.MINUS_Z, Up.PLUS_Z))
    assert (lying, standing) == (pytest.approx(100, rel=0.01), pytest.approx(300, rel=0.01))


def test_in_powder_there_is_no_support_and_no_time_is_guessed():
    bench = tiny().makers["bench"]
    powder = replace(tiny(), makers={"bench": bench.model_copy(update={"process": Process.POWDER_BED_FUSION})})
    found = of(Up.PLUS_Z, powder)
    assert (found.angle_deg, found.is_as_good, found.told[0].minutes) == (None, True, None)
    metal = replace(tiny(), makers={"bench": bench.model_copy(update={"process": Process.POWDER_BED_FUSION, "rules": PrintRules(overhang_deg=45)})})
    assert of(Up.PLUS_Z, metal).angle_deg == 45


def test_holes_below_a_rule_are_told_here_as_by_check():
    hole = Feature(kind=Kind.HOLE, at=(0.0,) * 3, axis=(0.0, 0.0, 1.0), size_mm=1.2, within_mm=0.01, is_inner=True)
    found = Features(found=(hole,), size_mm=(9, 9, 9), box_mm=(9, 9, 9), box_axes=((1, 0, 0), (0, 1, 0), (0, 0, 1)))
    sheet = Sheet(part())
    sheet.features = found
    assert [(each.limit, each.found_mm) for each in printing_of(sheet, tiny(), {}).finer] == [("hole", pytest.approx(1.21))]


def test_without_makers_or_poses_nothing_is_told():
    assert printing_of(Sheet(part()), replace(tiny(), makers={}), {}) is None
    bare = Sheet(part())
    bare.poses = None
    assert printing_of(bare, tiny(), {}) is None
