"""On what are labels printed: a sheet with a grid of fields, or a roll with one label a page? All in mm.

Sizes are told by millimetres alone. A laser printer leaves a border of some 4.5 mm of the page unprinted, and feeds a sheet askew
by up to a millimetre (both common practice, no source): nothing is put there.
"""

import re
from dataclasses import dataclass

A4_WIDTH_MM, A4_HEIGHT_MM = 210.0, 297.0  # ISO 216
_UNPRINTED_MM = 4.5
_LEAST_INSET_MM = 1.5
_ROLL_INSET_MM = 1.0
# A print dot: of label printers with 203 dots an inch, 8 a millimetre; of laser printers with 600 an inch.
ROLL_DOT_MM = 0.125
SHEET_DOT_MM = 25.4 / 600
_SIZE = re.compile(r"([0-9]{1,3}(?:\.[0-9]{1,2})?)x([0-9]{1,3}(?:\.[0-9]{1,2})?)")
_LEAST_SIDE_MM = 12.0
_LONGEST_SIDE_MM = 300.0
_SLACK_MM = 0.05  # a grid of three decimals


@dataclass(frozen=True, slots=True, kw_only=True)
class Format:
    """A page and the fields on it, counted row by row from 1 in the upper left corner."""

    page_width_mm: float
    page_height_mm: float
    label_width_mm: float
    label_height_mm: float
    columns: int = 1
    rows: int = 1
    left_mm: float = 0.0
    top_mm: float = 0.0
    gap_x_mm: float = 0.0
    gap_y_mm: float = 0.0
    dot_mm: float = SHEET_DOT_MM
    """A QR code's module is so many whole dots of the printer, so that no module is wider than its neighbour."""
    inset_x_mm: float = _LEAST_INSET_MM
    inset_y_mm: float = _LEAST_INSET_MM
    """What of a label's edge stays empty, on either side."""

    @property
    def fields(self) -> int:
        return self.columns * self.rows

    @property
    def lies_on_page(self) -> bool:
        """Whether there are fields, all of them on the page, with room inside."""
        sizes = (self.label_width_mm - 2 * self.inset_x_mm, self.label_height_mm - 2 * self.inset_y_mm)
        right = self._start(self.columns, self.left_mm, self.label_width_mm, self.gap_x_mm) - self.gap_x_mm
        bottom = self._start(self.rows, self.top_mm, self.label_height_mm, self.gap_y_mm) - self.gap_y_mm
        nothing_negative = min(self.left_mm, self.top_mm, self.gap_x_mm, self.gap_y_mm) >= 0
        inside = right <= self.page_width_mm + _SLACK_MM and bottom <= self.page_height_mm + _SLACK_MM
        return self.fields >= 1 and min(sizes) > 0 and nothing_negative and inside

    def corner(self, number: int) -> tuple[float, float]:
        """The upper left corner of the field with this number, from the upper left corner of the page."""
        row, column = divmod(number - 1, self.columns)
        x = self._start(column, self.left_mm, self.label_width_mm, self.gap_x_mm)
        return x, self._start(row, self.top_mm, self.label_height_mm, self.gap_y_mm)

    @staticmethod
    def _start(count: int, first: float, size: float, gap: float) -> float:
        return first + count * (size + gap)


def sheet(
    width_mm: float,
    height_mm: float,
    *,
    margins_mm: tuple[float, float] | None = None,
    gaps_mm: tuple[float, float] = (0.0, 0.0),
) -> Format:
    """An A4 sheet with as many fields of this size as it holds; without margins (left, top) the grid lies in its middle."""
    left, top = margins_mm or (0.0, 0.0)
    columns = _how_many(A4_WIDTH_MM - left, width_mm, gaps_mm[0])
    rows = _how_many(A4_HEIGHT_MM - top, height_mm, gaps_mm[1])
    used = columns * (width_mm + gaps_mm[0]) - gaps_mm[0], rows * (height_mm + gaps_mm[1]) - gaps_mm[1]
    if margins_mm is None:
        left, top = max(0.0, (A4_WIDTH_MM - used[0]) / 2), max(0.0, (A4_HEIGHT_MM - used[1]) / 2)
    return Format(
        page_width_mm=A4_WIDTH_MM,
        page_height_mm=A4_HEIGHT_MM,
        label_width_mm=width_mm,
        label_height_mm=height_mm,
        columns=columns,
        rows=rows,
        left_mm=left,
        top_mm=top,
        gap_x_mm=gaps_mm[0],
        gap_y_mm=gaps_mm[1],
        inset_x_mm=_inset(left, A4_WIDTH_MM - left - used[0]),
        inset_y_mm=_inset(top, A4_HEIGHT_MM - top - used[1]),
    )


def roll(width_mm: float, height_mm: float) -> Format:
    """A roll whose labels have this size: each is a page."""
    return Format(
        page_width_mm=width_mm,
        page_height_mm=height_mm,
        label_width_mm=width_mm,
        label_height_mm=height_mm,
        dot_mm=ROLL_DOT_MM,
        inset_x_mm=_ROLL_INSET_MM,
        inset_y_mm=_ROLL_INSET_MM,
    )


def _how_many(room: float, size: float, gap: float) -> int:
    return int((room + gap + _SLACK_MM) / (size + gap))


def _inset(before: float, behind: float) -> float:
    """The same for all fields, so that all labels of a sheet look the same."""
    return max(_LEAST_INSET_MM, _UNPRINTED_MM - max(0.0, before), _UNPRINTED_MM - max(0.0, behind))


# The usual grids of A4, by columns and rows.
GRIDS: dict[str, tuple[float, float]] = {
    "2x4": (105.0, 74.0),
    "2x7": (105.0, 42.0),
    "3x7": (70.0, 42.3),
    "3x8": (70.0, 37.0),
    "4x10": (52.5, 29.7),
    "4x11": (48.5, 25.4),
}
ROLLS = ("57x32", "62x29", "25x25")


def size_of(text: str) -> tuple[float, float] | None:
    """Width and height of a label, as 70x37 or as the name of a grid, 3x8; None where it is neither."""
    if text in GRIDS:
        return GRIDS[text]
    size = pair_of(text)
    return size if size and min(size) >= _LEAST_SIDE_MM and max(size) <= _LONGEST_SIDE_MM else None


def pair_of(text: str) -> tuple[float, float] | None:
    """Two lengths in mm as they are typed, such as 70x37 or 2.5x0; None where it is otherwise."""
    found = _SIZE.fullmatch(text.strip().lower().replace("×", "x").replace(",", "."))
    return (float(found[1]), float(found[2])) if found else None
