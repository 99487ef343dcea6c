"""Method by method: what a set asks at a place, and what the reports of the material found."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

from generator.records.fire import FireResult, FireTest
from generator.records.standards import Certainty, FireStandard, Method
from generator.rules.fire.results import (
    EVERY_LAYER,
    HeldResult,
    SetRequirement,
    WantedLimit,
    contradicts,
    differences_of,
    held_against,
    held_whatever,
    is_as_kind,
    is_of_the_standard,
    is_unread,
    layers_told,
    unsized,
    why_not,
)
from generator.rules.lasting import last_day


class FireAnswer(StrEnum):
    """How a row is answered, from best to worst."""

    PASSES = "passes"
    ASKS = "asks"
    MISSING = "missing"
    FAILS = "fails"


@dataclass(frozen=True, slots=True)
class FireRow:
    """One test of a set against the results of one material."""

    asked: SetRequirement
    wanted: WantedLimit
    answer: FireAnswer
    why: tuple[str, ...] = ()
    """What is not as it should be, by keys of `terms.fire_why`."""
    report: FireTest | None = None
    """The report that decided."""
    result: FireResult | None = None
    margin: float | None = None
    until: date | None = None
    """Last day that the answer counts, the last of all days where it has no end; None where nothing answers."""


def on_day(row: FireRow, day: date) -> FireRow:
    """The row as it stands on a day: a report that is no longer accepted answers nothing; one that fails goes on failing."""
    if row.until is None or row.until >= day or row.answer is FireAnswer.FAILS:
        return row
    return replace(row, answer=FireAnswer.MISSING, why=("no longer accepted",))


@dataclass(frozen=True, slots=True)
class Reports:
    """The reports of a material: those that are kept as recorded and of a day that has come, and the others."""

    counting: tuple[FireTest, ...]
    uncounted: tuple[FireTest, ...] = ()

    def every(self) -> tuple[FireTest, ...]:
        return (*self.counting, *self.uncounted)


def results_of(reports: Iterable[FireTest], method: Method) -> list[tuple[FireTest, FireResult]]:
    """What the reports found by one method, each with its report."""
    return [(report, result) for report in reports for result in report.results if result.test == method.test]


def rows(asked: SetRequirement, standard: FireStandard | None, reports: Reports) -> tuple[FireRow, ...]:
    """A row for each test that the set asks at the level; one without a test where we hold no figures of it."""
    held = standard.set_of(asked.set) if standard and asked.edition in standard.limits_of else None
    if standard is None or held is None or not held.limits:
        unknown = WantedLimit(held.certainty if held else Certainty.UNSURE)
        return (_stated_or_missing(asked, unknown, reports.counting, ("no figures" if standard else "no standard",)),)
    found = []
    for limit in held.limits:
        method, most = standard.method(limit.test), limit.at(asked.level)
        if method and most is not None:
            found.append(_row(asked, WantedLimit(limit.certainty_at(asked.level), method, most), method, reports))
    return tuple(found)


def _row(asked: SetRequirement, wanted: WantedLimit, method: Method, reports: Reports) -> FireRow:
    results, uncounted = results_of(reports.counting, method), results_of(reports.uncounted, method)
    every = [held for report, result in results for held in [held_against(wanted, report, result, asked)] if held]
    # A report that is lost, changed or dated tomorrow proves nothing for the part; what it says against it stays said.
    against = (held_against(wanted, report, result, asked) for report, result in uncounted)
    failing = [each for each in (*every, *against) if each and not each.passes]
    decided = _clean(every, failing, method) or _fails(failing) or _asking(every, method)
    if decided is None:
        showing = {report.sha256 for report, _ in results}  # what a report shows, its statement does not mend
        stating = [each for each in reports.counting if each.sha256 not in showing]
        why = ("not named",) if uncounted and not results else _nearest(every, results, method)
        return _stated_or_missing(asked, wanted, stating, why)
    answer, held, why = decided
    if answer is FireAnswer.PASSES:
        why = tuple(_doubts(asked, wanted, method, reports, held))
        answer = FireAnswer.ASKS if why else answer
    return FireRow(asked, wanted, answer, why, held.report, held.result, held.margin, last_day(held.report))


def _doubts(asked: SetRequirement, wanted: WantedLimit, method: Method, reports: Reports, passing: HeldResult) -> Iterator[str]:
    """What is recorded of the material besides a pass, and has to be looked at by a person: it may be the same thing failing."""
    if wanted.certainty is Certainty.UNSURE:
        yield "limit unsure"
    recorded = results_of(reports.every(), method)
    if any(is_unread(report, result, method) for report, result in recorded):
        yield "unread result"
    others = (held_whatever(wanted, report, result, asked) for report, result in recorded)
    if any(each and not each.passes and is_as_kind(each, passing) for each in others):
        yield "fails otherwise"


Decided = tuple[FireAnswer, HeldResult, tuple[str, ...]]


def _fails(failing: Sequence[HeldResult]) -> Decided | None:
    """A failing result decides where nothing clean passes, whoever accepts it and for ever."""
    worst = min(failing, key=lambda each: (not each.is_of_the_part, each.margin), default=None)
    return (FireAnswer.FAILS, worst, () if worst.is_of_the_part else worst.differences) if worst else None


def _clean(every: Sequence[HeldResult], failing: Sequence[HeldResult], method: Method) -> Decided | None:
    """Passing results that speak of the part, together of every way its layers lie, and that no failing one takes away."""
    found = [
        each
        for each in every
        if each.passes and each.covers and not each.differences and not any(contradicts(bad, each) for bad in failing)
    ]
    if "layers" in method.no_matter:
        longest = max(found, key=_end, default=None)
        return (FireAnswer.PASSES, longest, ()) if longest else None
    return _of_every_layer(found)


def _asking(every: Sequence[HeldResult], method: Method) -> Decided | None:
    """Passing results that cover the part's thickness, with the fewest differences."""
    found = [each for each in every if each.passes and each.covers]
    best = min(found, key=lambda each: (len(each.differences), -each.margin), default=None)
    if best is None:
        return None
    why: tuple[str, ...] = best.differences
    if "layers" not in method.no_matter and not layers_told(best.report, best.result) >= EVERY_LAYER:
        why = (*why, "layers")
    return (FireAnswer.ASKS, best, why)


