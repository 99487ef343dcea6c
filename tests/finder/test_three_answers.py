"""This one, most likely one of these, or no such part: what makes a part sure, what speaks against it, and what stands first."""

from collections.abc import Iterator
from typing import Any

import pytest

from generator.finder.engine import Answered, Finder
from generator.pages.finder.fits import fits
from generator.records.parts import FeatureKind
from tests.finder import catalogues


def check(name: str, mm: float, feature: str, allowed: tuple[float, float] = (0, 0)) -> dict[str, Any]:
    return {"name": name, "mm": mm, "round": False, "feature": feature, "allowed": list(allowed)}


PARTS = {
    "P-1": {"name": "Shutter crank", "box_mm": [90.0, 41.0, 16.0], "checks": [check("Square", 7.1, "square", (0, 0.15)), check("Screw hole", 4.3, "screw-hole"), check("Rim", 10.0, "outside")]},
    "P-2": {"name": "Foot rest", "box_mm": [120.0, 80.0, 30.0], "checks": [check("Slot distance", 72.0, "spacing")]},
    "P-3": {"name": "Lens hood, left", "other_hand": "P-4", "box_mm": [49.3, 43.2, 23.4]},
    "P-4": {"name": "Lens hood, right", "other_hand": "P-3", "box_mm": [49.3, 43.2, 23.4]},
    "P-5": {"name": "Filler neck", "features": [
        {"name": "Outside thread", "mm": 32, "feature": "thread", "pitch": 1.5, "side": "outside"},
        {"name": "Inside thread", "mm": 20, "feature": "thread", "pitch": 1.5, "side": "inside"}]},
    "P-6": {"name": "Sprocket", "features": [{"name": "Teeth", "mm": 32, "feature": "teeth"}, {"name": "Module", "mm": 1.5, "feature": "module"}], "looks": ["with two ears"]},
    "P-7": {"name": "Bell crank", "box_mm": [64.0, 38.0, 14.0], "by_hand": True},
    "R-1": {"kind": "request", "name": "Shutter crank of the galley", "purpose": "As the other, with an eight-millimetre square.", "page": ""},
}  # fmt: skip


@pytest.fixture(scope="module")
def finder() -> Iterator[Finder]:
    data = catalogues.small("en", PARTS, []) | {"fleets": [{"id": "AB3", "name": "AB3", "vehicles": ["31-39"]}], "places": ["Hall"]}
    for record in data["records"]:
        record["grounds"] = [[0, 0, ["31-35"] if record["number"] == "P-2" else [], None, []]]
    with Finder(data, catalogues.SCRIPTS) as found:
        yield found


def sure(told: Answered) -> list[str]:
    return [each.number for each in told.found if each.is_sure and each.kind == "part"]


def test_three_sizes_make_sure_of_a_model_and_not_of_a_size_by_hand(finder: Finder) -> None:
    assert sure(finder.answer("90.0 x 41.0 x 16.0")) == ["P-1"]
    by_hand = finder.answer("64.0 x 38.0 x 14.0")
    assert [each.number for each in by_hand.found][:1] == ["P-7"]
    assert sure(by_hand) == []


@pytest.mark.parametrize(
    ("query", "number"),
    [
        ("shutter crank 7 mm square", "P-1"),
        ("shutter crank square 7.25", "P-1"),  # what the check itself allows
        ("shutter crank for M4 screw", "P-1"),
        ("shutter crank rim 10", "P-1"),
        ("foot rest two slots 72.4 apart", "P-2"),
        ("foot rest slots seventy two apart", "P-2"),
        ("filler neck M32 x 1.5", "P-5"),
        ("filler neck m32 to m20", "P-5"),
        ("sprocket 32 teeth module 1.5", "P-6"),
    ],
)
def test_a_size_within_what_a_mechanic_accepts_makes_sure(finder: Finder, query: str, number: str) -> None:
    assert sure(finder.answer(query)) == [number]


@pytest.mark.parametrize(
    ("query", "number", "clash"),
    [
        ("shutter crank 8 mm square", "P-1", 7.1),
        ("shutter crank square 6.8", "P-1", 7.1),
        ("shutter crank square 10", "P-1", 7.1),  # its rim is 10
        ("shutter crank about 8 mm square", "P-1", 7.1),  # a tape does not measure a square
        ("shutter crank for M6 screw", "P-1", 4.3),
        ("foot rest slots 74 apart", "P-2", 72),
        ("filler neck M32 x 2", "P-5", 32),
        ("sprocket 31 teeth", "P-6", 32),
    ],
)
def test_a_size_beyond_it_is_never_sure_and_says_what_is_here(finder: Finder, query: str, number: str, clash: float) -> None:
    told = finder.answer(query)
    assert sure(told) == []
    reasons = next(each.reasons for each in told.found if each.number == number)
    assert [each.detail[0]["mm"] for each in reasons if each.kind == "clash" and isinstance(each.detail, list)] == [clash]


