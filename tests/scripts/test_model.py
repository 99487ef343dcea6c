"""The scripts that turn, point at and measure a model, in the embedded engine: against Python, formulas and solids of known size."""

import json
import zlib
from math import cos, hypot, pi, sin

import numpy as np
import pytest
from py_mini_racer import MiniRacer

from generator.finder.scripts import read_scripts
from generator.geometry.mesh import Mesh
from generator.geometry.model.made import model_of
from generator.geometry.model.packed import packed, unpacked
from generator.geometry.render.camera import View, camera_for
from generator.systems.own_site import SCRIPTS as WHERE
from generator.systems.own_site import SITE
from tests.geometry.solids import box, revolved

SIZE = {"width": 600, "height": 800}
BOX = {"low": [0, 0, 0], "high": [80, 50, 10]}


@pytest.fixture(scope="module")
def browser():
    with MiniRacer() as engine:
        engine.eval(read_scripts(SITE / WHERE).room("model"))
        engine.eval("const { model } = spares; const kept = {};")
        yield lambda script: json.loads(engine.eval(f"JSON.stringify({script})"))


def js(value) -> str:
    return json.dumps(value)


def taken(browser, mesh: Mesh, name: str) -> str:
    """A mesh as the browser has it, under a name there."""
    plain = list(zlib.decompress(packed(model_of(mesh))))
    browser(f"(kept.{name} = model.unpackedModel(Uint8Array.from({js(plain)}))).faces.length")
    return f"kept.{name}"


@pytest.fixture(scope="module")
def plate(browser) -> str:
    return taken(browser, box(80, 50, 10), "plate")


@pytest.fixture(scope="module")
def pin(browser) -> str:
    """16 mm wide and 12 mm high, on a plate 40 mm wide and 4 mm thick."""
    return taken(browser, revolved([(0, -4), (20, -4), (20, 0), (8, 0), (8, 12), (0, 12)], 96), "pin")


@pytest.fixture(scope="module")
def tube(browser) -> str:
    """A bore of 20 mm through 12 mm, 40 mm wide outside."""
    return taken(browser, revolved([(10, 0), (20, 0), (20, 12), (10, 12)], 96), "tube")


BORE = {"at": [0, 0, 12], "axis": [0, 0, 1], "size_mm": 20.0, "within_mm": 0.01, "length_mm": 12.0, "is_inner": True, "is_through": True}
COLLAR = {**BORE, "size_mm": 40.0, "is_inner": False, "is_through": False}


# ---- what Python packed ----


def test_the_browser_unpacks_what_python_packs(browser, tube):
    model = unpacked(packed(model_of(revolved([(10, 0), (20, 0), (20, 12), (10, 12)], 96))))
    assert np.allclose(browser(f"[...{tube}.points]"), model.points_mm.ravel(), atol=1e-12)
    assert browser(f"[...{tube}.faces]") == model.faces.ravel().tolist()
    assert browser(f"[...{tube}.lines]") == model.lines.ravel().astype(int).tolist()
    assert browser(f"[{tube}.isClosed, {tube}.withinMm, {tube}.madeOf]") == [True, model.within_mm, model.made_of]


@pytest.mark.parametrize("spoilt", ["bytes.slice(0, -5)", "bytes.fill(255, 4, 40)", "bytes.fill(255, -400, -100)", "new Uint8Array(9)"])
def test_what_is_spoilt_is_refused(browser, spoilt):
    plain = list(zlib.decompress(packed(model_of(box()))))
    script = f"(() => {{ const bytes = Uint8Array.from({js(plain)}); try {{ return model.unpackedModel({spoilt}).points.length; }} catch (e) {{ return 'refused'; }} }})()"
    assert browser(script) == "refused"


# ---- the camera ----


def test_home_is_the_view_of_our_pictures(browser):
    corners = np.array([[x, y, z] for x in (0, 80) for y in (0, 50) for z in (0, 10)], dtype=float)
    expected = camera_for(corners, View.FRONT, (600, 800)).axes
    axes = browser(f"(() => {{ const c = model.homeCamera({js(BOX)}, {js(SIZE)}); return [[1,0,0],[0,1,0],[0,0,1]].map((a) => model.turned(model.back(c.turn), a)); }})()")
    assert np.allclose(axes, expected, atol=1e-12)


