"""The lines of a canonical text that bind what our notes of the fire standard ask at a place, and how much burns there.

A depot may write its own notes (catalogue/standards/). An approval was given under the limits of its day: whatever would
judge a result otherwise than on that day has a line here. Sources, names and clauses have none.
"""

from collections.abc import Iterator

from generator.records.approvals import Approved, TakenOver, TrialOpened
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.fire import AsksNothing, Fire
from generator.records.fleets import Fleet
from generator.records.parts import Part
from generator.records.standards import Asked, Certainty, FireStandard, Method, Sense
from generator.rules.canonical import as_written
from generator.rules.fire.needs import fire_need


def figure_lines(fleet: Fleet, fire: Fire | None, standard: FireStandard | None) -> Iterator[tuple[str, object]]:
    """A line for each set that is chosen, with the edition, and for each of its tests, with its limit at the fleet's level."""
    need = fire_need(fire, fleet, standard)
    if need is None or standard is None or need.is_older_rule or need.fire.asks_nothing:
        return
    for number in need.fire.sets:
        held = standard.set_of(number) if need.edition in standard.limits_of else None
        name = f"figures {as_written(number)}"
        yield name, need.edition if held and held.limits else "none held"
        for limit in held.limits if held else ():
            method, most = standard.method(limit.test), limit.at(need.level)
            if method and most is not None:
                yield f"{name} {as_written(limit.test)}", _told(method, most, limit.certainty_at(need.level))


def amount_lines(part: Part, fleet: str, place: str, catalogue: Catalogue) -> Iterator[tuple[str, object]]:
    """How many pieces sit there, and, where the fire engineer's word rests on how little burns, what else sits beside them.

    Beside them counts what has been approved or tried there: what is only being designed burns nowhere.
    """
    pieces = [fit.per_vehicle for fit in part.fits if (fit.fleet, fit.place) == (fleet, place)]
    if not pieces:
        return
    yield "pieces", pieces[0] if len(pieces) == 1 else ", ".join(map(str, pieces))
    fire = part.fire_at(fleet, place)
    if fire is None or not (fire.exemption or fire.asks_nothing is AsksNothing.NO_REQUIREMENT):
        return
    for other, there in catalogue.fitting(fleet, place):
        folder = catalogue.folder(other.number)
        if other.number != part.number and folder and _has_been_fitted(folder):
            yield f"beside {as_written(other.number)}", there.per_vehicle


def _has_been_fitted(folder: PartFolder) -> bool:
    return folder.approval is not None and any(isinstance(each, Approved | TrialOpened | TakenOver) for each in folder.approval.events)


def _told(method: Method, most: Asked, certainty: Certainty) -> str:
    """Such as: at most 300, EN ISO 5659-2, covers thinner, 1 to 1320."""
    sense = "at least" if method.limit_is is Sense.LEAST else "at most"
    return ", ".join(
        [
            " ".join([sense, _plain(most), *([method.unit] if method.unit not in ("-", "class") else [])]),
            " or ".join((method.method, *method.also)),
            method.thickness.value,
            *([" to ".join(map(_plain, method.plausible))] if method.plausible else [" > ".join(method.classes)]),
            *([f"{' to '.join(map(_plain, method.specimen_mass_g))} g"] if method.specimen_mass_g else []),
            *([f"whatever the {' or '.join(method.no_matter)}"] if method.no_matter else []),
            *(["unsure"] if certainty is Certainty.UNSURE else []),
        ]
    )


def _plain(value: Asked) -> str:
    return f"{value:g}" if isinstance(value, int | float) else value