def test_the_other_way_round_is_another_reducer(finder: Finder) -> None:
    assert sure(finder.answer("filler neck m20 to m32")) == []


def test_a_feature_that_a_part_lacks_never_makes_it_sure(finder: Finder) -> None:
    assert sure(finder.answer("shutter crank D bore 7.1")) == []


def test_whole_millimetres_are_sure_where_they_are_its_own_size_rounded(finder: Finder) -> None:
    assert sure(finder.answer("shutter crank 90 long")) == ["P-1"]
    assert sure(finder.answer("shutter crank 91 long")) == []
    assert sure(finder.answer("shutter crank 91.5 long")) == []
    assert sure(finder.answer("shutter crank about 91 long")) == ["P-1"]
    assert sure(finder.answer("shutter crank rim 10")) == ["P-1"]
    assert sure(finder.answer("shutter crank rim 11")) == []
    assert sure(finder.answer("foot rest two slots 73 apart")) == []


def test_sizes_alone_in_whole_millimetres_are_sure_where_all_three_are_its_own(finder: Finder) -> None:
    assert sure(finder.answer("90 x 41 x 16")) == ["P-1"]
    assert sure(finder.answer("90 x 42 x 16")) == []
    assert sure(finder.answer("90 ±1 x 41 x 16")) == []


def test_a_request_that_fits_better_stands_first_and_leaves_no_part_sure(finder: Finder) -> None:
    told = finder.answer("shutter crank 8 mm square")
    assert [told.found[0].number, told.said] == ["R-1", "likely"]


def test_of_two_hands_none_is_sure_until_the_hand_is_said(finder: Finder) -> None:
    assert sure(finder.answer("lens hood")) == []
    assert sure(finder.answer("lens hood right")) == ["P-4"]
    assert finder.answer("lens hood").said == "likely"


def test_what_is_not_for_the_chosen_vehicle_is_found_and_never_sure(finder: Finder) -> None:
    query = "foot rest slots 72 apart"
    assert [sure(finder.answer(query, vehicle=each)) for each in ("31", "36", "99", "x")] == [["P-2"], [], [], []]
    assert finder.answer(query, vehicle="36").found[0].number == "P-2"


@pytest.mark.parametrize(
    ("query", "vehicle"),
    [("car 77", "77"), ("77", "77"), ("shutter crank car 77", "77"), ("AB3 77", "77"), ("car 31", ""), ("31", ""), ("car 72", "72"), ("72", ""), ("7777", ""), ("shutter crank 77", "")],
)
def test_a_vehicle_that_no_fleet_has_is_told(finder: Finder, query: str, vehicle: str) -> None:
    told = finder.answer(query)
    assert catalogues.strange_vehicle(told) == vehicle
    assert bool(told.found) == (query not in ("car 77", "77", "AB3 77", "7777"))
    assert sure(told) == []


def test_the_carried_vehicle_puts_its_own_parts_first_and_makes_none_sure(finder: Finder) -> None:
    assert sure(finder.answer("31")) == []
    assert finder.answer("foot rest", vehicle="36").found[0].score < finder.answer("foot rest", vehicle="31").found[0].score
    assert finder.answer("foot rest car 31", vehicle="36").found[0].score == finder.answer("foot rest car 31").found[0].score


@pytest.mark.parametrize(
    ("query", "asked", "here", "shape"),
    [
        ("shutter crank round shaft 7", ("round shaft", "7"), "Square", ""),
        ("shutter crank with a round shaft", ("round shaft", ""), "Square", ""),
        ("filler neck left hand thread", ("left hand thread", ""), "Outside thread", "right"),
        ("shutter crank splined bore 7", ("splined bore", "7"), "Square", ""),
        ("shutter crank pin 7", ("pin", "7"), "Square", ""),
    ],
)
def test_another_shape_or_kind_is_told_on_both_sides(finder: Finder, query: str, asked: tuple[str, str], here: str, shape: str) -> None:
    told = finder.answer(query)
    assert sure(told) == []
    reasons = [each for each in told.found[0].reasons if each.kind == "otherwise"]
    assert [(each.asked_as, each.asked, each.text, each.shape) for each in reasons] == [(*asked, here, shape)]


