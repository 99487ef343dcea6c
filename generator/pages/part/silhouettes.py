"""The outline of a part from each of its six sides, in mm, for the tablet to draw in true size."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from typing import Final

from generator.geometry.drawing.kinds import Flat, Line, View, ViewName, Views
from generator.geometry.measured import Kept
from generator.pages.kept_views import views_of
from generator.pages.part.verdict_data import script

SIDES: Final = {
    "front": (ViewName.FRONT, False),
    "behind": (ViewName.FRONT, True),
    "above": (ViewName.TOP, False),
    "below": (ViewName.TOP, True),
    "left": (ViewName.SIDE, False),
    "right": (ViewName.SIDE, True),
}
"""The view of each side, and whether it is seen the other way round: then its outline is mirrored, and its lines are not known."""


def kept_silhouettes(number: str, name: str, views: Kept) -> Kept:
    """assets/data/silhouettes/<page>.js, made when it is written; views: JSON as `Views.to_json` gives it."""

    def read() -> bytes:
        return silhouettes_script(number, name, views_of(views))

    return Kept(f"silhouettes of {views.key}, {number} {name}", read)


def silhouettes_script(number: str, name: str, views: Views) -> bytes:
    """`sparesSilhouettes` of site_src/assets/js/types.d.ts; without a side where the mesh has no surface."""
    drawn = {name: view for name, view in views.views.items() if view.outline}
    sides = {side: _side(drawn[view], is_behind) for side, (view, is_behind) in SIDES.items() if view in drawn}
    return script("sparesSilhouettes", {"number": number, "name": name, "sides": sides})


def _side(view: View, is_behind: bool) -> dict[str, float | str]:  # noqa: FBT001
    """As SVG has it: y downwards from the upper left corner of what is drawn."""
    rings = [point for ring in view.outline for point in ring.points]
    low_x, high_x = min(x for x, _ in rings), max(x for x, _ in rings)
    low_y, high_y = min(y for _, y in rings), max(y for _, y in rings)

    def placed(point: Flat) -> Flat:
        x, y = point
        return (high_x - x if is_behind else x - low_x), high_y - y

    return {
        "width": round(high_x - low_x, 2),
        "height": round(high_y - low_y, 2),
        "outline": _path([placed(point) for point in ring.points] for ring in view.outline),
        "lines": "" if is_behind else _path([placed(point) for point in line.points] for line in _inside(view)),
    }


def _inside(view: View) -> Iterable[Line]:
    """What is seen of the part, without what its outline says already."""
    around = {frozenset(pair) for ring in view.outline for pair in pairwise(ring.points)}
    for line in view.visible:
        pairs = list(pairwise(line.points))
        if not all(frozenset(pair) in around for pair in pairs):
            yield line


def _path(lines: Iterable[Iterable[Flat]]) -> str:
    return "".join(f"M{'L'.join(f'{x:.2f} {y:.2f}' for x, y in points)}" for points in lines)
