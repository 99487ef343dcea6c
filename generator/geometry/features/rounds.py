"""Which cylinders are one round, such as a bore that grooves cut into pieces, and what lies at its ends?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from generator.geometry.distinct import distinct
from generator.geometry.features.cylinders import Cylinder, covered, slack_for, turned_to
from generator.geometry.features.facets import Bools, Facets, Floats, Ints
from generator.geometry.features.frames import Frame

# Shares of a turn from which a round is told. A fillet runs smoothly into what lies beside it and turns at most by 180°,
# as does the rounded end of a lever; what begins at an edge is a groove, a clip or a shell (common practice, no source).
LEAST_SMOOTH_DEG: Final = 195.0
LEAST_SHARP_DEG: Final = 150.0
FULL_DEG: Final = 345.0
_TELLING_DEG: Final = 200.0  # of an arc that tells its radius well by itself
_WIDEST_BAND: Final = 0.5  # radians that a row of a ball subtends, at most
_BAND: Final = (0.6, 1.6)  # shares of that angle by which its rims turn
_ROW: Final = float(np.radians(25))  # by which a bent surface turns from one row to the next, at most
_MOST_OF_IT: Final = 0.6
_LIKE: Final = (0.6, 1.6)  # lengths of a row that its neighbours have
_RIM: Final = 0.25  # of the length: what borders further in is a groove or a hole across
_WIDE_STEP: Final = float(np.radians(20))
_SMOOTH_SIDE_DEG: Final = 14.0  # how much the surface turns at a side that runs on smoothly: a facet's step and a little


@dataclass(frozen=True, eq=False)
class End:
    """One end of a round. along: where on the axis. inwards: the share of its rim from which the surface goes on towards the axis."""

    along: float
    inwards: float
    edges: Ints  # the rim
    beyond: Ints  # the faces on the other side of the rim, one for each of its edges


@dataclass(frozen=True, eq=False)
class Round:
    """A hole's wall or a boss's side; low and high along the frame's axis."""

    frame: Frame
    centre: Floats
    radius: float
    is_inner: bool
    within_mm: float
    faces: Ints
    arc_deg: float
    is_smooth: bool  # its sides run on without an edge; of a full turn False
    is_row: bool  # a row of a ball, a ring or a bent tube: the surface goes on in rows like it
    is_patch: bool  # short, and on all sides the surface runs on smoothly: some part of a free form
    area_mm2: float
    low: End
    high: End

    @property
    def length(self) -> float:
        return self.high.along - self.low.along

    @property
    def is_told(self) -> bool:
        least = LEAST_SMOOTH_DEG if self.is_smooth else LEAST_SHARP_DEG
        return not self.is_row and not self.is_patch and self.arc_deg >= least and self.length > 0.01 * self.radius


def rounds_of(facets: Facets, cylinders: Sequence[Cylinder]) -> list[Round]:
    """Cylinders of one axis, radius and side together, as far as no wide gap is between them; the largest area first."""
    free = sorted(cylinders, key=lambda each: (-each.arc_deg * each.area_mm2, int(each.faces[0])))
    radii = np.array([each.radius for each in free])
    axes = np.array([each.frame.axis for each in free]).reshape(-1, 3)
    inner = np.array([each.is_inner for each in free], dtype=bool)
    middles = np.array([each.frame.space(each.centre, (each.low + each.high) / 2) for each in free]).reshape(-1, 3)
    open_ = np.ones(len(free), dtype=bool)
    rounds: list[Round] = []
    for number, host in enumerate(free):
        if not open_[number]:
            continue
        like = open_ & (inner == host.is_inner) & (np.abs(radii - host.radius) < 0.05 * host.radius)
        like &= np.abs(axes @ host.frame.axis) > 0.999
        like = np.flatnonzero(like)
        off = np.hypot(*(host.frame.flat(middles[like]) - host.centre).T)
        near = like[(off < 0.05 * host.radius) | (like == number)].tolist()
        host = _fitted_to_all(facets, host, [free[each] for each in near])  # noqa: PLW2901
        members = [each for each in near if each == number or _lies_on(facets, host, free[each])]
        open_[members] = False
        for stretch in _stretches([free[each] for each in members], host):
            rounds.append(_round(facets, host, stretch))  # noqa: PERF401
    return sorted(rounds, key=lambda each: (-each.area_mm2, int(each.faces[0])))


