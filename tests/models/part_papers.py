"""What stands in a part's papers: minutes, letters, statements and permits.

Each kind is one function; `event` is the event of the approval that names the paper as its evidence.
"""

from __future__ import annotations

from datetime import date
from typing import Any

from generator.records.catalogue import Catalogue, PartFolder
from generator.records.fire import Fire
from generator.records.parts import Check, Part
from tests.models.letters import GREEN, RED, Letter, letter_pdf
from tests.models.older_letters import confirmation, older_approval


def paper_for(file: str, folder: PartFolder, event: Any, catalogue: Catalogue) -> bytes | None:
    """The paper of that file name, None for a kind that is not a letter."""
    kind = file.removeprefix("documents/").removesuffix(".pdf")
    part = folder.part
    if kind not in _KINDS or part is None:
        return None
    return letter_pdf(_KINDS[kind](part, event, folder, catalogue))


def _role(catalogue: Catalogue, role: str) -> str:
    roles = catalogue.depot.roles if catalogue.depot else ()
    return next((each.name for each in roles if each.id == role), role)


def _house(catalogue: Catalogue, role: str) -> str:
    return _role(catalogue, role) if role == "authority" else "Tarnvale Light Railway, Eastmere depot"


def _material(part: Part, catalogue: Catalogue) -> str:
    material = catalogue.materials.get(part.material)
    return material.name if material else part.material


def _basics(part: Part, event: Any, revision: str | None = None) -> list[tuple[str, str]]:
    return [
        ("Reference", event.reference or "-"),
        ("Date", event.on.isoformat()),
        ("Part", f"{part.number} {part.name}"),
        ("Revision", revision or getattr(event, "revision", None) or _approved_revision(part)),
    ]


def _approved_revision(part: Part) -> str:
    """TV-0136 is the one part whose papers speak of an earlier revision than the one it has now."""
    return "A" if part.number == "TV-0136" else part.revision


def _vehicles(event: Any) -> str:
    texts = []
    for scope in event.scope:
        which = f" {', '.join(scope.vehicles)}" if scope.vehicles else ", all vehicles"
        where = f" ({', '.join(place.replace('-', ' ') for place in scope.places)})" if scope.places else ""
        texts.append(f"{scope.fleet}{which}{where}")
    return "; ".join(texts)


def _measured(check: Check, seed: int) -> float:
    """A believable reading inside the tolerance, the same on every run."""
    share = ((seed * 37 + len(check.name) * 11) % 100) / 100
    reading = check.nominal_mm - check.minus_mm + (0.25 + share / 2) * (check.plus_mm + check.minus_mm)
    return round(reading, 2 if check.plus_mm + check.minus_mm < 0.15 else 1)


def _check_table(part: Part) -> tuple[tuple[str, ...], ...]:
    head = ("Dimension", "Drawing, mm", "Piece 1", "Piece 2", "Measured with")
    rows = [
        (
            check.name,
            f"{check.nominal_mm:g} +{check.plus_mm:g} -{check.minus_mm:g}",
            f"{_measured(check, 3):g}",
            f"{_measured(check, 8):g}",
            check.measured_with,
        )
        for check in part.checks
    ]
    return (head, *rows) if rows else ()


def _minutes(part: Part, event: Any, folder: PartFolder, catalogue: Catalogue) -> Letter:
    refused = event.what == "customer acceptance refused"
    fleets = ", ".join(dict.fromkeys(fit.fleet for fit in part.fits))
    opening = "Two pieces were measured, fitted and tried on a vehicle standing in hall 2. Readings:"
    told = [opening, f"What differs from the original: {part.what_changed or 'nothing.'}"]
    if refused:
        told += [f"Refused: {event.reason}", event.note or ""]
    else:
        told += [
            "The pieces fit without force, do what the old part did, and can be taken off again.",
            *([event.note] if event.note else []),
            "The customer accepts the design in this revision. Approval follows the review of the papers.",
        ]
    return Letter(
        house=_house(catalogue, event.by),
        title="Minutes of customer acceptance",
        rows=[*_basics(part, event), ("Fleet", fleets), ("Present", _present(part, catalogue))],
        paragraphs=tuple(text for text in told if text),
        signed=f"{_role(catalogue, event.by)}, {event.on.isoformat()}",
        stamp="REFUSED" if refused else "ACCEPTED",
        ink=RED if refused else GREEN,
        table=_check_table(part),
    )


def _present(part: Part, catalogue: Catalogue) -> str:
    fitter = (
        "fitter-running-gear" if {fit.place for fit in part.fits} & {"bogie", "sand-box"} else "fitter-body"
    )
    roles = ("keeper", "am-specialist", "quality", fitter)
    cab = ("operations",) if any(fit.place == "cab" for fit in part.fits) else ()
    return "; ".join(_role(catalogue, role) for role in (*roles, *cab))


