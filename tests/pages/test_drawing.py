"""The sheet of a part: nothing covers or crosses anything, names are only text, and on paper it is true to scale."""

import re
import shutil
import subprocess
from dataclasses import replace
from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from PIL import Image

from generator.geometry.drawing.kinds import Line, ViewName
from generator.geometry.drawing.views import views_of
from generator.geometry.features.kinds import Feature, Features, Kind
from generator.pages.addresses import addresses
from generator.pages.around import Around
from generator.pages.drawing import checks
from generator.pages.drawing import sheet as drawing
from generator.pages.drawing.ink import cross, meets, overlap
from generator.pages.drawing.page import _page
from generator.pages.drawing.paper import A3, A4, laid_out, papers, scale_words
from generator.pages.drawing.svg import lines
from generator.pages.drawing.title import title_block
from generator.pages.drawing.title_words import TitleWords, title_words
from generator.pages.drawing.wanted import most_telling, wanted_of
from generator.pages.wording import wording
from generator.records.depot import Projection
from generator.records.parts import Check, FeatureKind
from generator.rules.changes import Change, Means
from tests.geometry.solids import box, cylinder
from tests.pages.sample import judged_sample

W = wording("en")
HOSTILE = '</text><script>alert(1)</script> "q" &amp; \u202e reversed \x07 #*_[x](y)'
UNSEEN_REFUSED = HOSTILE.replace("\u202e", "").replace("\x07", "")  # a record may not hold what nobody sees
SVG = "{http://www.w3.org/2000/svg}"


def hole(x: float, y: float, size: float, **more) -> Feature:
    told = {"kind": Kind.HOLE, "is_inner": True, "is_through": True, "length_mm": 12.0, "within_mm": 0.01} | more
    return Feature(at=(50 + x, 30 + y, 12.0), axis=(0.0, 0.0, 1.0), size_mm=size, **told)


def features(*found: Feature) -> Features:
    axes = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    return Features(found=found, size_mm=(100.0, 60.0, 12.0), box_mm=(100.0, 60.0, 12.0), box_axes=axes)


SAID = TitleWords(
    owner="Tarnvale Light Railway, Eastmere depot", number="TV-0001", name="Plate", revision="A", material="PA12", mass="12 g",
    tolerance="ISO 2768-1 m (default)", day="", is_approved=False, author="", fingerprint="", model="0123 4567", orientation="flat",
    projection=Projection.FIRST_ANGLE, checks=(),
)  # fmt: skip
PLATE = views_of(box(100, 60, 12))
ROUND = views_of(cylinder(20, 30))


def drilled(views, found):
    """With the rims of round features among the lines that are seen from above."""
    rims = tuple(
        Line(points=tuple((each.at[0] + each.size_mm / 2 * np.cos(turn), each.at[1] + each.size_mm / 2 * np.sin(turn)) for turn in np.linspace(0, 2 * np.pi, 49)))
        for each in found.found
    )
    top = views.views[ViewName.TOP]
    return replace(views, views={**views.views, ViewName.TOP: replace(top, visible=(*top.visible, *rims))})


# As many sizes and places as a crowded plate has; the sheet has to leave some out.
CROWDED = features(*(hole(-45 + 9 * i, -20 + 13 * (i % 4), 2 + 0.25 * i) for i in range(11)), *(hole(10 * i, 25, 3.0) for i in range(-4, 5)))


def with_balloons(wanted, asked, groups=()):
    return checks.with_balloons(wanted, asked, PLATE.views, groups, W).wanted


def filled(views, found, said=SAID, paper=A4):
    wanted, groups = wanted_of(views.views, found, W)
    layout = laid_out(views.views, paper, said.projection, 40.0)
    return drawing._filled_sheet(layout, wanted, groups, said, W), wanted