def _fitted_to_all(facets: Facets, host: Cylinder, near: list[Cylinder]) -> Cylinder:
    """The host with an axis and radius that all near pieces tell: a short arc by itself tells them badly."""
    if len(near) < 2 or host.arc_deg > _TELLING_DEG:
        return host
    points = facets.vertices[distinct(facets.faces[np.concatenate([each.faces for each in near])])]
    fitted = turned_to(host.frame, host.centre, host.radius, points)
    if fitted is None:
        return host
    joint = replace(host, frame=fitted.frame, centre=fitted.centre, radius=fitted.radius)
    return joint if all(_lies_on(facets, joint, each) for each in near) else host


def without_polygons(rounds: Sequence[Round]) -> list[Round]:
    """Rounds without those of few wide strips where a smaller one is facetted finer: no exporter does that to a round.

    The step between two strips follows from the chord's error; by a chord's height or an angle alone a larger round never
    gets wider steps.
    """
    told = np.array(sorted((each.radius, _step(each)) for each in rounds if each.is_told)).reshape(-1, 2)
    finest = np.minimum.accumulate(told[:, 1])  # of all that are no larger
    kept = []
    for each in rounds:
        no_larger = int(np.searchsorted(told[:, 0], each.radius, side="right"))
        if _step(each) < _WIDE_STEP or not (no_larger and finest[no_larger - 1] < _step(each) / 1.6):
            kept.append(each)
    return kept


def _step(round_: Round) -> float:
    """The angle of the widest strip, in radians."""
    return 2 * float(np.arccos(np.clip(1 - round_.within_mm / round_.radius, -1.0, 1.0)))


def _lies_on(facets: Facets, host: Cylinder, other: Cylinder) -> bool:
    flat = host.frame.flat(facets.corners[other.faces].reshape(-1, 3)) - host.centre
    off = np.abs(np.hypot(flat[:, 0], flat[:, 1]) - host.radius)
    return float(off.max()) <= 2 * slack_for(facets, host.radius)


def _stretches(members: list[Cylinder], host: Cylinder) -> list[list[tuple[Cylinder, float, float]]]:
    """Members in line, parted where the gap is longer than the shorter of what it parts: two lugs have a hole each."""
    spans = []
    for each in members:
        sense = 1.0 if each.frame.axis @ host.frame.axis > 0 else -1.0
        ends = sorted((sense * each.low, sense * each.high))
        spans.append((ends[0], ends[1], each))
    spans.sort(key=lambda each: (each[0], each[1]))
    stretches: list[list[tuple[Cylinder, float, float]]] = []
    low = high = 0.0
    for start, end, each in spans:
        if stretches and start - high <= min(high - low, end - start):
            stretches[-1].append((each, start, end))
            high = max(high, end)
        else:
            stretches.append([(each, start, end)])
            low, high = start, end
    return stretches


def _round(facets: Facets, host: Cylinder, stretch: list[tuple[Cylinder, float, float]]) -> Round:
    faces = np.sort(np.concatenate([each.faces for each, _, _ in stretch]))
    frame, centre = host.frame, host.centre
    corners = facets.corners[faces].reshape(-1, 3)
    arcs = covered(frame.flat(corners) - centre)
    along = frame.along(corners)
    low, high, smooth = _ends(facets, host, faces, (float(along.min()), float(along.max())))
    arc_deg = float(arcs.sum()) / 2
    area = sum(each.area_mm2 for each, _, _ in stretch)
    return Round(
        frame=frame,
        centre=centre,
        radius=host.radius,
        is_inner=host.is_inner,
        within_mm=max(each.within_mm for each, _, _ in stretch),
        faces=faces,
        arc_deg=360.0 if arc_deg >= 359 else arc_deg,
        is_smooth=smooth and arc_deg < FULL_DEG,
        area_mm2=area,
        is_row=_is_band(facets, host.radius, low, high) or _is_row(facets, area / (host.radius * np.radians(max(arc_deg, 0.5))), low, high),
        is_patch=smooth and arc_deg < FULL_DEG and along.max() - along.min() < 2 * host.radius and _runs_on(facets, low, _MOST_OF_IT) and _runs_on(facets, high, _MOST_OF_IT),
        low=low,
        high=high,
    )


