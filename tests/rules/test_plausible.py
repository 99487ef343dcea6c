"""When does a mesh deserve a second look: its size at its place, its soundness, room on a plate?"""

from dataclasses import replace

import pytest

from generator.geometry.facts import Defect, DefectKind, MeshFacts
from generator.geometry.sections import Walls
from generator.rules.plausible import mesh_doubts
from tests.fixtures.told import fix, says
from tests.rules.cases import knob, tiny

# The cab of A1: 4 to 200 mm; without lengths of its own, so that only the size at the place is looked at.
PART = knob().model_copy(update={"fits": knob().fits[:1], "checks": (), "fire": None})


def facts(longest=50.0, defects=(), volume=1000.0):
    size = (longest, longest / 2, longest / 4)
    return MeshFacts(
        size_mm=size, oriented_size_mm=size, faces=12, vertices=8, bodies=1, area_mm2=600.0, volume_mm3=volume,
        is_watertight=not defects, defects=tuple(defects),
    )  # fmt: skip


def codes(*args, **other):
    return [doubt.code for doubt in mesh_doubts(PART, facts(*args, **other), tiny())]


@pytest.mark.parametrize(
    ("longest", "found"),
    [
        (50, []),
        (4.0, []),  # the borders belong to what is plausible
        (200.0, []),
        (3.99, ["SIZE02"]),
        (200.5, ["SIZE01", "ROOM01"]),
        (0.05, ["SIZE02"]),  # metres taken for millimetres
        (50_000, ["SIZE01", "ROOM01"]),  # microns taken for millimetres
    ],
)
def test_size_at_the_place(longest, found):
    assert codes(longest) == found


def test_a_doubt_says_both_sizes_and_how_to_mend():
    (doubt,) = mesh_doubts(PART, facts(0.05), tiny())
    assert "0.05 × 0.025 × 0.0125 mm" in says(doubt)
    assert "at least 4 mm" in says(doubt)
    assert "mesh_units" in fix(doubt)


def test_a_doubt_about_size_is_told_once_for_many_places():
    part = knob().model_copy(update={"fits": knob().fits[:2]})
    assert [doubt.code for doubt in mesh_doubts(part, facts(3.0), tiny())] == ["SIZE02"]


def test_each_defect_is_named_with_its_count():
    doubts = mesh_doubts(
        PART, facts(defects=[Defect(kind=DefectKind.OPEN_EDGES, count=1200)], volume=None), tiny()
    )
    (doubt,) = doubts
    assert doubt.code == "SOUND01"
    assert "open edges (1,200)" in says(doubt)
    assert "no volume, mass or price" in says(doubt)


def test_room_is_looked_for_on_every_makers_plate():
    small = tiny().makers["bench"].model_copy(update={"id": "small", "build_volume_mm": (30.0, 30.0, 30.0)})
    catalogue = replace(tiny(), makers={**tiny().makers, "small": small})
    part = PART.model_copy(update={"makers": ("small",)})
    assert [doubt.code for doubt in mesh_doubts(part, facts(), catalogue)] == ["ROOM01"]
    part = PART.model_copy(update={"makers": ("small", "bench")})
    assert mesh_doubts(part, facts(), catalogue) == ()


def test_unknown_places_and_makers_raise_no_doubt_of_their_own():
    part = PART.model_copy(
        update={"makers": ("nobody",), "fits": (PART.fits[0].model_copy(update={"place": "nowhere"}),)}
    )
    assert mesh_doubts(part, facts(5000), tiny()) == ()


@pytest.mark.parametrize(("longest", "is_micron"), [(50_000, True), (300, False), (3_000_000, False)])
def test_micron_is_only_suggested_where_it_would_be_plausible(longest, is_micron):
    doubt = mesh_doubts(PART, facts(longest), tiny())[0]
    assert doubt.code == "SIZE01"
    assert ("mesh_units: micron" in fix(doubt)) is is_micron
    assert is_micron or fix(doubt).startswith("check the units it was saved in")


WALLED = knob().fire
CHECK = knob().checks[0]


def lengths(longest=40.0, **change):
    """A part of 40 × 20 × 10 mm that says of itself what `change` says."""
    return [doubt.code for doubt in mesh_doubts(PART.model_copy(update=change), facts(longest), tiny())]


