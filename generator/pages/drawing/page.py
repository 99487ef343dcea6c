"""The drawing of a part as a file for its page, and as a page of its own that prints true to scale."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, partial
from typing import Final

from generator.geometry.measured import Kept
from generator.pages.around import Around
from generator.pages.drawing.paper import scale_words
from generator.pages.drawing.sheet import DrawnSheet, drawn_sheet
from generator.pages.drawing.title_words import TitleWords, title_words
from generator.pages.kept_views import views_of
from generator.pages.marks import rendered, source_of
from generator.pages.outputs import NOT_YET, StoredAsset
from generator.pages.policy import POLICY
from generator.pages.wording import Wording
from generator.rules.sheet import Sheet

_TEMPLATE: Final = "drawing/drawing.html.j2"
_FILE, _PAGE = "sheet.svg", "sheet.html"


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


Keep = Callable[[Sequence[str], Callable[[], Mapping[str, bytes]]], Mapping[str, bytes]]
"""Gives the files of a drawing, kept under what they are drawn from, or drawn now."""


def drawn_now(_inputs: Sequence[str], draw: Callable[[], Mapping[str, bytes]]) -> Mapping[str, bytes]:
    """Keeps nothing."""
    return draw()


def drawings(sheets: Sequence[Sheet], around: Around, keep: Keep = drawn_now) -> Iterator[StoredAsset]:
    """The sheet of each part as a file and as a page, drawn when they are written, unless they are kept."""
    words = hashlib.sha256(repr(sorted(around.w.flat.items())).encode()).hexdigest()
    for sheet in sheets:
        stem = around.found.by_folder[sheet.folder.folder]
        seen, said = drawing_view(sheet, stem), title_words(sheet, around)
        if seen is None or said is None or sheet.views is None:
            continue
        inputs = (sheet.views.key, _as_text(sheet), repr(said), stem, words, source_of(_TEMPLATE))
        files = cache(partial(keep, inputs, partial(_files, sheet, said, stem, around.w)))
        key = f"drawing of {stem}"
        yield StoredAsset(path=seen.file, kept=Kept(key, partial(_one, files, _FILE)))
        yield StoredAsset(path=seen.page, kept=Kept(f"{key}, page", partial(_one, files, _PAGE)))


def drawing_file(sheet: Sheet, around: Around) -> bytes | None:
    """The sheet as an SVG file, drawn now; None for a part without views, or whose record cannot be read."""
    said = title_words(sheet, around)
    drawn = _drawn(sheet, said, around.w) if said else None
    return drawn.file() if drawn else None


def _as_text(sheet: Sheet) -> str:
    return json.dumps(sheet.features.to_json(), sort_keys=True) if sheet.features else ""


def _one(files: Callable[[], Mapping[str, bytes]], name: str) -> bytes:
    return files()[name]


def _files(sheet: Sheet, said: TitleWords, stem: str, w: Wording) -> Mapping[str, bytes]:
    drawn = _drawn(sheet, said, w)
    return {_FILE: _file(drawn), _PAGE: _page(drawn, said, stem, w)}


def _drawn(sheet: Sheet, said: TitleWords, w: Wording) -> DrawnSheet | None:
    if sheet.views is None:
        return None
    return drawn_sheet(views_of(sheet.views), sheet.features, said, w)


def _file(drawn: DrawnSheet | None) -> bytes:
    return drawn.file() if drawn else b'<svg xmlns="http://www.w3.org/2000/svg" width="1mm" height="1mm"/>\n'


def _page(drawn: DrawnSheet | None, said: TitleWords, stem: str, w: Wording) -> bytes:
    text = rendered(
        _TEMPLATE,
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
