"""What is true of a length in real size on a screen, by arithmetic alone? No browser and nothing of ours is asked here.

A screen has so many pixels an inch (ppi) and a pixel ratio: device pixels to a CSS px (CSSOM View, devicePixelRatio). So a
millimetre is ppi / 25.4 / ratio CSS px long, and no `mm` of a style sheet is (CSS Values 3: 1 in = 96 px, whatever the screen).
"""

import math
from dataclasses import dataclass
from itertools import product

CARD_MM = (85.60, 53.98)  # ID-1, ISO/IEC 7810; corners of radius 3.18 mm (2.88 to 3.48)
RULERS_MM = (100.0, 150.0)
LONG_MM, WITHIN_MM = 150.0, 0.5  # what is asked: half a millimetre over 150 mm, a third of a per cent
LEAST_CARD_PX = 60.0  # a card drawn smaller cannot be fitted: one px of it is 1.7 %
PAPER_PX_PER_MM = 96 / 25.4  # on paper the style sheet's mm are mm

RATIOS = (1.0, 1.25, 1.5, 2.0, 2.625, 3.0)
PPIS = (96.0, 120.0, 149.0, 160.0, 224.0, 264.0, 326.0)
OUTLINES_MM = {"a knob": (38.0, 38.0), "a clip": (120.5, 64.25), "a cover": (212.0, 148.3)}  # width and height of the chosen side
VIEWPORTS_PX = {"phone": (360, 640), "upright": (768, 1024), "across": (1024, 768)}


@dataclass(frozen=True, kw_only=True)
class Screen:
    """What a person has in hand; the page knows its ratio alone."""

    ppi: float
    ratio: float

    @property
    def px_per_mm(self) -> float:
        return self.ppi / 25.4 / self.ratio

    @property
    def mm_per_px(self) -> float:
        return 1 / self.px_per_mm

    def px(self, mm: float) -> float:
        return mm * self.px_per_mm

    @property
    def card_px(self) -> tuple[float, float]:
        """How large a frame is that a card fills, in CSS px: what the person sets."""
        return self.px(CARD_MM[0]), self.px(CARD_MM[1])

    @property
    def is_usable(self) -> bool:
        return self.card_px[0] >= LEAST_CARD_PX

    def by_hand(self, mm: float) -> float:
        """The frame's length as it can be set: in whole device pixels."""
        return round(self.px(mm) * self.ratio) / self.ratio

    def wrong_by_mm(self, fitted_mm: float) -> float:
        """By how much 150 mm are too long or short after a frame of that length was fitted to the device pixel."""
        return self.by_hand(fitted_mm) / fitted_mm * LONG_MM * self.mm_per_px - LONG_MM


SCREENS = tuple(Screen(ppi=ppi, ratio=ratio) for ratio, ppi in product(RATIOS, PPIS))


@dataclass(frozen=True, kw_only=True)
class Calibrated:
    """A frame or ruler was fitted; all px are CSS px."""

    screen: Screen
    by: str  # card, or ruler and its length
    fitted_mm: float
    fitted_px: float
    px_per_mm: float
    long_px: float  # 150 mm
    within_px: float  # half a millimetre
    outlines_px: dict[str, tuple[float, float]]


def _calibrated(screen: Screen, by: str, mm: float) -> Calibrated:
    outlines = {name: (screen.px(wide), screen.px(high)) for name, (wide, high) in OUTLINES_MM.items()}
    return Calibrated(
        screen=screen, by=by, fitted_mm=mm, fitted_px=screen.px(mm), px_per_mm=screen.px_per_mm, long_px=screen.px(LONG_MM),
        within_px=screen.px(WITHIN_MM), outlines_px=outlines,
    )  # fmt: skip


CALIBRATED = tuple(
    _calibrated(screen, by, mm)
    for screen in SCREENS
    for by, mm in (("card", CARD_MM[0]), *((f"ruler {long:g}", long) for long in RULERS_MM))
    if screen.is_usable
)

BY_HAND = {  # (ppi, ratio): px a mm, card width px, 150 mm in px; by a pocket calculator, so that the formulas above can be wrong
    (96.0, 1.0): (3.779528, 323.5276, 566.929),
    (120.0, 1.25): (3.779528, 323.5276, 566.929),
    (264.0, 2.0): (5.196850, 444.8504, 779.528),
    (326.0, 2.0): (6.417323, 549.3228, 962.598),
    (326.0, 3.0): (4.278215, 366.2152, 641.732),
    (224.0, 1.5): (5.879265, 503.2651, 881.890),
    (160.0, 2.625): (2.399700, 205.4143, 359.955),
    (96.0, 3.0): (1.259843, 107.8425, 188.976),
}


