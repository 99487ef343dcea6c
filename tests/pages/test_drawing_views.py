"""Which views a sheet has, what they show, and where each check of the demo stands."""

import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree as ET

import numpy as np
import pytest

from generator.geometry.drawing.kinds import Line, ViewName
from generator.geometry.drawing.views import views_of
from generator.geometry.features.kinds import Kind
from generator.pages.addresses import addresses
from generator.pages.around import Around
from generator.pages.drawing import sheet as drawing
from generator.pages.drawing.by_lines import measured_by_lines
from generator.pages.drawing.choice import needs
from generator.pages.drawing.feature_words import size_words
from generator.pages.drawing.page import _page
from generator.pages.drawing.paper import A3, USUAL, laid_out
from generator.pages.drawing.shown import alone
from generator.pages.drawing.title_words import Build, Says, title_words, tool_words
from generator.pages.drawing.wanted import wanted_of
from generator.pages.drawing.wanted_kinds import Pointer, WantedSize
from generator.pages.wording import wording
from generator.records.depot import Projection
from generator.records.parts import FeatureKind
from tests.geometry.solids import blocks, box
from tests.pages.sample import judged_sample
from tests.pages.test_drawing import (
    PLATE,
    SAID,
    SVG,
    W,
    check,
    drilled,
    features,
    filled,
    hole,
    with_balloons,
)

PARTS = Path(__file__).parents[2] / "catalogue" / "parts"
BRACKET = views_of(blocks([0, 8, 50], [0, 30], [0, 6, 40], lambda i, _, k: k == 0 or i == 0))
TABLE = views_of(blocks([0, 6, 34, 40], [0, 6, 24, 30], [0, 20, 24], lambda i, j, k: k == 1 or (i != 1 and j != 1)))
COMB = views_of(blocks([0, 5, 12, 17, 24, 40], [0, 10], [0, 4, 12], lambda i, _, k: k == 0 or i in (0, 2, 4)))


def ring(x: float, y: float, radius: float) -> Line:
    turns = np.linspace(0, 2 * np.pi, 49)
    return Line(points=tuple(zip(x + radius * np.cos(turns), y + radius * np.sin(turns), strict=True)))


def with_lines(views, name, *lines):
    view = views.views[name]
    return replace(views, views={**views.views, name: replace(view, visible=(*view.visible, *lines))})


BLIND = features(replace(hole(-20, 0, 12.0, is_through=False, length_mm=5.0), at=(30.0, 30.0, 0.0), axis=(0.0, 0.0, -1.0)))
FROM_BELOW = with_lines(PLATE, ViewName.BELOW, ring(30.0, -30.0, 6.0))


def test_a_check_that_only_a_view_from_below_shows_gets_one():
    drawn = drawing.drawn_sheet(FROM_BELOW, BLIND, replace(SAID, checks=(check(12.0),)), W)
    texts = ["".join(each.itertext()) for each in ET.fromstring(drawn.file()).iter(f"{SVG}text")]
    assert "Ø12, 5 deep" in texts
    assert texts.count("1") == 2  # in its ring and in the list
    numbered = with_balloons(wanted_of(FROM_BELOW.views, BLIND, W)[0], [check(12.0)])
    assert needs(FROM_BELOW.views, numbered, 1.0) == [(ViewName.BELOW, True)]
    assert needs(PLATE.views, numbered, 1.0) == []  # where no view has the rim, none is added
    seen = drilled(PLATE, features(hole(-20, 0, 12.0)))
    assert needs(seen.views, wanted_of(seen.views, features(hole(-20, 0, 12.0)), W)[0], 1.0) == []


@pytest.mark.parametrize("projection", Projection)
def test_added_views_lie_as_the_projection_says(projection):
    """ISO 5456-2: in first angle from below lies above, from the right to the left; third angle the other way; from the rear beside."""
    names = (*USUAL, ViewName.BELOW, ViewName.RIGHT, ViewName.REAR)
    spots = laid_out(PLATE.views, A3, projection, 40.0, names).spots
    front, below, right, rear = (spots[name].box for name in (ViewName.FRONT, ViewName.BELOW, ViewName.RIGHT, ViewName.REAR))
    is_first = projection is Projection.FIRST_ANGLE
    assert (below[3] < front[1], right[2] < front[0]) == (is_first, is_first)
    assert (below[1] > front[3], right[0] > front[2]) == (not is_first, not is_first)
    assert rear[0] > front[2]
    assert below[0] == pytest.approx(front[0])
    assert (right[3], rear[3]) == pytest.approx((front[3], front[3]))
    assert all(20 < box[0] < box[2] < A3.width - 10 and 10 < box[1] < box[3] for box in (spot.box for spot in spots.values()))


