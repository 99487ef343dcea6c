"""What the fire standard asks of the part at a place, and what answers it: the fire engineer's word, or results."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from typing import Literal

from generator.geometry.sections import Walls
from generator.records.depot import ActsAs, Depot
from generator.records.evidence import Evidence
from generator.records.fire import Fire, FireExemption, FireTest
from generator.records.makers import Process
from generator.records.materials import Material
from generator.records.parts import Fit
from generator.rules.basis import Basis
from generator.rules.facts.case import Case
from generator.rules.facts.fields import OPEN, Files, LastDay
from generator.rules.fire.needs import FireNeed, fire_need
from generator.rules.fire.results import Made, SetRequirement
from generator.rules.fire.rows import FireAnswer, FireRow, Reports, on_day, rows
from generator.rules.fire.sections import SOLID, tested_sections
from generator.rules.kept import is_file, paper_is_kept
from generator.rules.lasting import FOR_EVER, last_day

ACCEPTS = {ActsAs.FIRE_ENGINEER, ActsAs.CUSTOMER, ActsAs.AUTHORITY}
Kind = Literal["report", "statement", "non-combustible", "no requirement", "older rule"]


@dataclass(frozen=True, slots=True, kw_only=True)
class FireFound:
    """The need, what answers it, and every row behind it."""

    need: FireNeed | None
    need_told: str | None = None
    kind: Kind | None = None
    told: str | None = None
    until: LastDay = None
    rows: tuple[FireRow, ...] = ()
    asked: tuple[str, ...] = ()
    files: Files = ()

    @property
    def failed(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(map(_failing_line, (row for row in self.rows if row.answer is FireAnswer.FAILS))))


def fire_found(case: Case, fit: Fit, basis: Basis) -> FireFound:
    """What the part needs where it fits so, and what of it is answered."""
    fleet = case.catalogue.fleets.get(fit.fleet)
    need = fire_need(basis.fire, fleet, case.catalogue.standard) if fleet else None
    if need is None:
        return FireFound(need=None)
    stated = _statement(case, need)
    if stated:
        return _by_statement(case, need, basis, stated)
    choice = () if _choice_is_shown(case, need) else ("choice to come" if _is_to_come(case, need.fire) else "choice not shown",)
    chosen = case.files_of((need.fire.evidence,) if need.fire.evidence else ())
    if need.is_older_rule:
        return FireFound(need=need, need_told=need.rule, kind="older rule", told=need.rule, until=OPEN, asked=("older rule", *choice), files=chosen)
    if need.fire.asks_nothing:
        kind: Kind = need.fire.asks_nothing.value
        return FireFound(need=need, need_told=need.fire.asks_nothing, kind=kind, told=need.fire.reason.removesuffix("."), until=OPEN, asked=choice, files=chosen)
    return _by_results(case, need, basis, choice)


def _by_statement(case: Case, need: FireNeed, basis: Basis, stated: FireExemption) -> FireFound:
    """No test is asked: light groups of what would fail are what such statements are for."""
    return FireFound(
        need=need,
        need_told=_need_told(case, need, basis.walls),
        kind="statement",
        told=stated.reference,
        until=_open(last_day(stated)),
        files=case.files_of((stated.evidence,)),
    )


def _by_results(case: Case, need: FireNeed, basis: Basis, choice: tuple[str, ...]) -> FireFound:
    found = tuple(on_day(row, case.copy.built_on) for row in _rows(case, need, basis))
    until = _first_end(found)
    ended = isinstance(until, date) and until < case.copy.built_on
    behind = [row.report for row in found if row.report and (not ended or row.until == until)]
    asking = (why for row in found if row.answer is FireAnswer.ASKS for why in row.why)
    return FireFound(
        need=need,
        need_told=_need_told(case, need, basis.walls),
        kind="report" if behind else None,
        told=", ".join(dict.fromkeys(f"{each.report} ({each.standard})" for each in behind)) or None,
        until=until,
        rows=found,
        asked=(*dict.fromkeys(asking), *choice, *_large_area(case, need)),
        files=tuple(dict.fromkeys(f"materials/{each.file}" for each in behind)),
    )


def _rows(case: Case, need: FireNeed, basis: Basis) -> Iterator[FireRow]:
    """Every material answers for every set; one that is not known has nothing to answer with."""
    may_accept = accepting(case.catalogue.depot)
    for name, material in ((case.part.material, basis.material), *basis.further):
        if material and not material.combustible:
            continue
        reports = reports_of(case, name, material)
        for process in _processes(case):
            made = _made(case, need, material, process, basis.walls)
            for number in need.fire.sets:
                asked = SetRequirement(
                    material=name, set=number, level=need.level, edition=need.edition, made=made,
                    accepting=may_accept,
                )  # fmt: skip
                yield from rows(asked, case.catalogue.standard, reports)


def reports_of(case: Case, name: str, material: Material | None) -> Reports:
    """What counts is kept and named by the permit; what else is recorded of the material can only speak against it."""
    counting = tuple(each for each in material.fire_tests if _counts(case, each)) if material else ()
    bound = {each.sha256 for each in counting}
    now = case.catalogue.materials.get(name)
    return Reports(counting, tuple(each for each in now.fire_tests if each.sha256 not in bound) if now else ())


def _counts(case: Case, report: FireTest) -> bool:
    return report.tested_on <= case.copy.built_on and paper_is_kept(case.catalogue, case.contested, report)


def _processes(case: Case) -> Iterable[Process | None]:
    """Every process that the part may be made by; one that is not known is answered by nothing."""
    makers = [case.catalogue.makers.get(name) for name in case.part.makers]
    # What nobody here prints is made by a process that nobody knows.
    return dict.fromkeys(maker.process if maker else None for maker in makers) or (None,)


def accepting(depot: Depot | None) -> frozenset[str]:
    """Roles that may say until when a report is accepted."""
    return frozenset(each.id for each in depot.roles if ACCEPTS & set(each.acts_as)) if depot else frozenset()


def _sections(case: Case, fire: Fire, walls: Walls | None) -> tuple[float | None, float | None]:
    """Thinnest wall and thickest section, measured or typed, for the place or the whole part: the most careful counts."""
    told = [fire, *([case.part.fire] if case.part.fire else [])]
    thin = [*(each.thinnest_wall_mm for each in told), walls.thinnest_mm if walls else None]
    thick = [*(each.thickest_section_mm for each in told), walls.thickest_mm if walls else None]
    return min((each for each in thin if each is not None), default=None), max((each for each in thick if each is not None), default=None)


def _made(case: Case, need: FireNeed, material: Material | None, process: Process | None, walls: Walls | None) -> Made:
    settings = case.part.settings
    infill = settings.infill_percent if settings else None
    thinnest, thickest = tested_sections(*_sections(case, need.fire, walls), settings, is_printed=bool(case.part.makers))
    return Made(
        process=process,
        colouring=material.colouring if material else None,
        lot_family=material.lot_family if material else None,
        infill_percent=SOLID if infill is None else infill,
        thinnest_mm=thinnest,
        thickest_mm=thickest,
    )


def _large_area(case: Case, need: FireNeed) -> tuple[str, ...]:
    """A surface that is not small, of a product that is not listed, asks for a set of surfaces (clause 4)."""
    small, shown = case.catalogue.standard, need.fire.exposed_area_m2
    if small is None or shown is None or need.fire.product or shown < small.small_parts.small_area_m2:
        return ()
    surface = set(small.small_parts.surface_sets.values())
    return () if surface & set(need.fire.sets) else ("large area",)


def _first_end(found: tuple[FireRow, ...]) -> LastDay:
    """The first day on which any row ends; None where one is not answered at all, or by what says no end.

    What fails goes on failing, and is told as that.
    """
    ends = [row.until for row in found if row.answer is not FireAnswer.FAILS]
    known = [end for end in ends if end]
    return _open(min(known)) if known and len(known) == len(ends) else None


def _open(last: date | None) -> LastDay:
    return OPEN if last == FOR_EVER else last


def _statement(case: Case, need: FireNeed) -> FireExemption | None:
    """The fire engineer's statement, where it is kept as recorded and of a day that has come."""
    stated = need.fire.exemption
    if stated is None or stated.on > case.copy.built_on:
        return None
    return stated if _is_kept(case, stated.evidence) else None


