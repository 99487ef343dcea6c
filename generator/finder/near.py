"""Which parts and open requests are near to a new request? The finder's own scripts answer, as on its page."""

from collections.abc import Mapping
from datetime import date
from pathlib import Path

from generator.finder.engine import Finder, NearMatch, Wish
from generator.pages.addresses import addresses
from generator.pages.finder.index import finder_data
from generator.records.catalogue import Catalogue
from generator.records.requests import Request
from generator.rules.sheet import Sheet
from generator.systems.own_site import scripts_for


def near_matches(
    asked: Mapping[str, Request],
    *,
    catalogue: Catalogue,
    sheets: tuple[Sheet, ...],
    day: date,
    root: Path,
    without: set[str],
) -> dict[str, tuple[NearMatch, ...]]:
    """The nearest few to each request, best first.

    without: ids in the catalogue that are the request itself.
    """
    data = finder_data(catalogue, sheets, addresses(catalogue.parts), day)
    with Finder(data, scripts_for(root)) as finder:
        return {
            number: finder.near(_wish(request, catalogue, without)) for number, request in asked.items()
        }


def _wish(request: Request, catalogue: Catalogue, without: set[str]) -> Wish:
    place = catalogue.place(request.fleet, request.place) if request.place else None
    return Wish(
        name=request.name,
        fleet=request.fleet,
        place=place.name if place else "",
        sizes=tuple(request.sizes_mm),
        numbers=tuple(request.numbers),
        words=tuple(request.words),
        without=tuple(sorted(without)),
    )
