"""The whole sheet of a part as SVG in mm: views, centre lines, dimensions, checks, title block."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from markupsafe import Markup

from generator.geometry.drawing.kinds import AS_MODELLED, Flat, ViewName, Views
from generator.geometry.features.kinds import Features, Kind
from generator.pages.drawing.checks import Numbered, with_balloons
from generator.pages.drawing.choice import names_on, needs
from generator.pages.drawing.groups import FeatureGroup
from generator.pages.drawing.ink import Box, Ink, Segment
from generator.pages.drawing.paper import (
    A3,
    EDGE,
    LEFT,
    TITLE,
    USUAL,
    Layout,
    PaperSize,
    PlacedView,
    laid_out,
    papers,
    scale_on,
    scale_words,
)
from generator.pages.drawing.placing import BALLOON, Dimension, SheetSoFar
from generator.pages.drawing.shown import ShownViews
from generator.pages.drawing.svg import (
    FONT,
    SMALL,
    TEXT,
    THICK,
    THIN,
    lines,
    number,
    segments,
    width_of,
    words,
)
from generator.pages.drawing.title import check_list, frame, notes, strip_height, title_block
from generator.pages.drawing.title_words import TitleWords
from generator.pages.drawing.wanted import most_telling, wanted_of
from generator.pages.drawing.wanted_kinds import STRAIGHT, WantedSize
from generator.pages.marks import safe
from generator.pages.wording import Wording

_CHAIN: Final = "4.3 .6 .2 .6"
_DASH: Final = "2 .8"
_NOTES: Final = 4
_ENOUGH: Final = 1
"""A smaller sheet will do where no more dimensions than this find no place."""
_ROUND: Final = frozenset({Kind.HOLE, Kind.BOSS})
ARROW: Final = 7.0
"""Length of the arrow that shows how a part is printed, where it lies in the paper."""
_OVER: Final = 2.0
"""So far a centre line goes beyond its round."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnSheet:
    """A sheet. `inside` is the content of its <svg>, whose units are mm."""

    paper: PaperSize
    inside: str
    hidden: str
    """The hidden lines, a group of its own that is not displayed unless a style says so."""
    left_out: int
    """How many dimensions found no place."""
    scale: float

    def file(self) -> bytes:
        """The sheet as an SVG file, without hidden lines."""
        return f"{self.opened('')}{self.inside}</svg>\n".encode()

    def shown(self, alt: str) -> Markup:
        """The sheet as it stands in a page, with its hidden lines."""
        label = f' role="img" aria-label="{safe(alt)}"'
        return Markup(f"{self.opened(label)}{self.inside}{self.hidden}</svg>")  # noqa: S704  every text in it is `safe`

    def opened(self, more: str) -> str:
        """The beginning of the <svg>; more: further attributes."""
        width, height = number(self.paper.width), number(self.paper.height)
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg"{more} width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}" '
            f'font-family="{FONT}" font-size="{TEXT}" fill="none" stroke="#000" stroke-linecap="round" stroke-linejoin="round">'
        )


def drawn_sheet(views: Views, features: Features | None, said: TitleWords, w: Wording) -> DrawnSheet | None:
    """The sheet of a part; None where there is nothing to draw."""
    if not all(name in views.views and views.views[name].visible for name in ViewName):
        return None
    strip = strip_height(said.checks, _NOTES)
    wanted, groups = wanted_of(views.views, in_own_axes(views, features), w)
    numbered = with_balloons(wanted, said.checks, views.views, groups, w)
    wanted = most_telling(numbered.wanted)
    asked = needs(views.views, wanted, scale_on(views.views, A3, strip))
    needed = [*USUAL, *(name for name, is_needed in asked if is_needed)]
    tried = []
    for paper in papers(views.views, strip, needed):
        names = names_on(views.views, paper, strip, asked)
        tried.append(_filled_sheet(laid_out(views.views, paper, said.projection, strip, names), wanted, groups, said, w))
        if tried[-1].left_out <= _ENOUGH and not tried[-1].unseen:
            break
    sheet = min(tried, key=lambda each: (each.left_out + each.unseen, -each.layout.scale))
    layout = sheet.layout
    rings = [each for group in groups for each in _rings(group, layout)]
    extra = _pictorial_words(layout, views, said, w)
    seen = "".join(lines(spot.view.visible, spot) for spot in layout.spots.values())
    hidden = "".join(lines(spot.view.hidden, spot) for name, spot in layout.spots.items() if name is not ViewName.PICTORIAL)
    ring_path = "".join("M" + "L".join(f"{number(x)} {number(y)}" for x, y in ring) for ring in rings)
    inside = (
        f'<rect width="100%" height="100%" fill="#fff" stroke="none"/>{_filled(frame(layout, w))}'
        f'<path class="drawing__seen" d="{seen}" stroke-width="{THICK}"/>'
        f'<path d="{segments(sheet.centres)}{ring_path}" stroke-width="{THIN}" stroke-dasharray="{_CHAIN}" stroke-linecap="butt"/>'
        f"{''.join(_dimension(each) for each in sheet.placed)}"
        f'<g fill="#000" stroke="none">{"".join(_text(each) for each in sheet.placed)}</g>{extra}'
        f"{_filled(title_block(layout, said, w) + check_list(layout, said.checks, w) + notes(layout, _notes(views, sheet, numbered, w)))}"
    )
    return DrawnSheet(
        paper=layout.paper,
        inside=inside,
        hidden=f'<path class="drawing__hidden" display="none" d="{hidden}" stroke-width="{THIN}" stroke-dasharray="{_DASH}" stroke-linecap="butt"/>',
        left_out=sheet.left_out,
        scale=layout.scale,
    )


