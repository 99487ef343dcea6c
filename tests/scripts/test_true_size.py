"""The arithmetic of true size, against a table of screens and memories that was written without it."""

import json
import math
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

import pytest
from py_mini_racer import MiniRacer

from tests.browser.bundles import SCRIPTS
from tests.browser.true_size_cases import (
    BY_HAND,
    CALIBRATED,
    CARD_MM,
    LEAST_CARD_PX,
    LONG_MM,
    OUTLINES_MM,
    REMEMBERED_CASES,
    SCREENS,
    WITHIN_MM,
    Asked,
)


@pytest.fixture(scope="module")
def engine() -> Iterator[MiniRacer]:
    with MiniRacer() as engine:
        engine.eval("var spares = {};")
        engine.eval(SCRIPTS.room("truesize"))
        yield engine


def asked(engine: MiniRacer, call: str, *arguments: Any) -> Any:
    told = ", ".join(json.dumps(each) for each in arguments)
    return json.loads(engine.eval(f"JSON.stringify(spares.trueSize.{call}({told}))"))


def own(width: int, height: int, ratio: float) -> dict[str, float]:
    return {"width": width, "height": height, "ratio": ratio}


def test_every_screen_is_true_to_half_a_millimetre(engine: MiniRacer) -> None:
    for each in CALIBRATED:
        screen = own(1024, 768, each.screen.ratio)
        # As it is fitted: to a quarter of a pixel.
        kept = asked(engine, "calibration", round(each.fitted_px * 4) / 4, each.fitted_mm, screen)
        px = asked(engine, "pxPerMm", kept, screen, 1)
        # What a quarter of a pixel is of what was fitted, a hand cannot do better.
        off = 0.125 / each.fitted_px * LONG_MM
        assert abs(px * LONG_MM - each.long_px) <= max(off * each.px_per_mm * 1.01, 1e-6), each
        if each.fitted_px > 100:
            assert abs(px * LONG_MM - each.long_px) < each.within_px, each
        for name, (wide, _) in each.outlines_px.items():
            assert px * OUTLINES_MM[name][0] == pytest.approx(wide, rel=0.004)


def test_by_a_pocket_calculator(engine: MiniRacer) -> None:
    for (_, ratio), (px_per_mm, card_px, long_px) in BY_HAND.items():
        kept = asked(engine, "calibration", card_px, CARD_MM[0], own(768, 1024, ratio))
        assert kept["px_per_mm"] == pytest.approx(px_per_mm, rel=1e-5)
        assert kept["px_per_mm"] * LONG_MM == pytest.approx(long_px, abs=WITHIN_MM * px_per_mm / 100)


def test_what_is_too_small_to_be_fitted_is_refused(engine: MiniRacer) -> None:
    unusable = [screen for screen in SCREENS if not screen.is_usable]
    for screen in unusable:
        assert asked(engine, "calibration", screen.card_px[0], CARD_MM[0], own(768, 1024, screen.ratio)) is None
    assert asked(engine, "calibration", LEAST_CARD_PX - 1, CARD_MM[0], own(768, 1024, 2)) is None
    assert asked(engine, "calibration", 5e4, CARD_MM[0], own(768, 1024, 2)) is None


def memory(case: Asked) -> Any:
    """As it lies in the tablet's store, read by JSON.parse; what JSON cannot hold is null there."""
    told = case.remembered
    if not isinstance(told, dict):
        return None if isinstance(told, str) else told
    plain = {key: None if isinstance(value, float) and not math.isfinite(value) else value for key, value in told.items()}
    wide, high = plain.pop("screen", None) or (None, None)
    return {**plain, "width": wide, "height": high}


@pytest.mark.parametrize("case", REMEMBERED_CASES, ids=[each.name for each in REMEMBERED_CASES])
def test_only_what_was_set_for_this_screen_counts(engine: MiniRacer, case: Asked) -> None:
    wide, high = case.now["screen"]
    kept = asked(engine, "calibrationIn", memory(case))
    found = asked(engine, "pxPerMm", kept, own(wide, high, case.now["ratio"]), case.now["pinch"])
    if case.because is None:
        assert found == pytest.approx(case.remembered["px_per_mm"])
    elif case.because in ("another screen", "zoomed"):
        assert found in ("other", "zoomed")
    else:
        assert found == "none"


@pytest.mark.parametrize(
    ("width", "height", "sheets", "is_across"),
    [(38, 38, 1, False), (180, 232, 1, False), (232, 180, 1, True), (181, 232, 2, False), (250, 300, 4, False), (180, 453.9, 2, False), (900, 20, 6, False)],
)
def test_sheets_of_paper_cover_all_and_lap_over(engine: MiniRacer, width: float, height: float, sheets: int, is_across: bool) -> None:
    told = asked(engine, "sheetsFor", width, height)
    assert (len(told["sheets"]), told["isAcross"]) == (sheets, is_across)
    for side, extent, room in (("x", "width", 232 if is_across else 180), ("y", "height", 180 if is_across else 232)):
        spans = sorted({(each[side], each[extent]) for each in told["sheets"]})
        assert spans[0][0] == 0
        assert spans[-1][0] + spans[-1][1] == pytest.approx(width if side == "x" else height)
        assert all(length <= room for _, length in spans)
        assert all(start + length - after >= 10 - 1e-9 for (start, length), (after, _) in pairwise(spans))
