"""Which parts and requests might the model of a request be, and how do they look beside each other?"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Final

from generator.geometry.likeness.kinds import Sameness
from generator.geometry.measured import Kept, Pictures, Worked
from generator.measuring.code import code_of
from generator.measuring.matching import Match, Shape, matched
from generator.measuring.one_mesh import Order
from generator.records.problems import Problem
from generator.systems.store import Store, key_of

__all__ = ["Beside", "beside", "like", "matched_among", "shapes_in"]

_CODE: Final = "generator.measuring.requests_matched"
_FILE: Final = "beside.png"
_MOST: Final = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """What one of two pictures shows, and the name that stands beneath it."""

    pictures: Pictures
    name: str


def shapes_in(worked: Mapping[str, Worked | Problem], files: Mapping[str, Order]) -> dict[str, Shape]:
    """What may be compared, by the names of its files."""
    made = {name: each for name in files if isinstance(each := worked.get(name), Worked)}
    return {name: Shape(likeness=each.likeness, file=files[name]) for name, each in made.items() if each.likeness}


def matched_among(names: Iterable[str], shapes: Mapping[str, Shape], store: Store) -> dict[str, tuple[Match, ...]]:
    """Of each of some shapes the others that it is like, the likeliest first, at most three."""
    return {
        name: like(matched(shapes[name], {other: each for other, each in shapes.items() if other != name}, store))
        for name in names
        if name in shapes
    }


def like(found: Iterable[Match]) -> tuple[Match, ...]:
    """What of it a person should see."""
    return tuple(each for each in found if each.compared.kind is not Sameness.OTHER)[:_MOST]


def beside(asked: Beside, known: Beside, order: Order, match: Match, store: Store) -> Kept:
    """A PNG of a model, turned as the known one lies, and of the known one, at one scale; drawn when somebody writes it, and then kept.

    order: the file of the asked one.
    """
    lies = json.dumps(match.compared.to_json(), sort_keys=True)
    pictures = (each.pictures.front.key for each in (asked, known))
    key = key_of("beside", code_of(_CODE), order.sha256, order.path.suffix.lower(), order.units or "", lies, asked.name, known.name, *pictures)
    return Kept(key, partial(_drawn, key, asked, known, order, match, store))


def _drawn(key: str, asked: Beside, known: Beside, order: Order, match: Match, store: Store) -> bytes:  # noqa: PLR0917  what `beside` was given
    if found := store.get(key, (_FILE,)):
        return found[_FILE]
    # Dear, and drawn once alone.
    from generator.geometry.render.side_by_side import Shown, side_by_side  # noqa: PLC0415
    from generator.measuring.turned_picture import turned_picture  # noqa: PLC0415

    turned = turned_picture(order, match.compared)
    front, mm_per_px = turned or (asked.pictures.front.read(), asked.pictures.front_mm_per_px)
    other = Shown(picture=known.pictures.front.read(), mm_per_px=known.pictures.front_mm_per_px, name=known.name)
    sheet = side_by_side([Shown(picture=front, mm_per_px=mm_per_px, name=asked.name), other])
    if turned:
        store.put(key, {_FILE: sheet})
    return sheet
