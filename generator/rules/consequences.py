"""What does a change of each bound line mean for what was approved?

One table, read from the top; the first row that fits counts, and a line that no row knows is void. Common practice, no
source, where no other is named: what an approving engineer would say of the change. An approval of version 1 binds too
little to be read so: there every line is void.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from generator.records.materials import Material
from generator.rules import directions
from generator.rules.canonical import lines_of
from generator.rules.changes import Change, Means, differing
from generator.rules.directions import Direction
from generator.rules.fingerprint import (
    VERSION,
    changes,
    material_text,
    part_section,
    places_of,
    values_of,
    version_of,
)

Happened = Literal["any", "changed", "added", "taken out"]
NAME = r'"(?:[^"\\]|\\.)*"(?: \d+)?'


@dataclass(frozen=True, slots=True)
class Rule:
    """One row: which line, what happened to it, in which direction, and what follows."""

    line: str
    """As the text writes it; … stands for a name, a|b for one or the other."""
    happened: Happened
    means: Means
    reason: str
    """Key of the reason in pages/words/en.yml, `consequences`."""
    direction: Direction | None = None
    """A further test of the values; None is any."""


ORDERED = "setting surface texture|setting repair|setting acceptable imperfections"
_VOID, _ASK, _FREE = Means.VOID, Means.ASK, Means.FREE
TABLE: tuple[Rule, ...] = (
    # What is printed, and from what.
    Rule("number|revision|mesh sha256|mesh units", "any", _VOID, "another part"),
    Rule("no model size mm", "changed", _ASK, "source first noted", directions.is_first_noted),
    Rule("no model|no model size mm", "any", _VOID, "another part"),
    Rule("no model buy at", "changed", _FREE, "mended", directions.is_mended),
    Rule("no model buy at", "any", _ASK, "ordered otherwise"),
    Rule("safety role", "any", _VOID, "safety role"),
    Rule("part replaces", "any", _ASK, "called otherwise"),
    Rule("material family", "changed", _FREE, "mended", directions.is_mended),
    Rule("material|material family|material density g/cm3", "any", _VOID, "another material"),
    Rule("material solid density g/cm3|material colouring|material lot family", "changed", _ASK, "source first noted", directions.is_first_noted),
    Rule("material solid density g/cm3|material colouring|material lot family|material combustible", "any", _VOID, "another material"),
    Rule("material name", "changed", _FREE, "mended", directions.is_mended),
    Rule("material name", "any", _ASK, "ordered otherwise"),
    Rule("material supplier", "changed", _FREE, "mended", directions.is_mended),
    Rule("material grade", "changed", _ASK, "name mended", directions.is_mended),
    Rule("material grade|material supplier", "changed", _ASK, "source first noted", directions.is_first_noted),
    Rule("material grade|material supplier", "any", _VOID, "another source"),
    Rule(
        "material tensile strength mpa|material tensile strength z mpa|material tensile modulus mpa"
        "|material heat deflection c|material limiting oxygen index percent",
        "changed", _FREE, "first noted", directions.is_first_noted,
    ),
    Rule(
        "material tensile strength mpa|material tensile strength z mpa|material tensile modulus mpa"
        "|material heat deflection c|material limiting oxygen index percent",
        "any", _VOID, "another property",
    ),
    # How, and on which machine.
    Rule("setting orientation|setting support|setting after print", "changed", _ASK, "name mended", directions.is_mended),
    Rule(
        "setting orientation|setting layer mm|setting wall mm|setting infill percent|setting support|setting after print",
        "any", _VOID, "another print",
    ),
    Rule("setting up", "added", _ASK, "pose first said"),
    Rule("setting up", "any", _VOID, "another print"),
    Rule(ORDERED, "added", _ASK, "first stated"),
    Rule(ORDERED, "taken out", _ASK, "no more stated"),
    Rule(ORDERED, "changed", _ASK, "name mended", directions.is_mended),
    Rule(ORDERED, "any", _VOID, "stated otherwise"),
    Rule("maker …", "added", _ASK, "like machine", directions.is_like_machine),
    Rule("maker …", "taken out", _FREE, "maker gone"),
    Rule("maker … order at", "any", _ASK, "ordered otherwise"),
    Rule("maker … name", "changed", _FREE, "mended", directions.is_mended),
    Rule("maker … name", "changed", _ASK, "machine renamed", directions.is_same_machine),
    Rule("maker … machine model", "changed", _ASK, "name mended", directions.is_mended),
    Rule("maker … machine model", "changed", _ASK, "machine first noted", directions.is_first_noted),
    Rule("maker …|maker … kind|maker … name|maker … machine model", "any", _VOID, "another machine"),
    # What the fire standard asks, and what says that it is met.
    Rule("fire requirement set|thinnest wall mm|thickest section mm", "any", _VOID, "another fire demand"),
    Rule("fire exemption reference", "changed", _FREE, "mended", directions.is_mended),
    Rule("fire exemption reference|fire exemption sha256", "any", _VOID, "another statement"),
    Rule("fire exemption by|fire exemption on|fire exemption valid until|fire exemption open ended|fire exemption file",
         "any", _ASK, "statement noted otherwise"),
    Rule("certificate …|fire test … mm … …|fire report …", "added", _FREE, "paper added"),
    Rule("certificate …|fire test … mm … …|fire report …", "taken out", _ASK, "paper gone"),
    Rule(
        "certificate … type|certificate … issued on|certificate … speaks of|certificate … issued by|certificate … valid until|certificate … open ended|certificate … file"
        "|certificate … sha256|fire test … mm … … standard|fire test … mm … … hazard level|fire test … mm … … laboratory"
        "|fire test … mm … … tested on|fire test … mm … … valid until|fire test … mm … … open ended"
        "|fire test … mm … … file|fire test … mm … … sha256|fire report … standard|fire report … hazard level"
        "|fire report … laboratory|fire report … tested on|fire report … valid until|fire report … open ended|fire report … file"
        "|fire report … sha256|fire report … accreditation|fire report … accepted by|fire report … process|fire report … colour"
        "|fire report … lot family|fire report … requirement set|fire report … thickness mm|fire report … results",
        "any", _ASK, "paper changed",
    ),
    Rule("proof … …", "added", _FREE, "paper added"),
    Rule("proof … …", "taken out", _ASK, "paper gone"),
    Rule("proof … … value|proof … … unit|proof … … passed|proof … … conditions|proof … … tested on|proof … … file|proof … … sha256",
         "any", _ASK, "paper changed"),
    # How it is checked.
    Rule("check …|check … nominal mm|check … plus mm|check … minus mm|check … measured with|check … sample", "added", _ASK, "check added"),
    Rule("check … sample", "any", _ASK, "measured on others"),
    Rule("check … nominal mm|check … plus mm|check … minus mm", "changed", _ASK, "tolerance tightened", directions.is_within_band),
    Rule("check … nominal mm|check … plus mm|check … minus mm", "any", _VOID, "tolerance"),
    Rule("check … measured with", "changed", _FREE, "mended", directions.is_mended),
    Rule("check … measured with", "changed", _ASK, "measured otherwise"),
    Rule("check …|check … measured with", "any", _VOID, "tolerance"),
    # What the fitter reads and sees.
    Rule(
        "fitting tools|fitting steps|fitting cautions|fitting check after fitting|fitting more|fitting tools sha256"
        "|fitting steps sha256|fitting cautions sha256|fitting check after fitting sha256|fitting more sha256",
        "any", _ASK, "fitting notes",
    ),
    Rule("document …", "added", _FREE, "document added"),
    Rule("document …", "any", _ASK, "document"),
    Rule("photo …", "any", _ASK, "photo"),
    # What was done on the way.
    Rule("evidence … … …", "added", _FREE, "document added"),
    Rule("evidence … … …", "any", _VOID, "evidence"),
    # Where it is fitted.
    Rule("at … … name|at … … fleet", "changed", _FREE, "mended", directions.is_mended),
    Rule("at … … name|at … … fleet|at … … in service since", "changed", _ASK, "place noted otherwise"),
    Rule("at … … area|at … … hazard level|at … … operation category|at … … design category|at … … requirement set"
         "|at … … fire rule|at … … further sets|at … … asks nothing|at … … edition|at … … product|at … … electrotechnical"
         "|at … … exposed area m2|at … … thinnest wall mm|at … … thickest section mm|at … … neighbour …",
         "any", _VOID, "another fire demand"),
    Rule("at … … figures …|at … … figures … …", "any", _ASK, "other figures"),
    Rule("at … … pieces|at … … beside …", "any", _ASK, "another amount"),
    Rule("at … … environment hottest c|at … … environment coldest c|at … … environment sun|at … … environment oil"
         "|at … … environment water|at … … environment vandal class|at … … environment shock vibration"
         "|at … … environment creepage mm|at … … environment antistatic|at … … environment cleaning agent …",
         "any", _ASK, "place asks otherwise"),
    Rule("at … … choice reference|at … … fire exemption reference", "changed", _FREE, "mended", directions.is_mended),
    Rule("at … … choice reference|at … … choice sha256|at … … fire exemption reference|at … … fire exemption sha256",
         "changed", _VOID, "another statement"),
    Rule("at … … choice by|at … … choice reference|at … … choice on|at … … choice file|at … … choice sha256"
         "|at … … fire exemption by|at … … fire exemption reference|at … … fire exemption on|at … … fire exemption valid until"
         "|at … … fire exemption open ended|at … … fire exemption file|at … … fire exemption sha256",
         "any", _ASK, "statement noted otherwise"),
)  # fmt: skip
_OF_MATERIAL = re.compile(r"material\b|certificate |fire test |fire report |proof ")
_WITH = re.compile(rf"with {NAME} ")
_AT = re.compile(rf"at {NAME} {NAME} ")
_NAMED = re.compile(rf" {NAME}")
_STRICT = Rule("", "any", _VOID, "older form")


def _pattern(line: str) -> re.Pattern[str]:
    """`maker … name|check …` as a regular expression; a name stands in quotes, or is a number or a day."""
    kinds = (re.escape(kind).replace("…", rf"(?:{NAME}|none|[\d.-]+)") for kind in line.split("|"))
    return re.compile("|".join(kinds))


_ROWS = tuple((_pattern(rule.line), rule) for rule in TABLE)


def part_changes(before_text: str, after_text: str) -> tuple[Change, ...]:
    """What differs of the part between two canonical texts, each with what it means; whole groups told as one."""
    found = changes(before_text, after_text)
    if 1 in (version_of(before_text), version_of(after_text)):
        return tuple(replace(change, reason=_STRICT.reason) for change in found)
    return weighed(found, lines_of(part_section(before_text)), lines_of(part_section(after_text)))


def part_voids(before_text: str, after_text: str) -> tuple[Change, ...]:
    """What of the part is another than in the text before, so that it walks anew; of two forms, in shared lines."""
    return tuple(filter(voids, part_changes(before_text, after_text)))


def text_voids(before_text: str, after_text: str) -> tuple[Change, ...]:
    """What of the part, or of its places, is another than in the text before."""
    alike = version_of(before_text) == version_of(after_text)
    before, after = places_of(before_text, every=alike), places_of(after_text, every=alike)
    there = weighed(differing(before, after), before, after)
    return (*part_voids(before_text, after_text), *filter(voids, there))


def contradicts(before_text: str, after_text: str) -> bool:
    """Whether two texts of one revision cannot both be of it; of two forms, only lines that both have can tell."""
    if 1 not in (version_of(before_text), version_of(after_text)) or version_of(before_text) == version_of(after_text):
        return bool(part_voids(before_text, after_text))
    before, after = values_of(part_section(before_text)), values_of(part_section(after_text))
    shared = (before.keys() & after.keys()) - {"spares fingerprint"}
    return any(_plain(before[key]) != _plain(after[key]) for key in shared)


def _plain(value: str | None) -> str:
    return "none" if value is None else " ".join(value.split())


def material_changes(text: str, name: str, material: Material) -> tuple[Change, ...]:
    """What the catalogue says otherwise now of the material, and of its papers, than a text of any form."""
    version = version_of(text) or VERSION
    now = material_text(name, material, version)
    if version == 1:
        missing = [line for line in now.splitlines() if line not in text.splitlines()]
        return tuple(Change(line.partition(": ")[0], None, line, reason=_STRICT.reason) for line in missing)
    before = {key: value for key, value in lines_of(text).items() if _OF_MATERIAL.match(key)}
    after = lines_of(now)
    return weighed(differing(before, after), before, after)


def voids(change: Change) -> bool:
    """Whether what was approved is no longer what is there."""
    return change.means is Means.VOID


def asks(change: Change) -> bool:
    """Whether somebody has to be asked about it before the part is fitted."""
    return change.means is Means.ASK


def line_of(change: Change) -> str:
    """Which line it is, as `terms.changed` names it; of a place, without any names, such as "hazard level"."""
    if change.what.startswith("with "):
        return _WITH.sub("", change.what, count=1)
    return _NAMED.sub("", _AT.sub("", change.what)) if change.what.startswith('at "') else change.what


def weighed(found: Iterable[Change], before: Mapping[str, str], after: Mapping[str, str]) -> tuple[Change, ...]:
    """The changes with what the table says of each, given the whole of both texts' lines."""
    return tuple(_weighed(change, before, after) for change in directions.grouped(found, before, after))


def _weighed(change: Change, before: Mapping[str, str], after: Mapping[str, str]) -> Change:
    line = _WITH.sub("", change.what, count=1)  # what else is in the part is judged as its material is
    for pattern, rule in _ROWS:
        if (
            rule.happened in ("any", _happened(change))
            and pattern.fullmatch(line)
            and (rule.direction is None or rule.direction(change, before, after))
        ):
            return replace(change, means=rule.means, reason=rule.reason)
    return change


def _happened(change: Change) -> Happened:
    if change.approved is None:
        return "added"
    return "taken out" if change.now is None else "changed"