def test_names_are_text_and_the_file_is_xml():
    said = replace(SAID, **dict.fromkeys(("owner", "number", "name", "material", "orientation"), HOSTILE), checks=(check(4.0, name=UNSEEN_REFUSED),))
    drawn = drawing.drawn_sheet(PLATE, CROWDED, said, W)
    root = ET.fromstring(drawn.file())
    assert {each.tag for each in root.iter()} <= {SVG + tag for tag in ("svg", "g", "path", "rect", "circle", "text")}
    texts = ["".join(each.itertext()) for each in root.iter(f"{SVG}text")]
    shown = " ".join(HOSTILE.replace("\x07", "").split())
    assert texts.count(shown) == 4  # owner, number, name, material
    assert " ".join(UNSEEN_REFUSED.split()) in texts
    page = _page(drawn, said, "x", W).decode()
    assert re.findall(r"<script[^>]*>", page) == ['<script src="../assets/js/early.js">']
    assert " style=" not in page


@pytest.mark.parametrize("found", [features(), CROWDED])
def test_nothing_covers_or_crosses_anything(found):
    views = drilled(PLATE, found)
    sheet, wanted = filled(views, found)
    assert len(sheet.placed) + sheet.left_out == len(wanted)
    assert sum(each.wanted.is_overall for each in sheet.placed) == 3
    for one, other in combinations(sheet.placed, 2):
        assert not overlap(one.box, other.box)
        for a, b in ((one, other), (other, one)):
            assert not any(meets(line, b.box) for line in (*a.lines, *a.helpers))
            assert not any(cross(line, helper) for line in a.lines for helper in (*b.lines, *b.helpers))
    part = [(spot.at(p), spot.at(q)) for spot in sheet.layout.spots.values() for line in spot.view.visible for p, q in zip(line.points, line.points[1:], strict=False)]
    for each in sheet.placed:
        assert not any(meets(line, each.box) for line in part)
        left, top, right, bottom = each.box
        assert 20 < left < right < A4.width - 10
        assert 10 < top < bottom < sheet.layout.strip_top


def test_a_crowded_sheet_says_how_many_dimensions_it_leaves_out():
    drawn = drawing.drawn_sheet(drilled(PLATE, CROWDED), CROWDED, SAID, W)
    assert drawn.left_out
    assert W.count("drawing.note.left_out", drawn.left_out) in drawn.inside


def test_holes_are_counted_and_placed():
    four = features(*(hole(x, y, 4.3) for x in (-40, 40) for y in (-20, 20)))
    sheet, wanted = filled(drilled(PLATE, four), four)
    assert [each.text for each in wanted] == ["100", "12", "60", "4 × Ø4.3", "80", "40", "10", "10"]
    assert {each.text for each in sheet.placed} == {each.text for each in wanted}


def test_nothing_points_at_what_no_line_shows():
    """Neither a leader nor a distance of centres; the note counts the feature."""
    four = features(*(hole(x, y, 4.3) for x in (-40, 40) for y in (-20, 20)))
    sheet, _ = filled(PLATE, four)
    assert [each.text for each in sheet.placed] == ["100", "12", "60"]
    assert (sheet.unseen, sheet.left_out, sheet.centres) == (1, 0, [])
    assert len(filled(drilled(PLATE, four), four)[0].centres) == 8
    assert W.count("drawing.note.unseen", 1) in drawing.drawn_sheet(PLATE, four, SAID, W).inside


def test_pieces_in_line_are_one_and_two_cradles_are_no_ring():
    """Four ribs in each of two cradles: eight pieces, two axes."""
    cradles = features(*(replace(hole(x, 0, 17.6, arc_deg=187.0, length_mm=1.8), at=(50 + x, 30.0, z)) for x in (-17, 17) for z in (3.0, 11.0, 20.0, 29.0)))
    _, wanted = filled(PLATE, cradles)
    assert "2 × Ø17.6" in [each.text for each in wanted]


@pytest.mark.parametrize(("turns", "text"), [((0, 120, 240), "3 × Ø4 on Ø40"), ((0, 90, 240), "3 × Ø4"), ((0, 72, 144, 216, 288), "5 × Ø4 on Ø40")])
def test_a_ring_is_evenly_spaced(turns, text):
    found = features(*(hole(20 * np.cos(np.radians(each)), 20 * np.sin(np.radians(each)), 4.0) for each in turns))
    assert text in [each.text for each in wanted_of(PLATE.views, found, W)[0]]


