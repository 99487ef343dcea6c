"""The frame, the title block, the list of critical checks and the notes of a sheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from generator.geometry.drawing.kinds import Flat
from generator.pages.drawing.ink import Segment
from generator.pages.drawing.paper import EDGE, LEFT, TITLE, Layout, scale_words
from generator.pages.drawing.svg import SMALL, THICK, THIN, number, segments, width_of, words
from generator.pages.drawing.title_words import TitleWords, tool_words
from generator.pages.wording import Wording
from generator.records.depot import Projection
from generator.records.parts import Check

ROW: Final = 9.0
LIST_ROW: Final = 4.6
NOTE: Final = 3.6
GRADUATION: Final = 3.0
"""Height of the graduation beside the frame."""
_PAD: Final = 1.2
_VALUE: Final = 3.2
_MOST_CHECKS: Final = 12
_MOST_STRIP: Final = 78.0


def strip_height(checks: Sequence[Check], notes: int) -> float:
    """How much of the sheet's foot title block, checks and notes take."""
    rows = min(len(checks), _MOST_CHECKS) + (1 if checks else 0) + (len(checks) > _MOST_CHECKS)
    return min(max(TITLE[1], rows * LIST_ROW + notes * NOTE + 4), _MOST_STRIP)


def frame(layout: Layout, w: Wording) -> str:
    """The border of the drawing space, its centring marks, and 100 mm in steps of 10 to tell a print that is not true to scale (ISO 5457)."""
    paper = layout.paper
    middle_x, middle_y, bottom = (paper.width + LEFT - EDGE) / 2, paper.height / 2, paper.height - EDGE
    marks: list[Segment] = [
        ((middle_x, 5.0), (middle_x, EDGE + 5)),
        ((paper.width - 5, middle_y), (paper.width - EDGE - 5, middle_y)),
        ((LEFT - 5, middle_y), (LEFT + 5, middle_y)),
        ((middle_x, bottom), (middle_x, bottom + GRADUATION)),
    ]
    first = middle_x - 50
    steps: list[Segment] = [((first + 10 * step, bottom), (first + 10 * step, bottom + GRADUATION)) for step in range(11)]
    steps.append(((first, bottom + GRADUATION), (first + 100, bottom + GRADUATION)))
    return (
        f'<rect x="{number(LEFT)}" y="{number(EDGE)}" width="{number(paper.width - LEFT - EDGE)}" height="{number(paper.height - 2 * EDGE)}" '
        f'fill="none" stroke-width="{2 * THICK}"/><path d="{segments(marks)}" stroke-width="{2 * THICK}"/>'
        f'<path d="{segments(steps)}" stroke-width="{THICK}"/>' + words((first + 102, bottom + 3.2), w("drawing.graduation"), size=SMALL)
    )


def title_block(layout: Layout, said: TitleWords, w: Wording) -> str:
    """ISO 7200: what the drawing is of and who answers for it, in the corner at the lower right."""
    left, top = layout.paper.width - EDGE - TITLE[0], layout.paper.height - EDGE - TITLE[1]
    rows: tuple[tuple[tuple[str, str, float], ...], ...] = (
        (("owner", said.owner, 104), ("scale", scale_words(layout.scale), 22), ("sheet", layout.paper.name, 18), ("units", "mm", 18), ("projection", "", 18)),
        (("material", said.material, 76), ("mass", said.mass, 34), ("tolerance", said.tolerance, 70)),
        (("name", said.name, 110), ("day" if said.is_approved else "step", said.day, 35), ("fingerprint", said.fingerprint, 35)),
        (("number", said.number, 72), ("author", said.author, 38), ("revision", said.revision, 35), ("model", said.model, 35)),
    )
    drawn: list[str] = []
    lines: list[Segment] = []
    for index, row in enumerate(rows):
        x, y = left, top + index * ROW
        lines.append(((left, y), (left + TITLE[0], y)))
        for key, value, width in row:
            drawn += _cell(w(f"drawing.title.{key}"), value or ("" if key == "projection" else "–"), (x, y), width, bold=key in ("name", "number", "revision"))
            if key == "projection":
                drawn.append(symbol((x + width / 2, y + ROW / 2 + 1.2), said.projection))
            x += width
            lines.append(((x, y), (x, y + ROW)))
    lines.append(((left, top), (left, top + TITLE[1])))
    return f'<path d="{segments(lines)}" stroke-width="{THICK}"/>' + "".join(drawn)