def _is_band(facets: Facets, radius: float, low: End, high: End) -> bool:
    """Whether it is a row of a ball's facets: each rim turns by about the angle that its height subtends from the middle."""
    subtended = (high.along - low.along) / radius
    if subtended > _WIDEST_BAND or not len(low.edges) or not len(high.edges):
        return False
    turns = [float(np.median(facets.turn[each.edges])) for each in (low, high)]
    return all(_BAND[0] * subtended < abs(each) < _BAND[1] * subtended for each in turns) and turns[0] * turns[1] > 0


def _runs_on(facets: Facets, end: End, share: float = 0.9) -> bool:
    """Whether no edge ends that share of a round there."""
    return len(end.edges) > 0 and float(np.quantile(np.abs(facets.turn[end.edges]), share)) < _ROW


def _is_row(facets: Facets, length: float, low: End, high: End) -> bool:
    """Whether it goes on smoothly at both ends with facets as long as itself: a row of a bent tube, a ring or a barrel. length: its mean."""
    for each in (low, high):
        if not _runs_on(facets, each):
            return False
        rim = np.linalg.norm(facets.vertices[facets.high[each.edges]] - facets.vertices[facets.low[each.edges]], axis=1)
        reach = 2 * facets.areas[each.beyond] / np.maximum(rim, 1e-12)
        if not _LIKE[0] * length < float(np.median(reach)) < _LIKE[1] * length:
            return False
    return True


def _ends(facets: Facets, host: Cylinder, faces: Ints, span: tuple[float, float]) -> tuple[End, End, bool]:
    """Both rims, and whether the sides along the axis run on smoothly."""
    frame, (low, high) = host.frame, span
    edges = facets.edges_at(faces)
    mine = np.zeros(len(facets.faces), dtype=bool)
    mine[faces] = True
    one, other = facets.one[edges], facets.other[edges]
    border = mine[one] != mine[other]
    edges, one, other = edges[border], one[border], other[border]
    beyond = np.where(mine[one], other, one)
    start, end = facets.vertices[facets.low[edges]], facets.vertices[facets.high[edges]]
    run = end - start
    length = np.linalg.norm(run, axis=1)
    beside = np.abs(frame.along(run)) > 0.9 * length
    smooth = length[beside & (np.abs(facets.turn[edges]) < np.radians(_SMOOTH_SIDE_DEG))].sum() > 0.5 * length[beside].sum()
    far = frame.flat(facets.centres[beyond]) - host.centre
    inwards = np.hypot(far[:, 0], far[:, 1]) < host.radius
    along = frame.along((start + end) / 2)
    ends = []
    for at in (low, high):
        far_off = np.abs(along - at)
        rim = ~beside & (far_off < max(_RIM * (high - low), float(far_off[~beside].min(initial=np.inf)) * 1.01))
        weight = float(length[rim].sum())
        share = float(length[rim & inwards].sum()) / weight if weight > 0 else 0.0
        ends.append(End(along=at, inwards=share, edges=edges[rim], beyond=beyond[rim]))
    return ends[0], ends[1], bool(smooth)


def arcs_of(facets: Facets, round_: Round) -> Bools:
    """(720,) which half degrees a round covers."""
    return covered(round_.frame.flat(facets.corners[round_.faces].reshape(-1, 3)) - round_.centre)