def _based_on(folder: PartFolder, until: date) -> str:
    events = folder.approval.events if folder.approval else ()
    names = [event.reference for event in events if event.on < until and event.reference]
    return "; ".join(name for name in names if name.startswith(("minutes", "dossier", "letter", "decision")))


def _approval(part: Part, event: Any, folder: PartFolder, catalogue: Catalogue) -> Letter:
    conditions = [f"Condition: {text}" for text in event.conditions]
    waiting = f"until {event.valid_until.isoformat()}" if event.valid_until else "without an end"
    law = (
        "This decision speaks of the part named above only. A change of shape, material, maker or settings "
        "needs a new decision."
    )
    return Letter(
        house=_house(catalogue, event.by),
        title="Decision: part approved" if event.by == "authority" else "Approval of a printed part",
        rows=[
            *_basics(part, event),
            ("Vehicles", _vehicles(event)),
            ("Valid", waiting),
            ("Material", _material(part, catalogue)),
        ],
        paragraphs=(
            f"The part may be fitted to the vehicles named above {waiting}, as a replacement for the original.",
            *conditions,
            *([event.note] if event.note else []),
            f"Papers seen: {_based_on(folder, event.on)}.",
            law,
        ),
        signed=f"{_role(catalogue, event.by)}, {event.on.isoformat()}",
        stamp="APPROVED WITH CONDITION" if conditions else "APPROVED",
        ink=GREEN,
    )


def _trial(part: Part, event: Any, _: PartFolder, catalogue: Catalogue) -> Letter:
    return Letter(
        house=_house(catalogue, event.by),
        title="Permit for a trial in service",
        rows=[
            *_basics(part, event),
            ("Vehicles", _vehicles(event)),
            ("Until", event.valid_until.isoformat()),
        ],
        paragraphs=(
            f"The part may be tried in service on the vehicles named above until {event.valid_until.isoformat()}.",
            event.note or "",
            (
                "A piece that is cracked, loose or lost ends the trial on that vehicle: the original goes back on and "
                "the reviewer is told the same day."
            ),
            "The trial is no approval. What is fitted on the last day comes off, unless an approval has come.",
        ),
        signed=f"{_role(catalogue, event.by)}, {event.on.isoformat()}",
        stamp="TRIAL ONLY",
    )


def _withdrawal(part: Part, event: Any, _: PartFolder, catalogue: Catalogue) -> Letter:
    return Letter(
        house=_house(catalogue, event.by),
        title="Notice of withdrawal",
        rows=_basics(part, event),
        paragraphs=(
            f"The approval of this part is withdrawn from today. {event.reason}",
            event.note or "",
            (
                "Stores: take all pieces off the shelf and send them to the print counter, box 'withdrawn'. "
                "Foremen: sign the list when your sets are done."
            ),
        ),
        signed=f"{_role(catalogue, event.by)}, {event.on.isoformat()}",
        stamp="WITHDRAWN",
        ink=RED,
    )


def _condition(part: Part, event: Any, _: PartFolder, catalogue: Catalogue) -> Letter:
    return Letter(
        house=_house(catalogue, event.by),
        title="Condition added to an approval",
        rows=_basics(part, event),
        paragraphs=(f"From today this holds for every piece: {event.condition}", event.note or ""),
        signed=f"{_role(catalogue, event.by)}, {event.on.isoformat()}",
        stamp="CONDITION",
    )


def _question(part: Part, event: Any, _: PartFolder, catalogue: Catalogue) -> Letter:
    return Letter(
        house=_house(catalogue, event.by),
        title="Question on a submitted part",
        rows=[*_basics(part, event), ("To", _role(catalogue, "am-specialist"))],
        paragraphs=(
            event.question,
            "Please answer in writing. The time until your answer is not counted as ours.",
        ),
        signed=f"{_role(catalogue, event.by)}, {event.on.isoformat()}",
    )


def _answer(part: Part, event: Any, _: PartFolder, catalogue: Catalogue) -> Letter:
    return Letter(
        house=_house(catalogue, event.by),
        title="Answer to a question of the reviewer",
        rows=[*_basics(part, event), ("To", _role(catalogue, "technical-review"))],
        paragraphs=(event.note or "",),
        signed=f"{_role(catalogue, event.by)}, {event.on.isoformat()}",
    )


def _fire(part: Part, event: Any, _: PartFolder, catalogue: Catalogue) -> Letter:
    fire = part.fire
    return Letter(
        house=_house(catalogue, "fire-engineer"),
        title="Statement on fire safety",
        rows=[
            ("Reference", fire.exemption.reference if fire and fire.exemption else "-"),
            ("Date", event.on.isoformat()),
            ("Part", f"{part.number} {part.name}"),
            ("Material", f"{_material(part, catalogue)}, no report for this requirement set"),
            ("Standard", "EN 45545-2:2020+A1:2023, clause 4 (grouping and small masses)"),
        ],
        paragraphs=(
            f"Requirement set that would apply to a heavier group: {fire.requirement_set if fire else '-'}.",
            fire.reason if fire else "",
            (
                "Weighed, not calculated. Distances to other products measured on the vehicle: 20 mm and more sideways, "
                "200 mm and more upwards, or the neighbour is classified."
            ),
            (
                "No test is asked of this part at the places named in its record. A further plastic part close to it, "
                "or another material, makes this statement void."
            ),
        ),
        signed=f"{_role(catalogue, 'fire-engineer')}, {event.on.isoformat()}",
    )


