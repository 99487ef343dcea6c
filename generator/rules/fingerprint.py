"""What exactly was approved: a text that a person can read, and its SHA-256.

Canonical form, version 1: UTF-8 in Unicode form NFC, lines of "key: value" ended by a line feed, in the order
written below; white space in a value is single spaces; a number is a plain decimal without exponent or trailing
zeros; what is not given is "none"; lists are sorted and joined by ", ". The test vectors stand in
tests/rules/test_fingerprint.py.
"""

import hashlib
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from generator.records.makers import Maker
from generator.records.materials import Material
from generator.records.parts import FireExemption, Part


@dataclass(frozen=True, slots=True)
class Change:
    """One line that is no longer as it was approved; None is "had no such line"."""

    what: str
    approved: str | None
    now: str | None


def canonical_text(part: Part, material: Material, makers: Iterable[Maker], mesh_sha256: str) -> str:
    """The text that an approval of this part binds, see the module's docstring for its form."""
    lines = [
        ("spares fingerprint", "1"),
        ("number", part.number),
        ("revision", part.revision),
        ("mesh sha256", mesh_sha256),
        ("mesh units", part.mesh_units),
        ("safety role", part.safety_role),
        *_material_lines(part.material, material),
        ("makers", sorted(part.makers)),
        ("processes", sorted({maker.process for maker in makers if maker.id in part.makers})),
        *((f"setting {_words(key)}", value) for key, value in part.settings.model_dump().items()),
        ("fire requirement set", part.fire.requirement_set if part.fire else None),
        ("thinnest wall mm", part.fire.thinnest_wall_mm if part.fire else None),
        *_exemption_lines(part.fire.exemption if part.fire else None),
    ]
    for check in sorted(part.checks, key=lambda each: each.name):
        size = f"{_plain(check.nominal_mm)} +{_plain(check.plus_mm)} -{_plain(check.minus_mm)} mm"
        lines.append((f"check {_plain(check.name)}", f"{size}, {check.measured_with}"))
    return _joined(lines)


def material_text(name: str, material: Material) -> str:
    """The lines of the canonical text that tell the material."""
    return _joined(_material_lines(name, material))


def _material_lines(name: str, material: Material) -> list[tuple[str, object]]:
    properties = material.properties.model_dump().items()
    return [
        ("material", name),
        ("material family", material.family),
        ("material density g/cm3", material.density_g_cm3),
        *((f"material {_words(key)}", value) for key, value in properties),
    ]


def _exemption_lines(exemption: FireExemption | None) -> list[tuple[str, object]]:
    return [("fire exemption", exemption_text(exemption))] if exemption else []


def exemption_text(exemption: FireExemption) -> str:
    """How the canonical text names a fire engineer's statement."""
    return f"{_plain(exemption.reference)}, sha256 {exemption.evidence.sha256}"


def _joined(lines: Iterable[tuple[str, object]]) -> str:
    return "".join(f"{key}: {_plain(value)}\n" for key, value in lines)


def fingerprint(text: str) -> str:
    """SHA-256, as 64 hexadecimal digits, of a canonical text."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def from_record(approved_as: str) -> str:
    """The canonical text from an approval record, where YAML has taken the last line feed off."""
    return unicodedata.normalize("NFC", approved_as.strip()) + "\n"


def changes(approved: str, now: str) -> tuple[Change, ...]:
    """The lines that differ between two canonical texts, in the order of the newer one; none where they are equal."""
    if approved == now:
        return ()
    before, after = lines_of(approved), lines_of(now)
    keys = [*after, *(key for key in before if key not in after)]
    found = tuple(
        Change(key, before.get(key), after.get(key)) for key in keys if before.get(key) != after.get(key)
    )
    return found or (Change("order of the lines", None, None),)


def lines_of(text: str) -> dict[str, str]:
    """The lines of a canonical text by their keys; the last counts where a key comes twice."""
    cut = (line.partition(": ") for line in text.splitlines() if line)
    return {key: value for key, _, value in cut}


def _words(key: str) -> str:
    return key.replace("_", " ")


def _plain(value: object) -> str:
    match value:
        case None:
            return "none"
        case bool():
            return "true" if value else "false"
        case int() | float():
            text = format(Decimal(repr(value)), "f")
            return (text.rstrip("0").rstrip(".") if "." in text else text) or "0"
        case list():
            return ", ".join(_plain(each) for each in value) or "none"
        case _:
            return " ".join(unicodedata.normalize("NFC", str(value)).split())
