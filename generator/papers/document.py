"""What papers of text and tables share: a title, facts with their names, and a QR code with room to be read from a clipboard."""

from typing import Any

from generator.pages.wording import Wording
from generator.papers.codes import TooLongError, best_code
from generator.papers.formats import SHEET_DOT_MM
from generator.papers.lettering import cut

_CODE_ROOM_MM = 34.0
_FOOT_LETTERS = 200


def head(title: str, w: Wording) -> dict[str, Any]:
    """What every document of this room begins with."""
    return {"title": title, "language": w.language, "page_of": w("papers.page_of", page="{n}", pages="{m}")}


def foot(*parts: str) -> str:
    """What stands at the foot of each page, so that loose sheets are not mixed up: two lines at most, cut where it is too long."""
    line = cut(" – ".join(filter(None, parts)), _FOOT_LETTERS, 1)
    return line[0] if line else ""


def fact(name: str, value: str) -> list[str]:
    return [name, value]


def code_of(text: str, says: str, room_mm: float = _CODE_ROOM_MM) -> dict[str, Any] | None:
    """The code, and what stands below it; None where no code holds the text."""
    try:
        code = best_code(text, room_mm, SHEET_DOT_MM)
    except TooLongError:
        return None
    return {"svg": code.svg, "side": len(code.rows) * code.module_mm, "quiet": 4 * code.module_mm, "says": says, "text": text}
