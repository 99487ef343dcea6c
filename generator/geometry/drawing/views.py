"""The orthographic views of a mesh: its edges and outlines with hidden lines removed, each line once and without a break."""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from numpy.typing import NDArray

from generator.geometry.drawing.arcs import fitted, whole
from generator.geometry.drawing.askew import own_axes
from generator.geometry.drawing.chains import chained
from generator.geometry.drawing.hidden import stretches
from generator.geometry.drawing.joined import beside, joined
from generator.geometry.drawing.kinds import AS_MODELLED, AXES, Circle, Flat, Line, View, ViewName, Views
from generator.geometry.drawing.shadow import away_from, shadow_rings
from generator.geometry.drawing.solid import Solid, solid_of
from generator.geometry.mesh import Mesh

__all__ = ["views_of"]

Floats = NDArray[np.float64]

MOST_STRETCHES: Final = 40_000
"""Of one kind in one view: more would blacken a sheet, and each is looked at one by one."""


OPPOSITE: Final = (ViewName.BELOW, ViewName.REAR, ViewName.RIGHT)
MOST_ALL_ROUND: Final = 60_000
"""Faces: of a mesh with more no opposite view is drawn. It is a scan or as fine as one, and each view costs it half a second and more."""
REACHED: Final = 2e-3
"""Of the size: an outline that ends so far within the mesh has a gap somewhere."""
FEW_CREASES: Final = 0.002
"""Share of all edges: a mesh with fewer is a free shape."""
LEAST_INNER: Final = 0.03
"""Of the size: of a mesh whose outline has gaps, shorter lines within it are noise."""


def views_of(mesh: Mesh) -> Views:
    """All views of a mesh, in mm; without lines where no face has an area.

    The work is bounded by counted pairs of line and face, and by counted stretches; where a bound is met, `is_whole` is False.
    """
    solid = solid_of(mesh)
    if solid is None:
        return Views(views={name: _empty(name) for name in ViewName})
    x, y, z = axes = own_axes(solid)
    if axes != AS_MODELLED:
        solid = solid_of(Mesh(vertices_mm=mesh.vertices_mm @ np.array(axes).T, faces=mesh.faces)) or solid
    left_out = OPPOSITE if len(solid.faces) > MOST_ALL_ROUND else ()
    drawn = {name: (_empty(name), True) if name in left_out else _view(solid, name) for name in ViewName}
    return Views(
        views={name: view for name, (view, _) in drawn.items()},
        is_whole=all(whole for _, whole in drawn.values()),
        axes=(x, y, z),
    )


def _empty(name: ViewName) -> View:
    right, up, towards = AXES[name]
    return View(right=right, up=up, towards=towards, visible=(), hidden=(), outline=(), low=(0.0, 0.0), high=(0.0, 0.0))


def _view(solid: Solid, name: ViewName) -> tuple[View, bool]:
    right, up, towards = AXES[name]
    axes = np.array(AXES[name])
    found = stretches(solid, axes)
    visible, hidden, outline = (_longest(joined(each)) for each in (found.visible, found.hidden, found.outline))
    is_whole = found.is_whole and max(len(visible), len(hidden), len(outline)) < MOST_STRETCHES
    hidden = beside(hidden, visible)
    shift = axes[:2] @ solid.middle_mm
    paper = _Paper(solid.size_mm, shift)
    shown, rim = chained(visible, is_rough=solid.is_rough), chained(outline, is_rough=solid.is_rough)
    shares = solid.points @ axes[:2].T
    has_gaps = is_whole and _has_gaps(rim, shares)
    if has_gaps:
        rim = shadow_rings(shares, solid.faces)
    # Of a made part the sheet keeps its exact lines, whatever its outline is made of.
    if solid.is_rough or (has_gaps and float(solid.is_crease.mean()) < FEW_CREASES):
        rings = [line for line in rim if (line[0] == line[-1]).all()]
        shown = [*rings, *away_from(rings, shown, LEAST_INNER)] if rings else shown
    flat = shares * solid.size_mm + shift
    low, high = flat.min(axis=0), flat.max(axis=0)
    view = View(
        right=right,
        up=up,
        towards=towards,
        visible=paper.lines(shown),
        hidden=paper.lines(chained(hidden, is_rough=solid.is_rough)),
        outline=paper.rings(rim),
        low=paper.rounded(low),
        high=paper.rounded(high),
    )
    return view, is_whole


def _has_gaps(rim: list[Floats], flat: Floats) -> bool:
    """Whether the closed lines of an outline do not reach as far as the mesh does; both in shares of the size."""
    rings = [line for line in rim if len(line) > 3 and (line[0] == line[-1]).all()]
    if not rings:
        return True
    corners = np.concatenate(rings)
    off = np.concatenate([corners.min(axis=0) - flat.min(axis=0), flat.max(axis=0) - corners.max(axis=0)])
    return bool(off.max() > REACHED)


def _longest(stretches: Floats) -> Floats:
    """At most `MOST_STRETCHES` of them, in the order in which they came."""
    if len(stretches) <= MOST_STRETCHES:
        return stretches
    run = stretches[:, 2:] - stretches[:, :2]
    longest = np.argsort(-(run * run).sum(axis=1), kind="stable")[:MOST_STRETCHES]
    return stretches[np.sort(longest)]


class _Paper:
    """From shares of the size to mm, rounded by the size, so that a file in metres keeps its detail."""

    def __init__(self, size_mm: float, shift: Floats) -> None:
        self._size_mm, self._shift = size_mm, shift
        self._digits = 5 - math.ceil(math.log10(size_mm))

    def lines(self, chains: list[Floats]) -> tuple[Line, ...]:
        """Longest first, so that what counts is drawn whatever is cut off."""
        found = [self._line(*each) for chain in chains for each in fitted(chain)]
        real = [line for line in found if len(line.points) > 1]
        return tuple(sorted(real, key=lambda line: (-len(line.points), line.points)))

    def rings(self, chains: list[Floats]) -> tuple[Line, ...]:
        """Closed lines as they are, each in one piece."""
        found = [self._line(*whole(chain)) for chain in chains]
        real = [line for line in found if len(line.points) > 3 and line.is_closed]
        return tuple(sorted(real, key=lambda line: (-len(line.points), line.points)))

    def _line(self, points: Floats, circle: tuple[float, float, float] | None) -> Line:
        at = [self.rounded(point) for point in points * self._size_mm + self._shift]
        kept = [point for i, point in enumerate(at) if i == 0 or point != at[i - 1]]
        if circle is None:
            return Line(points=tuple(kept))
        centre = self.rounded(np.array(circle[:2]) * self._size_mm + self._shift)
        return Line(points=tuple(kept), circle=Circle(centre=centre, radius_mm=self._round(circle[2] * self._size_mm)))

    def rounded(self, point: Floats) -> Flat:
        return self._round(float(point[0])), self._round(float(point[1]))

    def _round(self, value: float) -> float:
        return round(value, self._digits) + 0.0