def test_home_shows_all_of_it(browser):
    corners = [[x, y, z] for x in (0, 80) for y in (0, 50) for z in (0, 10)]
    seen = browser(f"{js(corners)}.map((each) => model.seenAt(model.homeCamera({js(BOX)}, {js(SIZE)}), {js(SIZE)}, each))")
    assert all(20 < x < 580 and 20 < y < 780 for x, y, _ in seen)
    assert max(x for x, *_ in seen) - min(x for x, *_ in seen) > 400


def test_a_ray_meets_what_is_seen_there(browser):
    places = [[3, 4, 5], [80, 0, 10], [-20, 7, 31]]
    off = browser(
        f"{js(places)}.map((at) => {{ const c = model.orbited(model.homeCamera({js(BOX)}, {js(SIZE)}), {js(SIZE)}, 77, -31);"
        f" const [x, y] = model.seenAt(c, {js(SIZE)}, at); const ray = model.rayAt(c, {js(SIZE)}, x, y);"
        " return model.lengthOf(model.cross(model.minus(at, ray.from), ray.along)); })"
    )
    assert max(off) < 1e-9


def test_a_turn_back_is_home_and_a_thousand_turns_are_still_a_turn(browser):
    script = f"""(() => {{
      const size = {js(SIZE)}; const home = model.homeCamera({js(BOX)}, size);
      let c = model.orbited(model.orbited(home, size, 120, 0), size, -120, 0);
      let d = home; for (let i = 0; i < 1000; i += 1) d = model.orbited(d, size, 13, 7 - i % 15);
      return [home.turn, c.turn, Math.hypot(...d.turn)];
    }})()"""
    home, back, long = browser(script)
    assert np.allclose(home, back, atol=1e-12)
    assert long == pytest.approx(1, abs=1e-12)


def test_what_is_under_a_finger_follows_it(browser):
    script = f"""(() => {{
      const size = {js(SIZE)}; const c = model.homeCamera({js(BOX)}, size);
      const under = (camera, x, y) => model.rayAt(camera, size, x, y).from;
      const seen = (camera, at) => model.seenAt(camera, size, at).slice(0, 2);
      const zoomed = model.zoomed(c, size, 200, 500, 2, {js(BOX)});
      const pinched = model.pinched(c, size, [[250, 380], [350, 380]], [[300, 320], [300, 480]], {js(BOX)});
      return [seen(zoomed, under(c, 200, 500)), c.mmPerPx / zoomed.mmPerPx,
        seen(pinched, under(c, 250, 380)), seen(pinched, under(c, 350, 380)), c.mmPerPx / pinched.mmPerPx,
        seen(model.panned(c, 30, -12), under(c, 100, 100))];
    }})()"""
    zoomed, twice, one, other, grown, panned = browser(script)
    assert zoomed == pytest.approx([200, 500])
    assert twice == pytest.approx(2)
    assert [*one, *other] == pytest.approx([300, 320, 300, 480]), "both fingers keep what they hold: moved, enlarged and twisted"
    assert grown == pytest.approx(1.6)
    assert panned == pytest.approx([130, 88])


def test_nobody_loses_the_part(browser):
    script = f"""(() => {{
      const size = {js(SIZE)}; let c = model.homeCamera({js(BOX)}, size); const whole = c.mmPerPx;
      for (let i = 0; i < 200; i += 1) c = model.zoomed(c, size, 0, 0, 3, {js(BOX)});
      let d = c; for (let i = 0; i < 400; i += 1) d = model.zoomed(model.panned(d, 300, 0), size, 0, 0, 0.5, {js(BOX)});
      return [whole / c.mmPerPx, whole / d.mmPerPx, model.lengthOf(model.minus(d.at, [40, 25, 5]))];
    }})()"""
    near, far, away = browser(script)
    assert near == pytest.approx(60)
    assert far == pytest.approx(0.3)
    assert away <= hypot(80, 50, 10) + 1e-9


# ---- pointing, cutting, snapping, measuring ----

LOOK = "const size = {size}; const camera = model.homeCamera({mesh}.box, size); const scene = {{ model: {mesh}, rounds: {rounds}, camera, size, cut: {cut}, reachPx: 26 }};"


def asked(browser, mesh: str, answer: str, rounds=(), cut=None):
    look = LOOK.format(size=js(SIZE), mesh=mesh, rounds=js(list(rounds)), cut=js(cut))
    return browser(f"(() => {{ {look} const seen = (at) => model.seenAt(camera, size, at); return {answer}; }})()")


