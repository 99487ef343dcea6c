"""One test at a place in words: what is needed, found and held by which specimen, and what follows."""

from collections.abc import Iterator
from dataclasses import dataclass

from generator.pages.fire.of_standard import standard_words
from generator.pages.wording import Wording
from generator.records.catalogue import Catalogue
from generator.records.fire import FireResult, FireTest
from generator.records.standards import FireStandard, Method, Sense, ThicknessRule
from generator.rules.fire.results import Made
from generator.rules.fire.rows import FireRow
from generator.rules.fire.sections import SOLID
from generator.rules.lasting import FOR_EVER, Paper, last_day

_DECIMALS = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class RowLine:
    """A row of the table of a place; what is not known is told in words."""

    material: str
    material_id: str
    test: str
    quantity: str
    needed: str
    limit_of: str
    """Set and level that ask it, how sure the limit is, and its source."""
    found: str
    margin: str
    specimen: tuple[str, ...]
    report: str
    days: str
    """When it was tested, and until when the report counts."""
    file: str | None
    """Of the report, as the material's record names it."""
    part: tuple[str, ...]
    key: str
    verdict: str
    why: tuple[str, ...]


def row_line(row: FireRow, catalogue: Catalogue, w: Wording) -> RowLine:
    method, material = row.wanted.method, catalogue.materials.get(row.asked.material)
    return RowLine(
        material=material.name if material else row.asked.material,
        material_id=row.asked.material,
        test=w("fire.test", test=method.test, method=method.method) if method else w("fire.whole_set"),
        quantity=standard_words(method.quantity, w) if method else "",
        needed=needed_words(row, w),
        limit_of=_limit_of(row, catalogue.standard, w),
        found=_found(row, w),
        margin=_margin(row, w),
        specimen=tuple(specimen(row.report, row.result, w)) if row.report else (),
        report=w("fire.report", report=row.report.report, laboratory=row.report.laboratory) if row.report else "",
        days=days_words(row.report, w) if row.report else "",
        file=row.report.file if row.report else None,
        part=tuple(_part(row.asked.made, method, w)),
        key=row.answer.value,
        verdict=w(f"fire.answers.{row.answer}"),
        why=tuple(w.term("fire_asked", each) for each in row.why),
    )


def figure(value: float | str, unit: str, w: Wording) -> str:
    """A value with its unit; a class, and what has no unit, by itself."""
    told = value if isinstance(value, str) else w.measure(value, _DECIMALS)
    return told if unit in ("-", "class") else f"{told} {unit}"


def needed_words(row: FireRow, w: Wording) -> str:
    method, limit = row.wanted.method, row.wanted.limit
    if method is None or limit is None:
        return w("fire.no_limit")
    told = figure(limit, method.unit, w)
    if method.classes:
        return w("fire.class_least", limit=told)
    return w("fire.least" if method.limit_is is Sense.LEAST else "fire.most", limit=told)


def certainty_words(certainty: str, w: Wording) -> str:
    return w(f"fire.certainty.{certainty}")


def _limit_of(row: FireRow, standard: FireStandard | None, w: Wording) -> str:
    held = standard.set_of(row.asked.set) if standard else None
    test = row.wanted.method.test if row.wanted.method else None
    source = next((each.source for each in held.limits if each.test == test), held.source) if held else None
    certainty = certainty_words(row.wanted.certainty, w)
    return w("fire.limit_of", set=row.asked.set, level=row.asked.level, certainty=certainty, source=standard_words(source, w) if source else None)


def _found(row: FireRow, w: Wording) -> str:
    if row.result:
        return figure(row.result.value, row.result.unit, w)
    return w("fire.stated") if row.report else w("fire.nothing_found")


def _margin(row: FireRow, w: Wording) -> str:
    method, margin = row.wanted.method, row.margin
    if method is None or margin is None:
        return ""
    if margin == 0:
        return w("fire.margin.none")
    value = w.count("fire.classes", round(abs(margin))) if method.classes else _difference(abs(margin), method.unit, w)
    return w("fire.margin.spare" if margin > 0 else "fire.margin.short", value=value)


def _difference(value: float, unit: str, w: Wording) -> str:
    """Between two percentages lie percentage points."""
    return w("fire.margin.points", value=w.measure(value, _DECIMALS)) if unit == "%" else figure(value, unit, w)


def specimen(report: FireTest, result: FireResult | None, w: Wording) -> Iterator[str]:
    """Thickness or mass, layers and filling of the specimen, then what it was made of and how."""
    if result:
        thickness = _thick(result.thickness_mm, w) if result.thickness_mm is not None else None
        mass = w("fire.mass", mass=w.measure(result.mass_g, _DECIMALS)) if result.mass_g is not None else None
        layers = (w(f"fire.layers.{each}") for each in result.layers)
        yield from _joined([thickness, mass, *layers, _filling(result.infill_percent, w)])
    elif report.thickness_mm is not None:
        yield _thick(report.thickness_mm, w)
    yield from _joined([process_words(report.process, w), report.colour, report.lot_family])


def _thick(thickness_mm: float | None, w: Wording) -> str:
    return w("fire.unknown") if thickness_mm is None else w("fire.thick", thickness=w.measure(thickness_mm))


def process_words(process: str | None, w: Wording) -> str | None:
    if process is None:
        return None
    return w("material.moulded") if process == "moulded" else w.term("process", process)


def _filling(infill: float | None, w: Wording) -> str | None:
    if infill is None:
        return None
    return w("fire.solid") if infill >= SOLID else w("fire.filled", infill=w.measure(infill))


def _joined(told: list[str | None]) -> Iterator[str]:
    said = ", ".join(each for each in told if each)
    yield from [said] if said else []


def days_words(report: FireTest, w: Wording) -> str:
    return ", ".join((w("fire.tested", day=w.day(report.tested_on)), end_words(report, w)))


def end_words(paper: Paper, w: Wording) -> str:
    """Such as: last day 31 May 2028."""
    return w("fire.last_day", day=last_words(paper, w)) if last_day(paper) else last_words(paper, w)


def last_words(paper: Paper, w: Wording) -> str:
    last = last_day(paper)
    if last is None:
        return w("fire.end_unknown")
    return w.iso_day("open") if last == FOR_EVER else w.day(last)


def _part(made: Made, method: Method | None, w: Wording) -> Iterator[str]:
    """What of the part the specimen is held against."""
    thin, thick = made.thinnest_mm, made.thickest_mm
    if method and method.thickness is ThicknessRule.BY_MASS:
        yield w("fire.by_mass")
    elif thin is None and thick is None:
        yield w("fire.no_sections")
    elif thin == thick and thin is not None:
        yield w("fire.section", thinnest=_thick(thin, w))
    else:
        yield w("fire.sections", thinnest=_thick(thin, w), thickest=_thick(thick, w))
    yield from _joined([_filling(made.infill_percent, w) if made.infill_percent < SOLID else None, process_words(made.process, w), made.colouring, made.lot_family])
