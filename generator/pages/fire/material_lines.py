"""A material in words: what it is, and each result of its reports with what it proves."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.pages.fire.of_standard import standard_words
from generator.pages.fire.row_lines import figure, last_words, needed_words, process_words, specimen
from generator.pages.part.story import role_name
from generator.pages.wording import Wording
from generator.records.catalogue import Catalogue
from generator.records.fire import FireResult, FireTest
from generator.records.materials import Material
from generator.records.standards import FireStandard
from generator.rules.fire.results import unsized, why_not
from generator.rules.fire.rows import FireAnswer, FireRow
from generator.rules.sheet import Sheet

Line = tuple[str, str]
Failing = Mapping[tuple[str, str], Sequence[FireRow]]
"""By SHA-256 of the report and code of the test."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ResultLine:
    test: str
    quantity: str
    value: str
    specimen: str
    proves: str


def data_lines(material: Material, w: Wording) -> tuple[Line, ...]:
    """What it is; what nobody has noted has no line, but where fire reports are compared with it."""
    unsaid, density, index = w("material.unsaid"), material.solid_density_g_cm3, material.properties.limiting_oxygen_index_percent
    told = {
        "family": material.family,
        "grade": material.grade,
        "supplier": material.supplier,
        "processes": ", ".join(w.term("process", each) for each in material.processes),
        "density": w("material.per_cm3", density=w.measure(material.density_g_cm3, 4)),
        "solid_density": w("material.per_cm3", density=w.measure(density, 4)) if density else None,
        "colouring": material.colouring or unsaid,
        "lot_family": material.lot_family or unsaid,
        "oxygen_index": w("material.per_cent", value=w.measure(index)) if index is not None else None,
        "combustible": w("material.burns" if material.combustible else "material.burns_not"),
    }
    return tuple((w(f"material.{key}"), value) for key, value in told.items() if value)


def report_lines(report: FireTest, catalogue: Catalogue, w: Wording) -> tuple[Line, ...]:
    """What a report is; what it does not say is told, since what is not said asks."""
    unsaid = w("material.unsaid")
    told = {
        "laboratory": report.laboratory,
        "accreditation": report.accreditation or unsaid,
        "standard": report.standard,
        "tested_on": w.day(report.tested_on),
        "last_day": last_words(report, w),
        "accepted_by": role_name(report.accepted_by, catalogue) if report.accepted_by else unsaid,
        "process": process_words(report.process, w) or unsaid,
        "colouring": report.colour or unsaid,
        "lot_family": report.lot_family or unsaid,
        "states": _stated(report, w),
    }
    return tuple((w(f"material.{key}"), value) for key, value in told.items() if value)


def _stated(report: FireTest, w: Wording) -> str | None:
    if report.requirement_set is None or report.hazard_level is None:
        return None
    thickness = w.measure(report.thickness_mm) if report.thickness_mm is not None else w("fire.unknown")
    return w("material.stated", set=report.requirement_set, level=report.hazard_level, thickness=thickness)


def failing(sheets: Iterable[Sheet]) -> Failing:
    """The rows of parts that a result of a report keeps from being answered."""
    found: defaultdict[tuple[str, str], list[FireRow]] = defaultdict(list)
    for row in (row for sheet in sheets for ground in sheet.grounds for row in ground.fire.rows):
        if row.answer is FireAnswer.FAILS and row.report and row.result:
            found[row.report.sha256, row.result.test].append(row)
    return found


def result_lines(report: FireTest, standard: FireStandard | None, against: Failing, w: Wording) -> Iterator[ResultLine]:
    """against: what its results fail, of any part."""
    for result in report.results:
        method = standard.method(result.test) if standard else None
        yield ResultLine(
            test=w("material.of_test", test=result.test, method=result.method),
            quantity=standard_words(method.quantity, w) if method else "",
            value=figure(result.value, result.unit, w),
            specimen="; ".join(list(specimen(report, result, w))[:1]),
            proves=_proves(report, result, standard, against.get((report.sha256, result.test), ()), w),
        )


def _proves(report: FireTest, result: FireResult, standard: FireStandard | None, against: Iterable[FireRow], w: Wording) -> str:
    method = standard.method(result.test) if standard else None
    if method is None:
        return w("material.nothing", why=w("material.unknown_test"))
    why = why_not(report, result, method) or unsized(result, method)
    if why:
        return w("material.nothing", why=w.term("fire_asked", why))
    fails = (w("material.fails", limit=needed_words(row, w), asked=f"{row.asked.set}, {row.asked.level}") for row in against if row.result == result)
    return "; ".join(dict.fromkeys(fails)) or w("material.counts")
