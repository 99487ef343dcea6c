"""The print list as a PDF: plate by plate what lies where, how it stands, how long it takes, and the code of its labels."""

from typing import Any

from generator.pages.wording import Wording
from generator.papers.document import code_of, foot, head
from generator.papers.kinds import PrintPlate, PrintSheet
from generator.papers.typesetting import typeset

_CODE_ROOM_MM = 22.0
_WIDE_MM, _HIGH_MM = 52.0, 60.0
"""Room for the picture of a plate."""


def print_list(sheet: PrintSheet, w: Wording) -> bytes:
    """A4 upright; a plate stands on one page where one page holds it."""
    words = {key: w(f"papers.print_list.{key}") for key in ("part", "code", "batch", "started", "by")}
    groups = [{"heading": each.heading, "sentences": list(each.sentences), "plates": [_plate(plate) for plate in each.plates]} for each in sheet.groups]
    data = {
        **head(sheet.title, w),
        "subtitle": sheet.subtitle,
        "foot": foot(sheet.title, sheet.subtitle),
        "sentences": list(sheet.sentences),
        "words": words,
        "groups": groups,
    }
    return typeset("print_list", data)


def _plate(plate: PrintPlate) -> dict[str, Any]:
    """Its picture has the corner of the plate that is nearest to the door below on the left, as the machine's own axes have it."""
    scale = min(_WIDE_MM / plate.wide_mm, _HIGH_MM / plate.deep_mm)
    boxes = [
        {
            "x": each.x * scale, "y": (plate.deep_mm - each.y - each.deep) * scale, "wide": each.wide * scale, "deep": each.deep * scale, "at": str(each.part + 1),
        }
        for each in plate.sketch
    ]  # fmt: skip
    return {
        "heading": plate.heading,
        "says": plate.says,
        "wide": plate.wide_mm * scale,
        "deep": plate.deep_mm * scale,
        "boxes": boxes,
        "parts": [{"part": each.part, "pose": each.pose, "code": code_of(each.code, "", _CODE_ROOM_MM)} for each in plate.parts],
    }
