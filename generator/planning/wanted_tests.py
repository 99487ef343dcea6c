"""For each open row of a part: which specimen would answer it if it passed, or why none would."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from generator.planning.stabbing import Interval
from generator.records.fire import THINNEST_SPECIMEN_MM, FireResult, FireTest, Layers
from generator.records.makers import Process
from generator.records.standards import Certainty, FireStandard, Method, Sense, ThicknessRule
from generator.rules.fire.results import (
    EVERY_LAYER,
    HeldResult,
    SetRequirement,
    WantedLimit,
    held_whatever,
    number_of,
)
from generator.rules.fire.rows import FireAnswer, FireRow, Reports, rows
from generator.rules.fire.sections import SOLID

_OF_PAPER = frozenset({"accreditation", "acceptance"})
_THICKEST_SPECIMEN_MM = 1000.0
_SOME_NUMBER = "LAB-0417"  # that a laboratory is accredited is all that counts
_COMMON_MASS_G = 1.0  # the furnace takes a gram: from memory


@dataclass(frozen=True, slots=True, order=True)
class KindOfTest:
    """What a test is ordered by: tests of one kind differ only in how thick the specimen is."""

    material: str
    test: str
    process: Process
    edition: str


@dataclass(frozen=True, slots=True)
class Want:
    """An open row that a test would answer."""

    row: FireRow
    kind: KindOfTest
    method: Method
    may_be: Interval | None
    """Thickness of the specimen; None where the method goes by mass."""
    layers: frozenset[Layers]
    """Which ways of the printed layers are still to be tested."""

    def is_answered_at(self, thickness_mm: float | None) -> bool:
        return self.may_be is None or (thickness_mm is not None and self.may_be.holds(thickness_mm))


@dataclass(frozen=True, slots=True)
class Stuck:
    """An open row that no test answers, and why: keys of `fire_tests.stuck`."""

    row: FireRow
    why: str
    want: Want | None = None
    """What would answer it as well, where only papers are missing."""

    @property
    def is_of_paper(self) -> bool:
        """Whether only the papers of a report are not as they should be."""
        return self.why == "papers"


def is_open(row: FireRow, day: date) -> bool:
    """Whether it is not answered on the day; what fails stays failed."""
    return row.answer is not FireAnswer.PASSES or row.until is None or row.until < day


def want_of(row: FireRow, reports: Reports, standard: FireStandard | None, day: date) -> Want | Stuck:
    """What would answer an open row. A result that fails bars each specimen that it speaks of: no test of the same frees it."""
    why = _why_none(row)
    found = Stuck(row, why) if why else _tested(row, reports, standard, day)
    if _lacks_papers_alone(row, day):
        return Stuck(row, "papers", found if isinstance(found, Want) else None)
    return found


def _tested(row: FireRow, reports: Reports, standard: FireStandard | None, day: date) -> Want | Stuck:
    asked, method = row.asked, row.wanted.method
    if method is None or asked.made.process is None or asked.edition is None or standard is None:
        return Stuck(row, "no figures")
    failing = _failing(row.wanted, asked, reports)
    of_the_part = any(each.is_of_the_part for each in failing)
    may_be = None if method.thickness is ThicknessRule.BY_MASS else _interval(asked, method, failing)
    if may_be is not None and may_be.is_empty:
        return Stuck(row, "fails" if of_the_part else "other" if failing else "no specimen")
    kind = KindOfTest(asked.material, method.test, asked.made.process, asked.edition)
    want = Want(row, kind, method, may_be, frozenset() if "layers" in method.no_matter else EVERY_LAYER)
    if not is_answered_by(want, specimen(want, some_thickness(want), day), reports, standard):
        return Stuck(row, "fails" if of_the_part else "other")
    return _with_fewest_layers(want, reports, standard, day)


def _lacks_papers_alone(row: FireRow, day: date) -> bool:
    """Whether what answers is there, and only who accepts it, until when, or the laboratory's number is not noted."""
    if row.answer is FireAnswer.PASSES:
        return row.until is None
    is_in_date = row.until is None or row.until >= day
    return row.answer is FireAnswer.ASKS and is_in_date and bool(row.why) and _OF_PAPER.issuperset(row.why)


def _why_none(row: FireRow) -> str | None:
    made, method = row.asked.made, row.wanted.method
    if method is None:
        return "no standard" if "no standard" in row.why else "no figures"
    if row.wanted.certainty is Certainty.UNSURE and row.answer is not FireAnswer.FAILS:
        return "limit unsure"
    if not row.asked.accepting:
        return "nobody accepts"
    unknown: dict[str, object] = {"process unknown": made.process, "colour unknown": made.colouring, "lot family unknown": made.lot_family}
    section = {ThicknessRule.THICKER: made.thinnest_mm, ThicknessRule.THINNER: made.thickest_mm}
    if method.thickness in section:
        unknown["wall unknown"] = section[method.thickness]
    return next((why for why, value in unknown.items() if value is None), None)


