"""What the year is made of: parts that are printed, places where they sit, lots and machines that there were."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

BEGINS, ENDS = date(2025, 12, 1), date(2026, 11, 26)


@dataclass(frozen=True, kw_only=True)
class Printed:
    """How a part is printed and used up."""

    size: int
    """Pieces of a batch."""
    minutes: float
    """Of each piece, on the machine."""
    grams: float
    """Of each piece, with its support."""
    a_year: int
    """Pieces that are changed because they fail, over all vehicles."""
    spots: tuple[str, ...]
    """Names of the positions at its place; as many as it has on one vehicle."""
    by: str
    fails: float = 0.03
    """The share of our own pieces that fail within a year."""
    first: date = BEGINS
    last: date = ENDS


def _pairs(word: str, count: int) -> tuple[str, ...]:
    return tuple(f"{word} {number} {side}" for number in range(1, count // 2 + 1) for side in ("left", "right"))


def _numbered(word: str, count: int) -> tuple[str, ...]:
    return tuple(f"{word} {number}" for number in range(1, count + 1))


def _vanes(outlets: int, each: int) -> tuple[str, ...]:
    return tuple(f"outlet {outlet}, vane {vane}" for outlet in range(1, outlets + 1) for vane in range(1, each + 1))


BODY, ELECTRICAL, RUNNING = "fitter-body", "fitter-electrical", "fitter-running-gear"
PARTS: dict[str, Printed] = {
    "TV-0101": Printed(size=8, minutes=122, grams=34.5, a_year=26, spots=_pairs("door", 12), by=ELECTRICAL),
    "TV-0104": Printed(size=8, minutes=53, grams=13.4, a_year=20, spots=_numbered("window", 14), by=BODY, fails=0.05),
    "TV-0105": Printed(size=8, minutes=53, grams=13.4, a_year=16, spots=_numbered("window", 14), by=BODY, fails=0.05),
    "TV-0112": Printed(size=44, minutes=21, grams=15.8, a_year=60, spots=_pairs("seat", 24), by=BODY),
    "TV-0123": Printed(size=80, minutes=27, grams=22.6, a_year=80, spots=_vanes(12, 9), by=BODY),
    "TV-0131": Printed(size=6, minutes=208, grams=79, a_year=7, spots=_pairs("bracket", 16), by=BODY, last=date(2026, 8, 28)),
    "TV-0136": Printed(size=4, minutes=130, grams=35, a_year=6, spots=_numbered("joint", 8), by=BODY),
    "TV-0203": Printed(size=6, minutes=140, grams=37, a_year=12, spots=_pairs("step", 12), by=ELECTRICAL),
    "TV-0215": Printed(size=3, minutes=228, grams=66, a_year=4, spots=_numbered("bracket", 4), by=ELECTRICAL),
    "TV-0227": Printed(size=4, minutes=84, grams=71, a_year=2, spots=_numbered("ramp", 2), by=BODY),
    "TV-0231": Printed(size=28, minutes=33, grams=24.4, a_year=44, spots=_numbered("entry", 10), by=ELECTRICAL),
    "TV-0236": Printed(size=8, minutes=47, grams=12.6, a_year=9, spots=_numbered("knob", 2), by=ELECTRICAL),
    "TV-0248": Printed(size=2, minutes=352, grams=79, a_year=2, spots=("left arm",), by=BODY),
    "TV-0249": Printed(size=2, minutes=352, grams=79, a_year=4, spots=("right arm",), by=BODY),
    "TV-0260": Printed(size=28, minutes=18, grams=12.9, a_year=34, spots=_numbered("bin", 12), by=BODY),
    "TV-0288": Printed(size=4, minutes=26, grams=4.4, a_year=5, spots=_numbered("cab", 2), by=ELECTRICAL),
    "TV-0292": Printed(size=8, minutes=26, grams=19.2, a_year=7, spots=("cab 1", "cab 2"), by=ELECTRICAL),
    "TV-0417": Printed(size=48, minutes=19, grams=13.9, a_year=34, spots=_pairs("window", 28), by=BODY),
}
# Cars that came in for their main overhaul: whatever is printed for the saloon is changed as planned.
OVERHAULS: tuple[tuple[date, str, str], ...] = (
    (date(2026, 1, 26), "TR4", "405"), (date(2026, 3, 16), "TR7", "703"), (date(2026, 5, 4), "TR4", "408"),
    (date(2026, 6, 22), "TR7", "706"), (date(2026, 9, 14), "TR4", "411"),
)  # fmt: skip
OVERHAULED: dict[str, int] = {"TV-0101": 12, "TV-0104": 14, "TV-0105": 14, "TV-0112": 24, "TV-0123": 54, "TV-0131": 10, "TV-0203": 12, "TV-0260": 12, "TV-0417": 28}
"""And how many of each at most."""


@dataclass(frozen=True, kw_only=True)
class Delivered:
    material: str
    supplier_lot: str
    received: date
    grams: int
    type: str = "3.1"
    use_by: date | None = None


LOTS: dict[str, Delivered] = {
    "L-0001": Delivered(material="fr-petg-natural", supplier_lot="5561", received=date(2025, 11, 24), grams=2300, use_by=date(2026, 11, 30)),
    "L-0002": Delivered(material="fr-petg-black", supplier_lot="5574", received=date(2025, 11, 24), grams=2000, use_by=date(2027, 1, 31)),
    "L-0003": Delivered(material="pc-fr-black", supplier_lot="3310", received=date(2025, 11, 26), grams=1150, use_by=date(2026, 12, 31)),
    "L-0004": Delivered(material="pc-black", supplier_lot="K 118", received=date(2025, 12, 8), grams=4000, type="2.2", use_by=date(2027, 1, 31)),
    "L-0005": Delivered(material="pa12-fr-grey", supplier_lot="F25-31", received=date(2025, 11, 17), grams=6200, use_by=date(2026, 12, 31)),
    "L-0006": Delivered(material="pa12-natural", supplier_lot="N26-02", received=date(2026, 1, 12), grams=10000, use_by=date(2027, 3, 31)),
    "L-0007": Delivered(material="pc-clear", supplier_lot="C 0902", received=date(2026, 2, 9), grams=1000, type="2.2", use_by=date(2027, 3, 31)),
    "L-0008": Delivered(material="pa12-fr-grey", supplier_lot="F26-08", received=date(2026, 3, 23), grams=6000, use_by=date(2027, 4, 30)),
    "L-0009": Delivered(material="pc-fr-black", supplier_lot="3388", received=date(2026, 4, 13), grams=2500, use_by=date(2027, 5, 31)),
    "L-0010": Delivered(material="fr-petg-natural", supplier_lot="5714", received=date(2026, 5, 11), grams=6000, use_by=date(2027, 6, 30)),
    "L-0011": Delivered(material="pa12-fr-grey", supplier_lot="F26-19", received=date(2026, 8, 17), grams=20000, use_by=date(2027, 9, 30)),
    "L-0012": Delivered(material="pc-fr-black", supplier_lot="3421", received=date(2026, 8, 31), grams=3000, use_by=date(2027, 9, 30)),
}
DRYING = {"fr-petg-natural": (6, 65), "fr-petg-black": (6, 65), "pc-fr-black": (8, 80), "pc-black": (8, 80), "pc-clear": (8, 80)}
"""Hours and °C; powder is not dried."""

CALLED_BACK = "L-0009"
CALLED_BACK_ON = date(2026, 10, 12)
BRITTLE_BATCH_OF = "TV-0260"
"""Its second batch breaks early: what a log-rank of batches shows."""

MACHINES: dict[str, tuple[str, str, tuple[str, ...]]] = {
    "bench-A": ("bench-A, enclosed printer in hall 2", "bench-A", ("fr-petg-natural", "fr-petg-black", "pc-fr-black")),
    "bench-B": ("bench-B, enclosed and heated printer in hall 2", "bench-B", ("fr-petg-natural", "fr-petg-black", "pc-fr-black", "pc-black", "pc-clear")),
    "sinter-1": ("Sinter machine 1 of the bureau North", "sinter-bureau-north", ("pa12-fr-grey", "pa12-natural")),
}
# Tensile strength across the layers of coupons, MPa: mean and spread.
STRENGTH = {
    "fr-petg-natural": (26.4, 0.6), "fr-petg-black": (25.5, 0.6), "pc-fr-black": (38.7, 0.8), "pc-black": (42.5, 0.8),
    "pc-clear": (40.6, 0.8), "pa12-fr-grey": (40.8, 0.7), "pa12-natural": (43.5, 0.7),
}  # fmt: skip
ALSO_PRINTED: tuple[tuple[str, date], ...] = (("TV-0248", date(2026, 8, 20)), ("TV-0101", date(2026, 12, 1)))
"""Batches for the shelf, and when they are wanted: one while the nozzle was worn, one that nobody has judged yet."""
WORN_NOZZLE = ("bench-B", "pc-black", date(2026, 8, 10), date(2026, 9, 7))
"""Machine, material, the day on which its coupons were out of control, and that on which it was qualified anew."""
