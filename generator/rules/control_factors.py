"""The factors by which limits of means and ranges follow from the mean range of subgroups of one size."""

from typing import Final, NamedTuple

from generator.records.standards import Certainty
from generator.rules.standards import StandardTable


class Factors(NamedTuple):
    """As the trade calls them. Limits of means: ± a2 mean ranges; of ranges: d3 and d4 mean ranges; σ: the mean range over d2."""

    a2: float
    d3: float
    d4: float
    d2: float


CONTROL_FACTORS: Final = StandardTable(
    standard="ISO 7870-2",
    edition="2013",
    clause="table of the factors of limits, subgroups of 2 to 10",
    says="three standard deviations of mean and range, in mean ranges of subgroups of this size",
    source="recomputed in the tests from the distribution of the range of normal samples",
    certainty=Certainty.FROM_MEMORY,
    rows={
        2: Factors(1.880, 0.0, 3.267, 1.128),
        3: Factors(1.023, 0.0, 2.575, 1.693),
        4: Factors(0.729, 0.0, 2.282, 2.059),
        5: Factors(0.577, 0.0, 2.114, 2.326),
        6: Factors(0.483, 0.0, 2.004, 2.534),
        7: Factors(0.419, 0.076, 1.924, 2.704),
        8: Factors(0.373, 0.136, 1.864, 2.847),
        9: Factors(0.337, 0.184, 1.816, 2.970),
        10: Factors(0.308, 0.223, 1.777, 3.078),
    },
)