def _of_every_layer(found: Sequence[HeldResult]) -> Decided | None:
    """Of each way of the layers the longest accepted counts; the answer rests on that of these which ends first."""
    resting = []
    for layers in sorted(EVERY_LAYER):
        longest = max((each for each in found if layers in layers_told(each.report, each.result)), key=_end, default=None)
        if longest is None:
            return None
        resting.append(longest)
    return FireAnswer.PASSES, min(resting, key=lambda each: (_end(each)[0], each.margin)), ()


def _end(held: HeldResult) -> tuple[date, float]:
    return last_day(held.report) or date.min, -held.margin


def _nearest(
    every: Iterable[HeldResult], results: Sequence[tuple[FireTest, FireResult]], method: Method
) -> tuple[str, ...]:
    """Why nothing answers: results of another thickness, results that prove nothing, or no report at all."""
    if any(every):
        return ("outside thickness",)
    proving_nothing = (why_not(report, result, method) or unsized(result, method) for report, result in results)
    return tuple(dict.fromkeys(why for why in proving_nothing if why)) or ("no result",)


def _stated_or_missing(asked: SetRequirement, wanted: WantedLimit, reports: Sequence[FireTest], why: tuple[str, ...]) -> FireRow:
    """What a report only states is accepted as stated, not shown; without one, nothing answers."""
    stated = [(tuple(differences_of(each, asked)), each) for each in reports if _states(each, asked)]
    if not stated:
        return FireRow(asked, wanted, FireAnswer.MISSING, why)
    unlike, best = min(stated, key=lambda one: (len(one[0]), -(last_day(one[1]) or date.min).toordinal()))
    if "no standard" not in why:
        return FireRow(asked, wanted, FireAnswer.ASKS, ("stated", *unlike), best, until=last_day(best))
    # Of which edition it would have to be, nobody can tell.
    told = (*why, "stated", *(each for each in unlike if each != "edition" or asked.edition))
    return FireRow(asked, wanted, FireAnswer.ASKS, told, best, until=last_day(best))


def _states(report: FireTest, asked: SetRequirement) -> bool:
    """Whether it says that the set is met at the level, by a specimen no thicker than the part's thinnest wall."""
    level, tested, thinnest = report.hazard_level, report.thickness_mm, asked.made.thinnest_mm
    if report.requirement_set != asked.set or not is_of_the_standard(report):
        return False
    if level is None or tested is None or thinnest is None:
        return False
    return level >= asked.level and tested <= thinnest
