"""What stands in the title block and the list of checks: taken from a part's record, its approval and its depot."""

from __future__ import annotations

from dataclasses import dataclass

from generator.pages.around import Around
from generator.records.approvals import Approved, TakeOverConfirmed
from generator.records.depot import GeneralTolerance, Projection
from generator.records.parts import Check
from generator.rules.changes import Means
from generator.rules.history import Stage
from generator.rules.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """Words that are placed as they are; an empty one is not known."""

    owner: str
    number: str
    name: str
    revision: str
    material: str
    mass: str
    tolerance: str
    day: str
    """The day of the approval of what is drawn; of anything else there is none."""
    fingerprint: str
    model: str
    orientation: str
    projection: Projection
    checks: tuple[Check, ...]


def told(sheet: Sheet, around: Around) -> Told | None:
    """None for a part whose record cannot be read."""
    part, depot, w = sheet.part, around.depot, around.w
    if part is None:
        return None
    material = around.catalogue.materials.get(part.material)
    day, fingerprint = _approved(sheet, around)
    rule = depot.drawing.general_tolerance
    stated = f"ISO 2768-1 {(rule or GeneralTolerance.MEDIUM).value}"
    return Told(
        owner=f"{depot.railway}, {depot.depot}",
        number=part.number,
        name=part.name,
        revision=part.revision,
        material=material.name if material else part.material,
        mass=f"{w.measure(sheet.mass_g)} g" if sheet.mass_g is not None else "",
        tolerance=stated if rule else w("drawing.default", value=stated),
        day=day,
        fingerprint=fingerprint,
        model=_short(sheet.folder.mesh.sha256) if sheet.folder.mesh else "",
        orientation=part.settings.orientation if part.settings else "",
        projection=depot.drawing.projection,
        checks=part.checks,
    )


def _approved(sheet: Sheet, around: Around) -> tuple[str, str]:
    """Day and fingerprint of the approval, where what is drawn is what was approved; else neither."""
    permit = sheet.history.approval
    is_other = any(change.means is not Means.FREE for change in sheet.changes)
    if permit is None or is_other or sheet.stage not in (Stage.APPROVED, Stage.TAKEN_OVER):
        return "", ""
    event = permit.confirmed or permit.event
    if not isinstance(event, Approved | TakeOverConfirmed) or sheet.part is None or event.revision != sheet.part.revision:
        return "", ""
    return around.w.day(event.on), _short(event.fingerprint)


def _short(sha256: str) -> str:
    """As much of a sum as two people can compare by eye."""
    return f"{sha256[:4]} {sha256[4:8]}"
