"""Labels as a PDF: which label stands in which field of which page?"""

from collections.abc import Iterator, Sequence
from typing import Any

from generator.pages.wording import Wording
from generator.papers.formats import Format
from generator.papers.kinds import LabelCount, NotPrinted, PaperRefusal
from generator.papers.label import DrawnLabel, WarningBar, drawn
from generator.papers.typesetting import typeset

MOST = 2000
"""In one file; a slip of a digit must not make a thousand pages."""


def labels(wanted: Sequence[LabelCount], format_: Format, w: Wording, *, start: int = 1) -> bytes | NotPrinted:
    """The PDF of these labels, in their order, from field `start` of the first page on; or why there is none."""
    why = _refused(sum(max(0, each.count) for each in wanted), format_, start)
    if why:
        return why
    designs: list[DrawnLabel] = []
    for each in wanted:
        design = drawn(each.label, format_, w)
        if isinstance(design, NotPrinted):
            return design
        designs.append(design)
    which = [at for at, each in enumerate(wanted) for _ in range(each.count)]
    data = {
        "title": w("papers.label.title"),
        "language": w.language,
        "page": [format_.page_width_mm, format_.page_height_mm],
        "label": [format_.label_width_mm, format_.label_height_mm],
        "designs": [_design(each) for each in designs],
        "pages": list(_pages(which, format_, start)),
    }
    return typeset("labels", data, tagged=False)


def _refused(count: int, format_: Format, start: int) -> NotPrinted | None:
    if not format_.lies_on_page:
        size = {"width_mm": format_.label_width_mm, "height_mm": format_.label_height_mm}
        return NotPrinted(why=PaperRefusal.OFF_THE_PAGE, facts=size)
    if count == 0:
        return NotPrinted(why=PaperRefusal.NOTHING)
    if count > MOST:
        return NotPrinted(why=PaperRefusal.TOO_MANY, facts={"count": count, "most": MOST})
    if not 1 <= start <= format_.fields:
        return NotPrinted(why=PaperRefusal.NO_FIELD, facts={"start": start, "fields": format_.fields})
    return None


def _design(label: DrawnLabel) -> dict[str, Any]:
    return {
        "code": {
            "x": label.code_x_mm,
            "y": label.code_y_mm,
            "side": len(label.code.rows) * label.code.module_mm,
            "svg": label.code.svg,
        },
        "bar": _bar(label.bar) if label.bar else None,
        "lines": [
            {"text": each.text, "size": each.size_mm, "bold": each.bold, "x": label.lines_x_mm, "y": label.lines_y_mm + each.top_mm}
            for each in label.lines
        ],
    }


def _bar(bar: WarningBar) -> dict[str, Any]:
    return {"text": bar.text, "x": bar.x_mm, "y": bar.y_mm, "width": bar.width_mm, "height": bar.height_mm, "size": bar.size_mm}


def _pages(which: Sequence[int], format_: Format, start: int) -> Iterator[list[dict[str, float]]]:
    """Of each page its labels: the number of the design and where it lies."""
    field = start - 1
    page: list[dict[str, float]] = []
    for at in which:
        if field == format_.fields:
            yield page
            page, field = [], 0
        field += 1
        x, y = format_.corner(field)
        page.append({"design": at, "x": x, "y": y})
    yield page