@pytest.mark.parametrize(("size", "scale", "paper"), [((100, 60, 12), "1:1", A4), ((40, 20, 10), "2:1", A4), ((300, 200, 90), "1:2", A3), ((3, 2, 1), "20:1", A4), ((900, 700, 500), "1:10", A3)])
def test_the_scale_is_one_of_the_standard(size, scale, paper):
    """ISO 5455: 1, 2 and 5 times a power of ten."""
    views = views_of(box(*size)).views
    chosen = papers(views, 40.0)[0]
    layout = laid_out(views, chosen, Projection.FIRST_ANGLE, 40.0)
    assert (scale_words(layout.scale), chosen) == (scale, paper)
    for left, top, right, bottom in (spot.box for spot in layout.spots.values()):
        assert 20 < left < right < chosen.width - 10
        assert 10 < top < bottom < layout.strip_top


def test_views_lie_as_the_projection_says():
    """ISO 5456-2: in first angle the view from above lies below, that from the left to the right; third angle the other way."""
    places = {}
    for projection in Projection:
        spots = laid_out(PLATE.views, A4, projection, 40.0).spots
        front, top, side = (spots[name].box for name in (ViewName.FRONT, ViewName.TOP, ViewName.SIDE))
        places[projection] = (top[1] > front[3], top[3] < front[1], side[0] > front[2], side[2] < front[0])
        assert top[0] == pytest.approx(front[0])
        assert side[3] == pytest.approx(front[3])
    assert places == {Projection.FIRST_ANGLE: (True, False, True, False), Projection.THIRD_ANGLE: (False, True, False, True)}


def check(nominal: float, plus: float = 0.1, name: str = "bore", feature: FeatureKind | None = None) -> Check:
    return Check(name=name, nominal_mm=nominal, plus_mm=plus, minus_mm=0.1, feature=feature)


def test_a_check_stands_at_the_only_dimension_of_its_kind_that_meets_its_limits():
    wanted, _ = wanted_of(PLATE.views, features(hole(-20, 0, 12.0), hole(20, 10, 8.0)), W)
    told = with_balloons(wanted, [check(8.0), check(12.0), check(12.0, feature=FeatureKind.BORE), check(9.0), check(12.0, name="thickness")])
    assert {each.text: each.balloons for each in told if each.balloons} == {"Ø8": (1,), "Ø12": (2, 3), "12": (5,)}


@pytest.mark.parametrize(
    ("name", "feature", "stands_at"),
    [
        ("Width of the pocket", None, None),  # 80 are the screws apart: no pocket is told
        ("Distance of the screws", None, "80"),
        ("Lochabstand", None, "80"),
        ("Hulafstand", None, "80"),
        ("Screws", FeatureKind.SPACING, "80"),
        ("Over all", None, None),
        ("Distance of the slot", None, None),  # says two kinds
        ("Bore", FeatureKind.BORE, None),
        ("Length", FeatureKind.LENGTH, None),
        ("Teeth", FeatureKind.TEETH, None),
    ],
)
def test_a_check_never_stands_at_a_dimension_of_another_kind(name, feature, stands_at):
    four = features(*(hole(x, y, 4.3) for x in (-40, 40) for y in (-20, 20)))
    told = with_balloons(wanted_of(PLATE.views, four, W)[0], [check(80.0, name=name, feature=feature)])
    assert [each.text for each in told if each.balloons] == ([stands_at] if stands_at else [])


def test_a_turned_part_has_its_diameter_once():
    turned = Feature(kind=Kind.TURNED, at=(0.0, 0.0, 15.0), axis=(0.0, 0.0, 1.0), size_mm=40.0, within_mm=0.05, length_mm=30.0)
    sheet, _ = filled(ROUND, features(turned))
    assert sorted(each.text for each in sheet.placed) == ["30", "Ø40"]


def test_a_round_has_its_true_size_where_its_facets_end_before_it():
    """A flange of Ø40 cut by two flats: facets 0.03 short of it one way, flats the other; and it is told once."""
    flange = Feature(kind=Kind.BOSS, at=(50.0, 30.0, 12.0), axis=(0.0, 0.0, 1.0), size_mm=60.02, within_mm=0.02, length_mm=12.0)
    wanted, groups = wanted_of(PLATE.views, features(flange), W)
    assert [each.text for each in wanted] == ["100", "12", "Ø60"]
    told = with_balloons(wanted, [check(60.02, feature=FeatureKind.OUTSIDE), check(60.02, feature=FeatureKind.SHANK), check(60.02, feature=FeatureKind.WIDTH)], groups)
    assert [each.balloons for each in told] == [(1, 2), (), ()]


