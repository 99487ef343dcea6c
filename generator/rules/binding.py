"""What an approval binds, and what of it has changed since."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from generator.records.approvals import (
    Approved,
    ChangeAccepted,
    ConditionAdded,
    ConditionLifted,
    Event,
    RecordCorrected,
    Renewed,
    Scope,
    Superseded,
    TakenOver,
    TakeOverConfirmed,
    TrialClosed,
    TrialOpened,
    Withdrawn,
)
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.parts import Part
from generator.rules.bound_figures import amount_lines
from generator.rules.canonical import as_written, text_in
from generator.rules.changes import Change
from generator.rules.consequences import part_changes, weighed
from generator.rules.fingerprint import (
    VERSION,
    WITH_PAPERS,
    BoundBeside,
    Sent,
    canonical_text,
    place_changes,
    place_text,
    version_of,
)
from generator.rules.permits import Permit

# What is said of permits, not done on the way to one; its letters are bound by no text.
_OF_PERMITS = (
    Approved | TrialOpened | TrialClosed | TakenOver | TakeOverConfirmed | Renewed | ConditionAdded | ConditionLifted
    | ChangeAccepted | Withdrawn | Superseded | RecordCorrected
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Bound:
    """What is approved against what is there now; `text` is None while it cannot be said."""

    text: str | None
    changes: tuple[Change, ...] = ()


def part_text(
    part: Part,
    catalogue: Catalogue,
    folder: PartFolder,
    version: int | None = VERSION,
    *,
    events: int | None = None,
) -> str | None:
    """The canonical text of the part as it lies in its folder; None where something it binds is missing.

    events: how many events of the record had happened; by default all that stand there.
    """
    material = catalogue.materials.get(part.material)
    makers = [catalogue.makers[name] for name in part.makers if name in catalogue.makers]
    is_there = folder.mesh or part.no_model
    if version is None or material is None or not is_there or len(makers) != len(part.makers):
        return None
    further = {name: catalogue.materials[name] for name in part.materials[1:] if name in catalogue.materials}
    if len(further) != len(part.materials) - 1:
        return None
    beside = beside_of(folder, events) if version in WITH_PAPERS else BoundBeside()
    return canonical_text(part, material, makers, folder.mesh.sha256 if folder.mesh else None, beside, further=further, version=version)


def beside_of(folder: PartFolder, events: int | None = None) -> BoundBeside:
    """What is bound of the part's folder besides part.yml and the model, after that many of its events."""
    happened = folder.approval.events[:events] if folder.approval else ()
    return BoundBeside(
        documents=tuple((_name(file.path), file.sha256) for file in folder.documents),
        photos=tuple((_name(file.path), file.sha256) for file in folder.photos),
        fitting=folder.fitting,
        evidence=tuple(
            Sent(event.on.isoformat(), event.what, each.file, each.sha256)
            for event in happened
            if not isinstance(event, _OF_PERMITS)
            for each in event.evidence
        ),
    )


def without_letter(folder: PartFolder, files: Iterable[str]) -> PartFolder:
    """The folder as whoever approves saw it: without the letter itself, whether it lies there already or not."""
    events = folder.approval.events if folder.approval else ()
    earlier = {evidence.file for event in events for evidence in event.evidence}
    own = {f"{folder.folder}/{file}" for file in files if file not in earlier}
    return replace(folder, documents=tuple(file for file in folder.documents if file.path not in own))


def _name(path: str) -> str:
    return path.rpartition("/")[2]


def submitted_text(folder: PartFolder, catalogue: Catalogue, letters: Iterable[str] = ()) -> str | None:
    """What a submission binds: the part as it lies in its folder, at every place that it fits; None where that cannot be said.

    letters: files in the folder that lie there for a later step, and are submitted by none.
    """
    part, folder = folder.part, without_letter(folder, letters)
    text = part_text(part, catalogue, folder) if part else None
    if part is None or text is None:
        return None
    return approved_text(text, [(fit.fleet, fit.place) for fit in part.fits], catalogue, part)


