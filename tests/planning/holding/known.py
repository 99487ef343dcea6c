"""What the survival tests share: the textbook's data."""

from generator.planning.holding.curve import Observation

# Freireich et al. 1963, remission in weeks under 6-MP and placebo: the textbook example of survival analysis. Data from memory,
# recomputed; (weeks, ended).
SIX_MP = [
    *[(6, True)] * 3, (6, False), (7, True), (9, False), (10, True), (10, False), (11, False), (13, True), (16, True),
    (17, False), (19, False), (20, False), (22, True), (23, True), (25, False), (32, False), (32, False), (34, False),
    (35, False),
]  # fmt: skip
PLACEBO = [(week, True) for week in (1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23)]


def seen(data):
    return [Observation(days=days, failed=failed) for days, failed in data]
