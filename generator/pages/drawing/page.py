"""The drawing of a part as a file for its page, and as a page of its own that prints true to scale."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, partial

from generator.geometry.drawing.kinds import Views
from generator.geometry.measured import Kept
from generator.pages.around import Around
from generator.pages.drawing.paper import scale_words
from generator.pages.drawing.sheet import Drawn, drawn_sheet
from generator.pages.drawing.told import Told, told
from generator.pages.marks import rendered
from generator.pages.outputs import NOT_YET, StoredAsset
from generator.pages.policy import POLICY
from generator.pages.wording import Wording
from generator.rules.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawingView:
    """Where the drawing lies, as seen from the part's page."""

    file: str
    page: str


def drawing_view(sheet: Sheet, stem: str) -> DrawingView | None:
    """None for a part without views, or whose record cannot be read."""
    if sheet.views is None or sheet.part is None:
        return None
    return DrawingView(file=f"assets/drawings/{stem}.svg", page=f"drawings/{stem}.html")


def drawings(sheet: Sheet, around: Around) -> Iterator[StoredAsset]:
    """The sheet of a part as a file and as a page, drawn when they are written."""
    stem = around.found.by_folder[sheet.folder.folder]
    seen, said = drawing_view(sheet, stem), told(sheet, around)
    if seen is None or said is None or sheet.views is None:
        return
    draw = cache(partial(_drawn, sheet, said, around.w))
    key = f"drawing of {stem}"
    yield StoredAsset(path=seen.file, kept=Kept(key, lambda: _file(draw())))
    yield StoredAsset(path=seen.page, kept=Kept(f"{key}, page", lambda: _page(draw(), said, stem, around.w)))


def _drawn(sheet: Sheet, said: Told, w: Wording) -> Drawn | None:
    if sheet.views is None:
        return None
    return drawn_sheet(Views.from_json(json.loads(sheet.views.read())), sheet.features, said, w)


def _file(drawn: Drawn | None) -> bytes:
    return drawn.file() if drawn else b'<svg xmlns="http://www.w3.org/2000/svg" width="1mm" height="1mm"/>\n'


def _page(drawn: Drawn | None, said: Told, stem: str, w: Wording) -> bytes:
    text = rendered(
        "drawing/drawing.html.j2",
        w=w,
        policy=POLICY,
        not_yet=NOT_YET,
        said=said,
        stem=stem,
        drawn=drawn,
        scale=scale_words(drawn.scale) if drawn else "",
        alt=w("drawing.alt", name=said.name),
    )
    return text.encode()