@pytest.mark.parametrize(("query", "said"), [("sprocket", "this"), ("pantograph", "none"), ("it hangs", "none"), ("two ears", "likely")])
def test_the_three_answers(finder: Finder, query: str, said: str) -> None:
    assert finder.answer(query).said == said


SEEN = {
    "K-1": {"name": "Vent knob", "looks": ["round, disc", "grey, gray"]},
    "K-2": {"name": "Vent knob with pointer", "looks": ["round with a nose", "grey, gray", "foot with three screws"], "replaces": [{"number": "7-220-0613 C", "kind": "old number"}]},
    "K-3": {"name": "Rail tee", "box_mm": [60.0, 40.0, 30.0], "looks": ["grooved", "black, dark"], "checks": [
        check("Inside of the run", 34.4, "ring"), check("Inside of the branch", 28.4, "ring"),
        check("Eye, width", 42.0, "strap-slot"), check("Eye, height", 7.0, "strap-slot"), check("Key hole", 10.15, "square")]},
}  # fmt: skip


@pytest.fixture(scope="module")
def seen() -> Iterator[Finder]:
    with Finder(catalogues.small("en", SEEN, []), catalogues.SCRIPTS) as found:
        yield found


@pytest.mark.parametrize(
    ("query", "numbers"),
    [
        ("rail tee run 34 branch 28", ["K-3"]),
        ("rail tee run 28 branch 34", []),  # each has the other's
        ("rail tee eye 42 wide", ["K-3"]),
        ("rail tee eye 42 high", []),
        ("rail tee square 10", ["K-3"]),
        ("rail tee round bore 10", []),
        ("rail tee Ø10", []),
        ("rail tee pin 10", []),
        ("rail tee 60 x 40 x 30", ["K-3"]),
        ("rail tee 60 x 40 x 42", []),  # 42 is the eye
        ("tee 60 x 40", []),  # a kind and a tape
        ("vent knob with pointer", ["K-2"]),
        ("vent knob without a pointer", []),  # K-1 does not say that it has none
        ("black vent knob with pointer", []),
        ("grey vent knob with pointer", ["K-2"]),
        ("vent knob with pointer, three screws", ["K-2"]),
        ("vent knob with pointer, two screws", []),
        ("7 220 0613", ["K-2"]),
        ("220-0613", []),
        ("8-220-0613", []),
        ("7-220", []),
    ],
)
def test_what_is_named_seen_or_read_otherwise_is_not_sure(seen: Finder, query: str, numbers: list[str]) -> None:
    assert sure(seen.answer(query)) == numbers


def test_the_hit_says_what_it_has_instead_of_what_it_lacks(seen: Finder) -> None:
    hit = next(each for each in seen.answer("rail tee pin 10").found if each.number == "K-3")
    assert [(each.asked_as, each.asked, each.text) for each in hit.reasons if each.kind == "otherwise"] == [("pin", "10", "Key hole")]


def test_every_kind_of_feature_has_its_limits_or_is_one_of_the_whole() -> None:
    outer = {"length", "width", "height", "thickness", "outside"}
    assert set(fits()["mating"]) == {str(kind) for kind in FeatureKind} - outer


@pytest.mark.parametrize(("kind", "rows"), fits()["mating"].items())
def test_the_limits_of_a_kind_hold_to_both_sides(kind: str, rows: list[dict[str, float]]) -> None:
    words = {"seat": "bearing seat", "pin-hole": "hinge eye", "d-bore": "d bore", "screw-hole": "screw hole", "panel-hole": "panel hole", "strap-slot": "strap", "width-inside": "inner width", "spacing": "hole spacing", "grip": "grip ribs", "tips": "over the tips", "flats": "across flats"}
    nominal = {"teeth": 24.0, "module": 2.0, "keyway": 4.0}.get(kind, rows[-1]["to"])
    feature = {"name": "It", "mm": nominal, "feature": kind}
    data = catalogues.small("en", {"P-1": {"name": "Brass widget", "features": [feature]}}, [])
    with Finder(data, catalogues.SCRIPTS) as finder:

        def is_sure(mm: float) -> bool:
            return bool(sure(finder.answer(f"brass widget {words.get(kind, kind)} {mm:.3f}")))

        row = rows[-1]
        assert is_sure(nominal - row["below"])
        assert is_sure(nominal + row["above"])
        assert not is_sure(nominal - row["below"] - 0.02)
        assert not is_sure(nominal + row["above"] + 0.02)
