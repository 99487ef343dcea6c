"""What exactly was approved: the part, and each place that it was approved for, line by line.

The form is that of rules/canonical.py, version 2; the lines stand in the order written below. The test vectors stand
in tests/rules/test_fingerprint.py.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from generator.records.fleets import Fleet, Place
from generator.records.makers import Maker
from generator.records.materials import Material
from generator.records.parts import Check, FireExemption, Part
from generator.rules import fingerprint_1
from generator.rules.canonical import as_written, is_well_formed, joined, lines_of, text_in
from generator.rules.fire import hazard_level

_VERSION = "spares fingerprint"
VERSION = 2
_READ_TOO = 1
# What of a place a reviewer relies on; the other lines tell which fleet and place were meant.
_WEIGHTY = ("area", "hazard level", "operation category", "design category")


@dataclass(frozen=True, slots=True)
class Change:
    """One line that is no longer as it was approved; None is "had no such line"."""

    what: str
    approved: str | None
    now: str | None


def canonical_text(
    part: Part, material: Material, makers: Iterable[Maker], mesh_sha256: str, version: int = VERSION
) -> str:
    """The part as a text of the form of `version`, 1 or 2; an approval binds it with `place_text` behind it."""
    if version == _READ_TOO:
        return fingerprint_1.canonical_text(part, material, makers, mesh_sha256)
    used = sorted((maker for maker in makers if maker.id in part.makers), key=lambda maker: maker.id)
    lines: list[tuple[str, object]] = [
        (_VERSION, VERSION),
        ("number", part.number),
        ("revision", part.revision),
        ("mesh sha256", mesh_sha256),
        ("mesh units", part.mesh_units),
        ("safety role", part.safety_role),
        *_material_lines(part.material, material),
        *((f"maker {as_written(maker.id)}", maker.process) for maker in used),
        *((f"setting {_words(key)}", value) for key, value in part.settings.model_dump().items()),
        ("fire requirement set", part.fire.requirement_set if part.fire else None),
        ("thinnest wall mm", part.fire.thinnest_wall_mm if part.fire else None),
        *_exemption_lines(part.fire.exemption if part.fire else None),
    ]
    return joined(
        [*lines, *(line for check in sorted(part.checks, key=_by_name) for line in _check_lines(check))]
    )


def place_text(fleet: Fleet, place: Place) -> str:
    """What an approval for this place relies on: which fleet and place it is, and how the fire standard takes it."""
    return joined((_at(fleet.id, place.id, what), value) for what, value in _place_lines(fleet, place))


def _place_lines(fleet: Fleet, place: Place) -> Iterator[tuple[str, object]]:
    yield "fleet", fleet.name
    yield "in service since", fleet.in_service_since
    yield "operation category", fleet.operation_category
    yield "design category", fleet.design_category
    yield "hazard level", hazard_level(fleet)
    yield "name", place.name
    yield "area", place.area


def _at(fleet: str, place: str, what: str) -> str:
    return f"at {as_written(fleet)} {as_written(place)} {what}"


def _material_lines(name: str, material: Material) -> list[tuple[str, object]]:
    properties = material.properties.model_dump().items()
    return [
        ("material", name),
        ("material family", material.family),
        ("material density g/cm3", material.density_g_cm3),
        *((f"material {_words(key)}", value) for key, value in properties),
    ]


def _by_name(check: Check) -> str:
    return check.name


def _check_lines(check: Check) -> Iterator[tuple[str, object]]:
    for key in ("nominal_mm", "plus_mm", "minus_mm", "measured_with"):
        yield f"check {as_written(check.name)} {_words(key)}", getattr(check, key)


def _exemption_lines(exemption: FireExemption | None) -> list[tuple[str, object]]:
    if exemption is None:
        return []
    return [
        ("fire exemption reference", exemption.reference),
        ("fire exemption sha256", exemption.evidence.sha256),
    ]


def version_of(text: str) -> int | None:
    """The version of a canonical text; None where it is of none that is read here."""
    said = lines_of(text).get(_VERSION)
    return next((each for each in (_READ_TOO, VERSION) if said == str(each)), None)


def is_readable(text: str) -> bool:
    """Whether each line of the text says one thing, and no two say it of the same."""
    return version_of(text) != VERSION or is_well_formed(text)


def values_of(text: str) -> dict[str, str | None]:
    """What the lines of a canonical text of either version say, by their keys."""
    if version_of(text) == _READ_TOO:
        return dict(fingerprint_1.lines_of(text))
    return {key: text_in(value) for key, value in lines_of(text).items()}


def tells_material(text: str, name: str, material: Material) -> bool:
    """Whether the canonical text says of the material what the catalogue says now."""
    if version_of(text) == _READ_TOO:
        wanted = fingerprint_1.material_text(name, material)
    else:
        wanted = joined(_material_lines(name, material))
    return set(wanted.splitlines()) <= set(text.splitlines())


def tells_exemption(text: str, exemption: FireExemption) -> bool:
    """Whether the canonical text names this statement of a fire engineer."""
    if version_of(text) == _READ_TOO:
        return fingerprint_1.lines_of(text).get("fire exemption") == fingerprint_1.exemption_text(exemption)
    wanted = joined(_exemption_lines(exemption)).splitlines()
    return set(wanted) <= set(text.split("\n"))


def part_section(text: str) -> str:
    """The lines of a canonical text that tell the part, without those that tell its places."""
    return "".join(f"{line}\n" for line in text.split("\n")[:-1] if not line.startswith('at "'))


def changes(approved: str, now: str) -> tuple[Change, ...]:
    """The lines of the part that differ between two canonical texts of one version, in the order of the newer one."""
    own = part_section(approved)
    if own == now:
        return ()
    read = fingerprint_1.lines_of if version_of(now) == _READ_TOO else lines_of
    return _differing(read(own), read(now)) or (Change("order of the lines", None, None),)


def place_changes(approved: str, fleet: Fleet, place: Place) -> tuple[Change, ...] | None:
    """What is other about a place than an approval relied on; None where its text says nothing of the place."""
    start = _at(fleet.id, place.id, "")
    lines = lines_of(approved) if version_of(approved) == VERSION else {}
    before = {key: value for key, value in lines.items() if key.startswith(start)}
    return _differing(before, lines_of(place_text(fleet, place))) if before else None


def weight_of(change: Change) -> str | None:
    """What has changed of a place that a reviewer relies on, such as its hazard level; None for a name or the like."""
    return next((what for what in _WEIGHTY if change.what.endswith(f'" {what}')), None)


def name_of(change: Change) -> str:
    """Which line of a place it is, such as "name"."""
    return change.what.rpartition('" ')[2]


def voids(change: Change) -> bool:
    """Whether what was approved is no longer what is there; another name of a place is asked about, no more."""
    return not change.what.startswith('at "') or weight_of(change) is not None


def _differing(before: dict[str, str], after: dict[str, str]) -> tuple[Change, ...]:
    keys = [*after, *(key for key in before if key not in after)]
    return tuple(
        Change(key, before.get(key), after.get(key)) for key in keys if before.get(key) != after.get(key)
    )


def _words(key: str) -> str:
    return key.replace("_", " ")