def approved_text(part_text: str, sites: Iterable[tuple[str, str]], catalogue: Catalogue, part: Part) -> str:
    """What an approval binds: the part, and every site, a fleet and a place, that the approval speaks of."""
    told = (_place_text(fleet, place, catalogue, part) for fleet, place in sorted(set(sites)))
    return part_text + "".join(told)


def sites_of(scope: Iterable[Scope]) -> tuple[tuple[str, str], ...]:
    """Fleet and place of everything that a scope names."""
    return tuple((each.fleet, place) for each in scope for place in each.places)


def _place_text(fleet_id: str, place_id: str, catalogue: Catalogue, part: Part) -> str:
    fleet, place = catalogue.fleets.get(fleet_id), catalogue.place(fleet_id, place_id)
    if fleet is None or place is None:
        return ""
    own = part.has_own_fire(fleet_id, place_id)
    return place_text(fleet, place, part.fire_at(fleet_id, place_id), own=own, standard=catalogue.standard, amount=amount_lines(part, fleet_id, place_id, catalogue))


def bound_by(permits: Iterable[Permit], catalogue: Catalogue, folder: PartFolder) -> dict[int, Bound]:
    """What has changed of the part since each permit was given, by the permit's place in the record.

    It is told line by line, in the form of the permit's own text. A part that cannot be read has none.
    """
    part = folder.part
    if part is None:
        return {}
    now: dict[tuple[int | None, int], str | None] = {}
    found = {}
    for permit in permits:
        if permit.awaits:
            found[permit.index] = _awaiting(permit, part, catalogue, folder)
            continue
        form = (version_of(permit.text), permit.bound_at if version_of(permit.text) in WITH_PAPERS else 0)
        if form not in now:
            now[form] = part_text(part, catalogue, folder, form[0], events=form[1])
        found[permit.index] = _bound(permit, now[form], folder)
    return found


def _awaiting(permit: Permit, part: Part, catalogue: Catalogue, folder: PartFolder) -> Bound:
    """A letter that binds nothing yet says one thing of the part, its revision: of another it never speaks."""
    named = as_written(permit.event.revision), as_written(part.revision)
    found = weighed((Change("revision", *named),), {}, {}) if permit.event.revision != part.revision else ()
    return Bound(part_text(part, catalogue, folder), found)


def _bound(permit: Permit, now: str | None, folder: PartFolder) -> Bound:
    if now is None:
        return Bound(None)
    later = folder.approval.events[permit.bound_at :] if folder.approval else ()
    return Bound(now, tuple(each for each in part_changes(permit.text, now) if not _is_later_letter(each, later)))


def _is_later_letter(change: Change, later: Iterable[Event]) -> bool:
    """Whether a document has been added as the letter of the permit itself, or of what happened since."""
    if change.approved is not None or not change.what.startswith("document "):
        return False
    letters = {_name(each.file) for event in later for each in event.evidence}
    return text_in(change.what.removeprefix("document ")) in letters


def place_changes_of(
    permit: Permit, fleet_id: str, place_id: str, catalogue: Catalogue, part: Part
) -> tuple[Change, ...] | None:
    """What is other about a place than the permit relied on; None where that cannot be told."""
    fleet, place = catalogue.fleets.get(fleet_id), catalogue.place(fleet_id, place_id)
    if fleet is None or place is None:
        return None
    found = place_changes(
        permit.text, fleet, place, part.fire_at(fleet_id, place_id), own=part.has_own_fire(fleet_id, place_id),
        standard=catalogue.standard, amount=amount_lines(part, fleet_id, place_id, catalogue),
    )  # fmt: skip
    return None if found is None else weighed(found, {}, {})


def changes_since(permit: Permit, bound: Bound, catalogue: Catalogue, part: Part) -> tuple[Change, ...]:
    """Everything that is other than the permit binds: of the part, and of every place that it speaks of."""
    sites = sorted(set(sites_of(permit.event.scope)))
    there = (place_changes_of(permit, fleet, place, catalogue, part) or () for fleet, place in sites)
    return (
        *bound.changes,
        *(change for each in there for change in each),
    )
