"""What stands in the title block and the list of checks: taken from a part's record, its approval and its depot."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from generator.geometry.drawing.kinds import Point
from generator.geometry.printing.pose import AXES
from generator.pages.around import Around
from generator.pages.part.story import role_name
from generator.pages.wording import Wording
from generator.planning.printing import printing_of
from generator.records.approvals import Approved, DesignStarted, TakeOverConfirmed
from generator.records.depot import GeneralTolerance, Projection
from generator.records.parts import Check
from generator.rules.changes import Means
from generator.rules.history import Stage
from generator.rules.sheet import Sheet


class Says(StrEnum):
    """Who says how a part stands on the plate."""

    APPROVED = "approved"
    """Its settings, as they were approved."""
    RECORD = "record"
    """Its settings, that nobody has approved so far."""
    RECKONED = "reckoned"
    """Nobody: it is the best pose by calculation."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Build:
    """Which way of the model points up on the plate."""

    up: Point
    says: Says


@dataclass(frozen=True, slots=True, kw_only=True)
class TitleWords:
    """Words that are placed as they are; an empty one is not known."""

    owner: str
    number: str
    name: str
    revision: str
    material: str
    mass: str
    tolerance: str
    day: str
    """Of the approval of what is drawn, else of the last step that the record tells; never that of the build."""
    is_approved: bool
    fingerprint: str
    author: str
    """The role that began the design."""
    model: str
    orientation: str
    projection: Projection
    checks: tuple[Check, ...]
    build: Build | None = None


def title_words(sheet: Sheet, around: Around) -> TitleWords | None:
    """None for a part whose record cannot be read."""
    part, depot, w = sheet.part, around.depot, around.w
    if part is None:
        return None
    material = around.catalogue.materials.get(part.material)
    day, fingerprint = _approved(sheet, around)
    events = sheet.folder.approval.events if sheet.folder.approval else ()
    author = next((each.by for each in events if isinstance(each, DesignStarted)), "")
    rule = depot.drawing.general_tolerance
    stated = f"ISO 2768-1 {(rule or GeneralTolerance.MEDIUM).value}"
    return TitleWords(
        owner=f"{depot.railway}, {depot.depot}",
        number=part.number,
        name=part.name,
        revision=part.revision,
        material=material.name if material else part.material,
        mass=f"{w.measure(sheet.mass_g)} g" if sheet.mass_g is not None else "",
        tolerance=stated if rule else w("drawing.default", value=stated),
        day=day or (w.day(events[-1].on) if events else ""),
        is_approved=bool(day),
        author=role_name(author, around.catalogue),
        fingerprint=fingerprint,
        model=_short(sheet.folder.mesh.sha256) if sheet.folder.mesh else "",
        orientation=part.settings.orientation if part.settings else "",
        projection=depot.drawing.projection,
        checks=part.checks,
        build=_build(sheet, around, is_approved=bool(day)),
    )


def tool_words(check: Check, w: Wording) -> str:
    """With what a check is measured: what the record says, and the caliper of a record that says nothing in the site's language."""
    usual = Check.model_fields["measured_with"].default
    return w("drawing.checks.usual_tool") if check.measured_with == usual else check.measured_with


def _build(sheet: Sheet, around: Around, *, is_approved: bool) -> Build | None:
    """None where the settings say it in words alone, and where nothing tells it: a calculation never speaks against them."""
    settings = sheet.part.settings if sheet.part else None
    if settings:
        says = Says.APPROVED if is_approved else Says.RECORD
        return Build(up=AXES[settings.up.value], says=says) if settings.up else None
    printed = printing_of(sheet, around.catalogue, around.print_models)
    return Build(up=printed.best.up, says=Says.RECKONED) if printed else None


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
