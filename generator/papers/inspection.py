"""The inspection sheet of a batch as a PDF: checks by pieces, with room for what is measured by hand."""

import math
from typing import Any

from generator.pages.wording import Wording
from generator.papers.document import code_of, fact, foot, head
from generator.papers.kinds import BlankInspectionSheet, InspectionCheck
from generator.papers.typesetting import typeset

COLUMNS = 10
"""Pieces on a page: a cell must hold a figure written in gloves."""


def inspection_sheet(sheet: BlankInspectionSheet, w: Wording) -> bytes:
    """A4 across; of more pieces than COLUMNS each page has as many of them, under the same head."""
    pages = max(1, math.ceil(len(sheet.pieces) / COLUMNS))
    each_page = math.ceil(len(sheet.pieces) / pages)
    chunks = [sheet.pieces[at * each_page : (at + 1) * each_page] for at in range(pages)]
    words = {key: w(f"papers.inspection.{key}") for key in ("check", "limits", "wanted", "gauge", "calibrated", "in", "out", "none", "outside")}
    closing = {key: w(f"papers.inspection.{key}") for key in ("no_release", "by", "day", "signature")}
    data = {
        **head(w("papers.inspection.title"), w),
        "facts": _facts(sheet, w),
        "foot": foot(sheet.number, w("papers.label.revision", revision=sheet.revision), sheet.batch),
        "words": words | closing,
        "chunks": [{"pieces": list(each), "before": at * each_page, "says": _measured(sheet, len(each), w)} for at, each in enumerate(chunks)],
        "checks": [[each.name, each.limits, _wanted(each, sheet, w), each.measured_with, _count(each, sheet)] for each in sheet.checks],
        "code": code_of(sheet.code, w("papers.inspection.open")),
    }
    return typeset("inspection", data)


def _facts(sheet: BlankInspectionSheet, w: Wording) -> list[list[str]]:
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


def _count(check: InspectionCheck, sheet: BlankInspectionSheet) -> int:
    return len(sheet.pieces) if check.pieces is None else check.pieces


def _wanted(check: InspectionCheck, sheet: BlankInspectionSheet, w: Wording) -> str:
    """How many pieces of those that stood on the plate, in words where it is all of them."""
    count = _count(check, sheet)
    return w("papers.inspection.all", n=w.number(count)) if count >= sheet.left else w("papers.inspection.some", n=w.number(count))


def _measured(sheet: BlankInspectionSheet, here: int, w: Wording) -> str:
    all_of_them = len(sheet.pieces)
    is_part = here < all_of_them
    facts = {"n": w.number(all_of_them), "count": w.number(sheet.left), "here": w.number(here) if is_part else None}
    reasons = dict.fromkeys(w(f"papers.inspection.why.{each.why.value}") for each in sheet.checks if each.why)
    return " ".join([w("papers.inspection.pieces", **facts) + ("." if reasons else ""), *reasons])