@pytest.mark.parametrize(
    ("views", "nominal", "kind", "told"),
    [
        (BRACKET, 6.0, FeatureKind.THICKNESS, "6"),  # the foot, from the side
        (BRACKET, 42.0, FeatureKind.LENGTH, "42"),  # the foot without the upright, from above
        (BRACKET, 34.0, FeatureKind.HEIGHT, "34"),  # the upright over the foot, from the right
        (TABLE, 28.0, FeatureKind.WIDTH_INSIDE, "28"),
        (TABLE, 28.0, FeatureKind.LENGTH, None),  # nothing solid between
        (TABLE, 6.0, FeatureKind.THICKNESS, None),  # legs both ways
        (TABLE, 4.0, FeatureKind.THICKNESS, "4"),
        (TABLE, 4.0, FeatureKind.BORE, None),
        (COMB, 7.0, FeatureKind.SLOT, None),  # two of them, not one the other's image
        (COMB, 16.0, FeatureKind.WIDTH, "16"),
    ],
)
def test_a_check_without_a_feature_is_told_where_lines_leave_one_place(views, nominal, kind, told):
    found = measured_by_lines(check(nominal, plus=0.05), kind, views.views, [], W)
    assert (found.text if found else None) == told


def test_what_is_measured_by_lines_is_no_diameter():
    """Its two sides are those of a round that is known."""
    legs = replace(hole(0, 0, 28.0), at=(20.0, 15.0, 0.0))
    assert measured_by_lines(check(28.0), FeatureKind.WIDTH_INSIDE, TABLE.views, [legs], W) is None


@pytest.mark.parametrize(("size", "text"), [(38.105, "38.1"), (12.05, "12.05"), (15.412, "15.4"), (2.1499, "2.15"), (61.978, "62"), (133.333, "133.3"), (0.95, "0.95")])
def test_a_size_is_stated_as_on_a_drawing(size, text):
    assert size_words(size, W) == text


def test_a_row_is_told_by_its_step_and_an_uneven_one_by_each():
    row = wanted_of(PLATE.views, features(*(hole(x, 0, 4.3) for x in (-30, -10, 10, 30))), W)[0]
    assert "3 × 20 = 60" in [each.text for each in row]
    uneven = wanted_of(PLATE.views, features(*(hole(x, 0, 4.3) for x in (-30, -5, 30))), W)[0]
    assert {"25", "60"} <= {each.text for each in uneven}


def test_a_ring_off_the_middle_is_located():
    """Its centre lies 35 from the left edge and 24 from the lower one."""
    found = features(*(hole(-15 + 15 * np.cos(each), -6 + 15 * np.sin(each), 3.0) for each in np.radians((0, 120, 240))))
    assert {"35", "24"} <= {each.text for each in wanted_of(PLATE.views, found, W)[0]}


def pointed(lines, pointer, kind):
    views = with_lines(PLATE, ViewName.TOP, *lines)
    wanted = WantedSize(text="", places=(pointer,), value_mm=2 * pointer.radius_mm, kind=kind)
    return alone(views.views[ViewName.TOP], ViewName.TOP, 1.0).tips(wanted, pointer)


def polygon(count: int, radius: float, turn: float) -> Line:
    """About (50, 30), its sides so far from there."""
    turns = np.radians(turn + 360 / count * (np.arange(count + 1) + 0.5))
    out = radius / np.cos(np.pi / count)
    return Line(points=tuple((50 + out * np.cos(each), 30 + out * np.sin(each)) for each in turns))


SQUARE = Pointer(view=ViewName.TOP, centre=(50.0, 30.0), radius_mm=5.0, flats=4)


def test_a_leader_points_at_the_sides_of_a_square_only_where_they_are_drawn():
    assert len(pointed([polygon(4, 5.0, 20.0)], SQUARE, Kind.SQUARE)) == 4
    assert pointed([], SQUARE, Kind.SQUARE) == []
    # Rounds as large as its sides and its corners, as a seat and a bore that hide it: none of them is a square.
    assert pointed([ring(50, 30, 5.0)], SQUARE, Kind.SQUARE) == []
    assert pointed([ring(50, 30, 5.0), ring(50, 30, 7.07)], SQUARE, Kind.SQUARE) == []
    assert pointed([polygon(6, 5.0, 0.0)], SQUARE, Kind.SQUARE) == []


