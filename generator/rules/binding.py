"""What an approval binds, and what of it has changed since."""

from collections.abc import Iterable
from dataclasses import dataclass

from generator.records.approvals import Scope
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.parts import Part
from generator.rules.canonical import from_record
from generator.rules.fingerprint import (
    VERSION,
    Change,
    canonical_text,
    changes,
    place_changes,
    place_text,
    version_of,
)
from generator.rules.permits import Permit


@dataclass(frozen=True, slots=True)
class Bound:
    """What is approved against what is there now; `text` is None while it cannot be said."""

    text: str | None
    changes: tuple[Change, ...] = ()


def part_text(
    part: Part, catalogue: Catalogue, folder: PartFolder, version: int | None = VERSION
) -> str | None:
    """The canonical text of the part as it lies in its folder; None where something it binds is missing."""
    material = catalogue.materials.get(part.material)
    makers = [catalogue.makers[name] for name in part.makers if name in catalogue.makers]
    if version is None or material is None or folder.mesh is None or len(makers) != len(part.makers):
        return None
    return canonical_text(part, material, makers, folder.mesh.sha256, version)


def approved_text(part_text: str, sites: Iterable[tuple[str, str]], catalogue: Catalogue) -> str:
    """What an approval binds: the part, and every site, a fleet and a place, that the approval speaks of."""
    told = (_place_text(fleet, place, catalogue) for fleet, place in sorted(set(sites)))
    return part_text + "".join(told)


def sites_of(scope: Iterable[Scope]) -> tuple[tuple[str, str], ...]:
    """Fleet and place of everything that a scope names."""
    return tuple((each.fleet, place) for each in scope for place in each.places)


def _place_text(fleet_id: str, place_id: str, catalogue: Catalogue) -> str:
    fleet, place = catalogue.fleets.get(fleet_id), catalogue.place(fleet_id, place_id)
    return place_text(fleet, place) if fleet and place else ""


def bound_by(permits: Iterable[Permit], catalogue: Catalogue, folder: PartFolder) -> dict[int, Bound]:
    """What has changed of the part since each permit was given, by the permit's place in the record.

    It is told line by line, in the form of the permit's own text. A part that cannot be read has none.
    """
    part = folder.part
    if part is None:
        return {}
    approved = {permit.index: from_record(permit.event.approved_as) for permit in permits}
    versions = set(map(version_of, approved.values()))
    now = {version: part_text(part, catalogue, folder, version) for version in versions}
    return {index: _bound(text, now[version_of(text)]) for index, text in approved.items()}


def _bound(approved: str, now: str | None) -> Bound:
    return Bound(now, changes(approved, now) if now is not None else ())


def place_changes_of(
    permit: Permit, fleet_id: str, place_id: str, catalogue: Catalogue
) -> tuple[Change, ...] | None:
    """What is other about a place than the permit relied on; None where that cannot be told."""
    fleet, place = catalogue.fleets.get(fleet_id), catalogue.place(fleet_id, place_id)
    if fleet is None or place is None:
        return None
    return place_changes(from_record(permit.event.approved_as), fleet, place)


def changes_since(permit: Permit, bound: Bound, catalogue: Catalogue) -> tuple[Change, ...]:
    """Everything that is other than the permit binds: of the part, and of every place that it speaks of."""
    sites = sorted(set(sites_of(permit.event.scope)))
    there = (place_changes_of(permit, fleet, place, catalogue) or () for fleet, place in sites)
    return (
        *bound.changes,
        *(change for each in there for change in each),
    )
