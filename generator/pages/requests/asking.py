"""The page where a mechanic asks for a new design, and what its scripts need to know of the depot."""

from typing import Any

from generator.pages.around import Around
from generator.pages.marks import front_matter, rendered
from generator.pages.outputs import Asset, Page
from generator.pages.part.verdict_data import script
from generator.rules.answering import answer

DATA = "assets/data/request.js"


def request_page(around: Around) -> Page:
    """request.html: readers without scripts learn whom to ask and what to say."""
    w, depot = around.w, around.catalogue.depot
    title = w("request.title")
    contact = depot.contact if depot else ""
    text = rendered("requests/request.md.j2", w=w, title=front_matter(title), contact=contact, has_fleets=bool(around.catalogue.fleets))
    return Page(path="request.md", title=title, template="request.html", text=text)


def request_data(around: Around) -> Asset:
    """assets/data/request.js: roles, fleets with their places, requests that may get another voice, and the words."""
    catalogue, w = around.catalogue, around.w
    depot = catalogue.depot
    content: dict[str, Any] = {
        "roles": [{"id": role.id, "name": role.name} for role in (depot.roles if depot else ())],
        "fleets": [
            {
                "id": fleet.id,
                "name": fleet.name,
                "vehicles": list(fleet.vehicles),
                "places": [{"id": place.id, "name": place.name} for place in fleet.places],
            }
            for fleet in catalogue.fleets.values()
        ],
        "requests": {
            name: request.name for name, request in sorted(catalogue.requests.items()) if not answer(request, catalogue)
        },
        "contact": depot.contact if depot else "",
        "words": w.tree["request"],
    }
    return Asset(path=DATA, content=script("sparesRequest", content))
