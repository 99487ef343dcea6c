"""What exactly was approved: the part, and each place that it was approved for, line by line.

The form is that of rules/canonical.py, version 3: what version 2 told, and every paper that the verdict leans on, grade
and supplier of the material, the machines, documents, photos and fitting notes. The lines stand in the order written
below. The test vectors stand in tests/rules/test_fingerprint.py.
"""

import hashlib
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from generator.records.fitting import FittingNotes
from generator.records.fleets import Fleet, Place
from generator.records.makers import Maker
from generator.records.materials import Material
from generator.records.parts import Fire, FireExemption, Part
from generator.rules import fingerprint_1, fingerprint_2
from generator.rules.bound_papers import fields_of, paper_lines
from generator.rules.canonical import as_written, is_well_formed, joined, lines_of, text_in
from generator.rules.changes import Change, differing

_VERSION = "spares fingerprint"
VERSION = 3
_READ_TOO = (1, 2)
# Notes longer than this are bound by their SHA-256 alone, so that a record stays readable.
LONGEST_NOTES = 4_000
# Lines of a part that versions before this one have not.
_NEW = re.compile(
    r'part replaces|material (name|grade|supplier)|maker ".*" (kind|name|machine model|order at)|(certificate|fire test|evidence|document|photo) .*'
    r"|fire exemption (by|on|valid until|open ended|file)|fitting .*"
)


class Sent(NamedTuple):
    """Evidence of an event of the way."""

    on: str
    what: str
    file: str
    sha256: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
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
    mesh_sha256: str,
    beside: Beside = Beside(),
    *,
    version: int = VERSION,
) -> str:
    """The part as a text of the form of `version`; an approval binds it with `place_text` behind it."""
    every = tuple(makers)
    if version == 1:
        return fingerprint_1.canonical_text(part, material, every, mesh_sha256)
    if version == 2:
        return fingerprint_2.canonical_text(part, material, every, mesh_sha256)
    return joined(
        [
            (_VERSION, VERSION),
            *fingerprint_2.part_lines(part, material, every, mesh_sha256),
            ("part replaces", tuple(f"{each.kind} {each.number}" for each in part.replaces)),
            *_provenance_lines(material),
            *(line for maker in sorted(every, key=_id) if maker.id in part.makers for line in _machine_lines(maker)),
            *_exemption_lines(part.fire.exemption if part.fire else None),
            *paper_lines(material),
            *_beside_lines(beside),
        ]
    )


def _id(maker: Maker) -> str:
    return maker.id


def _provenance_lines(material: Material) -> list[tuple[str, object]]:
    return [("material name", material.name), ("material grade", material.grade), ("material supplier", material.supplier)]


def _machine_lines(maker: Maker) -> Iterator[tuple[str, object]]:
    for key in ("kind", "name", "machine_model", "order_at"):
        yield f"maker {as_written(maker.id)} {fingerprint_2.words(key)}", getattr(maker, key)


def _exemption_lines(exemption: FireExemption | None) -> Iterator[tuple[str, object]]:
    told = dict(fingerprint_2.exemption_lines(exemption))
    for field, value in fields_of(exemption) if exemption else ():
        if f"fire exemption {field}" not in told:
            yield f"fire exemption {field}", value


def _beside_lines(beside: Beside) -> Iterator[tuple[str, object]]:
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


def place_text(fleet: Fleet, place: Place, fire: Fire | None, version: int = VERSION) -> str:
    """What an approval for this place relies on: which fleet and place it is, and what the fire standard asks there."""
    asked = [("requirement set", fire.requirement_set if fire else None)] if version == VERSION else []
    lines = [*fingerprint_2.place_lines(fleet, place), *asked]
    return joined((_at(fleet.id, place.id, what), value) for what, value in lines)


def _at(fleet: str, place: str, what: str) -> str:
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
    own = () if version == 2 else (*_provenance_lines(material), *paper_lines(material))
    return joined([*fingerprint_2.material_lines(name, material), *own])


def part_section(text: str) -> str:
    """The lines of a canonical text that tell the part, without those that tell its places."""
    return "".join(f"{line}\n" for line in text.split("\n")[:-1] if not line.startswith('at "'))


def places_of(text: str) -> dict[str, str]:
    """The lines that tell the places, without what only the newest form tells of them."""
    lines = lines_of(text).items()
    return {key: value for key, value in lines if key.startswith('at "') and not key.endswith('" requirement set')}


def place_section(text: str, fleet: str, place: str) -> str:
    """The lines of a canonical text that tell one place of a fleet; empty where it says nothing of it."""
    start = _at(fleet, place, "")
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


def place_changes(approved: str, fleet: Fleet, place: Place, fire: Fire | None) -> tuple[Change, ...] | None:
    """What is other about a place than an approval relied on; None where its text says nothing of the place."""
    version = version_of(approved)
    start = _at(fleet.id, place.id, "")
    lines = lines_of(approved) if version in (2, VERSION) else {}
    before = {key: value for key, value in lines.items() if key.startswith(start)}
    return differing(before, lines_of(place_text(fleet, place, fire, version or VERSION))) if before else None
