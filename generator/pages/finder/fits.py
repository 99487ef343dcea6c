"""How far may a size that was asked for be from the part's own? The table of accepted deviations, from fits.yml."""

from functools import cache
from typing import Any

from generator.pages import wording

_FIGURES = ("to", "below", "above", "caliper", "tape", "near")


@cache
def fits() -> dict[str, Any]:
    """The figures alone: what they rest on stays in the file."""
    read = wording.our_file(wording.PAGES / "finder" / "fits.yml")
    return {
        "mating": {kind: _rows(rows) for kind, rows in read["mating"].items()},
        "screws": {name[1:]: limits for name, limits in read["screws"].items()},
        "overall": _rows(read["overall"]),
        "checked": _rows(read["checked"]),
    }


def _rows(rows: list[dict[str, Any]]) -> list[dict[str, float]]:
    return [{key: row[key] for key in _FIGURES if key in row} for row in rows]
