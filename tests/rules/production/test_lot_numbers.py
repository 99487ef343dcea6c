"""Is a supplier's number the same one, written otherwise? Told from the side of whoever copies it from a spool, and of a supplier that counts."""

from itertools import combinations, pairwise
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from generator.rules.production.lot_numbers import is_near

NAMES = ("pc-fr-black", "pc", "fr", "black", "Nordplast", "3D Nord", "pa12")
CALLED = ["3388", "PC-FR 3388", "Lot 3388"]
# As people copy it; from memory.
WRITTEN = [
    "Lot 3388", "3388-B", "PC-FR-3388", "PC-FR 3388", "3388 rest", "3388 (rest)", "lot no. 3388 (spool 2)", "3388O", "O3388", "3388/2", "3388.1", "#3388", "Nr. 3388", "Ch.-B. 3388",
    "LOT:3388", "3388 B", "3388b", "3388 - Rolle 2", "3388 (2. Rolle)", "33 88", "33-88", "３３８８", "3388\u200b", "33\u200b88", "٣٣٨٨", "03388", "LOTNR.3388", "Charge3388", "Parti nr. 3388",
    "Nordplast 3388", "3D Nord 3388", "pa12 3388", "3388 Nordplast", "3388 åben", "3388 geöffnet", "3388 vom 3.3.", "26-3388", "3388-2026", "338B", "A3388", "3388 - 2/2", "3388,", "pc-fr-black 3388 rest", "Nord 33\u200b88 B",
]  # fmt: skip
OTHERS = ["3389", "13388", "33881", "33880", "338", "388", "33388", "8833", "3383", "3389 rest", "Lot 3389", "PC-FR 3389", "3389-B", "Nordplast", "PC-FR", "Lot", "rest", "", "2231", "88", "33"]  # fmt: skip


@pytest.mark.parametrize("number", WRITTEN)
def test_one_number_is_known_however_it_is_copied(number):
    for called in CALLED:
        assert is_near(called, number, NAMES), called
        assert is_near(number, called, NAMES), called


@pytest.mark.parametrize("number", OTHERS)
def test_another_number_is_another_lot(number):
    for called in CALLED:
        assert not is_near(called, number, NAMES), called
        assert not is_near(number, called, NAMES), called


@pytest.mark.parametrize(
    ("one", "other", "may_be"),
    [
        ("3388-1", "3388-2", True),  # drums of one lot
        ("3388 A", "3388 B", True),
        ("3388 spool 1", "3388 spool 2", True),
        ("F26-3388/01", "F26-3388/02", True),
        ("3388-B", "3388 rest", True),
        ("3388-B spool 1", "3388-B spool 2", True),
        ("3388-B 1. Rolle", "3388-B 2. Rolle", True),
        ("F26-8", "F26-08", True),
        ("K 118", "118", True),
        ("Alpha", "Alpha rest", True),
        ("26-08", "26-09", False),  # a year and a count
        ("2026-8", "2026-9", False),
        ("F26-08", "N26-08", False),
        ("F25-31", "F26-31", False),
        ("K 118", "K 119", False),
        ("A3388", "B3388", False),
        ("3388-101", "3388-102", False),
        ("12", "F26-12", False),
        ("Alpha", "Beta", False),
    ],
)
def test_what_is_counted_is_held_apart_from_drums(one, other, may_be):
    assert is_near(one, other) is is_near(other, one) is may_be


# What one lot is called here, and the same one as somebody else wrote it; from memory.
NEAR = {
    "GÜ 204": ["GUE204", "GU 204", "gü-204", "Gü204 Rest"], "GØ 31": ["GOE 31", "GO31"], "ÆR 7": ["AER 7", "aer7"], "ÅB 204": ["AAB 204", "AB204"], "KÖ-12": ["KOE 12", "KO12"],
    "2026-0117": ["26-0117", "0117/26", "117/2026", "26/117", "117-26", "0117", "2026/0117 B"], "26-118": ["118/26", "2026-118", "118/2026"], "N26-02": ["N2026-02", "n 2026/2"], "26-17": ["17/26", "2026-17"],
    "26W47": ["W47/26", "KW47/26", "KW 47/2026", "2026-W47", "26KW47", "Uge 47/26", "47/26 rest W47/26"],
    "K 118": ["K 117/118", "K 116 - K 119", "K 117+118", "K 117, 118", "K117/118/119", "K 116–119", "118 K", "К 118", "K 117 u. 118", "K 117 & K 118", "Lot K 117/118 rest", "K 118/26", "K 118, 1000 g", "K 118, 1,75 mm", "118"],
    "3388": ["3387 u. 88", "3387/88", "3386-3390", "3385 til 3390", "3386 bis 3389", "3386 to 3390", "3386 og 3388", "3386…3390", "3386/87/88", "3387 + 8", "3386bis3389", "3388²", "3388 ①", "З388", "PC-FR 3387/88", "3388 / 2026", "1 kg 3388", "26-3388 G", "3388 g"],
    "118A": ["A-118", "A118", "118 A rest"], "A118": ["118 А", "А118"], "4471": ["4471/90 DE", "DE 4471/90"], "DE 4471/90": ["4471/90 DE"], "12345678": ["...5678", "…5678", "*5678", "12345...", "Lot …45678"],
    "M118": ["rn118", "RN 118"], "D118": ["cl118"], "W118": ["VV118"], "CT 204": ["СТ 204", "ct204"], "HPX 12": ["НРХ 12"], "BEO 31": ["ВЕО 31"],
}  # fmt: skip
FAR = {
    "2604-11": ["2604-12", "2604-21", "2604-31"], "2611-01": ["2611-02", "2611-12"], "2611A": ["2611B"], "202611-1": ["202611-2"], "4410 / 2026": ["2026", "4411 / 2026", "4409/2026"], "K 200, 1000 g": ["1000", "K 201, 1000 g"],
    "200, 1,75 mm": ["175"], "GÜ 204": ["GA 204", "GÜ 205", "GUE 2"], "2026-0117": ["2025-0117", "26-0118", "0118/26"], "26W47": ["26W48", "25W47", "W48/26"], "K 118": ["119 K", "К 119", "K 119/120", "K 115-117", "M 118", "M 117/118", "K 117/119"],
    "3388": ["3389 u. 90", "3389/90", "3386-3387", "3389 bis 3391", "3386/87", "3388888", "...389", "…999", "3386/89", "3387-100", "338/9"], "A118": ["118B", "B-118"], "12345678": ["...5679", "…1234", "1234", "5678"], "M118": ["n118", "r118", "rm118"],
    "117/26": ["126/26", "118/26", "126"], "3101-101": ["3101-105"], "2026-2027": ["2026-2028"], "01-02": ["02-01"],
}  # fmt: skip


