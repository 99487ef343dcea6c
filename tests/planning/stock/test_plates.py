"""Boxes on plates: what lies there lies apart and inside, and on small cases no more plates are used than need be, by trying all ways."""

import random
from functools import lru_cache
from itertools import combinations

import pytest

from generator.planning.stock.plates import Box, packed


def is_sound(plates, width, depth, gap):
    """Inside the plate, and pieces at least `gap` apart from each other."""
    for plate in plates:
        for lying in plate:
            assert min(lying.x, lying.y) >= 0
            assert max(lying.x + lying.wide - width, lying.y + lying.deep - depth) <= 1e-9
        for a, b in combinations(plate, 2):
            assert (
                a.x + a.wide + gap <= b.x + 1e-9 or b.x + b.wide + gap <= a.x + 1e-9
                or a.y + a.deep + gap <= b.y + 1e-9 or b.y + b.deep + gap <= a.y + 1e-9
            ), (a, b)  # fmt: skip


@lru_cache(None)
def finds_room(sizes, width, depth):
    """Whether boxes of whole sizes lie on one plate, every whole place and both ways tried."""

    def lays(left, taken):
        if not left:
            return True
        wide, deep = left[0]
        for w, d in {(wide, deep), (deep, wide)}:
            for x in range(width - w + 1):
                for y in range(depth - d + 1):
                    cells = {(x + i, y + j) for i in range(w) for j in range(d)}
                    if not cells & taken and lays(left[1:], taken | cells):
                        return True
        return False

    return lays(sizes, frozenset())


def fewest(sizes, width, depth):
    """The fewest plates, every way of parting the boxes tried."""
    best = len(sizes)

    def part(at, groups):
        nonlocal best
        if len(groups) >= best and at < len(sizes):
            return
        if at == len(sizes):
            best = min(best, len(groups))
            return
        for number in range(len(groups)):
            grown = tuple(sorted((*groups[number], sizes[at]), reverse=True))
            if finds_room(grown, width, depth):
                part(at + 1, [*groups[:number], grown, *groups[number + 1 :]])
        part(at + 1, [*groups, (sizes[at],)])

    part(0, [])
    return best


def test_small_cases_against_every_way():
    chance = random.Random(4)
    equal = more = 0
    for _ in range(60):
        sizes = tuple((chance.randint(1, 5), chance.randint(1, 5)) for _ in range(chance.randint(1, 5)))
        plates, homeless = packed([Box(name=str(at), size_mm=(w, d, 1)) for at, (w, d) in enumerate(sizes)], (6, 6, 6), gap_mm=0)
        assert homeless == ()
        is_sound(plates, 6, 6, 0)
        assert sorted(each.box.name for plate in plates for each in plate) == sorted(map(str, range(len(sizes))))
        need = fewest(sizes, 6, 6)
        assert need <= len(plates) <= need + 1
        equal, more = equal + (len(plates) == need), more + (len(plates) > need)
    # Simple, and said to be so: not always the fewest. Of the six ways none alone does all of these, and the worst of them only 56.
    assert (equal, more) == (60, 0)


def test_equal_pieces_fill_rows():
    # 40 x 30 with 5 between on 280 x 260: upright 8 across (275) and 5 deep (220), and below them a row of 6 that lie across (255).
    plates, _ = packed([Box(name="a", size_mm=(40, 30, 20))] * 46, (280, 260, 300), gap_mm=5)
    assert [len(plate) for plate in plates] == [46]
    is_sound(plates, 280, 260, 5)


def test_what_only_fits_turned_lies_turned_and_what_never_fits_is_told():
    plates, homeless = packed([Box(name="long", size_mm=(10, 250, 5)), Box(name="tall", size_mm=(10, 10, 301)), Box(name="broad", size_mm=(300, 90, 2))], (280, 200, 300), gap_mm=5)
    assert [each.box.name for each in plates[0]] == ["long"]
    assert (plates[0][0].wide, plates[0][0].deep) == (250, 10)
    assert [each.name for each in homeless] == ["tall", "broad"]


def test_exactly_as_large_as_the_plate_fits_with_a_gap_asked():
    plates, homeless = packed([Box(name="a", size_mm=(280, 260, 300))] * 2, (280, 260, 300), gap_mm=5)
    assert (len(plates), homeless) == (2, ())


def test_nothing_needs_no_plate():
    assert packed([], (280, 260, 300), gap_mm=5) == ((), ())


def test_the_same_boxes_lie_the_same_way():
    boxes = [Box(name=str(at), size_mm=(20 + at % 7, 15 + at % 5, 10)) for at in range(40)]
    assert packed(boxes, (200, 200, 200), gap_mm=5) == packed(list(boxes), (200, 200, 200), gap_mm=5)


@pytest.mark.parametrize("gap", [-1, float("nan")])
def test_no_gap(gap):
    with pytest.raises(ValueError, match="apart"):
        packed([], (1, 1, 1), gap_mm=gap)
