"""Do our pieces hold better than the others? A value without words, and the figures that it rests on.

It compares what was recorded, and chance alone is what it rules out: where pieces of one kind sit in harder places, it
cannot know, and each piece counts as a witness of its own. A difference that is not shown is not shown to be none; and of twenty
comparisons of kinds that hold alike, one says that they differ (5 %).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final

from generator.planning.holding.curve import Ages, Curve, Observation, ages_of, curve_of
from generator.planning.holding.log_rank import LogRank, log_rank_of

FEWEST_PIECES: Final = 10
"""Of each kind: common practice, no source."""
FEWEST_FAILURES: Final = 5
"""Of both together, below which the chi-square of the test is no good likeness of chance: common practice, no source."""
LEVEL: Final = 0.05


class Holding(StrEnum):
    """How our pieces hold beside the others."""

    TOO_FEW = "too few"
    """Pieces of one kind, failures, or no time in use at all."""
    NOTHING_FAILED = "nothing failed"
    """Of enough pieces of both kinds; how long they were in use says what that is worth."""
    NEVER_AT_ONE_AGE = "never at one age"
    """No failure came at an age that pieces of both kinds reached: ours are all younger, or the others."""
    HOLDS_BETTER = "holds better"
    HOLDS_WORSE = "holds worse"
    NO_DIFFERENCE_SHOWN = "no difference shown"


TESTED: Final = (Holding.HOLDS_BETTER, Holding.HOLDS_WORSE, Holding.NO_DIFFERENCE_SHOWN)
"""What the test has been asked of, and could say."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    holding: Holding
    ours: Curve
    theirs: Curve
    test: LogRank
    """Ours first."""
    p: float | None
    """How often chance alone shows so much: the test's, or corrected for the comparisons beside it."""
    among: int = 1
    """Of how many comparisons it is one."""


def compared(ours: Iterable[Observation], theirs: Iterable[Observation]) -> Comparison:
    """Both kinds beside each other, at 5 %. Raises ValueError as `holding_curve`."""
    return compared_ages(ages_of(ours), ages_of(theirs))


def compared_ages(ours: Ages, theirs: Ages) -> Comparison:
    """The same of pieces that are counted by their ages already."""
    curves = (curve_of(ours), curve_of(theirs))
    test = log_rank_of((ours, theirs))
    return Comparison(
        holding=_holding(curves, test),
        ours=curves[0],
        theirs=curves[1],
        test=test,
        p=test.p,
    )


def _holding(curves: tuple[Curve, Curve], test: LogRank) -> Holding:
    if any(each.pieces < FEWEST_PIECES or not each.days_in_use for each in curves):
        return Holding.TOO_FEW
    failures = sum(test.observed)
    if not failures:
        return Holding.NOTHING_FAILED
    if failures < FEWEST_FAILURES:
        return Holding.TOO_FEW
    if not _meet(*curves):
        return Holding.NEVER_AT_ONE_AGE
    if test.p is None or test.p >= LEVEL:
        return Holding.NO_DIFFERENCE_SHOWN
    return Holding.HOLDS_BETTER if test.observed[0] < test.expected[0] else Holding.HOLDS_WORSE


def _meet(ours: Curve, theirs: Curve) -> bool:
    """Whether a piece failed at an age that pieces of both kinds reached."""
    return any(other.at_risk(step.days) for one, other in ((ours, theirs), (theirs, ours)) for step in one.steps)


def among(comparisons: Sequence[Comparison], of: int = 0) -> tuple[Comparison, ...]:
    """The same, with 5 % for all of them together: of many batches that hold alike, one would else stand out by chance.

    Holm (1979), A simple sequentially rejective multiple test procedure, Scand. J. Statist. 6, 65-70 (from memory). Those
    that compare nothing are not counted. of: how many they are at least, where some that were compared are not given.
    """
    ps = [each.test.p for each in comparisons if each.holding in TESTED and each.test.p is not None]
    every = max(len(ps), of)
    corrected = iter(holm([*ps, *[1.0] * (every - len(ps))]))
    return tuple(
        _at(each, next(corrected), every) if each.holding in TESTED and each.test.p is not None else each for each in comparisons
    )


def holm(ps: Sequence[float]) -> tuple[float, ...]:
    """Each chance as it is among all of them: so times the number of those that are no smaller, and never below a smaller one's."""
    found, least = [1.0] * len(ps), 0.0
    for done, at in enumerate(sorted(range(len(ps)), key=ps.__getitem__)):
        least = max(least, min(1.0, (len(ps) - done) * ps[at]))
        found[at] = least
    return tuple(found)


def _at(comparison: Comparison, p: float, count: int) -> Comparison:
    is_shown = p < LEVEL
    return replace(comparison, p=p, among=count, holding=comparison.holding if is_shown else Holding.NO_DIFFERENCE_SHOWN)
