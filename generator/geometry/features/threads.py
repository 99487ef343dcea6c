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
_FLATTEST, _DEEPEST = 0.6, 0.45  # lead of a diameter, depth of a radius: what is steeper or deeper must be one clearly
_CLEARLY: Final = 0.95
_STEEPEST: Final = 1.5  # lead of a diameter, at most: more have helical gears and twisted shapes
_LEAST_TURNS: Final = 1.3


@dataclass(frozen=True, eq=False)
class _Flanks:
    faces: Ints
    lead: float  # signed, mm a turn


def threads_about(facets: Facets, line: Line, seen: About) -> list[Feature]:
    """An outside and an inside thread about a line, where there is one."""
    found = []
    told = _along_helices(facets, line)
    for is_inner in (False, True):
        flanks = _flanks(facets, line, seen, told, (seen.out < 0) == is_inner)
        if flanks is not None:
            found.append(_feature(facets, line, seen, flanks, is_inner=is_inner))
    return found


def _along_helices(facets: Facets, line: Line) -> tuple[Floats, Floats]:
    """The radius of the helix that each face is a chord of, mm, and how much of its normal runs around the line there: (m,) each.

    A face that reaches from core to crest is a chord of two helices, and its normal is the surface's at the middle of the edge
    that follows one: with both ends as far from the line. At its centre it would tell another lead, even another hand. Over a
    turn of δ a chord rises by δ of the lead's 2π and runs 2 R sin(δ / 2) around the line: as a tangent does at R sin(δ / 2) / (δ / 2).
    """
    flat = (line.frame.flat(facets.vertices) - line.centre)[facets.faces]
    reach = np.hypot(flat[:, :, 0], flat[:, :, 1])
    start = np.abs(reach - np.roll(reach, -1, axis=1)).argmin(axis=1)
    every = np.arange(len(flat))
    one, other = flat[every, start], flat[every, (start + 1) % 3]
    middle = (one + other) / 2
    half = np.abs(np.arctan2(one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0], np.einsum("ij,ij->i", one, other))) / 2
    radius = (reach[every, start] + reach[every, (start + 1) % 3]) / 2 * np.sinc(half / np.pi)
    looks = line.frame.flat(facets.normals)
    far = np.maximum(np.hypot(middle[:, 0], middle[:, 1]), 1e-9)
    return radius, (middle[:, 0] * looks[:, 1] - middle[:, 1] * looks[:, 0]) / far


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


def _flanks(facets: Facets, line: Line, seen: About, told: tuple[Floats, Floats], side: Bools) -> _Flanks | None:
    radius, around = told
    leaning = (np.abs(seen.up) > _UP[0]) & (np.abs(seen.up) < _UP[1]) & side
    faces = np.flatnonzero(leaning & (np.abs(around) > _ASIDE))
    if len(faces) < 24:
        return None
    lead = -2 * np.pi * around[faces] * radius[faces] / seen.up[faces]
    area = facets.areas[faces]
    common = _common(lead, area)
    near = np.abs(lead - common) < _SPREAD * abs(common)
    chosen = faces[near]
    if float(facets.areas[chosen].sum()) < _LEAST_SHARE * float(facets.areas.sum()):
        return None
    chosen = _together(facets, seen, chosen, abs(common))
    if float(facets.areas[chosen].sum()) < _LEAST_SHARE * float(facets.areas.sum()):
        return None
    inner, outer = float(seen.reach[chosen].min()), float(seen.reach[chosen].max())
    low, high = float(seen.tall[chosen].min()), float(seen.tall[chosen].max())
    if high - low < _LEAST_TURNS * abs(common):
        return None
    between = leaning & (seen.radius > inner) & (seen.radius < outer) & (seen.along > low) & (seen.along < high)
    same_way = between & (np.sign(around) * np.sign(seen.up) == -np.sign(common))
    in_all = float(facets.areas[between].sum())
    agreeing, one_handed = (float(facets.areas[each].sum()) / in_all if in_all else 0.0 for each in (chosen, same_way))
    is_screw = abs(common) > _FLATTEST * 2 * outer or outer - inner > _DEEPEST * outer  # a conveyor's, a worm
    if agreeing < (_CLEARLY if is_screw else _AGREEING) or one_handed < (_CLEARLY if is_screw else _ONE_HANDED) or abs(common) > _STEEPEST * 2 * outer:
        return None
    flat = line.frame.flat(facets.corners[chosen].reshape(-1, 3)) - line.centre
    if covered(flat).sum() / 2 < _LEAST_ARC_DEG:
        return None
    return _Flanks(faces=chosen, lead=common)


def _crest(seen: About, faces: Ints, lead: float) -> float:
    """How far from the line the flanks reach in the middle of all half turns: a chamfer at an end is another."""
    low, high = float(seen.along[faces].min()), float(seen.along[faces].max())
    parts = int(np.clip(2 * (high - low) / lead, 3, 200))
    part = np.minimum(((seen.along[faces] - low) / max(high - low, 1e-9) * parts).astype(np.int64), parts - 1)
    furthest = np.zeros(parts)
    np.maximum.at(furthest, part, seen.reach[faces].max(axis=1))
    return float(np.median(furthest[furthest > 0]))


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
    outer = _crest(seen, flanks.faces, abs(flanks.lead))
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