def _failing(wanted: WantedLimit, asked: SetRequirement, reports: Reports) -> tuple[HeldResult, ...]:
    """Results of whatever report that do not meet the limit; one that was made otherwise leaves a doubt that no test takes away."""
    every = (held_whatever(wanted, report, result, asked) for report in reports.every() for result in report.results if wanted.method and result.test == wanted.method.test)
    return tuple(held for held in every if held and not held.passes)


def _interval(asked: SetRequirement, method: Method, failing: Sequence[HeldResult]) -> Interval:
    """Where a specimen may not be thicker than the wall, each failing one shuts out what is as thin, and the other way round."""
    thick = [held.result.thickness_mm for held in failing]
    shuts_all = None in thick
    known = [each for each in thick if each is not None]
    if method.thickness is ThicknessRule.THICKER:
        most = min(asked.made.thinnest_mm or 0.0, _THICKEST_SPECIMEN_MM)
        above = max(known, default=-1.0) if not shuts_all else _THICKEST_SPECIMEN_MM
        return Interval(least=THINNEST_SPECIMEN_MM, most=most, above=above)
    least = max(asked.made.thickest_mm or 0.0, THINNEST_SPECIMEN_MM)
    below = min(known, default=2 * _THICKEST_SPECIMEN_MM) if not shuts_all else 0.0
    return Interval(least=least, most=_THICKEST_SPECIMEN_MM, below=below)


def some_thickness(want: Want) -> float | None:
    """Some thickness that does."""
    if want.may_be is None:
        return None
    return want.may_be.thickest() if want.method.thickness is ThicknessRule.THICKER else want.may_be.thinnest()


def specimen(want: Want, thickness_mm: float | None, day: date, layers: frozenset[Layers] | None = None) -> FireTest:
    """A report that would answer it: made as the part is, solid, accepted, and just at the limit."""
    made, method, limit = want.row.asked.made, want.method, want.row.wanted.limit
    by_mass = method.thickness is ThicknessRule.BY_MASS
    result = FireResult(
        test=method.test,
        method=method.method,
        value="" if limit is None else limit,
        unit=method.unit,
        thickness_mm=None if by_mass else thickness_mm,
        mass_g=mass_of_specimen(method) if by_mass else None,
        layers=tuple(sorted(want.layers if layers is None else layers)),
        infill_percent=SOLID,
    )
    return FireTest.model_construct(
        standard=f"EN 45545-2:{want.kind.edition}", report="-", laboratory="-", accreditation=_SOME_NUMBER, tested_on=day, valid_until=None,
        open_ended=True, accepted_by=min(want.row.asked.accepting, default=None), process=want.kind.process, colour=made.colouring,
        lot_family=made.lot_family, requirement_set=None, hazard_level=None, thickness_mm=None, results=(result,), file="-",
        sha256="-",
    )  # fmt: skip


def mass_of_specimen(method: Method) -> float:
    least, most = method.specimen_mass_g or (0.0, _COMMON_MASS_G)
    return min(max(_COMMON_MASS_G, least), most)


def is_answered_by(want: Want, report: FireTest, reports: Reports, standard: FireStandard) -> bool:
    """Whether the rules would say so, were the report there."""
    after = rows(want.row.asked, standard, replace(reports, counting=(*reports.counting, report)))
    return any(each.answer is FireAnswer.PASSES for each in after if each.wanted.method == want.method)


def _with_fewest_layers(want: Want, reports: Reports, standard: FireStandard, day: date) -> Want:
    """One way of the layers alone, where the other is answered already."""
    if "layers" not in want.row.why:
        return want
    for layers in sorted(EVERY_LAYER):
        report = specimen(want, some_thickness(want), day, frozenset({layers}))
        if is_answered_by(want, report, reports, standard):
            return replace(want, layers=frozenset({layers}))
    return want


def strictest(wants: Iterable[Want]) -> float | str | None:
    """The limit among them that is hardest to meet; all are of one method."""
    found: tuple[float, float | str] | None = None
    for want in wants:
        limit, sign = want.row.wanted.limit, 1 if want.method.limit_is is Sense.LEAST else -1
        number = None if limit is None else number_of(limit, want.method)
        if limit is not None and number is not None and (found is None or sign * number > found[0]):
            found = sign * number, limit
    return found[1] if found else None


def meets(value: float | str, limit: float | str, method: Method) -> bool:
    """Whether a result of one value would meet the limit."""
    found, asked = number_of(value, method), number_of(limit, method)
    if found is None or asked is None:
        return False
    return found >= asked if method.limit_is is Sense.LEAST else found <= asked
