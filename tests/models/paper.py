"""One A4 page as a PDF: text, lines and boxes, the same bytes on every machine."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import hypot

PORTRAIT = (595.28, 841.89)
LANDSCAPE = (841.89, 595.28)
MM = 72 / 25.4

# Advance widths of Helvetica and Helvetica-Bold in 1/1000 em for the characters 32 to 126, as published in the
# font metrics of the fourteen fonts that every PDF reader has.
_REGULAR = (
    "278 278 355 556 556 889 667 191 333 333 389 584 278 333 278 278 556 556 556 556 556 556 556 556 556 556 278 278 "
    "584 584 584 556 1015 667 667 722 722 667 611 778 722 278 500 667 556 833 722 778 667 778 722 667 611 722 667 944 "
    "667 667 611 278 278 278 469 556 333 556 556 500 556 556 278 556 556 222 222 500 222 833 556 556 556 556 333 500 "
    "278 556 500 722 500 500 500 334 260 334 584"
)
_BOLD = (
    "278 333 474 556 556 889 722 238 333 333 389 584 278 333 278 278 556 556 556 556 556 556 556 556 556 556 333 333 "
    "584 584 584 611 975 722 722 722 722 667 611 778 722 278 556 722 611 833 722 778 667 778 722 667 611 722 667 944 "
    "667 667 611 333 278 333 584 556 333 556 611 556 611 556 333 611 611 278 278 556 278 889 611 611 611 611 389 556 "
    "333 611 556 778 556 556 500 389 280 389 584"
)
_WIDTHS = {
    "F1": dict(zip(range(32, 127), map(int, _REGULAR.split()), strict=True)),
    "F2": dict(zip(range(32, 127), map(int, _BOLD.split()), strict=True)),
}
_OTHER = {"Ø": 778, "×": 584, "°": 400, "±": 549, "–": 556, "²": 333, "³": 333, "µ": 576}


def width_pt(text: str, size: float, *, bold: bool = False) -> float:
    """How wide a text is set, in points."""
    widths = _WIDTHS["F2" if bold else "F1"]
    return sum(_OTHER.get(sign, widths.get(ord(sign), 556)) for sign in text) * size / 1000


def wrapped(text: str, size: float, room_pt: float, *, bold: bool = False) -> list[str]:
    """A paragraph cut into lines that are at most `room_pt` wide."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_pt(longer, size, bold=bold) <= room_pt:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


@dataclass(slots=True)
class Paper:
    """A page that is drawn on from the bottom left corner, in points; greys and colours run from 0 to 1."""

    size_pt: tuple[float, float] = PORTRAIT
    _ops: list[str] = field(default_factory=list)

    def text(
        self, x: float, y: float, words: str, size: float = 9.5, *, bold: bool = False,
        align: str = "left", ink: tuple[float, float, float] = (0.1, 0.12, 0.14), turn: bool = False,
    ) -> None:  # fmt: skip
        """Set one line; `align` is left, middle or right; `turn` sets it upwards."""
        shift = {"left": 0.0, "middle": 0.5, "right": 1.0}[align] * width_pt(words, size, bold=bold)
        x, y = (x, y - shift) if turn else (x - shift, y)
        matrix = f"0 1 -1 0 {x:.2f} {y:.2f} Tm" if turn else f"1 0 0 1 {x:.2f} {y:.2f} Tm"
        font = "F2" if bold else "F1"
        self._ops.append(f"BT {_ink(ink)} rg /{font} {size:g} Tf {matrix} ({_escaped(words)}) Tj ET")

    def line(
        self, x1: float, y1: float, x2: float, y2: float, *, width: float = 0.6, grey: float = 0.1
    ) -> None:
        self._ops.append(f"{grey:g} G {width:g} w {x1:.2f} {y1:.2f} m {x2:.2f} {y2:.2f} l S")

    def lines(self, ends: Iterable[Sequence[float]], width: float, grey: float = 0.1) -> None:
        """Many lines (x1, y1, x2, y2) of one width, joined end to end and rounded to a tenth of a point."""
        strokes = joined([tuple(round(10 * number) for number in four) for four in ends])
        strokes = [
            way for way in strokes if sum(hypot(c - a, d - b) for (a, b), (c, d) in pairwise(way)) >= SPECK
        ]
        path = "\n".join(
            f"{x} {y} m " + " ".join(f"{a} {b} l" for a, b in more)
            for (x, y), *more in map(straightened, strokes)
        )
        if path:
            self._ops.append(f"q 0.1 0 0 0.1 0 0 cm 1 J 1 j {grey:g} G {10 * width:g} w\n{path}\nS Q")

    def chain(self, x1: float, y1: float, x2: float, y2: float) -> None:
        """A centre line."""
        self._ops.append(f"[8 2 1.5 2] 0 d 0.35 G 0.4 w {x1:.2f} {y1:.2f} m {x2:.2f} {y2:.2f} l S [] 0 d")

    def box(
        self, x: float, y: float, wide: float, high: float, *, width: float = 0.6, fill: float | None = None
    ) -> None:
        if fill is not None:
            self._ops.append(f"{fill:g} g {x:.2f} {y:.2f} {wide:.2f} {high:.2f} re f")
        if width:
            self._ops.append(f"0.1 G {width:g} w {x:.2f} {y:.2f} {wide:.2f} {high:.2f} re S")

    def arrow(self, x: float, y: float, dx: float, dy: float) -> None:
        """A filled dimension arrow with its tip at (x, y), pointing along the unit vector (dx, dy)."""
        bx, by = x - 6 * dx, y - 6 * dy
        corners = f"{x:.2f} {y:.2f} m {bx - dy:.2f} {by + dx:.2f} l {bx + dy:.2f} {by - dx:.2f} l f"
        self._ops.append(f"0.1 g {corners}")

    def pdf(self, title: str) -> bytes:
        """The finished file. It holds no date of its own making, so the same page is the same bytes."""
        stream = "\n".join(self._ops).encode("cp1252")
        wide, high = self.size_pt
        fonts = " ".join(
            f"/{name} << /Type /Font /Subtype /Type1 /BaseFont /{base} /Encoding /WinAnsiEncoding >>"
            for name, base in (("F1", "Helvetica"), ("F2", "Helvetica-Bold"))
        )
        page = f"/MediaBox [0 0 {wide:g} {high:g}] /Contents 4 0 R /Resources << /Font << {fonts} >> >>"
        bodies = [
            b"<< /Type /Catalog /Pages 2 0 R /Lang (en) >>",
            b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
            f"<< /Type /Page /Parent 2 0 R {page} >>".encode("cp1252"),
            b"<< /Length %d >>\nstream\n%s\nendstream" % (len(stream), stream),
            f"<< /Title ({_escaped(title)}) >>".encode("cp1252"),
        ]
        return _file(bodies)