def test_a_seat_shows_its_check_beside_its_hole():
    seat = replace(hole(0, 0, 32.0, length_mm=4.0, is_through=False), seat=0)
    told = with_balloons(wanted_of(PLATE.views, features(hole(0, 0, 27.0), seat), W)[0], [check(32.0, feature=FeatureKind.SEAT), check(30.0, feature=FeatureKind.SEAT)])
    assert [(each.text, each.balloons) for each in told if each.balloons] == [("Ø27, with Ø32, 4 deep", (1,))]


def test_a_countersink_is_told_by_its_angle_and_a_socket_meets_a_check_across_its_flats():
    """Whole angle of a head by ISO 7721: 90 degrees. A stepped bore would be another hole."""
    cone = replace(hole(0, 0, 8.6, length_mm=2.15, is_through=False), seat=0, second_mm=4.3)
    told = wanted_of(PLATE.views, features(hole(0, 0, 4.3), cone), W)[0]
    assert "Ø4.3, countersunk Ø8.6 × 90°" in {each.text for each in told}
    assert checks.FITS[FeatureKind.FLATS](replace(told[0], kind=Kind.HEXAGON, is_inner=True))


def test_two_pins_in_line_are_told_once():
    pins = (Feature(kind=Kind.BOSS, at=(x, 30.0, 6.0), axis=(sign, 0.0, 0.0), size_mm=5.0, within_mm=0.01, length_mm=6.0) for x, sign in ((0.0, -1.0), (100.0, 1.0)))
    wanted, _ = wanted_of(PLATE.views, features(*pins), W)
    assert [each.span_text for each in wanted if each.kind] == ["2 × Ø5"]


def test_what_shows_a_check_comes_first_and_is_never_cut():
    steps = features(*(Feature(kind=Kind.FACES, at=(50.0, 30.0, 6.0), axis=(1.0, 0.0, 0.0), size_mm=size, within_mm=0.01) for size in (90.0, 80.0, 70.0, 60.5, 50.0)))
    told = most_telling(with_balloons(wanted_of(PLATE.views, steps, W)[0], [check(50.0, feature=FeatureKind.LENGTH)]))
    assert [each.text for each in told] == ["50", "100", "12", "60", "90", "80", "70", "60.5"]


def test_a_distance_ends_at_edges_that_are_seen():
    """Within the plate nothing is seen from the side or above: the upper edge passes where a hidden groove ends, and shows none."""
    groove = Feature(kind=Kind.FACES, at=(50.0, 30.0, 12.0), axis=(1.0, 0.0, 0.0), size_mm=40.0, within_mm=0.01, is_inner=True)
    assert [each.text for each in filled(PLATE, features(groove))[0].placed] == ["100", "12", "60"]
    edges = tuple(Line(points=((x, 0.0), (x, 60.0))) for x in (30.0, 70.0))
    top = PLATE.views[ViewName.TOP]
    shown = replace(PLATE, views={**PLATE.views, ViewName.TOP: replace(top, visible=(*top.visible, *edges))})
    assert "40" in [each.text for each in filled(shown, features(groove))[0].placed]


def test_an_arc_never_tells_a_way_round_twice():
    """Of a whole circle and of more: each piece is less than half, so that end, radius and turn alone place it."""
    spot = laid_out(ROUND.views, A4, Projection.FIRST_ANGLE, 40.0).spots[ViewName.TOP]
    data = lines(spot.view.visible, spot)
    assert data.count("A") >= 3
    assert all(piece.split()[2] == "0" for piece in data.split("A")[1:])


def test_what_is_kept_has_no_hidden_lines_and_the_page_has_them():
    drawn = drawing.drawn_sheet(PLATE, None, SAID, W)
    assert b"drawing__hidden" not in drawn.file()
    assert 'display="none"' in _page(drawn, SAID, "x", W).decode()


