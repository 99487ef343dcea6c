"""fitted.html, and what its scripts need to know of the depot: they make a file of the form of records/fitted_file.py."""

from collections import Counter
from typing import Any

from generator.pages.around import Around
from generator.pages.marks import front_matter, rendered
from generator.pages.outputs import Asset, Page
from generator.pages.part.verdict_data import script
from generator.pages.role_choice import role_choices
from generator.records.fitted import Why
from generator.records.fitted_file import MOST_ROWS, NEWEST_FITTED_FILE
from generator.records.production import Production
from generator.rules.production.crowded import one_each
from generator.rules.production.moves import compared
from generator.rules.production.positions import Positions, positions
from generator.rules.production.tracing import of_all

DATA = "assets/data/fitted.js"


def fitted_form_page(around: Around) -> Page:
    """Readers without scripts learn whom to tell."""
    w, depot = around.w, around.catalogue.depot
    title = w("fitting_form.title")
    text = rendered("fitting_form/fitted.md.j2", w=w, title=front_matter(title), contact=depot.contact if depot else "")
    return Page(path="fitted.md", title=title, template="fitted.html", text=text)


def fitted_form_data(around: Around) -> Asset:
    """assets/data/fitted.js: the depot, its roles, fleets and places, where each part fits, its batches, and the words."""
    catalogue, w = around.catalogue, around.w
    known, sits = positions(catalogue.production), _sits(catalogue.production)
    depot = catalogue.depot
    content: dict[str, Any] = {
        "form": NEWEST_FITTED_FILE,
        "most_rows": MOST_ROWS,
        "railway": depot.railway if depot else "",
        "depot": depot.depot if depot else "",
        "contact": depot.contact if depot else "",
        "roles": role_choices(depot, Counter(row.by for row in catalogue.production.fitted)),
        "fleets": [
            {"id": fleet.id, "vehicles": list(fleet.vehicles), "places": {place.id: place.name for place in fleet.places}}
            for fleet in catalogue.fleets.values()
        ],
        "parts": {
            sheet.number: {
                "name": sheet.part.name,
                "revision": sheet.part.revision,
                "fits": [[fit.fleet, fit.place, list(fit.vehicles), fit.per_vehicle] for fit in sheet.part.fits],
                "batches": [[name, each.revision] for name, each in catalogue.production.of_part(sheet.number).items()],
                "positions": {
                    " ".join(site): _told(each, sits.get((sheet.number, *site)), around)
                    for site, each in known.get(sheet.number, {}).items()
                },
            }
            for sheet in around.sheets.values()
            if sheet.part
        },
        "whys": [why.value for why in Why],
        "words": {**w.tree["fitting_form"], **w.tree["request"]["roles"], "why": {each.value: w.term("off_why", each.value) for each in Why}},
        "done": w.tree["request"]["done"],
    }
    return Asset(path=DATA, content=script("sparesFitted", content))


def _told(found: Positions, sits: dict[str, list[tuple[str, str]]] | None, around: Around) -> dict[str, Any]:
    """sits: None where a position may carry several, so that nothing is asked."""
    names = sorted(found.names, key=around.w.sort_key)
    told: dict[str, Any] = {"names": names, "one_each": found.one_each}
    if sits is not None:
        at = {compared(name): nth for nth, name in enumerate(names)}
        told["sits"] = {vehicle: [[at.get(compared(position), -1), batch] for position, batch in there] for vehicle, there in sits.items()}
    return told


def _sits(production: Production) -> dict[tuple[str, str, str], dict[str, list[tuple[str, str]]]]:
    """By part, fleet and place where each position carries one: of each vehicle the position and batch of every piece."""
    found: dict[tuple[str, str, str], dict[str, list[tuple[str, str]]]] = {key: {} for key in one_each(production)}
    for each in of_all(production).carried:
        there = found.get((each.part or "", each.spot.fleet, each.spot.place))
        if there is not None:
            there.setdefault(each.spot.vehicle, []).extend([(each.spot.position, each.batch)] * each.count)
    return found
