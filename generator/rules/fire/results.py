"""One result of a report against the part: does it prove anything, of what does it speak, does it meet a limit?

What a specimen speaks of by each method (thickness, differences that do not matter) is data: standards/*.yml.
"""

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from generator.records.base import as_compared
from generator.records.fire import FireResult, FireTest, HazardLevel, Layers
from generator.records.makers import Process
from generator.records.placeholders import names_nothing
from generator.records.standards import Certainty, Difference, Method, Sense, ThicknessRule
from generator.rules.fire.sections import SOLID

# Differences that a failing result is judged by too: what was tested was not what is printed. All else, such as who accepts
# the report, says nothing kinder of what burned.
_OF_THE_SPECIMEN: tuple[Difference, ...] = ("process", "colour", "lot family", "infill")
# An accreditation that is denied, or has been: common practice, no source.
_NO_NUMBER = re.compile(
    r"^\s*(?:n/?a|nil|no|none)\s*$|\bno\s+[a-z]{3}|"
    r"\b(?:not|lapsed?|expired?|withdrawn|suspended|revoked|cancelled|pending|unaccredited|without|applied for|in progress)\b",
    re.IGNORECASE,
)
MOULDED = "moulded"
EVERY_LAYER = frozenset({Layers.ALONG, Layers.ACROSS})
_STANDARD = re.compile(r"EN 45545-2(?::(\d{4}(?:\+A\d:\d{4})?))?")


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """How the part is made of one material, as far as a fire test depends on it; None is unknown."""

    process: Process | None
    colouring: str | None
    lot_family: str | None
    infill_percent: float = SOLID
    thinnest_mm: float | None
    """Thinnest tested section: of a part with infill, its shell."""
    thickest_mm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SetRequirement:
    """What one set asks of one material at a place."""

    material: str
    set: str
    level: HazardLevel
    edition: str | None
    made: Made
    accepting: frozenset[str]
    """Roles that may say until when a report is accepted."""


@dataclass(frozen=True, slots=True)
class WantedLimit:
    """A limit at the level, and how sure it is; no method and no limit where we hold no figures of the set."""

    certainty: Certainty
    method: Method | None = None
    limit: float | str | None = None


@dataclass(frozen=True, slots=True)
class HeldResult:
    """A result against a limit."""

    report: FireTest
    result: FireResult
    method: Method
    margin: float
    """Distance to the limit in the unit of the test, or in classes; below nothing it fails by as much."""
    differences: tuple[Difference, ...]
    covers: bool
    """Whether its thickness speaks for the whole part."""

    @property
    def passes(self) -> bool:
        return self.margin >= 0

    @property
    def is_of_the_part(self) -> bool:
        """Whether what was tested was made as the part is, as far as anybody has said."""
        return not any(each in _OF_THE_SPECIMEN for each in self.differences if not _is_unsaid(self, each))


def contradicts(failing: HeldResult, passing: HeldResult) -> bool:
    """Whether a failing result of the part itself takes a passing one away."""
    return failing.is_of_the_part and is_as_kind(failing, passing)


def is_as_kind(failing: HeldResult, passing: HeldResult) -> bool:
    """Whether the specimen that failed was no harder to pass with than the one that passed."""
    one, other = failing.result.thickness_mm, passing.result.thickness_mm
    if failing.method.thickness is ThicknessRule.BY_MASS or one is None or other is None:
        return True
    return one >= other if failing.method.thickness is ThicknessRule.THICKER else one <= other


def _is_unsaid(held: HeldResult, difference: Difference) -> bool:
    """Whether the report says nothing of it: a failing result is then taken to speak of the part."""
    said = {
        "process": held.report.process,
        "colour": held.report.colour,
        "lot family": held.report.lot_family,
        "infill": held.result.infill_percent,
    }
    return said.get(difference) is None


def is_of_the_standard(report: FireTest) -> bool:
    """Whether its results are held against EN 45545-2, of whatever edition, and against nothing else."""
    return _STANDARD.fullmatch(_plain(report.standard)) is not None


@lru_cache(256)  # a report names one of few, and is asked for each place
def edition_of(standard: str) -> str | None:
    """The edition of EN 45545-2 that a report names; None where it names another standard, or no edition."""
    found = _STANDARD.fullmatch(_plain(standard))
    return found[1] if found else None


def why_not(report: FireTest, result: FireResult, method: Method) -> str | None:
    """Why a result proves nothing at all, as a key of `terms.fire_asked`; None where it proves something."""
    if not is_of_the_standard(report):
        return "other standard"
    if not is_named(result.method, method):
        return "other method"
    if _plain(result.unit).replace("m2", "m²") != method.unit:
        return "other unit"
    if number_of(result.value, method) is None:
        return "no such value"
    return None