def test_two_corners_are_exactly_as_far_apart_as_in_cad(browser, plate):
    shown = asked(
        browser, plate,
        "((a, b) => [model.shownMm(model.between(a, b).mm, '.'), model.shownWithin(model.between(a, b).withinMm, '.'), a.kind, b.kind, model.between(a, b).mm])"
        "(model.snapped(scene, seen([0, 0, 10])[0] + 9, seen([0, 0, 10])[1] - 7), model.snapped(scene, seen([80, 0, 10])[0] - 12, seen([80, 0, 10])[1] + 3))",
    )  # fmt: skip
    assert shown[:4] == ["80.0", "0.1", "corner", "corner"]
    assert shown[4] == pytest.approx(80, abs=0.002)


def test_what_is_hidden_is_not_meant(browser, plate):
    hidden = asked(browser, plate, "model.snapped(scene, ...seen([80, 50, 0]).slice(0, 2))")
    assert hidden is None or hidden["at"] != pytest.approx([80, 50, 0], abs=1)


def test_beside_the_part_there_is_nothing(browser, plate):
    assert asked(browser, plate, "model.snapped(scene, 5, 5)") is None


def test_an_edge_and_a_face_are_met(browser, plate):
    edge, face = asked(browser, plate, "[[40, 0, 10], [40, 25, 10]].map((at) => model.snapped(scene, seen(at)[0], seen(at)[1] - 4))")
    assert edge["kind"] == "edge"
    assert edge["at"][1:] == pytest.approx([0, 10], abs=0.01)
    assert face["kind"] == "face"
    assert face["at"][2] == pytest.approx(10, abs=0.001)


@pytest.mark.parametrize("spot", [[0, 0, 12], [4, -3, 12], [10 * cos(2), 10 * sin(2), 9]], ids=["middle", "opening", "wall"])
def test_a_hole_is_met_at_its_middle_in_its_opening_and_on_its_wall(browser, tube, spot):
    snap = asked(browser, tube, f"model.snapped(scene, ...seen({js(spot)}).slice(0, 2))", rounds=[BORE])
    assert snap["kind"] == "hole"
    assert snap["round"]["size_mm"] == 20
    assert snap["at"] == [0, 0, 12]


@pytest.mark.parametrize(
    ("spot", "expected"),
    [([0, 0, 12], "hole"), ([4, -3, 12], "hole"), ([20 * cos(-2), 20 * sin(-2), 5], "boss"), ([20 * cos(-2), 20 * sin(-2), 12], "boss")],
    ids=["middle", "opening", "outer wall", "rim"],
)
def test_within_a_bore_the_bore_is_meant_and_the_boss_about_it_on_its_own_surface(browser, tube, spot, expected):
    tap = f"model.snapped(scene, ...seen({js(spot)}).slice(0, 2))"
    assert asked(browser, tube, tap, rounds=[COLLAR, BORE])["kind"] == expected
    if expected == "hole":
        assert (asked(browser, tube, tap, rounds=[COLLAR]) or {"kind": None})["kind"] != "boss", "the air on its axis is no boss"


@pytest.mark.parametrize(
    ("shape", "is_met"),
    [({"shape": "thread", "size_mm": 44.0, "pitch_mm": 6.0, "hand": "left"}, True), ({"shape": "thread", "size_mm": 44.0, "pitch_mm": 1.0, "hand": "left"}, False),
     ({"shape": "hexagon", "size_mm": 36.0}, True), ({"size_mm": 36.0}, False), ({"shape": "square", "size_mm": 36.0}, True), ({"shape": "square", "size_mm": 46.0}, False)],
)  # fmt: skip
def test_a_thread_is_met_from_core_to_crest_and_a_polygon_from_flats_to_corners(browser, tube, shape, is_met):
    """The wall that is tapped is 20 mm from the axis."""
    spot = js([20 * cos(-2), 20 * sin(-2), 5])
    snap = asked(browser, tube, f"model.snapped(scene, ...seen({spot}).slice(0, 2))", rounds=[{**COLLAR, **shape}])
    assert ((snap["round"] or {}).get("size_mm") == shape["size_mm"]) is is_met


@pytest.mark.parametrize("spot", [[0, 0, 0], [3, 2, 0], [10 * cos(2), 10 * sin(2), 3]], ids=["middle", "opening", "wall"])
def test_a_bore_that_goes_through_is_met_from_its_far_side_at_the_opening_there(browser, tube, spot):
    told_below = {**BORE, "at": [0, 0, 0], "axis": [0, 0, -1]}  # told from below, looked at from above
    snap = asked(browser, tube, f"model.snapped(scene, ...seen({js([*spot[:2], 12 - spot[2]])}).slice(0, 2))", rounds=[COLLAR, told_below])
    assert snap["kind"] == "hole"
    assert snap["at"] == [0, 0, 12]
    blind = {**told_below, "is_through": False}
    assert asked(browser, tube, "model.snapped(scene, ...seen([3, 2, 12]).slice(0, 2))", rounds=[{**blind, "length_mm": 2.0}])["kind"] != "hole"


