"""What only the model tells: it finds, ranks and is told, and makes no part sure. Sizes from tests/models/FEATURES.md that no check names."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from generator.finder.engine import Finder, Found
from generator.geometry.features.kinds import Feature, Features, Kind
from generator.pages.finder.modelled import MOST_SIZES, modelled
from tests.finder import catalogues
from tests.finder.test_three_answers import check, sure


@pytest.fixture(scope="module")
def demo(warm_store: Path) -> Iterator[Finder]:
    with Finder(catalogues.demo(warm_store), catalogues.SCRIPTS) as found:
        yield found


def of_model(hit: Found) -> list[tuple[str, str, float]]:
    told = [each for each in hit.reasons if each.kind in ("modelled", "model_clash")]
    return [(each.kind, each.text, each.detail[0]["mm"]) for each in told if isinstance(each.detail, list)]


@pytest.mark.parametrize(
    ("query", "number", "feature", "mm"),
    [
        ("bush across flats 25.4", "TV-0207", "flats", 25.4),
        ("tilt lever screw hole 3.4", "TV-0284", "hole", 3.4),
        ("filler cap bolt hole 5.5", "TV-0276", "hole", 5.5),
        ("strap fitting hexagon 10", "TV-0264", "hexagon", 10.0),
        ("paper chute for M4 screws", "TV-0244", "hole", 4.3),
        ("microphone cradle M3 screw", "TV-0288", "hole", 3.4),
        ("latch knob spigot 18", "TV-0417", "boss", 18.0),
        ("gear hub 22", "TV-0292", "boss", 22.0),
        ("Deckel Schraubenloch 2,5", "TV-0272", "hole", 2.5),
        ("Düse Zapfen 13", "TV-0280", "boss", 13.0),
        ("Fußstützenhebel Nabe 24", "TV-0284", "boss", 24.0),
        ("Buchse Schlüsselweite 25,4", "TV-0207", "flats", 25.4),
        ("dæksel til sikringsboks skruehul 2,5", "TV-0272", "hole", 2.5),
        ("bøsning nøglevidde 25,4", "TV-0207", "flats", 25.4),
        ("billetmaskine slidske skruehul 4,3", "TV-0244", "hole", 4.3),
    ],
)
def test_a_size_of_the_model_ranks_and_is_told_and_never_sure(demo: Finder, query: str, number: str, feature: str, mm: float) -> None:
    told = demo.answer(query)
    assert sure(told) == []
    first = told.found[0]
    assert first.number == number
    assert [(kind, name) for kind, name, _ in of_model(first)] == [("modelled", feature)]
    assert of_model(first)[0][2] == pytest.approx(mm, abs=0.1)


@pytest.mark.parametrize(
    ("query", "number", "feature", "mm"),
    [
        ("bush across flats 26.3", "TV-0207", "flats", 25.4),
        ("tilt lever screw hole 4.3", "TV-0284", "hole", 3.4),
        ("strap fitting hexagon 10.9", "TV-0264", "hexagon", 10.0),
        ("Buchse Schlüsselweite 24,5", "TV-0207", "flats", 25.4),
        ("bøsning nøglevidde 26,3", "TV-0207", "flats", 25.4),
        ("tilt lever hub 24.9", "TV-0284", "boss", 24.0),
    ],
)
def test_nearly_a_millimetre_off_is_told_with_what_the_model_has(demo: Finder, query: str, number: str, feature: str, mm: float) -> None:
    told = demo.answer(query)
    assert sure(told) == []
    hit = next(each for each in told.found if each.number == number)
    assert [(kind, name) for kind, name, _ in of_model(hit)] == [("model_clash", feature)]
    assert of_model(hit)[0][2] == pytest.approx(mm, abs=0.1)


PARTS: dict[str, dict[str, Any]] = {
    "P-1": {"name": "Shutter crank", "checks": [check("Square", 7.1, "square")], "modelled": {"square": [[8.0]], "hole": [[3.4, 2]], "thread": [[31.8, 1, 1.48]]}},
    "P-2": {"name": "Shutter wedge", "checks": [check("D bore", 6.1, "d-bore")], "modelled": {"hole": [[9]], "boss": [[14]], "hexagon": [[10.05]]}},
}  # fmt: skip


@pytest.fixture(scope="module")
def small() -> Iterator[dict[str, Finder]]:
    """The same parts with and without what their models have."""
    bare = {number: {key: value for key, value in part.items() if key != "modelled"} for number, part in PARTS.items()}
    with Finder(catalogues.small("en", PARTS, []), catalogues.SCRIPTS) as known, Finder(catalogues.small("en", bare, []), catalogues.SCRIPTS) as unknown:
        yield {"known": known, "unknown": unknown}


def scores(finder: Finder, query: str) -> dict[str, float]:
    return {each.number: each.score for each in finder.answer(query).found}


@pytest.mark.parametrize(
    "query",
    [
        "shutter crank square 8",  # its check says 7.1
        "shutter crank 8 mm square",
        "shutter wedge bore 9",  # its check says that the bore is a D
        "shutter wedge round bore 9",
        "shutter crank hexagon 3.4",  # a hole is none
        "shutter wedge slot 14",
        "shutter crank M32 x 2",  # another pitch
        "shutter wedge hexagon 10.95",
        "shutter wedge left-hand thread",
        "shutter crank bore 93.7",  # nobody has it
        "bore 93.7",
        "shutter",
    ],
)
def test_what_the_record_says_otherwise_or_nobody_has_is_as_without_a_model(small: dict[str, Finder], query: str) -> None:
    known, unknown = (small[each].answer(query) for each in ("known", "unknown"))
    assert scores(small["known"], query) == scores(small["unknown"], query)
    assert (known.said, sure(known)) == (unknown.said, sure(unknown))


@pytest.mark.parametrize(
    ("query", "number"),
    [
        ("shutter M3 screw", "P-1"),
        ("shutter thread M32 x 1.5", "P-1"),
        ("shutter Ø14", "P-2"),
        ("shutter spigot 14", "P-2"),
        ("shutter spanner 10", "P-2"),
        ("shutter panel hole 9", "P-2"),
    ],
)
def test_it_lifts_the_part_that_has_it(small: dict[str, Finder], query: str, number: str) -> None:
    told = small["known"].answer(query)
    assert told.found[0].number == number
    assert sure(told) == []
    assert scores(small["known"], query)[number] > scores(small["unknown"], query).get(number, 0)


def test_a_screw_of_the_model_is_near_to_no_words_of_another_thing(small: dict[str, Finder]) -> None:
    assert small["known"].answer("pantograph M3").said == "none"


def test_what_the_record_says_ranks_before_what_the_model_has(small: dict[str, Finder]) -> None:
    other = {"P-9": {"name": "Window crank", "checks": [check("Screw hole", 3.4, "screw-hole")]}}
    with Finder(catalogues.small("en", {**PARTS, **other}, []), catalogues.SCRIPTS) as finder:
        assert [each.number for each in finder.answer("crank M3 screw").found][:2] == ["P-9", "P-1"]


def feature(kind: Kind, mm: float, **more: Any) -> Feature:
    return Feature(kind=kind, at=(0, 0, 0), axis=(0, 0, 1), size_mm=mm, within_mm=0, **more)


def sizes(*found: Feature, named: tuple[tuple[str, float], ...] = ()) -> dict[str, list[list[float]]]:
    return modelled(Features(found=found, size_mm=(1, 1, 1), box_mm=(1, 1, 1), box_axes=((1, 0, 0), (0, 1, 0), (0, 0, 1))), named)


def test_equal_sizes_stand_once_and_small_or_partial_ones_not() -> None:
    hole = feature(Kind.HOLE, 4.31, is_inner=True, is_through=True)
    assert sizes(hole, hole, feature(Kind.HOLE, 1.9, is_inner=True, is_through=True), feature(Kind.BOSS, 13, arc_deg=184)) == {"hole": [[4.31, 2]]}


def test_what_the_record_names_is_left_out_of_its_own_kind_alone() -> None:
    found = feature(Kind.SQUARE, 7.1, is_inner=True), feature(Kind.HOLE, 7.1, is_inner=True, is_through=True), feature(Kind.BOSS, 35)
    assert sizes(*found, named=(("square", 7.1), ("outside", 35.1))) == {"hole": [[7.1]]}


def test_a_d_is_no_round_hole_and_a_head_no_hole() -> None:
    d = feature(Kind.HOLE, 6.1, is_inner=True, arc_deg=241), feature(Kind.FLATS, 4.6, second_mm=6.1, is_inner=True)
    assert sizes(*d, feature(Kind.HOLE, 8.6, is_inner=True, second_mm=4.3, seat=0)) == {"d": [[6.1]]}


def test_the_most_telling_stay_and_what_ends_within_the_part_goes_first() -> None:
    holes = [feature(Kind.HOLE, 10 + at, is_inner=True, is_through=at > 0) for at in range(MOST_SIZES)]
    told = sizes(*holes, feature(Kind.THREAD, 31.8, second_mm=1.48), feature(Kind.SQUARE, 7.1))
    assert (told["square"], told["thread"]) == ([[7.1]], [[31.8, 1, 1.48]])
    assert told["hole"] == [[17], [16], [15], [14], [13], [12]]


def test_no_features_are_no_sizes() -> None:
    assert modelled(None, ()) == {}