def unsized(result: FireResult, method: Method) -> str | None:
    """What is not said of the specimen's size, so that a result that passes covers nothing; one that fails still fails."""
    if method.thickness is not ThicknessRule.BY_MASS:
        return "no thickness" if result.thickness_mm is None else None
    least, most = method.specimen_mass_g or (0.0, math.inf)
    return None if result.mass_g is not None and least <= result.mass_g <= most else "no mass"


def is_named(told: str, method: Method) -> bool:
    """Whether a report names the method, whatever its spaces and capitals."""
    return as_compared(told) in {as_compared(name) for name in (method.method, *method.also)}


def number_of(value: float | str, method: Method) -> float | None:
    """The value as a number: of a class, its place counted from the worst.

    None where it is no such value, or one that is too good to be: what is worse than can be still fails.
    """
    if method.classes:
        names = [_class(name) for name in reversed(method.classes)]
        return float(names.index(_class(value))) if isinstance(value, str) and _class(value) in names else None
    if not isinstance(value, int | float) or method.plausible is None:
        return None
    least, most = method.plausible
    is_real = value <= most if method.limit_is is Sense.LEAST else value >= least
    return float(value) if is_real and math.isfinite(value) else None


def is_unread(report: FireTest, result: FireResult, method: Method) -> bool:
    """Whether it is a result of the test that nobody can hold against a limit: it may be one that fails."""
    return why_not(report, result, method) not in (None, "other standard")


def held_whatever(wanted: WantedLimit, report: FireTest, result: FireResult, asked: SetRequirement) -> HeldResult | None:
    """The same of a report to whatever standard: how a specimen burned does not depend on what it was held against."""
    return held_against(wanted, report.model_copy(update={"standard": "EN 45545-2"}), result, asked)


def held_against(wanted: WantedLimit, report: FireTest, result: FireResult, asked: SetRequirement) -> HeldResult | None:
    """The result against a limit; None where it proves nothing (`why_not`). A result at the limit meets it."""
    method = wanted.method
    if method is None or wanted.limit is None or why_not(report, result, method):
        return None
    found, limit = number_of(result.value, method), number_of(wanted.limit, method)
    if found is None or limit is None:
        return None
    margin = found - limit if method.limit_is is Sense.LEAST else limit - found
    if margin >= 0 and unsized(result, method):
        return None
    unlike = tuple(each for each in _differences(report, result, asked) if each not in method.no_matter)
    return HeldResult(report, result, method, margin, unlike, _covers(method, result, asked.made))


def _differences(report: FireTest, result: FireResult, asked: SetRequirement) -> Iterator[Difference]:
    yield from differences_of(report, asked)
    tested = result.infill_percent
    if tested is None or (tested < SOLID and tested != asked.made.infill_percent):
        yield "infill"


def differences_of(report: FireTest, asked: SetRequirement) -> Iterator[Difference]:
    """In what a report is not as it should be for the part; what nobody has said is not as it should be."""
    made = asked.made
    if asked.edition is None or edition_of(report.standard) != asked.edition:
        yield "edition"
    if made.process is None or report.process != made.process:
        yield "process"
    if not _same(report.colour, made.colouring):
        yield "colour"
    if not _same(report.lot_family, made.lot_family):
        yield "lot family"
    if report.accreditation is None or names_nothing(report.accreditation) or _NO_NUMBER.search(report.accreditation):
        yield "accreditation"
    if report.accepted_by not in asked.accepting:
        yield "acceptance"


def layers_told(report: FireTest, result: FireResult) -> frozenset[Layers]:
    """Which ways the specimen's layers lay; a moulded one, which has none, differs by its process already.

    That a printed one has none cannot be: it is then not said how they lay.
    """
    if Layers.NONE not in result.layers:
        return frozenset(result.layers)
    return EVERY_LAYER if has_no_layers(report, result) else frozenset()


def has_no_layers(report: FireTest, result: FireResult) -> bool:
    """Whether it can be that the specimen has none, and nothing else is said besides."""
    return report.process == MOULDED and set(result.layers) == {Layers.NONE}


def _covers(method: Method, result: FireResult, made: Made) -> bool:
    """Whether a specimen speaks for the whole part; sections that are not known are not covered."""
    if method.thickness is ThicknessRule.BY_MASS:
        return True
    tested, thinnest, thickest = result.thickness_mm, made.thinnest_mm, made.thickest_mm
    if tested is None:
        return False
    if method.thickness is ThicknessRule.THICKER:
        return thinnest is not None and tested <= thinnest
    return thickest is not None and tested >= thickest


def _same(one: str | None, other: str | None) -> bool:
    return one is not None and other is not None and as_compared(one) == as_compared(other)


def _plain(text: str) -> str:
    return " ".join(text.split())


def _class(value: float | str) -> str:
    """V-0 and V0 are one class."""
    return str(value).strip().upper().replace("-", "")
