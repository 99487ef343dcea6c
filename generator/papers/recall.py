"""The notice of a recall as a PDF. In black on white and without a sign: the shapes and colours of ISO 3864 and ISO 7010 are for safety signs."""

from collections.abc import Iterable
from dataclasses import fields

from generator.pages.wording import Wording
from generator.papers.document import code_of, fact, foot, head
from generator.papers.kinds import OffVehicle, RecallNotice, Whereabouts
from generator.papers.typesetting import typeset

_LONG_CELL, _LONG_WORD = 240, 30
_COLUMNS = ("vehicle", "place", "position", "part", "batch", "count", "removed", "role_day")
_LYING = ("lies", "part", "batch", "count", "found", "role_day")
_UNSURE = ("vehicle", "place", "position", "batch", "count", "why_look", "looked", "role_day")
_WORDS = ("title", "look_for", "no_label", "where", "nowhere", "lying", "lying_says", "unsure", "unsure_says", "caution")


def recall_notice(notice: RecallNotice, w: Wording) -> bytes:
    """A4 upright: what, why, how its label looks, where it is with a box to tick for each, what lies elsewhere, and who decides."""
    facts = [
        *(fact(w("papers.recall.what") if at == 0 else "", each) for at, each in enumerate(notice.what)),
        fact(w("papers.recall.why"), notice.why),
        fact(w("papers.recall.by"), notice.by),
        fact(w("papers.recall.day"), w.day(notice.on)),
        *([fact(w("papers.recall.reference"), notice.reference)] if notice.reference else []),
        *(fact(w("papers.recall.beside") if at == 0 else "", each) for at, each in enumerate(notice.beside)),
        *([fact(w("papers.recall.meanwhile"), notice.instead)] if notice.instead else []),
    ]
    data = {
        **head(f"{w('papers.recall.title')}: {'; '.join(notice.what)}", w),
        "foot": foot(notice.number, notice.stand),
        "words": {key: w(f"papers.recall.{key}") for key in _WORDS} | ({"nowhere": w("papers.recall.nowhere_done")} if notice.done else {}),
        "done": notice.done,
        "columns": _heads(_COLUMNS, w),
        "columns_lying": _heads(_LYING, w),
        "columns_unsure": _heads(_UNSURE, w),
        "facts": facts,
        "look_for": list(notice.look_for),
        "incomplete": list(notice.incomplete),
        "rows": [[each.vehicle, each.place, each.position, each.part, each.batch, each.count] for each in notice.found_at],
        "whole_rows": _are_short(notice),
        "rows_lying": [[each.where, each.part, each.batch, each.count] for each in notice.lying],
        "rows_unsure": [[each.vehicle, each.place, each.position, each.batch, each.count, each.why] for each in notice.unsure],
        "asking": {"title": w("asking.title"), "says": w("asking.says")},
        "rows_asking": [[each.vehicle, each.place, each.position, each.batch, each.count, each.why] for each in notice.asking],
        "code": code_of(notice.code, w("papers.recall.open")) if notice.code else None,
    }
    return typeset("recall", data)


def _heads(keys: Iterable[str], w: Wording) -> list[str]:
    return [w(f"papers.recall.{key}") for key in keys]


def _are_short(notice: RecallNotice) -> bool:
    """Whether each row surely finds room on a page, so that none is torn apart."""
    rows: tuple[OffVehicle | Whereabouts, ...] = (*notice.found_at, *notice.lying, *notice.unsure, *notice.asking)
    cells = [getattr(each, one.name) for each in rows for one in fields(each)]
    return all(len(each) <= _LONG_CELL and max(map(len, each.split()), default=0) <= _LONG_WORD for each in cells)
