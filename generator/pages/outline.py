"""The side view of a fleet with its places as large touch targets: where on the vehicle is the broken part?

Drawn from the few figures of the fleet's outline, or behind it lies the depot's own drawing, from the roof to the rail. Lengths
are true, heights are not: they leave each row of places room for a hand, and the depot's drawing is stretched to them.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from markupsafe import Markup

from generator.pages.marks import address, safe
from generator.pages.outputs import CopiedFile
from generator.pages.wording import Wording
from generator.records.catalogue import Catalogue, Drawing
from generator.records.fleets import Fleet, Place
from generator.records.outline import Cabs, Height, Outline

_WIDTH, _HEIGHT, _EDGE = 1000.0, 326.0, 20.0
_TOP, _BOTTOM, _RAIL = 76.0, 246.0, 300.0
_ROWS = {Height.ROOF: 38.0, Height.WINDOW: 122.0, Height.FLOOR: 204.0, Height.UNDERFRAME: 288.0}
_RADIUS = 35.0
"""Of a target: 70 of 1000 are 48 px where the drawing is 690 px wide, the least that it is shown at (browse.css)."""
_APART = 2 * _RADIUS + 4
_DOOR_M, _WHEELBASE_M, _WHEEL = 1.3, 1.9, 19.0
_WINDOW_M, _PILLAR_M = 1.5, 0.4
_NOSE = 34.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Target:
    """A place to touch: its letter, how many parts lie behind it, and where that leads."""

    letter: str
    place: Place
    says: str
    count: int
    href: str


def outline_targets(fleet: Fleet, targets: Iterable[Target], drawing: Drawing | None, w: Wording, up: str = "") -> Markup | None:
    """The drawing with every place that has a spot; None for a fleet without an outline, or without any."""
    shown = [each for each in targets if each.place.spot]
    if fleet.outline is None or not shown:
        return None
    label = safe(w("vehicles.outline", fleet=fleet.name))
    body = "".join(_targets(shown, fleet.outline))
    return _svg(f"outline outline--targets{_own(fleet, drawing)}", f'role="group" aria-label="{label}"', _vehicle(fleet, drawing, up) + body)


def outline_marked(fleet: Fleet, places: Iterable[Place], drawing: Drawing | None, w: Wording, up: str) -> Markup | None:
    """The drawing with some places marked; None where nobody has said where they are."""
    spots = [(place.name, place.spot) for place in places if place.spot]
    if fleet.outline is None or not spots:
        return None
    scale = _scale(fleet.outline)
    marks = "".join(
        f'<circle class="outline__mark" cx="{_n(_EDGE + spot.along_m * scale)}" cy="{_n(_ROWS[spot.height])}" r="{_n(_RADIUS)}"/>' for _, spot in spots
    )
    said = safe(w("vehicles.outline_marked", fleet=fleet.name, places=tuple(name for name, _ in spots)))
    return _svg(f"outline outline--marked{_own(fleet, drawing)}", f'role="img" aria-label="{said}"', _vehicle(fleet, drawing, up) + marks)


def outline_of(fleet: Fleet, outlines: Mapping[str, Drawing]) -> Drawing | None:
    """The depot's own drawing of the fleet, if there is one that can be shown."""
    return outlines.get(fleet.outline.drawing) if fleet.outline and fleet.outline.drawing else None


def outline_files(catalogue: Catalogue) -> Iterator[CopiedFile]:
    """The depot's own drawings, as they lie in the site."""
    for name, drawing in catalogue.outlines.items():
        yield CopiedFile(path=_own_path(name), source=drawing.path)


def _own_path(name: str) -> str:
    return f"assets/outlines/{name}"


def _svg(classes: str, told: str, inside: str) -> Markup:
    return Markup(f'<svg class="{classes}" viewBox="0 0 {_n(_WIDTH)} {_n(_HEIGHT)}" {told}>{inside}</svg>')  # noqa: S704  names in it are `safe`


def _own(fleet: Fleet, drawing: Drawing | None) -> str:
    """A drawing of the depot's own is in colours for daylight, whatever mode the page is in."""
    return " outline--own" if drawing and fleet.outline and fleet.outline.drawing else ""


def _scale(outline: Outline) -> float:
    """Units a metre."""
    return (_WIDTH - 2 * _EDGE) / outline.length_m


def _vehicle(fleet: Fleet, drawing: Drawing | None, up: str) -> str:
    outline = fleet.outline
    if outline is None:
        return ""
    if drawing and outline.drawing:
        href = address(up + _own_path(outline.drawing))
        box = f'x="{_n(_EDGE)}" y="{_n(_TOP)}" width="{_n(_WIDTH - 2 * _EDGE)}" height="{_n(_RAIL - _TOP)}"'
        return f'<rect class="outline__ground" width="{_n(_WIDTH)}" height="{_n(_HEIGHT)}"/><image href="{href}" {box} preserveAspectRatio="none"/>'
    return f'<g class="outline__vehicle">{"".join(_drawn(outline))}</g>'


