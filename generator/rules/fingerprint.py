"""What exactly was approved: the part, and each place that it was approved for, line by line.

The form is that of rules/canonical.py, version 4: what version 2 told, and every paper that the verdict leans on with each
of its results, grade and supplier of the material and what else is in the part, the machines, documents, photos and
fitting notes, and at each place what the fire engineer chose and the limits that the results were held against. Version 3
told no results and no choice. The lines stand in the order written below. The test vectors stand in tests/rules/test_fingerprint.py.
"""

import hashlib
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from generator.records.fire import Fire, FireExemption
from generator.records.fitting import FittingNotes
from generator.records.fleets import FireRule, Fleet, Place
from generator.records.makers import Maker
from generator.records.materials import Material
from generator.records.parts import NoModel, Part
from generator.records.standards import FireStandard
from generator.rules import fingerprint_1, fingerprint_2
from generator.rules.bound_figures import figure_lines
from generator.rules.bound_papers import fields_of, paper_lines
from generator.rules.bound_properties import environment_lines, proof_lines
from generator.rules.canonical import as_written, is_well_formed, joined, lines_of, text_in
from generator.rules.changes import Change, differing

_VERSION = "spares fingerprint"
_PLACE_ALWAYS = frozenset({"fleet", "in service since", "operation category", "design category", "hazard level", "name", "area"})
VERSION = 4
_READ_TOO = (1, 2, 3)
WITH_PAPERS = (3, 4)
"""Versions whose text names the papers that it leans on."""
# Notes longer than this are bound by their SHA-256 alone, so that a record stays readable.
LONGEST_NOTES = 4_000
# Lines of a part that versions before this one have not.
_NEW = re.compile(
    r'part replaces|thickest section mm|material (name|grade|supplier|solid density g/cm3|colouring|lot family|combustible)|with ".*|maker ".*" (kind|name|machine model|order at)'
    r"|(certificate|fire test|fire report|proof|evidence|document|photo) .*"
    r"|fire exemption (by|on|valid until|open ended|file)|fitting .*"
)


class Sent(NamedTuple):
    """Evidence of an event of the way."""

    on: str
    what: str
    file: str
    sha256: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BoundBeside:
    """What lies in the part's folder beside part.yml and the model, and is bound with them."""

    documents: tuple[tuple[str, str], ...] = ()
    """Name and SHA-256."""
    photos: tuple[tuple[str, str], ...] = ()
    fitting: FittingNotes | None = None
    evidence: tuple[Sent, ...] = ()


def canonical_text(
    part: Part,
    material: Material,
    makers: Iterable[Maker],
    mesh_sha256: str | None,
    beside: BoundBeside = BoundBeside(),
    *,
    further: Mapping[str, Material] | None = None,
    version: int = VERSION,
) -> str:
    """The part as a text of the form of `version`; an approval binds it with `place_text` behind it.

    mesh_sha256: None of a part without a model. further: what else is in the part, by the material's id.
    """
    every = tuple(makers)
    if version == 1:
        return fingerprint_1.canonical_text(part, material, every, mesh_sha256)
    if version == 2:
        return fingerprint_2.canonical_text(part, material, every, mesh_sha256)
    return joined(
        [
            (_VERSION, version),
            *fingerprint_2.part_lines(part, material, every, mesh_sha256),
            *([("thickest section mm", part.fire.thickest_section_mm if part.fire else None)] if version == VERSION else []),
            *_no_model_lines(part.no_model),
            ("part replaces", tuple(f"{each.kind} {each.number}" for each in part.replaces)),
            *_provenance_lines(material, version),
            *(line for maker in sorted(every, key=_id) if maker.id in part.makers for line in _machine_lines(maker)),
            *_exemption_lines(part.fire.exemption if part.fire else None),
            *paper_lines(material, version),
            *(proof_lines(material) if version == VERSION else ()),
            *(_further_lines(further or {}) if version == VERSION else ()),
            *_beside_lines(beside),
        ]
    )


def _no_model_lines(without: NoModel | None) -> Iterator[tuple[str, object]]:
    """Why there is no model, and what is known in its place; a part that has one has no such line."""
    if without:
        yield "no model", without.because
        yield "no model size mm", " x ".join(map(as_written, without.size_mm)) if without.size_mm else None
        yield "no model buy at", without.buy_at


def _id(maker: Maker) -> str:
    return maker.id


def _provenance_lines(material: Material, version: int) -> Iterator[tuple[str, object]]:
    yield from (("material name", material.name), ("material grade", material.grade), ("material supplier", material.supplier))
    if version == VERSION:
        yield "material solid density g/cm3", material.solid_density_g_cm3
        yield "material colouring", material.colouring
        yield "material lot family", material.lot_family
        yield "material combustible", "yes" if material.combustible else "no"


