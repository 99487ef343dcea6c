"""By how many standard deviations does a bound lie from the mean, so that enough pieces lie within it for all one knows?"""

from bisect import bisect_right
from collections.abc import Mapping
from enum import IntEnum
from typing import Final

from generator.records.standards import Certainty
from generator.rules.standards import StandardTable

COUNTS: Final = (*range(2, 51), 60, 80, 100)
"""Of how many values there is a factor; of other numbers that of the next fewer counts, which is larger."""


class Coverage(IntEnum):
    """How many of a hundred pieces are to lie within the bound."""

    NINETY = 90
    NINETY_FIVE = 95
    NINETY_NINE = 99


# Written by tests/rules/make_tolerance_factors.py from here
_NINETY: Final = (
    20.5815, 6.1553, 4.1620, 3.4067, 3.0063, 2.7555, 2.5820, 2.4538, 2.3547, 2.2754, 2.2102, 2.1555,
    2.1088, 2.0684, 2.0330, 2.0018, 1.9738, 1.9487, 1.9260, 1.9054, 1.8865, 1.8691, 1.8530, 1.8382,
    1.8243, 1.8114, 1.7993, 1.7880, 1.7774, 1.7673, 1.7579, 1.7489, 1.7404, 1.7323, 1.7246, 1.7173,
    1.7103, 1.7036, 1.6972, 1.6911, 1.6852, 1.6796, 1.6742, 1.6690, 1.6640, 1.6591, 1.6545, 1.6500,
    1.6456, 1.6090, 1.5594, 1.5268,
)  # fmt: skip
_NINETY_FIVE: Final = (
    26.2597, 7.6560, 5.1439, 4.2027, 3.7077, 3.3995, 3.1873, 3.0313, 2.9110, 2.8150, 2.7364, 2.6706,
    2.6145, 2.5661, 2.5237, 2.4863, 2.4530, 2.4231, 2.3961, 2.3715, 2.3490, 2.3284, 2.3093, 2.2917,
    2.2754, 2.2601, 2.2458, 2.2325, 2.2199, 2.2080, 2.1969, 2.1863, 2.1763, 2.1668, 2.1577, 2.1491,
    2.1409, 2.1330, 2.1255, 2.1184, 2.1115, 2.1049, 2.0985, 2.0924, 2.0865, 2.0809, 2.0754, 2.0701,
    2.0650, 2.0222, 1.9645, 1.9266,
)  # fmt: skip
_NINETY_NINE: Final = (
    37.0936, 10.5528, 7.0424, 5.7411, 5.0620, 4.6418, 4.3539, 4.1431, 3.9812, 3.8524, 3.7471, 3.6592,
    3.5846, 3.5202, 3.4640, 3.4145, 3.3704, 3.3309, 3.2952, 3.2628, 3.2332, 3.2061, 3.1811, 3.1580,
    3.1365, 3.1165, 3.0979, 3.0804, 3.0640, 3.0485, 3.0339, 3.0201, 3.0070, 2.9946, 2.9829, 2.9716,
    2.9610, 2.9507, 2.9410, 2.9317, 2.9227, 2.9141, 2.9059, 2.8980, 2.8903, 2.8830, 2.8759, 2.8691,
    2.8625, 2.8071, 2.7327, 2.6840,
)  # fmt: skip
# to here.

TOLERANCE_FACTORS: Final[StandardTable[Coverage, Mapping[int, float]]] = StandardTable(
    standard="ISO 16269-6",
    edition="2014",
    clause="one-sided, standard deviation unknown, confidence 95 %",
    says="how many standard deviations of so many values below the mean the given share of a normal population lies, at 95 % confidence",
    source="computed by the noncentral t distribution that it rests on, rounded up in the fourth decimal",
    certainty=Certainty.FROM_MEMORY,
    rows={
        Coverage.NINETY: dict(zip(COUNTS, _NINETY, strict=True)),
        Coverage.NINETY_FIVE: dict(zip(COUNTS, _NINETY_FIVE, strict=True)),
        Coverage.NINETY_NINE: dict(zip(COUNTS, _NINETY_NINE, strict=True)),
    },
)


def tolerance_factor(count: int, coverage: Coverage) -> float:
    """The factor k for so many values, 2 and more, or that of the next fewer. Raises ValueError for fewer."""
    if count < COUNTS[0]:
        raise ValueError(f"{count} values have no spread")
    return TOLERANCE_FACTORS.rows[coverage][COUNTS[bisect_right(COUNTS, count) - 1]]