def in_own_axes(views: Views, features: Features | None) -> Features | None:
    """Features as the views are drawn."""
    if features is None or views.axes == AS_MODELLED:
        return features
    found = tuple(replace(each, at=views.turned(each.at), axis=views.turned(each.axis)) for each in features.found)
    return replace(features, found=found)


def _filled_sheet(layout: Layout, wanted: Sequence[WantedSize], groups: Sequence[FeatureGroup], said: TitleWords, w: Wording) -> SheetSoFar:
    """A sheet with its dimensions placed."""
    drawn = list(_polylines(layout))
    seen = Ink(layout.paper, drawn)
    sheet = SheetSoFar(layout=layout, ink=seen, shown=ShownViews(layout.spots, seen))
    sheet.centres = [each for group in groups for each in _centre_lines(group, sheet)]
    rings = [each for group in groups for each in _rings(group, layout)]
    sheet.ink = Ink(layout.paper, [*drawn, *([a, b] for a, b in sheet.centres), *rings])
    sheet.taken.append((layout.paper.width - TITLE[0] - 10, layout.paper.height - TITLE[1] - 10, layout.paper.width, layout.paper.height))
    if pictorial := layout.spots.get(ViewName.PICTORIAL):
        left, top, right, bottom = pictorial.box
        sheet.taken.append((left - 2, top - 2, right + 2, bottom + 2))
        sheet.taken.append(caption_box(layout, pictorial, caption(layout, said, w)))
    sheet.place(wanted)
    return sheet


def _filled(content: str) -> str:
    """Words are filled, lines are not."""
    return content.replace("<text ", '<text fill="#000" stroke="none" ')


def _notes(views: Views, sheet: SheetSoFar, numbered: Numbered, w: Wording) -> Sequence[str]:
    told = [w("drawing.note.not_permit")]
    missing = (("drawing.note.left_out", sheet.left_out), ("drawing.note.unseen", sheet.unseen))
    if said := [w.count(key, count) for key, count in missing if count]:
        told.append(" ".join(said))
    placed = {number for each in sheet.placed for number in each.wanted.balloons}
    no_place = sorted({number for each in numbered.wanted for number in each.balloons} - placed)
    why = (("untold", numbered.untold), ("several", numbered.several), ("no_place", no_place))
    if said := [w(f"drawing.note.{key}", checks=", ".join(map(str, numbers))) for key, numbers in why if numbers]:
        told.append(" ".join(said))
    if not views.is_whole:
        told.append(w("drawing.note.not_whole"))
    return told


def _polylines(layout: Layout) -> Iterator[list[Flat]]:
    for spot in layout.spots.values():
        for line in spot.view.visible:
            yield [spot.at(point) for point in line.points]


def _centre_lines(group: FeatureGroup, sheet: SheetSoFar) -> Iterator[Segment]:
    """A cross in each round that is seen, along its axis; of a turned shape its axis in the other views."""
    if group.first.kind in (Kind.FACES, Kind.SLOT):
        return
    for name, spot in sheet.layout.spots.items():
        view = spot.view
        if name is ViewName.PICTORIAL:
            continue
        along = abs(sum(a * b for a, b in zip(view.towards, group.first.axis, strict=True)))
        if along > STRAIGHT:
            for each in group.members:
                x, y = spot.at(view.flat(each.at))
                if group.first.kind in _ROUND and not sheet.shown.is_round_seen((x, y), each.size_mm / 2 * spot.scale):
                    continue
                reach = each.size_mm / 2 * spot.scale + _OVER
                yield ((x - reach, y), (x + reach, y))
                yield ((x, y - reach), (x, y + reach))
        elif along < 0.01 and group.first.kind is Kind.TURNED:
            x, y = spot.at(view.flat(group.first.at))
            left, top, right, bottom = spot.box
            is_level = abs(view.flat(group.first.axis)[0]) > STRAIGHT
            yield ((left - _OVER, y), (right + _OVER, y)) if is_level else ((x, top - _OVER), (x, bottom + _OVER))


