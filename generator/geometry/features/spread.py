"""What belongs to each of several things, where all belongings stand in one list ordered by thing?"""

from __future__ import annotations

import numpy as np

from generator.geometry.features.facets import Ints


def spread(values: Ints, starts: Ints, things: Ints) -> Ints:
    """The values of some things, one thing after the other. starts: (things + 1,) where each thing's values begin."""
    count = starts[things + 1] - starts[things]
    first = np.repeat(starts[things] - np.concatenate(([0], np.cumsum(count)[:-1])), count)
    found: Ints = values[first + np.arange(int(count.sum()))]
    return found