def _drawn(outline: Outline) -> Iterator[str]:
    scale = _scale(outline)
    left, right = _EDGE, _WIDTH - _EDGE
    nose = {Cabs.BOTH: (_NOSE, _NOSE), Cabs.FRONT: (_NOSE, 0.0), Cabs.NONE: (0.0, 0.0)}[outline.cabs]
    yield f'<path d="M0 {_n(_RAIL)}H{_n(_WIDTH)}"/>'
    for bogie in outline.bogies_m:
        yield from _bogie(_EDGE + bogie * scale, scale)
    yield (
        f'<path class="outline__body" d="M{_n(left + nose[0])} {_n(_TOP)}H{_n(right - nose[1])}L{_n(right)} {_n(_TOP + 80 if nose[1] else _TOP)}'
        f'V{_n(_BOTTOM)}H{_n(left)}V{_n(_TOP + 80 if nose[0] else _TOP)}Z"/>'
    )
    doors = [_EDGE + each * scale for each in outline.doors_m]
    half = _DOOR_M * scale / 2
    joints = [_EDGE + each * scale for each in outline.gangways_m]
    if outline.windows:
        taken = [(at - half - 4, at + half + 4) for at in doors] + [(at - 14, at + 14) for at in joints]
        yield from _windows(left + nose[0] + 16, right - nose[1] - 16, taken, scale)
    else:
        cabs = [left + nose[0] + 6] * bool(nose[0]) + [right - nose[1] - 6 - _WINDOW_M * scale] * bool(nose[1])
        yield from (f'<rect x="{_n(at)}" y="98" width="{_n(_WINDOW_M * scale)}" height="52" rx="6"/>' for at in cabs)
    yield from (f'<path d="M{_n(at - half)} 92H{_n(at + half)}V{_n(_BOTTOM - 4)}H{_n(at - half)}ZM{_n(at)} 92V{_n(_BOTTOM - 4)}"/>' for at in doors)
    yield from (f'<path d="M{_n(at - 9)} {_n(_TOP)}V{_n(_BOTTOM)}M{_n(at)} {_n(_TOP)}V{_n(_BOTTOM)}M{_n(at + 9)} {_n(_TOP)}V{_n(_BOTTOM)}"/>' for at in joints)


def _bogie(at: float, scale: float) -> Iterator[str]:
    half = max(_WHEELBASE_M * scale / 2, _WHEEL + 3)
    yield f'<path d="M{_n(at - half)} {_n(_RAIL - _WHEEL - 12)}H{_n(at + half)}"/>'
    yield from (f'<circle cx="{_n(at + side * half)}" cy="{_n(_RAIL - _WHEEL)}" r="{_n(_WHEEL)}"/>' for side in (-1, 1))


def _windows(start: float, end: float, taken: Iterable[tuple[float, float]], scale: float) -> Iterator[str]:
    """As many windows of one width as find room between doors and joints."""
    edges = [start, *(edge for pair in sorted(taken) for edge in pair), end]
    pillar = _PILLAR_M * scale
    for low, high in zip(edges[::2], edges[1::2], strict=True):
        count = round((high - low - pillar) / ((_WINDOW_M + _PILLAR_M) * scale))
        if high - low < (_WINDOW_M * scale) / 2 + pillar:
            continue
        width = (high - low - pillar) / max(1, count) - pillar
        for i in range(max(1, count)):
            x = low + pillar + i * (width + pillar)
            yield f'<rect x="{_n(x)}" y="98" width="{_n(width)}" height="52" rx="6"/>'


def _targets(shown: list[Target], outline: Outline) -> Iterator[str]:
    """Each as near to its spot as its row has room; a line leads to the spot where it had to give way."""
    scale = _scale(outline)
    for height, y in _ROWS.items():
        row = sorted((each for each in shown if each.place.spot and each.place.spot.height is height), key=_along)
        wanted = [_EDGE + _along(each) * scale for each in row]
        for each, want, x in zip(row, wanted, _spread(wanted), strict=True):
            yield from _target(each, want, x, y)


def _along(target: Target) -> float:
    return target.place.spot.along_m if target.place.spot else 0.0


def _target(each: Target, want: float, x: float, y: float) -> Iterator[str]:
    if abs(want - x) > _RADIUS / 2:
        yield f'<path class="outline__lead" d="M{_n(want)} {_n(y)}L{_n(x)} {_n(y)}"/><circle class="outline__spot" cx="{_n(want)}" cy="{_n(y)}" r="6"/>'
    yield (
        f'<a href="{address(each.href)}" aria-label="{safe(each.says)}"><title>{safe(each.says)}</title>'
        f'<circle class="outline__target" cx="{_n(x)}" cy="{_n(y)}" r="{_n(_RADIUS)}"/>'
        f'<text class="outline__letter" x="{_n(x)}" y="{_n(y + 2)}">{safe(each.letter)}</text>'
        f'<text class="outline__count" x="{_n(x)}" y="{_n(y + 24)}">{each.count}</text></a>'
    )


def _spread(wanted: list[float]) -> list[float]:
    """Places in a row, in the same order, at least a target apart and inside the drawing, moved as little as may be.

    What overlaps becomes one block around the mean of what its members want; blocks that then touch are joined. (Least
    squares under an order: pool adjacent violators, Ayer et al. 1955.)
    """
    blocks: list[list[float]] = []  # the sum of wanted left ends, and how many
    for i, want in enumerate(wanted):
        blocks.append([want - i * _APART, 1.0])
        while len(blocks) > 1 and blocks[-2][0] / blocks[-2][1] > blocks[-1][0] / blocks[-1][1]:
            total, count = blocks.pop()
            blocks[-1][0] += total
            blocks[-1][1] += count
    starts = [total / count for total, count in blocks for _ in range(int(count))]
    most = _WIDTH - _RADIUS - 2 - (len(wanted) - 1) * _APART
    return [min(max(start, _RADIUS + 2), most) + i * _APART for i, start in enumerate(starts)]


def _n(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")