def _rings(group: FeatureGroup, layout: Layout) -> Iterator[list[Flat]]:
    """The circle on which the centres of a group lie."""
    if group.ring is None:
        return
    for name, spot in layout.spots.items():
        if name is not ViewName.PICTORIAL and abs(sum(a * b for a, b in zip(spot.view.towards, group.first.axis, strict=True))) > STRAIGHT:
            x, y = spot.at(spot.view.flat(group.ring.centre))
            radius = group.ring.radius_mm * spot.scale
            yield [(x + radius * math.cos(math.radians(3 * i)), y + radius * math.sin(math.radians(3 * i))) for i in range(121)]


def _dimension(each: Dimension) -> str:
    tips = "".join(_arrow(*arrow) for arrow in each.arrows)
    return f'<path d="{segments([*each.lines, *each.helpers])}" stroke-width="{THIN}"/><path d="{tips}" fill="#000" stroke="none"/>'


def _arrow(tip: Flat, degrees: float) -> str:
    """A narrow filled head, 2.5 mm long (ISO 129-1)."""
    c, s = math.cos(math.radians(degrees)), -math.sin(math.radians(degrees))
    x, y = tip[0] - 2.5 * c, tip[1] - 2.5 * s
    return f"M{number(tip[0])} {number(tip[1])}L{number(x - 0.42 * s)} {number(y + 0.42 * c)}L{number(x + 0.42 * s)} {number(y - 0.42 * c)}Z"


def _text(each: Dimension) -> str:
    """The text, and the balloons of its checks behind it."""
    wanted = each.wanted
    width = width_of(each.text)
    balloons = len(wanted.balloons) * (2 * BALLOON + 1.0)
    x, y = each.at
    back = balloons / 2
    at = (x, y + back) if each.is_turned else (x - back, y)
    drawn = [words(at, each.text, anchor="middle", turned=each.is_turned)]
    for i, check in enumerate(wanted.balloons):
        off = width / 2 - back + 1.0 + BALLOON + i * (2 * BALLOON + 1.0)
        middle = (x - BALLOON + 0.4, y - off) if each.is_turned else (x + off, y - BALLOON + 0.4)
        drawn.append(balloon(middle, check))
    return "".join(drawn)


def balloon(middle: Flat, check: int) -> str:
    """The number of a critical check in a ring."""
    ring = f'<circle cx="{number(middle[0])}" cy="{number(middle[1])}" r="{number(BALLOON - 0.3)}" fill="none" stroke="#000" stroke-width="{THICK}"/>'
    return ring + words((middle[0], middle[1] + 1.05), str(check), size=3.0, anchor="middle")


def _pictorial_words(layout: Layout, views: Views, said: TitleWords, w: Wording) -> str:
    """Under the pictorial its scale, where it is another, and how the part is printed; beside it an arrow that way."""
    spot = layout.spots.get(ViewName.PICTORIAL)
    if spot is None:
        return ""
    text = caption(layout, said, w)
    left, _, right, bottom = caption_box(layout, spot, text)
    drawn = ""
    if said.build:
        run = spot.view.flat(views.turned(said.build.up))
        middle = (left + ARROW / 2, bottom - 3.0)
        start, tip = ((middle[0] + sign * run[0] * ARROW / 2, middle[1] - sign * run[1] * ARROW / 2) for sign in (-1, 1))
        drawn = f'<path d="{segments([(start, tip)])}" stroke-width="{THIN}"/>'
        drawn += f'<path d="{_arrow(tip, math.degrees(math.atan2(run[1], run[0])))}" fill="#000" stroke="none"/>'
    at = (left + ARROW + 1, bottom - 2.0)
    return f'{drawn}<g fill="#000" stroke="none">{words(at, text, size=SMALL, most=right - at[0])}</g>'


def caption(layout: Layout, said: TitleWords, w: Wording) -> str:
    """What stands under the pictorial."""
    spot = layout.spots[ViewName.PICTORIAL]
    told = [w("drawing.scaled", scale=scale_words(spot.scale))] if spot.scale != layout.scale else []
    if said.build:
        told.append(w(f"drawing.build.{said.build.says.value}", orientation=said.orientation or None))
    elif said.orientation:
        told.append(w(f"drawing.build.words_{'approved' if said.is_approved else 'record'}", orientation=said.orientation))
    else:
        told.append(w("drawing.build.unknown"))
    return "; ".join(told)


def caption_box(layout: Layout, spot: PlacedView, text: str) -> Box:
    """Where it stands, with the arrow on its left: in the middle under the pictorial, moved so that it stays within the frame."""
    left, _, right, bottom = spot.box
    room = layout.paper.width - 2 * EDGE - LEFT
    width = min(width_of(text, SMALL) + ARROW + 2, room)
    start = min(max((left + right - width) / 2, LEFT + 3), layout.paper.width - EDGE - 2 - width)
    return start, bottom + 1.5, start + width, bottom + 9.0