def test_a_leader_points_at_a_slot_and_at_the_flat_of_a_bore():
    slot = Pointer(view=ViewName.TOP, centre=(50.0, 30.0), radius_mm=3.0, long_mm=20.0)
    corners = Line(points=((40.0, 27.0), (60.0, 27.0), (60.0, 33.0), (40.0, 33.0), (40.0, 27.0)))
    assert pointed([corners], slot, Kind.SLOT)
    assert pointed([ring(50, 30, 3.0)], slot, Kind.SLOT) == []
    flat = Pointer(view=ViewName.TOP, centre=(50.0, 30.0), radius_mm=4.0, flats=1, round_mm=12.0)
    assert pointed([ring(50, 30, 6.0), Line(points=((45.5, 34.0), (54.5, 34.0)))], flat, Kind.FLATS)
    assert pointed([ring(50, 30, 6.0)], flat, Kind.FLATS) == []


@pytest.mark.parametrize("views", [BRACKET, TABLE, COMB])
def test_no_extension_line_runs_along_a_line_of_the_part(views):
    sheet, _ = filled(views, None, paper=A3)
    spots = sheet.layout.spots.values()
    drawn = [(spot.at(a), spot.at(b)) for spot in spots for line in spot.view.visible for a, b in pairwise(line.points)]
    for each in sheet.placed:
        for one, other in each.helpers:
            along = 0 if abs(one[0] - other[0]) < 0.01 else 1
            low, high = sorted((one[1 - along], other[1 - along]))
            for a, b in drawn:
                if max(abs(a[along] - one[along]), abs(b[along] - one[along])) < 0.1:
                    assert min(high, max(a[1 - along], b[1 - along])) - max(low, min(a[1 - along], b[1 - along])) < 0.1


# Nothing in the models tells these: the teeth between two flanges, a cam's lobe, where a thread ends, a tooth that stands aslant.
UNTOLD = {"TV-0211": {2}, "TV-0219": {4}, "TV-0276": {3}, "TV-0284": {2}}


def test_each_check_of_the_demo_has_its_number_in_a_view_or_is_named_in_a_note(demo_site):
    untold = re.compile(re.escape(W("drawing.note.untold", checks="@")).replace("@", "([0-9, ]+)"))
    named, asked = {}, 0
    for file in sorted((demo_site / "assets/drawings").glob("*.svg")):
        record = next(PARTS.glob(f"{file.stem}-*/part.yml")).read_text(encoding="utf-8")
        checks = set(range(1, 1 + len(re.findall(r"nominal_mm:", record))))
        root = ET.fromstring(file.read_bytes())
        numbered = {int("".join(after.itertext())) for parent in root.iter() for ring, after in pairwise(parent) if ring.tag == f"{SVG}circle" and after.tag == f"{SVG}text"}
        said = untold.search(" ".join("".join(each.itertext()) for each in root.iter(f"{SVG}text")))
        told = {int(each) for each in said[1].split(",")} if said else set()
        assert numbered | told == checks, file.stem
        assert not numbered & told
        named |= {file.stem: told} if told else {}
        asked += len(checks)
    assert named == UNTOLD
    assert asked > 90


@pytest.mark.parametrize(
    ("build", "orientation", "is_approved", "told"),
    [
        (Build(up=(0.0, 0.0, 1.0), says=Says.APPROVED), "flat", True, "printed upwards along the arrow, as approved: flat"),
        (Build(up=(0.0, 0.0, -1.0), says=Says.RECORD), "flat", False, "printed upwards along the arrow, as the record says, not approved: flat"),
        (Build(up=(1.0, 0.0, 0.0), says=Says.RECKONED), "", False, "best upwards along the arrow by calculation, not approved"),
        (None, "flat", True, "printed, as approved: flat"),
        (None, "flat", False, "printed, as the record says, not approved: flat"),
        (None, "", False, "how it stands on the plate is not said"),
    ],
)
def test_how_a_part_is_printed_is_told_with_who_says_so(build, orientation, is_approved, told):
    said = replace(SAID, build=build, orientation=orientation, is_approved=is_approved)
    root = ET.fromstring(drawing.drawn_sheet(PLATE, None, said, W).file())
    (text,) = (each for each in root.iter(f"{SVG}text") if "".join(each.itertext()).endswith(told))
    assert text is not None