def _cell(label: str, value: str, at: Flat, width: float, *, bold: bool) -> Iterator[str]:
    x, y = at
    yield words((x + _PAD, y + 2.7), label, size=2.0, most=width - 2 * _PAD)
    if value:
        size = 4.2 if bold and width_of(value, 4.2) <= width - 2 * _PAD else _VALUE
        yield words((x + _PAD, y + 7.4), value, size=size, most=width - 2 * _PAD, bold=bold)


def symbol(middle: Flat, projection: Projection) -> str:
    """The truncated cone of ISO 5456-2: in first angle its end is drawn to the right, as seen from the left."""
    x, y = middle
    cone, ring = (-3.4, 3.4) if projection is Projection.FIRST_ANGLE else (3.4, -3.4)
    # In both the cone's small end lies on the far side from the rings in first angle, and next to them in third.
    small, large = x + cone - 2.4, x + cone + 2.4
    outline: list[Segment] = [
        ((small, y - 1), (large, y - 2)),
        ((large, y - 2), (large, y + 2)),
        ((large, y + 2), (small, y + 1)),
        ((small, y + 1), (small, y - 1)),
    ]
    axis = segments([((small - 0.8, y), (large + 0.8, y)), ((x + ring - 2.8, y), (x + ring + 2.8, y)), ((x + ring, y - 2.8), (x + ring, y + 2.8))])
    rings = "".join(f'<circle cx="{number(x + ring)}" cy="{number(y)}" r="{radius}" stroke-width="{THICK}"/>' for radius in (1, 2))
    return f'<path d="{segments(outline)}" stroke-width="{THICK}"/>{rings}<path d="{axis}" stroke-width="{THIN}" stroke-dasharray="2 .4 .2 .4"/>'


def check_list(layout: Layout, checks: Sequence[Check], w: Wording) -> str:
    """Number, name, limits and tool of each critical check."""
    if not checks:
        return ""
    left, top = LEFT, layout.strip_top
    right = layout.paper.width - EDGE - TITLE[0]
    columns = (left, left + 6, right - 43, right - 20, right)
    shown = checks[:_MOST_CHECKS]
    drawn = [_row(columns, top, ("", w("drawing.checks.name"), w("drawing.checks.limits"), w("drawing.checks.with")), bold=True)]
    for index, check in enumerate(shown):
        least, most = check.nominal_mm - check.minus_mm, check.nominal_mm + check.plus_mm
        limits = f"{w.measure(least, 3)} … {w.measure(most, 3)}"
        drawn.append(_row(columns, top + (index + 1) * LIST_ROW, (str(index + 1), check.name, limits, tool_words(check, w))))
    bottom = top + (len(shown) + 1) * LIST_ROW
    if len(checks) > len(shown):
        drawn.append(words((left + _PAD, bottom + NOTE), w.count("drawing.checks.more", len(checks) - len(shown)), size=SMALL, most=right - left - 2 * _PAD))
    rules: list[Segment] = [((left, top + i * LIST_ROW), (right, top + i * LIST_ROW)) for i in range(len(shown) + 2)]
    rules += [((x, top), (x, bottom)) for x in columns[1:]]
    return f'<path d="{segments(rules)}" stroke-width="{THIN}"/>' + "".join(drawn)


def _row(columns: Sequence[float], top: float, cells: Sequence[str], *, bold: bool = False) -> str:
    pairs = zip(columns, columns[1:], cells, strict=False)
    return "".join(words((x + _PAD, top + 3.3), text, size=2.6, most=end - x - 2 * _PAD, bold=bold) for x, end, text in pairs if text)


def notes(layout: Layout, said: Sequence[str]) -> str:
    """Sentences at the foot of the strip, left of the title block."""
    room = layout.paper.width - EDGE - TITLE[0] - LEFT - 2 * _PAD
    first = layout.paper.height - EDGE - 1.6 - (len(said) - 1) * NOTE
    return "".join(words((LEFT + _PAD, first + i * NOTE), text, size=SMALL, most=room) for i, text in enumerate(said))
