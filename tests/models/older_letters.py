"""What stands in letters of before the catalogue, and in what confirms that they speak of what lies here."""

from __future__ import annotations

from typing import Any

from generator.records.approvals import TakenOver
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.parts import Part
from tests.models.letters import GREEN, Letter


def older_approval(part: Part, event: Any, _: PartFolder, catalogue: Catalogue) -> Letter:
    """The letter as it was written then: its own day, its own office."""
    waiting = f"until {event.valid_until.isoformat()}" if event.valid_until else "without an end"
    places = "; ".join(f"{scope.fleet} {', '.join(scope.vehicles)} ({', '.join(scope.places)})" for scope in event.scope)
    return Letter(
        house="Tarnvale Light Railway, Eastmere depot",
        title="Approval of a printed part",
        rows=[
            ("Reference", event.reference),
            ("Date", event.letter_of.isoformat()),
            ("Part", f"{part.name}, drawing revision {event.revision}"),
            ("Vehicles", places),
            ("Valid", waiting),
            ("Material", catalogue.materials[part.material].name),
        ],
        paragraphs=(
            f"The part may be fitted to the vehicles named above {waiting}.",
            *(f"Condition: {text}" for text in event.conditions),
            "Seen: one piece of the part, its drawing, and a trial fitting in hall 2.",
        ),
        signed=f"{event.approved_by}, {event.letter_of.isoformat()}",
        stamp="APPROVED",
        ink=GREEN,
    )


def confirmation(part: Part, event: Any, folder: PartFolder, catalogue: Catalogue) -> Letter:
    """Minutes of who acts for the approver, with the letter in one hand and the part in the other."""
    taken = next(each for each in (folder.approval.events if folder.approval else ()) if isinstance(each, TakenOver))
    roles = catalogue.depot.roles if catalogue.depot else ()
    return Letter(
        house="Tarnvale Light Railway, Eastmere depot",
        title="Minutes: an older approval is confirmed",
        rows=[
            ("Reference", event.reference),
            ("Date", event.on.isoformat()),
            ("Part", f"{part.number} {part.name}, revision {event.revision}"),
            ("Letter", f"{taken.reference} of {taken.letter_of.isoformat()}"),
        ],
        paragraphs=(
            "The model, drawing, material and settings in the catalogue were held against the letter and against two pieces from the shelf.",
            *([event.note] if event.note else []),
            "What lies in the catalogue is what the letter speaks of. The letter stands as it is, with its own last day.",
        ),
        signed=f"{next((each.name for each in roles if each.id == event.by), event.by)}, {event.on.isoformat()}",
        stamp="CONFIRMED",
        ink=GREEN,
    )
