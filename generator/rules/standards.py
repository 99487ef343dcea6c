"""Tables of published standards, each with where it stands and how sure we are of it.

The tool advises; a person who holds the standard decides. Check each against your own copy.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Generic, TypeVar

from generator.records.environment import VibrationClass
from generator.records.fire import HazardLevel
from generator.records.fleets import DesignCategory
from generator.records.standards import Certainty

K = TypeVar("K")
V = TypeVar("V")


@dataclass(frozen=True, slots=True, kw_only=True)
class StandardTable(Generic[K, V]):
    """A table of a standard; `source` says what was looked at, `rows` hold what it says by its keys."""

    standard: str
    edition: str
    clause: str
    says: str
    source: str
    certainty: Certainty
    rows: Mapping[K, V]


_HL1, _HL2, _HL3 = HazardLevel.HL1, HazardLevel.HL2, HazardLevel.HL3
_N, _A, _D, _S = DesignCategory.N, DesignCategory.A, DesignCategory.D, DesignCategory.S

HAZARD_LEVELS = StandardTable(
    standard="EN 45545-2",
    edition="2020",
    clause="Table 1",
    says="the hazard level by the operation category and the design category of the vehicle",
    source="what secondary sources say in prose agrees with it",
    certainty=Certainty.FROM_MEMORY,
    rows={
        (1, _N): _HL1, (1, _A): _HL1, (1, _D): _HL1, (1, _S): _HL2,
        (2, _N): _HL2, (2, _A): _HL2, (2, _D): _HL2, (2, _S): _HL2,
        (3, _N): _HL2, (3, _A): _HL2, (3, _D): _HL2, (3, _S): _HL3,
        (4, _N): _HL3, (4, _A): _HL3, (4, _D): _HL3, (4, _S): _HL3,
    },
)  # fmt: skip
VIBRATION = StandardTable(
    standard="EN 61373",
    edition="2010",
    clause="8 to 10",
    says="how severe the tests of each category and class are, the mildest first: the levels of one lie above those before it",
    source="nothing was looked at; category 3 begins at a higher frequency, so a pass in it serves no other (rules/properties.py)",
    certainty=Certainty.FROM_MEMORY,
    rows={VibrationClass.BODY_A: 1, VibrationClass.BODY_B: 2, VibrationClass.BOGIE: 3, VibrationClass.AXLE: 4},
)

def _general(letter: str, name: str, rows: dict[float, float]) -> StandardTable[float, float]:
    return StandardTable(
        standard="ISO 2768-1",
        edition="1989",
        clause=f"table 1, class {letter} ({name})",
        says="how far a length without a tolerance of its own may be off to both sides, mm, by the nominal size up to which it holds",
        source="tables that makers of machine elements publish",
        certainty=Certainty.FROM_MEMORY,
        rows=rows,
    )


GENERAL_TOLERANCES_F: StandardTable[float, float] = _general("f", "fine", {3.0: 0.05, 6.0: 0.05, 30.0: 0.1, 120.0: 0.15, 400.0: 0.2, 1000.0: 0.3, 2000.0: 0.5})
GENERAL_TOLERANCES_M: StandardTable[float, float] = _general("m", "medium", {3.0: 0.1, 6.0: 0.1, 30.0: 0.2, 120.0: 0.3, 400.0: 0.5, 1000.0: 0.8, 2000.0: 1.2})
GENERAL_TOLERANCES_C: StandardTable[float, float] = _general("c", "coarse", {3.0: 0.2, 6.0: 0.3, 30.0: 0.5, 120.0: 0.8, 400.0: 1.2, 1000.0: 2.0, 2000.0: 3.0})
GENERAL_TOLERANCES_V: StandardTable[float, float] = _general("v", "very coarse; none up to 3 mm", {6.0: 0.5, 30.0: 1.0, 120.0: 1.5, 400.0: 2.5, 1000.0: 4.0, 2000.0: 6.0})