def fits(mm: tuple[float, float], screen: Screen, viewport: tuple[int, int], margin_px: float = 16.0) -> bool:
    """Whether an outline has room as it is; where not, it is moved under a frame or said to be too large, never made smaller."""
    return all(screen.px(length) <= room - 2 * margin_px for length, room in zip(mm, viewport, strict=True))


def whole_px_error_mm(screen: Screen, mm: float = LONG_MM) -> float:
    """A trap: a ruler whose millimetres are each rounded to whole px is wrong by this much at its end."""
    return mm * (max(round(screen.px_per_mm), 1) * screen.mm_per_px - 1)


def card_of_millimetres(screen: Screen) -> float:
    """A trap: how wide a card is, in mm, that a style sheet draws 85.60 `mm` wide."""
    return CARD_MM[0] * PAPER_PX_PER_MM * screen.mm_per_px


# What a device remembered, and what it is now. Names of fields are ours here; who tests maps them to the script's own.
REMEMBERED = {"px_per_mm": 5.196850, "ratio": 2.0, "screen": (1024, 768)}
NOW = {"ratio": 2.0, "screen": (1024, 768), "pinch": 1.0, "window": (1024, 698)}


@dataclass(frozen=True, kw_only=True)
class Asked:
    name: str
    remembered: object
    now: dict
    because: str | None  # None: it counts


def _as(name: str, because: str | None, *, now: dict | None = None, **remembered: object) -> Asked:
    return Asked(name=name, remembered={**REMEMBERED, **remembered}, now={**NOW, **(now or {})}, because=because)


REMEMBERED_CASES = (
    _as("as it was", None),
    _as("the tablet was turned", None, now={"screen": (768, 1024), "window": (768, 954)}),
    _as("the window is smaller", None, now={"window": (512, 400)}),
    _as("the keyboard is open", None, now={"window": (1024, 380)}),
    _as("a pinch that is over", None, now={"pinch": 1.0005}),
    _as("the coarsest screen that counts", None, px_per_mm=LEAST_CARD_PX / CARD_MM[0] + 1e-6),
    _as("another screen", "another screen", now={"screen": (1280, 800)}),
    _as("another screen of one side", "another screen", now={"screen": (1024, 640)}),
    _as("another pixel ratio", "another screen", now={"ratio": 1.0}),
    _as("the page is at 110 %", "zoomed", now={"ratio": 2.2, "screen": (1024, 768), "window": (931, 635)}),
    _as("the page is at 90 %", "zoomed", now={"ratio": 1.8}),
    _as("the page is at 110 % where the screen's px change too", "zoomed", now={"ratio": 2.2, "screen": (931, 698)}),
    _as("pinched larger", "zoomed", now={"pinch": 1.5}),
    _as("pinched a little", "zoomed", now={"pinch": 1.02}),
    _as("a card of 59 px", "too small", px_per_mm=59 / CARD_MM[0]),
    _as("nothing", "absurd", px_per_mm=0),
    _as("less than nothing", "absurd", px_per_mm=-5.19685),
    _as("a card as wide as a wall", "absurd", px_per_mm=60.0),
    _as("no number", "absurd", px_per_mm=math.nan),
    _as("endless", "absurd", px_per_mm=math.inf),
    _as("a text", "absurd", px_per_mm="5.19685"),
    _as("a list", "absurd", px_per_mm=[5.19685]),
    _as("a ratio of nothing", "absurd", ratio=0),
    _as("a screen that is none", "absurd", screen=None),
    Asked(name="never calibrated", remembered=None, now=NOW, because="none"),
    Asked(name="half a memory", remembered={"px_per_mm": 5.19685}, now=NOW, because="absurd"),
    Asked(name="a broken memory", remembered='{"px_per_mm": 5.', now=NOW, because="absurd"),
    Asked(name="an empty memory", remembered="", now=NOW, because="none"),
    Asked(name="a list for a memory", remembered=[1, 2, 3], now=NOW, because="absurd"),
)
"""Shown in real size only where `because` is None; else nothing has a size, and the reason is said with the way to calibrate.
A page cannot tell a zoom from another screen where the ratio alone has changed: either reason is right there."""