def test_the_arrow_of_printing_points_up_in_the_pictorial_where_the_part_stands_as_modelled():
    """ISO 5456-3: in an isometric view z is upright; -z points the other way."""
    layout = laid_out(PLATE.views, A3, Projection.FIRST_ANGLE, 40.0)
    for up, is_upwards in (((0.0, 0.0, 1.0), True), ((0.0, 0.0, -1.0), False)):
        drawn = drawing._pictorial_words(layout, PLATE, replace(SAID, build=Build(up=up, says=Says.RECORD)), W)
        (x, y), (to_x, to_y) = (tuple(map(float, each.split())) for each in re.match(r'<path d="M([^L]*)L([^"]*)"', drawn).groups())
        assert x == pytest.approx(to_x)
        assert (to_y < y) == is_upwards


def test_a_calculation_never_speaks_against_the_record():
    """Settings that say in words how a part stands leave no arrow, whatever pose is best."""
    catalogue, sheets, _ = judged_sample()
    around = Around(catalogue=catalogue, sheets={}, found=addresses(catalogue.parts, catalogue.materials), w=W)
    said = [(each.part.settings, title_words(each, around)) for each in sheets if each.part]
    assert any(settings for settings, _ in said)
    for settings, drawn in said:
        if settings:
            assert (drawn.build is None) == (settings.up is None)
            assert not drawn.build or drawn.build.says is not Says.RECKONED


def test_a_caliper_is_called_by_its_name_in_each_language():
    assert [tool_words(check(4.0), wording(each)) for each in ("en", "de", "da")] == ["caliper", "Messschieber", "skydelære"]
    assert tool_words(check(4.0).model_copy(update={"measured_with": "plug gauge"}), wording("de")) == "plug gauge"


def test_a_print_that_is_not_true_to_scale_shows_it_by_itself():
    """ISO 5457: a graduation of 100 mm in steps of 10 beside the frame, about its middle."""
    root = ET.fromstring(drawing.drawn_sheet(PLATE, None, SAID, W).file())
    uprights = [
        [tuple(map(float, re.split("[ L]", each))) for each in path.attrib["d"].split("M")[1:]]
        for path in root.iter(f"{SVG}path")
        if re.fullmatch(r"(M[\d.]+ [\d.]+L[\d.]+ [\d.]+)+", path.attrib["d"])
    ]
    (steps,) = ([x for x, y, to_x, to_y in each if x == to_x and y == 200.0 and to_y == 203.0] for each in uprights if len(each) == 12)
    assert np.diff(steps) == pytest.approx([10.0] * 10)
    assert (steps[0] + steps[-1]) / 2 == pytest.approx((20 + 297 - 10) / 2)
    assert any(W("drawing.graduation") == "".join(each.itertext()) for each in root.iter(f"{SVG}text"))


def test_the_page_is_dark_in_pit_mode_and_white_on_paper(chromium, tmp_path):
    """On a tablet held upright the whole sheet fits on request; its touch targets are as high as a finger."""
    source = Path(__file__).parents[2] / "site_src/assets"
    for name in ("drawings/sheet.css", "js/screen/early.js"):
        to = tmp_path / "assets" / name.replace("screen/", "")
        to.parent.mkdir(parents=True, exist_ok=True)
        to.write_bytes((source / name).read_bytes())
    (tmp_path / "drawings").mkdir()
    file = tmp_path / "drawings" / "x.html"
    file.write_bytes(_page(drawing.drawn_sheet(views_of(box(200, 100, 60)), None, SAID, W), SAID, "x", W))
    page = chromium.new_page(viewport={"width": 768, "height": 1024}, color_scheme="dark")
    page.goto(file.as_uri())
    ground = "getComputedStyle(document.body).backgroundColor"
    sheet = "document.querySelector('.paper svg')"
    assert page.evaluate(ground) == "rgb(14, 18, 21)"
    assert "invert" in page.evaluate(f"getComputedStyle({sheet}).filter")
    assert page.evaluate(f"{sheet}.getBoundingClientRect().width") > 1300
    page.check("#whole-sheet")
    assert page.evaluate(f"{sheet}.getBoundingClientRect().width") <= 768
    assert page.evaluate("document.documentElement.scrollWidth") == 768
    assert all(high >= 48 for high in page.evaluate("[...document.querySelectorAll('label, .bar a')].map((each) => each.getBoundingClientRect().height)"))
    page.emulate_media(media="print")
    assert page.evaluate(f"getComputedStyle({sheet}).filter") == "none"
    assert page.evaluate(f"{sheet}.getBoundingClientRect().width") == pytest.approx(420 / 25.4 * 96, abs=0.1)
    page.close()
