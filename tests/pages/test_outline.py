"""What a mechanic sees of a fleet from its side: each place where it is, large enough for a hand, and none upon another."""

import re
from dataclasses import replace
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.pages.outline import Target, outline_marked, outline_targets
from generator.pages.site import site
from generator.pages.wording import wording
from generator.records.catalogue import Drawing
from generator.records.fleets import Area, DesignCategory, Fleet, Place
from generator.records.outline import Cabs, Height, Outline, Spot
from tests.pages.conftest import HOSTILE
from tests.pages.sample import CATALOGUE, DAY, judged_sample

W = wording("en")
LEAST_PX, SHOWN_PX = 48, 690  # the target of WCAG 2.2 (2.5.8 asks 24; 48 is the house's), and the least width (browse.css)
TARGET = re.compile(r'<a href="([^"]*)" aria-label="([^"]*)".*?<circle class="outline__target" cx="([\d.]+)" cy="([\d.]+)" r="([\d.]+)"/>')

heights = st.sampled_from(Height)
spots = st.builds(Spot, along_m=st.floats(0, 20), height=heights)
outlines = st.builds(
    Outline,
    length_m=st.just(20.0),
    doors_m=st.lists(st.floats(0, 20), max_size=5).map(tuple),
    bogies_m=st.lists(st.floats(0, 20), max_size=4).map(tuple),
    gangways_m=st.lists(st.floats(0, 20), max_size=3).map(tuple),
    cabs=st.sampled_from(Cabs),
    windows=st.booleans(),
)


def fleet(outline: Outline | None, places: list[Place]) -> Fleet:
    return Fleet(
        id="X1", name="X1", vehicles=("1-4",), in_service_since=1980, operation_category=2, design_category=DesignCategory.N,
        places=tuple(places), outline=outline,
    )  # fmt: skip


def place(number: int, spot: Spot | None, name: str | None = None) -> Place:
    return Place(id=f"p{number}", name=name or f"Place {number}", area=Area.INTERIOR, largest_mm=100.0, spot=spot)


def targets(places: list[Place]) -> list[Target]:
    return [Target(letter="ABCDEFGHIJKLMNOP"[i], place=each, says=each.name, count=i, href=f"at-{i}.html") for i, each in enumerate(places)]


@given(outline=outlines, where=st.lists(spots, min_size=1, max_size=12))
def test_no_target_lies_upon_another_or_outside_and_each_is_as_large_as_a_hand(outline, where):
    places = [place(i, spot) for i, spot in enumerate(where)]
    drawn = outline_targets(fleet(outline, places), targets(places), None, W)
    ET.fromstring(str(drawn))
    found = [(float(x), float(y), float(r)) for _, _, x, y, r in TARGET.findall(str(drawn))]
    assert len(found) == len(places)
    for i, (x, y, r) in enumerate(found):
        assert 2 * r * SHOWN_PX / 1000 >= LEAST_PX
        assert r <= x <= 1000 - r
        assert all((x - u) ** 2 + (y - v) ** 2 >= (r + s) ** 2 - 0.5 for u, v, s in found[i + 1 :])


@given(outline=outlines, where=spots)
def test_a_place_alone_is_where_it_is(outline, where):
    """1000 units are the 20 m of the vehicle with 20 units of air at each end; at its very ends a target stays inside."""
    places = [place(0, where)]
    (_, _, x, _, r), = TARGET.findall(str(outline_targets(fleet(outline, places), targets(places), None, W)))
    assert float(x) == pytest.approx(min(max(20 + 48 * where.along_m, float(r) + 2), 998 - float(r)), abs=0.06)


def test_places_in_a_row_keep_their_order():
    """Three at one door share what they have to give way: 500 in the middle, a target and a gap between each."""
    places = [place(i, Spot(along_m=10 + i / 100, height=Height.FLOOR)) for i in range(3)]
    found = TARGET.findall(str(outline_targets(fleet(Outline(length_m=20.0), places), targets(places), None, W)))
    assert [(said, float(x)) for _, said, x, _, _ in found] == [
        ("Place 0", pytest.approx(426.5, abs=0.1)), ("Place 1", pytest.approx(500.5, abs=0.1)), ("Place 2", pytest.approx(574.5, abs=0.1)),
    ]  # fmt: skip


def test_without_an_outline_or_a_spot_nothing_is_drawn():
    there, nowhere = place(0, Spot(along_m=1, height=Height.ROOF)), place(1, None)
    assert outline_targets(fleet(None, [nowhere]), targets([nowhere]), None, W) is None
    assert outline_targets(fleet(Outline(length_m=20.0), [nowhere]), targets([nowhere]), None, W) is None
    assert outline_marked(fleet(Outline(length_m=20.0), [there]), [nowhere], None, W, "") is None


def test_names_stay_text():
    places = [place(0, Spot(along_m=1, height=Height.ROOF), HOSTILE[:80].strip())]
    for drawn in (
        outline_targets(fleet(Outline(length_m=20.0), places), targets(places), None, W),
        outline_marked(fleet(Outline(length_m=20.0), places), places, None, W, ""),
    ):
        assert "<script" not in str(drawn)
        ET.fromstring(str(drawn))


def test_a_drawing_of_the_depots_own_lies_behind_the_places():
    own = fleet(Outline(length_m=20.0, drawing="x1.svg"), [place(0, Spot(along_m=1, height=Height.ROOF))])
    drawn = str(outline_targets(own, targets(list(own.places)), Drawing(path="outlines/x1.svg", width_to_height=6.0), W, "../"))
    assert '<image href="../assets/outlines/x1.svg" x="20"' in drawn
    assert 'y="76" width="960" height="224" preserveAspectRatio="none"' in drawn, "from the roof to the rail, as the places stand"
    assert drawn.index("outline__ground") < drawn.index("<image")
    assert "outline__vehicle" not in drawn
    assert "outline__vehicle" in str(outline_targets(own, targets(list(own.places)), None, W))  # it cannot be shown: ours is


def test_the_list_below_has_the_letters_and_their_order():
    catalogue, sheets, problems = judged_sample(CATALOGUE)
    page = next(each.text for each in site(catalogue, sheets, problems, DAY, lambda _front, _wanted: {}).pages if each.path == "vehicles.md")
    letters = re.findall(r'door__letter">(\w+)</span> <bdi>(.*?)</bdi>', page)
    assert letters == [("A", "Cab"), ("B", "Roof")]
    assert [said.split(":")[0] for _, said, *_ in TARGET.findall(page)] == ["B Roof", "A Cab"]  # row by row, from the roof down
    unseen = replace(catalogue, fleets={name: each.model_copy(update={"outline": None}) for name, each in catalogue.fleets.items()})
    page = next(each.text for each in site(unseen, sheets, problems, DAY, lambda _front, _wanted: {}).pages if each.path == "vehicles.md")
    assert "outline" not in page
    assert "door__letter" not in page
