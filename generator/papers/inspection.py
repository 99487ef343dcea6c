"""The inspection sheet of a batch as a PDF: checks by pieces, with room for what is measured by hand."""

import math
from typing import Any

from generator.pages.wording import Wording
from generator.papers.document import code_of, fact, foot, head
from generator.papers.kinds import InspectionSheet
from generator.papers.typesetting import typeset

COLUMNS = 10
"""Pieces on a page: a cell must hold a figure written in gloves."""


def inspection_sheet(sheet: InspectionSheet, w: Wording) -> bytes:
    """A4 across; of more pieces than COLUMNS each page has as many of them, under the same head."""
    pages = max(1, math.ceil(len(sheet.pieces) / COLUMNS))
    each_page = math.ceil(len(sheet.pieces) / pages)
    chunks = [sheet.pieces[at * each_page : (at + 1) * each_page] for at in range(pages)]
    words = {key: w(f"papers.inspection.{key}") for key in ("check", "limits", "gauge", "calibrated", "in", "out", "none", "outside")}
    closing = {key: w(f"papers.inspection.{key}") for key in ("no_release", "by", "day", "signature")}
    data = {
        **head(w("papers.inspection.title"), w),
        "facts": _facts(sheet, w),
        "foot": foot(sheet.number, w("papers.label.revision", revision=sheet.revision), sheet.batch),
        "words": words | closing,
        "chunks": [{"pieces": list(each), "says": _measured(sheet, len(each), w)} for each in chunks],
        "checks": [[each.name, each.limits, each.measured_with] for each in sheet.checks],
        "code": code_of(sheet.code, w("papers.inspection.open")),
    }
    return typeset("inspection", data)


def _facts(sheet: InspectionSheet, w: Wording) -> list[list[str]]:
    told: dict[str, Any] = {
        "part": f"{sheet.number} {sheet.name}",
        "revision": sheet.revision,
        "batch": sheet.batch,
        "count": w.number(sheet.count),
        "material": sheet.material,
        "lots": ", ".join(sheet.lots),
        "machine": sheet.machine,
        "started": sheet.started,
    }
    return [fact(w(f"papers.inspection.{key}"), value) for key, value in told.items()]


def _measured(sheet: InspectionSheet, here: int, w: Wording) -> str:
    all_of_them = len(sheet.pieces)
    is_part = here < all_of_them
    facts = {"n": w.number(all_of_them), "count": w.number(sheet.count), "here": w.number(here) if is_part else None}
    return w("papers.inspection.pieces", **facts)
