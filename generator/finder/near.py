"""Which parts and open requests are near to a new request, by the finder's own ranking of words, size and place?"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from generator.finder.engine import Finder, Found
from generator.finder.scripts import PLACE
from generator.pages.addresses import addresses
from generator.pages.finder.index import finder_data
from generator.records.catalogue import Catalogue
from generator.records.requests import Request
from generator.rules.sheet import Sheet

MOST = 5
# As in site_src/assets/js/finder/near.js: everything together counts whole, its pieces a little less.
_LEAST = 0.5
_WHOLE, _PIECE = 1.0, 0.85
SCRIPTS = Path("site_src") / PLACE


@dataclass(frozen=True, slots=True, kw_only=True)
class Near:
    """A part or an open request near to what is asked for."""

    number: str
    name: str
    score: float
    by: tuple[str, ...]

    @property
    def row(self) -> tuple[str, str, str]:
        return self.number, self.name, ", ".join(self.by)


def near_matches(
    asked: Mapping[str, Request],
    *,
    catalogue: Catalogue,
    sheets: tuple[Sheet, ...],
    day: date,
    root: Path,
    without: set[str],
) -> dict[str, tuple[Near, ...]] | None:
    """The nearest few to each request, best first; None where the finder's scripts are not beside the catalogue.

    without: ids in the catalogue that are the request itself.
    """
    scripts = root.resolve().parent / SCRIPTS
    if not scripts.is_dir():
        return None
    data = finder_data(catalogue, sheets, addresses(catalogue.parts), day)
    with Finder(data, scripts) as finder:
        return {number: _near(finder, request, catalogue, without) for number, request in asked.items()}


def _near(finder: Finder, request: Request, catalogue: Catalogue, without: set[str]) -> tuple[Near, ...]:
    best: dict[str, Near] = {}
    for weight, query in _queries(request, catalogue):
        for found in finder.find(query):
            score = weight * found.score
            if (
                found.number in without
                or score < _LEAST
                or score <= getattr(best.get(found.number), "score", 0)
            ):
                continue
            best[found.number] = Near(number=found.number, name=found.name, score=score, by=_said(found))
    return tuple(sorted(best.values(), key=lambda each: (-each.score, each.number))[:MOST])


def _said(found: Found) -> tuple[str, ...]:
    return tuple(dict.fromkeys(reason.asked for reason in found.reasons))


def _queries(request: Request, catalogue: Catalogue) -> Iterator[tuple[float, str]]:
    sizes = " x ".join(f"{side:g}" for side in sorted(request.sizes_mm, reverse=True)[:3])
    measured = f"{sizes} mm" if sizes else ""
    place = catalogue.place(request.fleet, request.place) if request.place else None
    where = f"{request.fleet} {place.name if place else ''}"
    yield _WHOLE, f"{request.name} {where} {measured}"
    yield _PIECE, " ".join((request.name, *request.words))
    if measured:
        yield _PIECE, f"{request.fleet} {measured}"
    for number in request.numbers:
        yield _WHOLE, number
