"""Are there faces that come to lie on themselves when they are screwed along a line: something like a thread?

A surface that a screw motion of lead 2πh maps onto itself has normals at right angles to the motion everywhere: with the
distance vector ρ from the line of direction d, n·(d × ρ) + h n·d = 0. So each face tells its h, and a thread is where a
good deal of area tells the same one (the condition is plain kinematics; the limits are common practice, no source).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from generator.geometry.features.cylinders import covered
from generator.geometry.features.facets import Bools, Facets, Floats, Ints
from generator.geometry.features.frames import point
from generator.geometry.features.kinds import Feature, Hand, Kind
from generator.geometry.features.lines import About, Line
from generator.geometry.features.rounds import Round

_UP: Final = (0.25, 0.995)  # of a flank's normal, along the line
_ASIDE: Final = 0.004  # of a flank's normal, around the line: less is a ring
_SPREAD: Final = 0.45  # by how much the lead that one face tells may differ: facets of a flank are flat
_ONE_HANDED: Final = 0.85  # of the flanks' area that turns the same way: rings and cones turn as much one way as the other
_AGREEING: Final = 0.55  # of the flanks' area between the thread's own diameters
_LEAST_SHARE: Final = 0.01  # of the part's area
_LEAST_ARC_DEG: Final = 300.0
_WINDOW: Final = 4  # tenths of a natural logarithm around the lead
_FLATTEST, _DEEPEST = 0.6, 0.45  # lead of a diameter, depth of a radius, at most


@dataclass(frozen=True, eq=False)
class _Flanks:
    faces: Ints
    lead: float  # signed, mm a turn


def threads_about(facets: Facets, line: Line, seen: About) -> list[Feature]:
    """An outside and an inside thread about a line, where there is one."""
    found = []
    for is_inner in (False, True):
        flanks = _flanks(facets, line, seen, (seen.out < 0) == is_inner)
        if flanks is not None:
            found.append(_feature(facets, line, seen, flanks, is_inner=is_inner))
    return found


def not_of_threads(rounds: Sequence[Round], found: Sequence[Feature]) -> list[Round]:
    """Rounds without the narrow land along a thread's largest diameter, which the thread tells already."""
    threads = [each for each in found if each.kind is Kind.THREAD]
    return [each for each in rounds if not any(_is_land(each, thread) for thread in threads)]


def _is_land(round_: Round, thread: Feature) -> bool:
    if round_.is_inner is not thread.is_inner or abs(2 * round_.radius - thread.size_mm) > 0.02 * thread.size_mm:
        return False
    axis = np.array(thread.axis)
    off = round_.frame.flat(np.array([thread.at]))[0] - round_.centre
    return bool(abs(round_.frame.axis @ axis) > 1 - 1e-5 and np.hypot(*off) < 0.02 * thread.size_mm)


def _flanks(facets: Facets, line: Line, seen: About, side: Bools) -> _Flanks | None:
    leaning = (np.abs(seen.up) > _UP[0]) & (np.abs(seen.up) < _UP[1]) & side
    faces = np.flatnonzero(leaning & (np.abs(seen.around) > _ASIDE))
    if len(faces) < 24:
        return None
    lead = -2 * np.pi * seen.around[faces] * seen.radius[faces] / seen.up[faces]
    area = facets.areas[faces]
    common = _common(lead, area)
    agreeing = np.abs(lead - common) < _SPREAD * abs(common)
    chosen = faces[agreeing]
    if float(facets.areas[chosen].sum()) < _LEAST_SHARE * float(facets.areas.sum()):
        return None
    chosen = _together(facets, seen, chosen, abs(common))
    if float(facets.areas[chosen].sum()) < _LEAST_SHARE * float(facets.areas.sum()):
        return None
    inner, outer = float(seen.reach[chosen].min()), float(seen.reach[chosen].max())
    low, high = float(seen.tall[chosen].min()), float(seen.tall[chosen].max())
    if abs(common) > _FLATTEST * 2 * outer or outer - inner > _DEEPEST * outer or high - low < 1.3 * abs(common):
        return None
    between = leaning & (seen.radius > inner) & (seen.radius < outer) & (seen.along > low) & (seen.along < high)
    same_way = between & (np.sign(seen.around) * np.sign(seen.up) == -np.sign(common))
    in_all = float(facets.areas[between].sum())
    if float(facets.areas[chosen].sum()) < _AGREEING * in_all or float(facets.areas[same_way].sum()) < _ONE_HANDED * in_all:
        return None
    flat = line.frame.flat(facets.corners[chosen].reshape(-1, 3)) - line.centre
    if covered(flat).sum() / 2 < _LEAST_ARC_DEG:
        return None
    return _Flanks(faces=chosen, lead=common)


def _crest(facets: Facets, seen: About, faces: Ints) -> float:
    """How far from the line the flanks reach; the tenth that reaches furthest may be a chamfer."""
    reach = seen.reach[faces].max(axis=1)
    order = np.argsort(reach, kind="stable")
    total = np.cumsum(facets.areas[faces[order]])
    return float(reach[order[np.searchsorted(total, 0.9 * total[-1])]])


def _together(facets: Facets, seen: About, faces: Ints, lead: float) -> Ints:
    """Without the few faces far from where nearly all are: a chamfer's edge tells some lead by chance."""
    kept = faces
    for values, room in ((seen.along, lead), (seen.radius, 0.5 * lead)):
        order = kept[np.argsort(values[kept], kind="stable")]
        total = np.cumsum(facets.areas[order])
        low, high = (values[order[np.searchsorted(total, share * total[-1])]] for share in (0.05, 0.95))
        kept = kept[(values[kept] > low - room) & (values[kept] < high + room)]
    return kept


def _common(lead: Floats, area: Floats) -> float:
    """The lead that most of the area tells: around the fullest window of a factor of two the median."""
    part = np.round(np.log(np.maximum(np.abs(lead), 1e-6)) / 0.1).astype(np.int64)
    key = np.where(lead > 0, part + 1000, -part - 1000)
    values, place = np.unique(key, return_inverse=True)
    weight = np.bincount(place, area)
    window = [float(weight[np.abs(values - each) <= _WINDOW].sum()) for each in values.tolist()]
    fullest = values[int(np.argmax(np.round(window, 6)))]
    near = np.abs(key - fullest) <= _WINDOW
    order = np.argsort(lead[near], kind="stable")
    total = np.cumsum(area[near][order])
    return float(lead[near][order][np.searchsorted(total, total[-1] / 2)])


def _feature(facets: Facets, line: Line, seen: About, flanks: _Flanks, *, is_inner: bool) -> Feature:
    outer = _crest(facets, seen, flanks.faces)
    low, high = float(seen.tall[flanks.faces].min()), float(seen.tall[flanks.faces].max())
    middle = (float(seen.tall.min()) + float(seen.tall.max())) / 2
    end, sense = (high, 1.0) if (low + high) / 2 >= middle else (low, -1.0)
    return Feature(
        kind=Kind.THREAD,
        at=point(line.frame.space(line.centre, end)),
        axis=point(sense * line.frame.axis),
        size_mm=2 * outer,
        within_mm=0.01 * outer + facets.slack_mm,
        length_mm=high - low,
        second_mm=abs(flanks.lead),
        hand=Hand.RIGHT if flanks.lead > 0 else Hand.LEFT,
        is_inner=is_inner,
    )
