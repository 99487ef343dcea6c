"""How large can a QR code be on a label, and how much dirt does it stand?

ISO/IEC 18004: a quiet zone of four modules on each side; level M mends about 15 % of the code words, Q about 25 %. A label lies in
a dirty plastic bag: level Q as long as its modules stay at 0.5 mm, for a phone resolves these at arm's length through scratched
film; below that larger modules are worth more than more mending (both common practice, no source). A label printer of 203 dots
an inch has dots of 0.125 mm: 0.5 mm are four whole ones, and below 0.35 mm, under three, no two modules are equally wide.
"""

from dataclasses import dataclass

from generator.papers.seen import as_seen

QUIET_ZONE = 4
"""Modules on each side that stay white; ISO/IEC 18004."""
LEAST_MODULE_MM = 0.35
GOOD_MODULE_MM = 0.5
_LARGEST_MODULE_MM = 1.0  # beyond it letters have more use for the room
_ALMOST = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Code:
    """A QR code as rows of modules, the quiet zone not among them."""

    rows: tuple[tuple[bool, ...], ...]
    level: str
    """M or Q."""
    module_mm: float

    @property
    def side_mm(self) -> float:
        """With its quiet zone."""
        return (len(self.rows) + 2 * QUIET_ZONE) * self.module_mm

    @property
    def svg(self) -> str:
        """The modules without their quiet zone, dark ones as one path: of one piece, so that no viewer shows seams between them."""
        count = len(self.rows)
        path = "".join(
            f"M{start} {y}h{end - start}v1h{start - end}z" for y, row in enumerate(self.rows) for start, end in _runs(row)
        )
        return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {count} {count}"><path d="{path}"/></svg>'


class TooLongError(ValueError):
    """No QR code holds so much text at level M."""


def best_code(text: str, room_mm: float, dot_mm: float) -> Code:
    """The code that is read best in a square of this side, its quiet zone inside. Raises TooLongError.

    Its module may come out finer than LEAST_MODULE_MM: then there is none that fits.
    """
    made = {level: _sized(rows, level, room_mm, dot_mm) for level in ("Q", "M") if (rows := _modules(text, level))}
    if not made:
        raise TooLongError
    good = [each for each in made.values() if each.module_mm >= GOOD_MODULE_MM - _ALMOST]
    return good[0] if good else max(made.values(), key=lambda each: each.module_mm)


def _modules(text: str, level: str) -> tuple[tuple[bool, ...], ...]:
    """Nothing where the text is too long for the level."""
    import segno  # noqa: PLC0415  loaded where a code is drawn, not by whoever imports the room

    try:
        made = segno.make(as_seen(text), error=level.lower(), micro=False, boost_error=False)
    except segno.DataOverflowError:
        return ()
    return tuple(tuple(bool(each) for each in row) for row in made.matrix)


def _sized(rows: tuple[tuple[bool, ...], ...], level: str, room_mm: float, dot_mm: float) -> Code:
    module = min(_LARGEST_MODULE_MM, room_mm / (len(rows) + 2 * QUIET_ZONE))
    whole_dots = int(module / dot_mm + _ALMOST) * dot_mm
    return Code(rows=rows, level=level, module_mm=whole_dots if whole_dots >= LEAST_MODULE_MM else module)


def _runs(row: tuple[bool, ...]) -> list[tuple[int, int]]:
    """Where dark modules beside each other begin and end."""
    edges = [at for at, (before, here) in enumerate(zip((False, *row), (*row, False), strict=True)) if before != here]
    return list(zip(edges[::2], edges[1::2], strict=True))