def _further_lines(further: Mapping[str, Material]) -> Iterator[tuple[str, object]]:
    for name, material in sorted(further.items()):
        own = (*fingerprint_2.material_lines(name, material), *_provenance_lines(material, VERSION), *paper_lines(material, VERSION), *proof_lines(material))
        yield from ((f"{with_material(name)}{key}", value) for key, value in own)


def further_in(values: Mapping[str, str | None]) -> tuple[str, ...]:
    """The further materials that the lines of a text name."""
    told = (value for key, value in values.items() if key.startswith('with "') and key.endswith('" material'))
    return tuple(value for value in told if value)


def with_material(name: str) -> str:
    """How the lines of a further material begin."""
    return f"with {as_written(name)} "


def _machine_lines(maker: Maker) -> Iterator[tuple[str, object]]:
    for key in ("kind", "name", "machine_model", "order_at"):
        yield f"maker {as_written(maker.id)} {fingerprint_2.words(key)}", getattr(maker, key)


def _exemption_lines(exemption: FireExemption | None) -> Iterator[tuple[str, object]]:
    told = dict(fingerprint_2.exemption_lines(exemption))
    for field, value in fields_of(exemption, VERSION) if exemption else ():
        if f"fire exemption {field}" not in told:
            yield f"fire exemption {field}", value


def _beside_lines(beside: BoundBeside) -> Iterator[tuple[str, object]]:
    yield from _fitting_lines(beside.fitting)
    yield from ((f"document {as_written(name)}", sha256) for name, sha256 in sorted(beside.documents))
    yield from ((f"photo {as_written(name)}", sha256) for name, sha256 in sorted(beside.photos))
    # A file stands once for each event; what a broken record says twice differs in its SHA-256, and the last counts.
    said = {(each.on, each.what, each.file): each.sha256 for each in beside.evidence}
    for (on, what, file), sha256 in sorted(said.items()):
        yield f"evidence {on} {as_written(what)} {as_written(file)}", sha256


def _fitting_lines(fitting: FittingNotes | None) -> Iterator[tuple[str, object]]:
    for key in ("tools", "steps", "cautions", "check_after_fitting", "more"):
        text: str | None = getattr(fitting, key) if fitting else None
        name = f"fitting {fingerprint_2.words(key)}"
        if text and len(text) > LONGEST_NOTES:
            yield f"{name} sha256", hashlib.sha256(text.encode("utf-8")).hexdigest()
        else:
            yield name, text or None


def place_text(
    fleet: Fleet, place: Place, fire: Fire | None, version: int = VERSION, *, own: bool = False, standard: FireStandard | None = None,
    amount: Iterable[tuple[str, object]] = (),
) -> str:
    """What an approval for this place relies on: which fleet and place it is, and what the fire standard asks there.

    own: whether that was chosen for this place alone, so that no line of the part tells it. standard: the notes of the fire
    standard that are held now. amount: how much burns there (bound_figures.py).
    """
    asked = [("requirement set", fire.requirement_set if fire else None)] if version in WITH_PAPERS else []
    chosen = (
        (
            *_choice_lines(fleet, fire),
            *figure_lines(fleet, fire, standard),
            *amount,
            *(_own_lines(fire) if fire and own else ()),
            *environment_lines(place.environment),
        )
        if version == VERSION
        else ()
    )
    lines = [*fingerprint_2.place_lines(fleet, place), *asked, *chosen]
    return joined((at_place(fleet.id, place.id, what), value) for what, value in lines)


def _choice_lines(fleet: Fleet, fire: Fire | None) -> Iterator[tuple[str, object]]:
    """What the fire engineer chose at the place; what was left out has no line."""
    if fleet.fire_rule is not FireRule.EN_45545:
        yield "fire rule", fleet.fire_rule
    if fire is None:
        return
    told: dict[str, object] = {
        "further sets": ", ".join(fire.further_sets) or None,
        "asks nothing": fire.asks_nothing,
        "edition": fire.edition,
        "product": fire.product,
        "electrotechnical": "yes" if fire.electrotechnical else None,
        "exposed area m2": fire.exposed_area_m2,
        "choice by": fire.chosen_by,
        "choice reference": fire.reference,
        "choice on": fire.on,
        "choice file": fire.evidence.file if fire.evidence else None,
        "choice sha256": fire.evidence.sha256 if fire.evidence else None,
    }
    yield from ((key, value) for key, value in told.items() if value is not None)
    for each in fire.neighbours:
        yield f"neighbour {as_written(each.what)}", f"{each.combustible_mass_g:g} g, {each.exposed_area_m2:g} m2"