@pytest.mark.parametrize(
    ("wall_mm", "found"),
    [(10.0, []), (10.2, []), (10.3, ["WALL01"]), (50.0, ["WALL01"])],
    ids=["solid", "within rounding", "thicker than the part", "50 mm typed"],
)
def test_no_wall_is_thicker_than_the_part(wall_mm, found):
    assert lengths(fire=WALLED.model_copy(update={"thinnest_wall_mm": wall_mm})) == found
    settings = PART.settings.model_copy(update={"wall_mm": wall_mm})
    assert lengths(settings=settings) == found


@pytest.mark.parametrize(("wall_mm", "found"), [(1.2, []), (2.4, []), (2.45, []), (2.6, ["WALL01"]), (9.0, ["WALL01"]), (50.0, ["WALL01"])])
@pytest.mark.parametrize("key", ["wall_mm", "layer_mm"])
def test_no_wall_is_thicker_than_the_thickest_that_was_measured(key, wall_mm, found):
    """A shell of 2.4 mm, 10 mm across: the box alone would let 9 mm pass. Of the fire's wall one doubt is enough."""
    shell = Walls(thinnest_mm=1.2, thickest_mm=2.4, nominal_mm=2.4, thinnest_at=(0, 0, 0), thickest_at=(1, 2, 3.04))
    part = PART.model_copy(update={"settings": PART.settings.model_copy(update={key: wall_mm})})
    doubts = mesh_doubts(part, facts(40.0), tiny(), shell)
    assert [each.code for each in doubts] == found
    assert all("2.4 mm thick at its thickest section, at (1.0, 2.0, 3.0)" in says(each) for each in doubts)
    typed = PART.model_copy(update={"fire": WALLED.model_copy(update={"thinnest_wall_mm": 50.0})})
    assert [each.code for each in mesh_doubts(typed, facts(40.0), tiny(), shell)] == ["WALL02"]


@pytest.mark.parametrize(("nominal_mm", "found"), [(45.8, []), (46.7, []), (47.0, ["CHECK01"]), (400.0, ["CHECK01"])])
def test_no_check_is_larger_than_the_part(nominal_mm, found):
    """From corner to corner it is 45.83 mm, the root of 40² + 20² + 10²."""
    assert lengths(checks=(CHECK.model_copy(update={"nominal_mm": nominal_mm, "minus_mm": 0.0}),)) == found


def test_what_the_tolerance_allows_is_not_larger():
    assert lengths(checks=(CHECK.model_copy(update={"nominal_mm": 47.5, "minus_mm": 1.0}),)) == []


def walls(thinnest):
    return Walls(
        thinnest_mm=thinnest, thickest_mm=9.0, nominal_mm=thinnest, thinnest_at=(1.25, -2.0, 13.04), thickest_at=(0.0,) * 3
    )


def wall_doubts(typed, measured):
    fire = knob().fire.model_copy(update={"thinnest_wall_mm": typed})
    part = PART.model_copy(update={"fire": fire})
    found = mesh_doubts(part, facts(104.0), tiny(), walls(measured) if measured else None)
    return [each for each in found if each.code == "WALL02"]


@pytest.mark.parametrize(
    ("typed", "measured", "is_doubted"),
    [
        (3.0, 0.8, True),  # the shell of 0.8 mm that is called 3 mm
        (50.0, 1.2, True),  # on a part of 26 mm
        (2.1, 2.0, False),  # a tenth belongs to what is the same
        (2.11, 2.0, True),
        (10.5, 10.0, False),  # and 5 %
        (10.51, 10.0, True),
        (2.0, 2.0, False),
        (1.0, 2.0, False),  # thinner than it is: the safe side
        (0.2, 2.0, False),
        (3.0, None, False),  # not measured: the typed wall stands
    ],
)
def test_the_typed_wall_is_held_against_the_measured_one(typed, measured, is_doubted):
    assert bool(wall_doubts(typed, measured)) == is_doubted


def test_a_doubt_about_a_wall_says_both_figures_and_the_place():
    (doubt,) = wall_doubts(3.0, 0.8)
    assert "0.8 mm thick at its thinnest wall, at (1.2, -2.0, 13.0)" in says(doubt)
    assert "fire.thinnest_wall_mm: 3" in says(doubt)
    assert "picture" in fix(doubt)