@pytest.mark.parametrize("written", ["K 116 - M 119", "K116-M119", "K 116 bis M 119", "K 116 to M 119", "116 - M 119", "K 116–M119", "K 116 ~ M 19", "Lot K 116 - M 119 rest", "K 116 til M 119"])
def test_from_one_prefix_to_another_is_each_lot_of_either(written):
    """One of the two was mistyped, and nobody can tell which."""
    near = ["M 116", "M 118", "M119", "M 117-B"] + [f"K {n}" for n in (116, 118, 119) if "K" in written]
    for called in near:
        assert is_near(called, written, NAMES), called
        assert is_near(written, called, NAMES), called
    for called in ("K 115", "M 120", "M 115", "K 120", "M 18", *(["B 118"] if "K" in written else [])):
        assert not is_near(called, written, NAMES), called


@pytest.mark.parametrize("written", ["K 116, M 119", "K 116 / M 119", "K 116 + M 119", "K 116 u. M 119"])
def test_lots_of_two_prefixes_that_stand_in_a_list_are_these_two(written):
    assert all(is_near(called, written, NAMES) for called in ("K 116", "M 119"))
    assert not any(is_near(called, written, NAMES) for called in ("K 118", "M 118", "K 119", "M 116"))


@pytest.mark.parametrize("written", ["K 116 - Rolle 119", "K 116 - roll 2", "K 116 - spool 90", "K 118 - 2026", "K 116 - FE 2611"])
def test_a_spool_or_a_day_behind_a_number_ends_no_list(written):
    assert not is_near("K 117", written, NAMES)


@pytest.mark.parametrize(("called", "written"), [(called, each) for called, every in NEAR.items() for each in every])
def test_the_same_number_in_another_hand(called, written):
    assert is_near(called, written, NAMES)
    assert is_near(written, called, NAMES)


@pytest.mark.parametrize(("called", "written"), [(called, each) for called, every in FAR.items() for each in every])
def test_another_number_in_another_hand(called, written):
    assert not is_near(called, written, NAMES)
    assert not is_near(written, called, NAMES)


FORMS = ["{n}", "{n:04}", "K {n}", "K{n:03}", "LOT {n}", "26-{n}", "26-{n:02}", "F26-{n:02}", "2026-{n}", "2026/{n:03}", "PC-FR {n}", "PC26{n:04}", "{n}/26", "{n}-2026", "X{n}A", "26.11.{n}", "{n}/2026", "{n} K", "2604-{n:02}", "2611-{n}", "{n}, 1000 g", "26W{n}", "N2026-{n:02}", "GÜ {n}", "202611/{n}", "Ø{n}/26"]  # fmt: skip


@given(form=st.sampled_from(FORMS), first=st.integers(1, 9000))
def test_no_supplier_that_counts_makes_the_next_lots_ask(form, first):
    listed = [form.format(n=n) for n in range(first, first + 6)]
    assert not [pair for pair in combinations(listed, 2) if is_near(*pair, NAMES)]


def test_no_two_lots_of_the_demo_are_near():
    """Whatever their material, so that no depot like it asks for nothing."""
    files = sorted(Path("catalogue/materials/lots").glob("*.yml"))
    numbers = [str(yaml.safe_load(each.read_bytes())["supplier_lot"]) for each in files]
    assert len(numbers) > 10
    assert not [pair for pair in combinations(numbers, 2) if is_near(*pair)]


@given(st.text(max_size=12), st.text(max_size=12))
def test_any_two_texts_are_compared_from_both_sides_alike(one, other):
    assert is_near(one, other) is is_near(other, one)


def test_a_line_of_very_many_figures_is_read_too():
    assert is_near("9" * 5000, f"{'9' * 5000} / {'8' * 5000}")
    assert not is_near("1000", f"1-{'9' * 5000}")


def test_one_number_with_more_and_more_before_and_behind_stays_near():
    ways = ["3388", "Lot 3388", "Lot 3388 rest", "Lot PC-FR 3388 rest", "Lot PC-FR 3388-B rest"]
    assert all(is_near(*pair, NAMES) for pair in pairwise(ways))
    assert all(is_near("3388", each, NAMES) for each in ways)