def _own_lines(fire: Fire) -> Iterator[tuple[str, object]]:
    """What the lines of the part tell where the choice is made for the whole of it."""
    yield "thinnest wall mm", fire.thinnest_wall_mm
    yield "thickest section mm", fire.thickest_section_mm
    for field, value in fields_of(fire.exemption, VERSION) if fire.exemption else ():
        yield f"fire exemption {field}", value


def at_place(fleet: str, place: str, what: str) -> str:
    return f"at {as_written(fleet)} {as_written(place)} {what}"


def version_of(text: str) -> int | None:
    """The version of a canonical text; None where it is of none that is read here."""
    said = lines_of(text).get(_VERSION)
    return next((each for each in (*_READ_TOO, VERSION) if said == str(each)), None)


def is_readable(text: str) -> bool:
    """Whether each line of the text says one thing, and no two say it of the same."""
    return version_of(text) in (None, 1) or is_well_formed(text)


def values_of(text: str) -> dict[str, str | None]:
    """What the lines of a canonical text of any version say, by their keys."""
    if version_of(text) == 1:
        return dict(fingerprint_1.lines_of(text))
    return {key: text_in(value) for key, value in lines_of(text).items()}


def tells_exemption(text: str, exemption: FireExemption) -> bool:
    """Whether the canonical text names this statement of a fire engineer."""
    if version_of(text) == 1:
        return fingerprint_1.lines_of(text).get("fire exemption") == fingerprint_1.exemption_text(exemption)
    wanted = joined(fingerprint_2.exemption_lines(exemption)).splitlines()
    return set(wanted) <= set(text.split("\n"))


def material_text(name: str, material: Material, version: int = VERSION) -> str:
    """The lines of the canonical text that tell the material, and its papers where the version names them."""
    if version == 1:
        return fingerprint_1.material_text(name, material)
    own = () if version == 2 else (*_provenance_lines(material, version), *paper_lines(material, version), *(proof_lines(material) if version == VERSION else ()))
    return joined([*fingerprint_2.material_lines(name, material), *own])


@lru_cache(256)
def part_section(text: str) -> str:
    """The lines of a canonical text that tell the part, without those that tell its places."""
    return "".join(f"{line}\n" for line in text.split("\n")[:-1] if not line.startswith('at "'))


def places_of(text: str, *, every: bool = False) -> dict[str, str]:
    """The lines that tell the places; but for `every`, without what only newer forms tell of them."""
    lines = lines_of(text).items()
    if every:
        return {key: value for key, value in lines if key.startswith('at "')}
    return {key: value for key, value in lines if key.startswith('at "') and key.rpartition('" ')[2] in _PLACE_ALWAYS}


def place_section(text: str, fleet: str, place: str) -> str:
    """The lines of a canonical text that tell one place of a fleet; empty where it says nothing of it."""
    start = at_place(fleet, place, "")
    return "".join(f"{line}\n" for line in text.split("\n") if line.startswith(start))


def changes(approved: str, now: str) -> tuple[Change, ...]:
    """The lines of the part that differ between two canonical texts, in the order of the newer one.

    Of two versions only the lines are compared that the older knows; between version 1 and another it knows too few
    to tell (see rules/consequences.py), so that each differs.
    """
    own, new = part_section(approved), part_section(now)
    if own == new:
        return ()
    older, newer = version_of(own), version_of(new)
    if older == newer:
        read = fingerprint_1.lines_of if newer == 1 else lines_of
        return differing(read(own), read(new)) or (Change("order of the lines", None, None),)
    return differing(_told_by_all(lines_of(own)), _told_by_all(lines_of(new)))


def _told_by_all(lines: Mapping[str, str]) -> dict[str, str]:
    return {key: value for key, value in lines.items() if key != _VERSION and not _NEW.fullmatch(key)}


def place_changes(
    approved: str, fleet: Fleet, place: Place, fire: Fire | None, *, own: bool = False, standard: FireStandard | None = None,
    amount: Iterable[tuple[str, object]] = (),
) -> tuple[Change, ...] | None:
    """What is other about a place than an approval relied on; None where its text says nothing of the place."""
    version = version_of(approved)
    start = at_place(fleet.id, place.id, "")
    lines = lines_of(approved) if version in (2, *WITH_PAPERS) else {}
    before = {key: value for key, value in lines.items() if key.startswith(start)}
    now = place_text(fleet, place, fire, version or VERSION, own=own, standard=standard, amount=amount)
    return differing(before, lines_of(now)) if before else None
