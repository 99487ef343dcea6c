"""Can what a record says of the fire standard be meant: the set, its product and edition, who chose it, and the reports?"""

from collections.abc import Iterable

from generator.reading.papers import ends, evidence_file
from generator.reading.placing import Finding
from generator.reading.roles import fire_roles, report_role
from generator.records.base import as_compared
from generator.records.catalogue import Catalogue, KeptFile
from generator.records.fire import AsksNothing, Fire, Layers
from generator.records.materials import Material
from generator.records.parts import Part
from generator.records.placeholders import names_nothing
from generator.records.problems import Path, wrong
from generator.records.standards import Method
from generator.rules.fire.needs import misfits
from generator.rules.fire.results import has_no_layers, is_named, number_of, unsized


def fire_findings(part: Part, catalogue: Catalogue, files: dict[str, KeptFile]) -> Iterable[Finding]:
    """Of what was chosen for the whole part, and for one place alone."""
    chosen: dict[Path, Fire] = {("fire",): part.fire} if part.fire else {}
    chosen |= {("fits", i, "fire"): fit.fire for i, fit in enumerate(part.fits) if fit.fire}
    for path, fire in chosen.items():
        yield from fire_roles(catalogue.depot, fire, path)
        yield from _statement(fire, files, path)
        yield from _nothing_asked(part, fire, catalogue, path)
    for i, fit in enumerate(part.fits):
        place, there = catalogue.place(fit.fleet, fit.place), fit.fire or part.fire
        path = ("fits", i, "fire") if fit.fire else ("fire",)
        if place and there and catalogue.standard:
            for misfit in misfits(there, place.area, catalogue.standard):
                found = wrong("FIRE02", misfit.key, path=(*path, misfit.field), place=place.name)
                yield found.telling(**dict(misfit.facts))


def _statement(fire: Fire, files: dict[str, KeptFile], path: Path) -> Iterable[Finding]:
    if fire.evidence:
        yield from evidence_file(fire.evidence, files, (*path, "evidence"))
    if fire.exemption:
        exemption, here = fire.exemption, (*path, "exemption")
        yield from evidence_file(exemption.evidence, files, (*here, "evidence"))
        yield from ends(exemption.on, exemption.valid_until, here, open_ended=exemption.open_ended)


def _nothing_asked(part: Part, fire: Fire, catalogue: Catalogue, path: Path) -> Iterable[Finding]:
    """Non-combustible is what the material's own record says of itself, too."""
    if fire.asks_nothing is AsksNothing.NON_COMBUSTIBLE:
        burning = [name for name in part.materials if (each := catalogue.materials.get(name)) and each.combustible]
        if burning:
            yield wrong("FIRE03", "burns", path=(*path, "asks_nothing"), materials=burning)


def report_findings(material: Material, catalogue: Catalogue) -> Iterable[Finding]:
    """Results that cannot be, laboratories without a name, and one file or number for two reports."""
    for i, report in enumerate(material.fire_tests):
        path: Path = ("fire_tests", i)
        if names_nothing(report.laboratory):
            yield wrong("FIRE04", "no name", path=(*path, "laboratory"), given=report.laboratory)
        if report.accepted_by:
            yield from report_role(catalogue.depot, report.accepted_by, (*path, "accepted_by"))
        for j, result in enumerate(report.results):
            method = catalogue.standard.method(result.test) if catalogue.standard else None
            here = (*path, "results", j)
            if catalogue.standard and method is None:
                yield wrong("FIRE05", "no test", path=(*here, "test"), test=result.test)
            elif method:
                yield from _result(result.value, result.unit, result.method, method, here)
                if Layers.NONE in result.layers and not has_no_layers(report, result):
                    yield wrong("FIRE05", "no layers", path=(*here, "layers"))
                lacks = unsized(result, method)
                if lacks:
                    yield wrong("FIRE05", lacks, path=here, test=method.test)
    yield from _told_twice(material)


def _result(value: float | str, unit: str, named: str, method: Method, here: Path) -> Iterable[Finding]:
    if not is_named(named, method):
        yield wrong("FIRE05", "other method", path=(*here, "method"), test=method.test, given=named, method=method.method)
    if unit.strip() != method.unit:
        yield wrong("FIRE05", "other unit", path=(*here, "unit"), test=method.test, given=unit, unit=method.unit)
    elif number_of(value, method) is None and method.classes:
        yield wrong("FIRE05", "no class", path=(*here, "value"), test=method.test, given=str(value), classes=method.classes)
    elif method.plausible and isinstance(value, str):
        yield wrong("FIRE05", "no number", path=(*here, "value"), test=method.test, given=value)
    elif method.plausible and isinstance(value, int | float) and not method.plausible[0] <= value <= method.plausible[1]:
        least, most = (f"{each:g}" for each in method.plausible)
        yield wrong("FIRE05", "cannot be", path=(*here, "value"), test=method.test, given=f"{value:g}" if isinstance(value, float) else value, least=least, most=most, unit=method.unit)


def _told_twice(material: Material) -> Iterable[Finding]:
    """One number names one report; of one file, see rules/contested.py."""
    seen: set[str] = set()
    for i, report in enumerate(material.fire_tests):
        number = as_compared(report.report)
        if number in seen:
            yield wrong("FIRE06", "twice", path=("fire_tests", i, "report"), report=report.report)
        seen.add(number)