def fire_note(part: Part, fire: Fire, catalogue: Catalogue) -> bytes:
    """In which the fire engineer says what the standard asks of the part."""
    places = "; ".join(f"{fit.fleet}, {fit.place.replace('-', ' ')}" for fit in part.fits)
    return letter_pdf(
        Letter(
            house=_house(catalogue, fire.chosen_by),
            title="What the fire standard asks",
            rows=[
                ("Reference", fire.reference or "-"),
                ("Date", fire.on.isoformat() if fire.on else "-"),
                ("Part", f"{part.number} {part.name}"),
                ("Places", places),
                ("Standard", f"EN 45545-2:{fire.edition or '2020+A1:2023'}"),
            ],
            paragraphs=(
                _asked(fire),
                fire.reason,
                "Whoever prints it of another material, or fits it elsewhere, asks me again.",
            ),
            signed=f"{_role(catalogue, fire.chosen_by)}, {fire.on.isoformat() if fire.on else '-'}",
        )
    )


def _asked(fire: Fire) -> str:
    return f"Requirement set: {', '.join(fire.sets)}." if fire.sets else f"Requirement set: none, {fire.asks_nothing}."


def _risk(part: Part, event: Any, folder: PartFolder, catalogue: Catalogue) -> Letter:
    screening = folder.approval.screening if folder.approval else None
    worst = screening.failure_consequence.answer if screening and screening.failure_consequence else "-"
    watch = screening.monitoring.answer if screening and screening.monitoring else "-"
    back = screening.reversibility.answer if screening and screening.reversibility else "-"
    return Letter(
        house=_house(catalogue, "safety-manager"),
        title="Hazard note",
        rows=_basics(part, event),
        paragraphs=(
            f"What it does: {part.purpose}",
            f"Credible worst case if it fails: {worst}",
            f"How it is watched in service: {watch}",
            f"How the old state is brought back: {back}",
            (
                "Barriers kept: instruction of the depot, independent check by a second fitter, critical dimensions "
                "measured on every piece, label with revision and batch."
            ),
        ),
        signed=f"{_role(catalogue, 'safety-manager')}, {event.on.isoformat()}",
    )


def _submission(part: Part, event: Any, folder: PartFolder, catalogue: Catalogue) -> Letter:
    return Letter(
        house=_house(catalogue, event.by),
        title="Request for a decision on a replacement part",
        rows=[*_basics(part, event), ("To", _role(catalogue, "authority"))],
        paragraphs=(
            "We ask for your decision on the part named above, which carries or touches a safety function.",
            f"What differs from the original: {part.what_changed or 'nothing.'}",
            f"Enclosed: drawing, hazard note, {_based_on(folder, event.on)}.",
            *([event.note] if event.note else []),
        ),
        signed=f"{_role(catalogue, event.by)}, {event.on.isoformat()}",
    )


def _bench(part: Part, event: Any, _: PartFolder, catalogue: Catalogue) -> Letter:
    table = (
        ("Strokes", "Load", "Medium", "Wear of the bore, mm"),
        ("50,000", "120 N", "dry", "0.01"),
        ("150,000", "120 N", "salt water 3 %", "0.02"),
        ("300,000", "180 N", "salt water and grit", "0.05"),
        ("400,000", "180 N", "salt water and grit", "0.06"),
    )
    return Letter(
        house=_house(catalogue, "quality"),
        title="Bench test report",
        rows=[("Reference", "bench report BR-26-014"), *_basics(part, event)[1:]],
        paragraphs=(
            "One bush in the linkage of a wiper taken off car 409, driven by its own motor. Readings:",
            (
                "Bronze bush of the old kind on the same bench, 400,000 strokes: 0.11 mm. No crack, no squeak after "
                "greasing at half time."
            ),
        ),
        signed=f"{_role(catalogue, 'quality')}, {event.on.isoformat()}",
        table=table,
    )


_KINDS = {
    "acceptance-minutes": _minutes,
    "approval-letter": _approval,
    "trial-permit": _trial,
    "withdrawal-notice": _withdrawal,
    "condition-letter": _condition,
    "review-question": _question,
    "review-answer": _answer,
    "fire-statement": _fire,
    "hazard-note": _risk,
    "submission": _submission,
    "bench-test": _bench,
    "older-approval": older_approval,
    "confirmation": confirmation,
}