@pytest.mark.parametrize(("means", "is_told"), [(None, True), (Means.FREE, True), (Means.ASK, False), (Means.VOID, False)])
def test_an_approval_stands_on_the_sheet_where_it_speaks_of_what_is_drawn(means, is_told):
    """A paper that came later keeps nobody from fitting the part; whatever has to be asked about is not what was approved."""
    catalogue, sheets, _ = judged_sample()
    around = Around(catalogue=catalogue, sheets={}, found=addresses(catalogue.parts, catalogue.materials), w=W)
    approved = next(each for each in sheets if title_words(each, around).is_approved)
    changes = (Change("certificate", None, "x", means=means),) if means else ()
    said = title_words(replace(approved, changes=changes), around)
    assert (said.is_approved, bool(said.fingerprint)) == (is_told, is_told)
    # Otherwise the day is that of the last step, and the title block says so.
    events = approved.folder.approval.events
    assert said.day == (W.day(approved.history.approval.event.on) if is_told else W.day(events[-1].on))
    title = title_block(laid_out(PLATE.views, A4, Projection.FIRST_ANGLE, 40.0), said, W)
    assert (W("drawing.title.day") in title, W("drawing.title.step") in title) == (is_told, not is_told)


def test_nothing_to_draw_is_no_drawing():
    flat = views_of(box(10, 10, 10)).views
    empty = replace(PLATE, views={name: replace(view, visible=(), high=view.low) for name, view in flat.items()})
    assert drawing.drawn_sheet(empty, None, SAID, W) is None


@pytest.mark.skipif(not shutil.which("pdftoppm"), reason="poppler measures the paper")
def test_printed_it_is_true_to_scale(chromium, tmp_path):
    """Each 100 mm of the frame and of the plate within 0.2 mm on paper, on A4 and on A3, one page each."""
    css = Path(__file__).parents[2] / "site_src/assets/drawings/sheet.css"
    (tmp_path / "assets/drawings").mkdir(parents=True)
    (tmp_path / "drawings").mkdir()
    shutil.copy(css, tmp_path / "assets/drawings/sheet.css")
    page = chromium.new_page()
    for views, paper in ((PLATE, A4), (views_of(box(200, 100, 60)), A3)):
        drawn = drawing.drawn_sheet(views, None, SAID, W)
        assert (drawn.paper, drawn.scale) == (paper, 1.0)
        file = tmp_path / "drawings" / f"{paper.name}.html"
        file.write_bytes(_page(drawn, SAID, "x", W))
        page.goto(file.as_uri())
        page.pdf(path=tmp_path / "sheet.pdf", prefer_css_page_size=True)
        subprocess.run(["pdftoppm", "-r", "508", "-gray", tmp_path / "sheet.pdf", tmp_path / paper.name], check=True)
        (picture,) = tmp_path.glob(f"{paper.name}*.pgm")
        with Image.open(picture) as opened:
            dark = np.asarray(opened) < 128
        per_mm = 508 / 25.4
        columns, rows = np.flatnonzero(dark.mean(axis=0) > 0.8), np.flatnonzero(dark.mean(axis=1) > 0.8)
        wide, high = (np.ptp(each) / per_mm for each in (columns, rows))
        assert wide * 100 / (paper.width - 30) == pytest.approx(100, abs=0.2 + 70 / paper.width)  # the line's own 0.7 mm
        assert high * 100 / (paper.height - 20) == pytest.approx(100, abs=0.2 + 70 / paper.height)
        # The plate in the front view: its upright edges, between the frame and half way down the view.
        left, top, right, bottom = laid_out(views.views, paper, SAID.projection, drawing.strip_height((), 3)).spots[ViewName.FRONT].box
        band = dark[round((top + 2) * per_mm) : round((bottom - 2) * per_mm)].all(axis=0)
        edges = np.flatnonzero(band[round((left - 2) * per_mm) : round((right + 2) * per_mm)]) + round((left - 2) * per_mm)
        first, last = edges[edges < edges.mean()], edges[edges > edges.mean()]
        length = (last.mean() - first.mean()) / per_mm
        assert length == pytest.approx(right - left, abs=0.2 * (right - left) / 100)
        assert "TV-0001" in subprocess.run(["pdftotext", tmp_path / "sheet.pdf", "-"], check=True, capture_output=True, text=True).stdout
    page.close()
