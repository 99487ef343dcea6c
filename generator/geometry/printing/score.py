"""Which pose is best, and what speaks for it?

The score of a pose is a volume, mm³, the less the better: the support that is laid and thrown away, 15 % of the space that it
fills; 1 mm on each mm² that leans too far, for the marks that support leaves; 50 mm³ for each millimetre of height, for the time that each layer takes
besides what is laid (some five layers of 3 s, at 3 mm³/s); and 10 mm on each mm² by which it lies on less than a tenth of its
box's floor, or less than the square of a fifth of its height, for the raft or the lost print of what has too little hold. Where
powder carries the part only the height counts. All weights: common practice, no source.
"""

from collections.abc import Iterable
from enum import StrEnum
from typing import Final

from generator.geometry.printing.pose import USUAL_DEG, Pose, Poses

__all__ = ["SUPPORT_SHARE", "Reason", "best_first", "best_pose", "is_as_good", "reason", "score_mm3"]

SUPPORT_SHARE: Final = 0.15
MARKS_MM: Final = 1.0
LAYERS_MM2: Final = 50.0
HOLD_MM: Final = 10.0
FLOOR_SHARE: Final = 0.1
SLENDER: Final = 5.0
ALIKE_SHARE, ALIKE_MM3 = 0.05, 50.0  # scores that differ by less are as good: rounding and facets


class Reason(StrEnum):
    """What speaks for the best pose."""

    NO_SUPPORT = "no support"
    """It alone, or with others of which it is the lowest, needs none."""
    LEAST_SUPPORT = "least support"
    LOWEST = "lowest"
    WIDEST = "widest"
    """It stands on more, or has less to support, at some more height."""
    FLATTEST = "flattest"
    """In powder, where nothing else counts."""
    AS_MODELLED = "as modelled"
    """None is better."""


def score_mm3(pose: Pose, angle_deg: int | None = USUAL_DEG) -> float:
    """See above; angle_deg: None where powder carries the part."""
    if angle_deg is None:
        return LAYERS_MM2 * pose.height_mm
    leaning = pose.leaning_at(angle_deg)
    x, y, z = pose.size_mm
    lacking_mm2 = max(0.0, FLOOR_SHARE * x * y - pose.contact_mm2, (z / SLENDER) ** 2 - pose.contact_mm2)
    return SUPPORT_SHARE * leaning.support_mm3 + MARKS_MM * leaning.overhang_mm2 + LAYERS_MM2 * pose.height_mm + HOLD_MM * lacking_mm2


def best_first(poses: Iterable[Pose], angle_deg: int | None = USUAL_DEG) -> tuple[Pose, ...]:
    """By score; of those as good as the best one the first given comes first."""
    listed = list(poses)
    if not listed:
        return ()
    scores = [score_mm3(pose, angle_deg) for pose in listed]
    most = min(scores) * (1 + ALIKE_SHARE) + ALIKE_MM3
    first = next(index for index, score in enumerate(scores) if score <= most)
    others = sorted((index for index in range(len(listed)) if index != first), key=lambda index: (scores[index], index))
    return tuple(listed[index] for index in (first, *others))


def best_pose(poses: Poses, angle_deg: int | None = USUAL_DEG) -> Pose | None:
    """The best one of a process; None of an empty mesh."""
    as_listed = sorted(poses.candidates, key=_rank)
    return next(iter(best_first(as_listed, angle_deg)), None)


def _rank(pose: Pose) -> tuple[bool, bool, str]:
    """As modelled first, then the axes, then the others in their order, which sorting keeps."""
    axis = pose.axis
    return axis != "+z", axis is None, axis or ""


def is_as_good(pose: Pose, best: Pose, angle_deg: int | None = USUAL_DEG) -> bool:
    """Whether two poses differ by no more than rounding."""
    return score_mm3(pose, angle_deg) <= score_mm3(best, angle_deg) * (1 + ALIKE_SHARE) + ALIKE_MM3


def reason(poses: Poses, angle_deg: int | None = USUAL_DEG) -> Reason | None:
    """What speaks most for the best pose, of what its score counts; None where there is no pose."""
    best = best_pose(poses, angle_deg)
    if best is None:
        return None
    others = [pose for pose in poses.candidates if pose is not best]
    lowest = all(best.height_mm <= pose.height_mm * (1 + ALIKE_SHARE) for pose in others)
    if angle_deg is None:
        return Reason.FLATTEST
    if best.axis == "+z" and all(is_as_good(best, pose, angle_deg) and is_as_good(pose, best, angle_deg) for pose in others):
        return Reason.AS_MODELLED
    support = best.leaning_at(angle_deg).support_mm3
    more = [pose.leaning_at(angle_deg).support_mm3 > support * (1 + ALIKE_SHARE) + ALIKE_MM3 for pose in others]
    if any(more) and support <= ALIKE_MM3:
        return Reason.NO_SUPPORT
    if more and all(more):
        return Reason.LEAST_SUPPORT
    return Reason.LOWEST if lowest else Reason.WIDEST
