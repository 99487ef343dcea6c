"""Where do code and lines stand on a label of this size?"""

from dataclasses import dataclass, replace

from generator.pages.wording import Wording
from generator.papers.codes import LEAST_MODULE_MM, QUIET_ZONE, Code, TooLongError, best_code
from generator.papers.formats import Format
from generator.papers.kinds import LabelText, NotPrinted, PaperRefusal
from generator.papers.lettering import ADVANCE, LEAST_SIZE_MM, PITCH, LabelLine, letters, lines

# Beside the code where the label is so much wider than high, else below it.
_WIDE = 1.3
_CODE_SHARE = 0.5
_LINES_SHARE = 0.26
_BAR_SHARE = 0.24
_BELOW_BAR_MM = 0.6
_APART_MM = 0.5  # some letters begin a hair before their own edge
_ALMOST = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class WarningBar:
    """White letters on black across the label: what must not be overlooked. In mm from the label's own corner."""

    text: str
    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    size_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnLabel:
    """A label: its code's first dark module and its lines' upper left corner, in mm from the label's own."""

    code: Code
    code_x_mm: float
    code_y_mm: float
    lines: tuple[LabelLine, ...]
    lines_x_mm: float
    lines_y_mm: float
    bar: WarningBar | None = None


def drawn(label: LabelText, format_: Format, w: Wording) -> DrawnLabel | NotPrinted:
    """The label as it is drawn, or why it cannot be on this format."""
    width, height = format_.label_width_mm - 2 * format_.inset_x_mm, format_.label_height_mm - 2 * format_.inset_y_mm
    bar = _bar(w("papers.label.stop"), width, height, format_) if label.stop else None
    below = bar.height_mm + _BELOW_BAR_MM if bar else 0.0
    height -= below
    is_wide = width >= _WIDE * height
    room = min(height, _CODE_SHARE * width) if is_wide else min(width, (1 - _LINES_SHARE) * height)
    try:
        code = best_code(label.code, room, format_.dot_mm)
    except TooLongError:
        return NotPrinted(why=PaperRefusal.CODE_TOO_LONG, facts={"number": label.number})
    if code.module_mm < LEAST_MODULE_MM - _ALMOST:
        return _too_fine(label, code, format_)
    found = _beside(label, code, width, height, w) if is_wide else _below(label, code, width, height, w)
    if found is None:
        return NotPrinted(why=PaperRefusal.LETTERS_TOO_SMALL, facts={"number": label.number, "least_mm": LEAST_SIZE_MM, **_size(format_)})
    moved = _moved(found, format_, below)
    return replace(moved, bar=bar)


def _bar(text: str, width: float, height: float, format_: Format) -> WarningBar:
    """Over the whole width, its letters as large as go; never more than a share of the height, for number and code have to stand below."""
    size = min((width - 2 * _APART_MM) / (ADVANCE * letters(text)), _BAR_SHARE * height / PITCH)
    return WarningBar(text=text, x_mm=format_.inset_x_mm, y_mm=format_.inset_y_mm, width_mm=width, height_mm=size * PITCH, size_mm=size)


def _beside(label: LabelText, code: Code, width: float, height: float, w: Wording) -> DrawnLabel | None:
    """The lines right of the code; its quiet zone is their distance."""
    told = _told(label, w, width - code.side_mm - _APART_MM, height)
    quiet = QUIET_ZONE * code.module_mm
    if told is None:
        return None
    return DrawnLabel(
        code=code,
        code_x_mm=quiet,
        code_y_mm=(height - code.side_mm) / 2 + quiet,
        lines=told,
        lines_x_mm=code.side_mm + _APART_MM,
        lines_y_mm=(height - _height(told)) / 2,
    )


def _below(label: LabelText, code: Code, width: float, height: float, w: Wording) -> DrawnLabel | None:
    told = _told(label, w, width, height - code.side_mm)
    quiet = QUIET_ZONE * code.module_mm
    if told is None:
        return None
    return DrawnLabel(
        code=code,
        code_x_mm=(width - code.side_mm) / 2 + quiet,
        code_y_mm=quiet,
        lines=told,
        lines_x_mm=0.0,
        lines_y_mm=code.side_mm,
    )


def _told(label: LabelText, w: Wording, width: float, height: float) -> tuple[LabelLine, ...] | None:
    revision = w("papers.label.revision", revision=label.revision)
    besides = [revision, *([label.batch] if label.batch else [])]
    why = [w("papers.label.why", why=label.stop, name=label.name), label.stop] if label.stop else [label.name]
    return lines(label.number, besides, why, width, height)


def _height(told: tuple[LabelLine, ...]) -> float:
    return told[-1].top_mm + told[-1].size_mm


def _moved(found: DrawnLabel, format_: Format, below: float) -> DrawnLabel:
    """Inside the label's empty edge and so far below its top, the code on whole dots of the printer."""
    dot = format_.dot_mm
    return DrawnLabel(
        code=found.code,
        code_x_mm=int((found.code_x_mm + format_.inset_x_mm) / dot + _ALMOST) * dot,
        code_y_mm=int((found.code_y_mm + format_.inset_y_mm + below) / dot + _ALMOST) * dot,
        lines=found.lines,
        lines_x_mm=found.lines_x_mm + format_.inset_x_mm,
        lines_y_mm=found.lines_y_mm + format_.inset_y_mm + below,
    )


def _too_fine(label: LabelText, code: Code, format_: Format) -> NotPrinted:
    fine = {"module_mm": code.module_mm, "least_mm": LEAST_MODULE_MM}
    return NotPrinted(why=PaperRefusal.CODE_TOO_FINE, facts={"number": label.number, **fine, **_size(format_)})


def _size(format_: Format) -> dict[str, float]:
    return {"width_mm": format_.label_width_mm, "height_mm": format_.label_height_mm}
