"""Version 1 of the canonical text: what approvals of the first form bind, kept so that they stay readable.

UTF-8 in Unicode form NFC, lines of "key: value" ended by a line feed; white space in a value is single spaces; a
number is a plain decimal without exponent or trailing zeros; what is not given is "none"; lists are sorted and joined
by ", ". Values are not quoted, so that two records may read alike; and nothing is said of the places. What binds it
is therefore asked about first, see rules/verdicts.py. The test vectors stand in tests/rules/test_fingerprint_1.py.
"""

import unicodedata
from collections.abc import Iterable
from decimal import Decimal

from generator.records.fire import FireExemption
from generator.records.makers import Maker
from generator.records.materials import Material
from generator.records.parts import Part
from generator.rules.fingerprint_2 import LATER_SETTINGS


def canonical_text(part: Part, material: Material, makers: Iterable[Maker], mesh_sha256: str | None) -> str:
    """The part as version 1 told it."""
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
        *((f"setting {_words(key)}", value) for key, value in (part.settings.model_dump(exclude=set(LATER_SETTINGS)) if part.settings else {}).items()),
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


def lines_of(text: str) -> dict[str, str]:
    """The lines by their keys; the last counts where a key comes twice."""
    cut = (line.partition(": ") for line in text.splitlines() if line)
    return {key: value for key, _, value in cut}
