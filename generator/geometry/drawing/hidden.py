"""Which edges are lines in one view, and which stretches of them does a face hide?

Exact but for the rounding of the file: each edge is clipped against each face before it, and the stretches are united.
An edge that lies above the seam of two faces is asked on both of its sides, and is seen where either is.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from generator.geometry.corners import least, most
from generator.geometry.distinct import distinct
from generator.geometry.drawing.pairs import Grids
from generator.geometry.drawing.solid import Solid
from generator.geometry.drawing.spans import Spans, in_both, rest, united, without_short

Floats = NDArray[np.float64]
Indices = NDArray[np.int64]
Flags = NDArray[np.bool_]

# All in shares of the part's longest side.
ASIDE: Final = 1e-5
"""How far beside an edge its two sides are asked; single precision moves corners by 1e-7."""
BEFORE: Final = 2e-5
"""A face hides what lies farther behind it than this."""
EDGE_ON: Final = 2e-4
"""The part of a face's normal towards the eye below which it covers nothing."""
NOWHERE: Final = -1e-12
"""An edge that stays farther outside of a side does not meet the face, whatever rounding does."""
BRIDGED: Final = 5e-4
"""Shorter stretches, hidden or seen, belong to their neighbours."""
BESIDE: Final = 3e-3
STEP: Final = 6e-3
"""An outline within the part is a line where what lies `BESIDE` it is so much farther away."""
STEEP: Final = 1.5
NEAR_RIM: Final = 0.02
LEAST_OUTLINE: Final = 0.04
"""Of the size: shorter outlines of rounded surfaces that end in nothing are crumbs of fillets."""
ROUGH_STEP: Final = 0.04
MOST_PAIRS: Final = 12_000_000
"""Pairs of line and face that are looked at in one view."""
MOST_MET: Final = 5_000_000
"""Of them those whose boxes touch, which cost ten times as much: of 200,000 faces some three million."""
BATCH: Final = 4_000
FIRST_PAIRS: Final = 20_000_000
"""Were each of the first edges to meet every face."""
BATCH_PAIRS: Final = 1_000_000
"""As many edges at once as, by those before them, meet so many pairs: of nested shells each edge lies over most of all faces."""
MOST_AT_ONCE: Final = 4_000_000
"""What those before a batch do not foretell is counted: where a fan begins, each edge lies over a half of all faces."""
_NONE: Final[Spans] = (np.zeros(0, dtype=np.int64), np.zeros(0), np.zeros(0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretches:
    """Stretches of edges in a view, each (k, 4): x, y of its beginning, x, y of its end."""

    visible: Floats
    hidden: Floats
    outline: Floats
    is_whole: bool


@dataclass(frozen=True, slots=True)
class _Seen:
    """A solid from one side."""

    flat: Floats  # (n, 2)
    depth: Floats  # (n,)
    faces: Indices  # (m, 3) those that cover something, anticlockwise as seen
    number: Indices  # (m,) which faces of the solid they are
    slope: Floats  # (m, 3) depth = slope . (x, y, 1)
    top: Floats  # (m,) no part of the face, and of its plane right beside it, is nearer
    sides: tuple[_Side, ...]  # three
    grids: Grids


_Side = tuple[Floats, Floats, Floats, Floats]
"""Of each face where one of its sides begins, x and y, and how it runs on."""


def stretches(solid: Solid, axes: Floats) -> Stretches:
    """What is seen and what is hidden of a solid; axes: (3, 3) right, up, towards the eye."""
    facing = solid.normals @ axes[2]
    limit = np.maximum(EDGE_ON, 1e-6 / np.maximum(solid.low_side, 1e-12))
    front = facing > limit
    covers = front if solid.is_closed else np.abs(facing) > limit
    seen = _seen_from(solid, axes, covers & (solid.low_side > 0), facing)
    one, other = front[solid.sides.T]
    is_turn = one != other
    faces_us = one | other if solid.is_closed else np.ones(len(one), dtype=bool)
    is_smooth = is_turn & ~solid.is_crease
    is_faint, is_told = _faint(solid, seen, np.flatnonzero(is_smooth), front)
    seen.grids.looked = 0
    asked = _in_order(np.flatnonzero(faces_us & (solid.is_crease | is_turn)), is_turn, solid)
    hides, covered, done = _covered(solid, seen, asked, is_smooth, has_rim=is_turn | (solid.sides[:, 0] == solid.sides[:, 1]))
    asked, is_whole = asked[:done], is_told and done == len(asked)
    start, run = _runs(solid, seen, asked)
    length = np.sqrt((run * run).sum(axis=1))
    shown = _without_crumbs(rest(without_short(hides, length, BRIDGED), done), length)
    hidden = rest(shown, done)
    rim = rest(covered, done)
    drawn = ~is_faint[asked]
    behind = np.flatnonzero(~faces_us & solid.is_crease)
    start_behind, run_behind = _runs(solid, seen, behind)
    return Stretches(
        visible=np.concatenate([_cut(_of(shown, drawn), start, run), _cut(_of(rim, ~drawn), start, run)]),
        hidden=np.concatenate([_cut(_of(hidden, drawn), start, run), np.hstack([start_behind, start_behind + run_behind])]),
        outline=_cut(_of(rim, is_turn[asked] | (solid.sides[asked, 0] == solid.sides[asked, 1])), start, run),
        is_whole=is_whole,
    )


def _in_order(asked: Indices, is_turn: Flags, solid: Solid) -> Indices:
    """Outlines before creases, long edges before short ones: what is asked last is left out where the work is too much."""
    run = solid.points[solid.ends[asked, 1]] - solid.points[solid.ends[asked, 0]]
    return asked[np.lexsort((asked, -(run * run).sum(axis=1), ~is_turn[asked]))]


def _seen_from(solid: Solid, axes: Floats, covers: Flags, facing: Floats) -> _Seen:
    at = solid.points @ axes.T
    flat, depth = np.ascontiguousarray(at[:, :2]), at[:, 2]
    number = np.flatnonzero(covers)
    faces = solid.faces[number]
    faces = np.where((facing[number] > 0)[:, None], faces, faces[:, ::-1])
    corners = flat[faces]
    u, v = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    twice = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
    is_fair = twice > 1e-14  # a sliver with a lent normal has no slope of its own
    number, faces, corners, u, v, twice = number[is_fair], faces[is_fair], corners[is_fair], u[is_fair], v[is_fair], twice[is_fair]
    rise = depth[faces] - depth[faces[:, :1]]
    slope_x = (rise[:, 1] * v[:, 1] - rise[:, 2] * u[:, 1]) / twice
    slope_y = (rise[:, 2] * u[:, 0] - rise[:, 1] * v[:, 0]) / twice
    level = depth[faces[:, 0]] - slope_x * corners[:, 0, 0] - slope_y * corners[:, 0, 1]
    grids = Grids(least(corners) - 2 * ASIDE, most(corners) + 2 * ASIDE)
    top = most(depth[faces]) + 4 * ASIDE * (np.abs(slope_x) + np.abs(slope_y))
    run = np.roll(corners, -1, axis=1) - corners
    sides = tuple((*corners[:, side].T.copy(), *run[:, side].T.copy()) for side in range(3))
    return _Seen(flat, depth, faces, number, np.column_stack([slope_x, slope_y, level]), top, sides, grids)


def _runs(solid: Solid, seen: _Seen, edges: Indices) -> tuple[Floats, Floats]:
    ends = solid.ends[edges]
    start = seen.flat[ends[:, 0]]
    return start, seen.flat[ends[:, 1]] - start


def _faint(solid: Solid, seen: _Seen, smooth: Indices, front: Flags) -> tuple[Flags, bool]:
    """Which outlines of rounded surfaces are lines only where they are the outline of the whole part, and could that be told?

    Those without a step behind them, crumbs, and, on a scan, whose outlines fold back, all near to the outline of the
    whole part. All of them where there is too much to look at.
    """
    is_faint = np.zeros(len(solid.ends), dtype=bool)
    if not len(smooth):
        return is_faint, True
    steps = _has_step(solid, seen, smooth, front, aside=BESIDE, step=ROUGH_STEP if solid.is_rough else STEP)
    if steps is None:
        is_faint[smooth] = True
        return is_faint, False
    is_faint[smooth[~steps[0]]] = True
    is_faint[_crumbs(solid, seen, smooth[steps[0]])] = True
    if solid.is_rough:
        further = _has_step(solid, seen, smooth, front, aside=NEAR_RIM, step=STEP)
        is_faint[smooth if further is None else smooth[further[1]]] = True
    return is_faint, True


def _has_step(solid: Solid, seen: _Seen, smooth: Indices, front: Flags, *, aside: float, step: float) -> tuple[Flags, Flags] | None:
    """Of smooth outlines: is what lies so far outside of them much farther away, or nothing at all? None beyond `MOST_PAIRS`."""
    start, run = _runs(solid, seen, smooth)
    middle = start + run / 2
    deep = seen.depth[solid.ends[smooth]].mean(axis=1)
    sides = solid.sides[smooth]
    own = np.where(front[sides[:, 0]], sides[:, 0], sides[:, 1])
    inward = seen.flat[solid.faces[own]].mean(axis=1) - middle
    length = np.maximum(np.sqrt((run * run).sum(axis=1)), 1e-12)
    square = np.column_stack([-run[:, 1], run[:, 0]]) / length[:, None]
    square *= -np.sign((square * inward).sum(axis=1))[:, None]
    at = middle + aside * square
    nearest = np.full(len(smooth), -np.inf)
    seen.grids.looked = 0
    for asked, met in seen.grids.over(at, at):
        if seen.grids.looked > MOST_PAIRS:
            return None
        corners = seen.flat[seen.faces[met]]
        run_of = np.roll(corners, -1, axis=1) - corners
        from_corner = at[asked][:, None, :] - corners
        turn = _across(run_of, from_corner) >= 0
        inside = turn[:, 0] & turn[:, 1] & turn[:, 2]
        line, triangle = asked[inside], met[inside]
        slope = seen.slope[triangle]
        # A steep face goes on falling where it passes for a step.
        level = slope[:, 0] * at[line, 0] + slope[:, 1] * at[line, 1] + slope[:, 2]
        below = level < deep[line] + step
        level += STEEP * aside * np.hypot(slope[:, 0], slope[:, 1])
        np.maximum.at(nearest, line[below], level[below])
    return deep - nearest > step, np.isneginf(nearest)


def _crumbs(solid: Solid, seen: _Seen, smooth: Indices) -> Indices:
    """Which of these outlines hang together over no length and end in nothing: no crease at both of their ends."""
    ends = solid.ends[smooth]
    count = len(solid.points)
    links = coo_matrix((np.ones(len(ends), dtype=bool), (ends[:, 0], ends[:, 1])), shape=(count, count))
    groups, of_point = connected_components(links, directed=False)
    group = of_point[ends[:, 0]]
    _, run = _runs(solid, seen, smooth)
    length = np.bincount(group, np.sqrt((run * run).sum(axis=1)), minlength=groups)
    on_crease = np.zeros(count, dtype=bool)
    on_crease[solid.ends[solid.is_crease]] = True
    held = np.bincount(of_point[distinct(ends[on_crease[ends]])], minlength=groups)
    return smooth[(length < LEAST_OUTLINE * (2 if solid.is_rough else 1))[group] & (held < 2)[group]]


def _covered(solid: Solid, seen: _Seen, asked: Indices, is_smooth: Flags, *, has_rim: Flags) -> tuple[Spans, Spans, int]:
    """Of each edge asked about the spans that faces hide, and, where it may be a rim, those that have faces on both sides at any depth.

    Last how many of the edges were asked about: all, unless the work was too much.
    """
    hides, covered, grids = [_NONE], [_NONE], seen.grids
    first, size = 0, int(np.clip(FIRST_PAIRS // max(len(seen.faces), 1), 1, BATCH))
    while first < len(asked) and grids.looked <= MOST_PAIRS and grids.met <= MOST_MET:
        before = grids.looked
        batch = asked[first : first + size]
        start, run = _runs(solid, seen, batch)
        batch = batch[: grids.at_once(start, start + run, MOST_AT_ONCE)]
        for found, spans in zip((hides, covered), _covered_ones(solid, seen, batch, is_smooth[batch], has_rim[batch]), strict=True):
            found.append((spans[0] + first, spans[1], spans[2]))
        first += len(batch)
        size = int(np.clip(BATCH_PAIRS * len(batch) // max(grids.looked - before, 1), 1, BATCH))
    return _together(hides), _together(covered), first


def _together(portions: list[Spans]) -> Spans:
    line, start, end = (np.concatenate(each) for each in zip(*portions, strict=True))
    return line, start, end


def _covered_ones(solid: Solid, seen: _Seen, asked: Indices, is_smooth: Flags, has_rim: Flags) -> tuple[Spans, Spans]:
    """The same of one batch."""
    start, run = _runs(solid, seen, asked)
    ends = solid.ends[asked]
    deep = seen.depth[ends[:, 0]]
    sink = seen.depth[ends[:, 1]] - deep
    length = np.maximum(np.sqrt((run * run).sum(axis=1)), 1e-12)
    square = np.column_stack([-run[:, 1], run[:, 0]]) / length[:, None]
    floor = deep + np.minimum(sink, 0) + BEFORE / 2
    x, y = start.T.copy()
    (run_x, run_y), (square_x, square_y) = run.T.copy(), square.T.copy()
    found: list[list[Spans]] = [[], [], [], []]
    for pair in seen.grids.over(start, start + run):
        line, triangle = pair
        is_before = seen.top[triangle] > floor[line]
        asks = np.flatnonzero(is_before | has_rim[line])
        line, triangle, is_before = line[asks], triangle[asks], is_before[asks]
        level: list[Floats] = []
        change: list[Floats] = []
        slant: list[Floats] = []
        for side in seen.sides:
            at_x, at_y, on_x, on_y, off_x, off_y = (each[line] for each in (x, y, run_x, run_y, square_x, square_y))
            corner_x, corner_y, side_x, side_y = (each[triangle] for each in side)
            level.append(side_x * (at_y - corner_y) - side_y * (at_x - corner_x))
            change.append(side_x * on_y - side_y * on_x)
            slant.append(side_x * off_y - side_y * off_x)
            # Most edges run by beside one of the three sides: what does so is asked no further.
            reach = np.maximum(level[-1], level[-1] + change[-1]) + ASIDE * np.abs(slant[-1])
            meets = np.flatnonzero(reach > NOWHERE)
            line, triangle, is_before = line[meets], triangle[meets], is_before[meets]
            level, change, slant = ([each[meets] for each in known] for known in (level, change, slant))
        number, sides = seen.number[triangle], solid.sides[asked[line]]
        is_own = (number == sides[:, 0]) | (number == sides[:, 1])
        is_own[is_smooth[line]] |= _touch(seen.faces[triangle[is_smooth[line]]], ends[line[is_smooth[line]]])
        may_hide = is_before & ~is_own
        for which, aside in ((0, ASIDE), (1, -ASIDE)):
            low, high = _clipped([one + aside * other for one, other in zip(level, slant, strict=True)], change)
            kept = low < high
            found[which].append((line[kept], low[kept], high[kept]))
            here = np.flatnonzero(kept & may_hide)
            of = line[here]
            slope = seen.slope[triangle[here]].T
            over = slope[0] * x[of] + slope[1] * y[of] + slope[2] - deep[of]
            more = slope[0] * run_x[of] + slope[1] * run_y[of] - sink[of]
            margin = BEFORE * (1 + 0.1 * (np.abs(slope[0]) + np.abs(slope[1])))
            low, high = _clipped_one(low[here], high[here], over - margin, more)
            kept = low < high
            found[2 + which].append((of[kept], low[kept], high[kept]))
    one, other, hides_one, hides_other = (_all_united(each) for each in found)
    return in_both(hides_one, hides_other), in_both(one, other)


def _touch(faces: Indices, ends: Indices) -> Flags:
    """Whether an edge has a corner of the face."""
    found = np.zeros(len(faces), dtype=bool)
    for corner in faces.T:
        found |= (corner == ends[:, 0]) | (corner == ends[:, 1])
    return found


def _across(side: Floats, other: Floats) -> Floats:
    result: Floats = side[:, :, 0] * other[:, :, 1] - side[:, :, 1] * other[:, :, 0]
    return result


def _clipped(levels: list[Floats], changes: list[Floats]) -> tuple[Floats, Floats]:
    """Where all of `level + t * change` are above 0, t from 0 to 1; (k,) each."""
    low, high = np.zeros(len(levels[0])), np.ones(len(levels[0]))
    for level, change in zip(levels, changes, strict=True):
        low, high = _clipped_one(low, high, level, change)
    return low, high


def _clipped_one(low: Floats, high: Floats, level: Floats, change: Floats) -> tuple[Floats, Floats]:
    with np.errstate(divide="ignore", invalid="ignore"):
        at = -level / change
    low = np.maximum(low, np.where(change > 0, at, np.where((change < 0) | (level > 0), 0.0, np.inf)))
    return low, np.minimum(high, np.where(change < 0, at, 1.0))


def _all_united(portions: list[Spans]) -> Spans:
    if not portions:
        none = np.zeros(0)
        return none.astype(np.int64), none, none
    line, start, end = (np.concatenate(each) for each in zip(*portions, strict=True))
    return united(line, start, end, 1e-6)


def _without_crumbs(shown: Spans, length: Floats) -> Spans:
    """Without what is seen for a moment only between two faces that hide the edge."""
    line, start, end = shown
    is_part = (start > 0) | (end < 1)
    kept = ~is_part | ((end - start) * length[line] > BRIDGED)
    return line[kept], start[kept], end[kept]


def _of(spans: Spans, drawn: Flags) -> Spans:
    kept = drawn[spans[0]]
    return spans[0][kept], spans[1][kept], spans[2][kept]


def _cut(spans: Spans, start: Floats, run: Floats) -> Floats:
    line, low, high = spans
    return np.hstack([start[line] + low[:, None] * run[line], start[line] + high[:, None] * run[line]])
