"""What the finder's words are in this depot: its examples begin with a part of its own."""

from typing import Any

from generator.pages.wording import Wording
from generator.rules.sheet import Sheet

_GENERAL = 2  # one line of a tablet holds so many beside the depot's own


def own_words(sheets: tuple[Sheet, ...], w: Wording) -> dict[str, Any]:
    """Words under `finder` in place of those of the language."""
    general = list(w.flat["finder.examples"])
    if not sheets:
        return {"none": w("starting.no_parts")}
    fitted = [(len(sheet.name), sheet.number, f"{sheet.name} {sheet.part.fits[0].fleet}") for sheet in sheets if sheet.part and sheet.part.fits]
    if not fitted:
        return {}
    _, number, named = min(fitted)
    return {"examples": [named, number, *general[:_GENERAL]]}