Point = tuple[int, int]
BEND = 1.4  # tenths of a point that a stroke may leave its corners aside
SPECK = 7.0  # tenths of a point: a stroke shorter than this is not seen on paper


def joined(pieces: Sequence[tuple[int, ...]]) -> list[list[Point]]:
    """Pieces (x1, y1, x2, y2) as strokes that run on as long as one piece meets the next."""
    meeting: dict[Point, list[int]] = defaultdict(list)
    for i, (x1, y1, x2, y2) in enumerate(pieces):
        meeting[x1, y1].append(i)
        meeting[x2, y2].append(i)
    left = set(range(len(pieces)))
    strokes = []
    for i, (x1, y1, x2, y2) in enumerate(pieces):
        if i in left and (x1, y1) != (x2, y2):
            left.discard(i)
            ahead = _walk((x2, y2), pieces, meeting, left)
            behind = _walk((x1, y1), pieces, meeting, left)
            strokes.append([*reversed(behind), *ahead])
    return strokes


def _walk(
    at: Point, pieces: Sequence[tuple[int, ...]], meeting: dict[Point, list[int]], left: set[int]
) -> list[Point]:
    way = [at]
    while following := [i for i in meeting[at] if i in left]:
        left.discard(following[0])
        x1, y1, x2, y2 = pieces[following[0]]
        at = (x2, y2) if at == (x1, y1) else (x1, y1)
        if at != way[-1]:
            way.append(at)
    return way


def straightened(stroke: list[Point]) -> list[Point]:
    """A stroke without the corners that lie on it anyway (Ramer 1972, Douglas and Peucker 1973)."""
    kept, todo = {0, len(stroke) - 1}, [(0, len(stroke) - 1)]
    while todo:
        first, last = todo.pop()
        (ax, ay), (bx, by) = stroke[first], stroke[last]
        long = hypot(bx - ax, by - ay)
        aside = [
            abs((x - ax) * (by - ay) - (y - ay) * (bx - ax)) / long if long else hypot(x - ax, y - ay)
            for x, y in stroke[first + 1 : last]
        ]
        if aside and max(aside) > BEND:
            middle = first + 1 + aside.index(max(aside))
            kept.add(middle)
            todo += [(first, middle), (middle, last)]
    return [stroke[i] for i in sorted(kept)]


def _file(bodies: list[bytes]) -> bytes:
    """Objects 1 to n with their cross-reference table, ISO 32000-1 clause 7.5."""
    out, places = b"%PDF-1.4\n%\xe2\xe3\xcf\xd3\n", []
    for number, body in enumerate(bodies, start=1):
        places.append(len(out))
        out += b"%d 0 obj\n%s\nendobj\n" % (number, body)
    table = b"xref\n0 %d\n0000000000 65535 f \n" % (len(bodies) + 1)
    table += b"".join(b"%010d 00000 n \n" % place for place in places)
    trailer = b"trailer\n<< /Size %d /Root 1 0 R /Info %d 0 R >>\n" % (len(bodies) + 1, len(bodies))
    return out + table + trailer + b"startxref\n%d\n%%%%EOF\n" % len(out)


def _escaped(text: str) -> str:
    return text.replace("\\", "\\\\").replace("(", "\\(").replace(")", "\\)")


def _ink(rgb: tuple[float, float, float]) -> str:
    return " ".join(f"{part:g}" for part in rgb)