def _choice_is_shown(case: Case, need: FireNeed) -> bool:
    """Whether the note is kept in which the fire engineer chose, and of a day that has come."""
    fire = need.fire
    if fire.reference is None or fire.on is None or fire.evidence is None or fire.on > case.copy.built_on:
        return False
    return _is_kept(case, fire.evidence)


def _is_to_come(case: Case, fire: Fire) -> bool:
    return fire.on is not None and fire.on > case.copy.built_on


def _is_kept(case: Case, evidence: Evidence) -> bool:
    return is_file(case.folder.files.get(evidence.file), evidence.sha256)


def _need_told(case: Case, need: FireNeed, walls: Walls | None) -> str:
    sets = " + ".join(need.fire.sets)
    known = dict.fromkeys(each for each in _sections(case, need.fire, walls) if each is not None)
    sections = "–".join(f"{each:.3g}" for each in known)
    return ", ".join(each for each in (sets, need.level, f"{sections} mm" if sections else "") if each)


def _failing_line(row: FireRow) -> str:
    """Such as R22 T10.03: 310, at most 300 (OFT 23/1146); signs alone, so that it reads in every language."""
    found, method, limit = row.result, row.wanted.method, row.wanted.limit
    sign = "≥" if method and method.limit_is == "least" else "≤"
    unit = f" {method.unit}" if method and method.unit not in ("-", "class") else ""
    value = f"{found.value}" if found and isinstance(found.value, str) else f"{found.value:g}" if found else "?"
    asked = f"{limit:g}" if isinstance(limit, int | float) else limit
    report = f" ({row.report.report})" if row.report else ""
    return f"{row.asked.set} {method.test if method else ''}: {value}{unit}, {sign} {asked}{unit}{report}"