@pytest.mark.parametrize(("spot", "expected"), [([0, 0, 12], "boss"), ([0.6, 0.6, 12], "boss"), ([15, 0, 0], "face")], ids=["middle", "beside it", "plate"])
def test_a_pin_is_met_on_its_end(browser, pin, spot, expected):
    rounds = [{**COLLAR, "size_mm": 16.0}]
    assert asked(browser, pin, f"model.snapped({{ ...scene, reachPx: 20 }}, ...seen({js(spot)}).slice(0, 2))", rounds=rounds)["kind"] == expected


def test_rounds_side_by_side_are_measured_from_axis_to_axis(browser):
    def snap(at, axis=(0, 0, 1)):
        return {"kind": "hole", "at": at, "withinMm": 0.01, "round": {**BORE, "at": at, "axis": axis}}

    def told(one, other):
        return browser(f"model.between({js(one)}, {js(other)})")

    assert told(snap([0, 0, 12]), snap([30, 40, 0], [0, 0, -1])) == {"mm": 50, "withinMm": 0.02, "isAxes": True}
    assert told(snap([0, 0, 12]), snap([0, 0, 0], [0, 0, -1]))["mm"] == 12, "one behind the other: along the axis"
    assert not told(snap([0, 0, 12]), snap([0, 9, 0], [0, 1, 0]))["isAxes"]


@pytest.mark.parametrize(
    ("within", "shown"), [(0.0, "0,1"), (0.049, "0,1"), (0.051, "0,2"), (0.15, "0,2"), (0.2, "0,3")]
)
def test_the_bound_is_never_told_too_small(browser, within, shown):
    assert browser(f"model.shownWithin({within}, ',')") == shown


def test_a_cut_shows_material_and_takes_away_what_is_before_it(browser, tube):
    cut = {"axis": 1, "at": 0.0, "sign": -1}
    hit = asked(browser, tube, "model.hitOf(scene.model, model.rayAt(camera, size, ...seen([15, 0, 6]).slice(0, 2)), scene.cut)", cut=cut)
    assert hit["isCut"]
    assert hit["at"] == pytest.approx([15, 0, 6], abs=1e-6)
    lines = np.array(asked(browser, tube, "[...model.cutLines(scene.model, scene.cut)]", cut=cut)).reshape(-1, 2, 3)
    lengths = np.linalg.norm(lines[:, 0] - lines[:, 1], axis=1)
    # Two rectangles of 10 × 12 mm.
    assert lengths.sum() == pytest.approx(2 * 2 * (10 + 12), rel=1e-3)
    assert np.abs(lines[:, :, 1]).max() < 1e-6


def test_a_cut_takes_the_half_that_is_towards_the_eye(browser, plate):
    cuts = asked(browser, plate, "[0, 1, 2].map((axis) => model.facingCut(camera, scene.model.box, axis, 0.25))")
    assert [each["sign"] for each in cuts] == [-1, -1, 1], "home looks from the front left and above"
    assert [each["at"] for each in cuts] == pytest.approx([20, 12.5, 2.5], abs=0.001)


def test_normals_are_soft_on_a_bore_and_hard_at_its_rim(browser, tube):
    drawing = browser(f"(({{ places, normals, edges }}) => [[...places], [...normals], [...edges]])(model.drawingOf({tube}))")
    places, normals = (np.array(each).reshape(-1, 3) for each in drawing[:2])
    assert np.allclose(np.linalg.norm(normals, axis=1), 1, atol=1e-6)
    on_wall = np.abs(normals[:, 2]) < 0.5
    radial = places[:, :2] / np.linalg.norm(places[:, :2], axis=1)[:, None]
    assert np.abs((normals[on_wall, :2] * radial[on_wall]).sum(axis=1)).min() > cos(pi / 96)
    assert np.allclose(np.abs(normals[~on_wall, 2]), 1)
    edges = np.array(drawing[2]).reshape(-1, 13)
    assert (edges[:, 12] > 0).sum() == 4 * 96, "four rims; lines along the walls only where the surface turns away"
