"""Was a machine qualified for a material on the day of a print?

By its days, by what its coupons show of what the material asks (rules/coupons.py), and by charts of these coupons
(rules/control_chart.py). Only coupons that were printed up to that day count, so that what a machine does later leaves
alone what it printed before. Values that are read too coarsely to spread show nothing.
"""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from functools import lru_cache

from generator.records.machines import CouponProperty, Coupons, Machine, Qualification
from generator.records.materials import Required
from generator.rules.control_chart import Chart, Control, Subgroup, Unjudged, control_chart
from generator.rules.coupons import CouponOutcome, judged_coupons
from generator.rules.coupons import JudgedCoupons as Judged
from generator.rules.tolerance_factors import Coverage


class MachineStanding(StrEnum):
    """How a machine stands with a material on a day."""

    QUALIFIED = "qualified"
    NONE = "none"
    """Nobody has qualified it for the material."""
    NOT_YET = "not yet"
    ENDED = "ended"
    NOT_SHOWN = "not shown"
    """Its coupons do not show what the material asks."""
    OUT_OF_CONTROL = "out of control"


@dataclass(frozen=True, slots=True)
class HeldCoupons:
    """What is required, against all coupons up to the day."""

    required: Required
    values: tuple[float, ...]
    judged: Judged


@dataclass(frozen=True, slots=True)
class Charted:
    """The chart of the coupons of one property that were printed in groups of one size."""

    property: CouponProperty
    size: int
    chart: Chart


@dataclass(frozen=True, slots=True, kw_only=True)
class Qualified:
    """The answer with its figures."""

    standing: MachineStanding
    qualification: Qualification | None = None
    held: tuple[HeldCoupons, ...] = ()
    charts: tuple[Charted, ...] = ()

    @property
    def is_qualified(self) -> bool:
        return self.standing is MachineStanding.QUALIFIED


@lru_cache(1024)
def qualified(machine: Machine | None, material: str | None, required: tuple[Required, ...], day: date) -> Qualified:
    """How `machine` stood on `day` with the material of that id, of which `required` is asked."""
    given = [each for each in machine.qualifications if each.material == material] if machine else []
    begun = [each for each in given if each.qualified_on <= day]
    found = max(begun, key=lambda each: each.qualified_on) if begun else next(iter(given), None)
    return by_qualification(found, required, day) if found else Qualified(standing=MachineStanding.NONE)


def by_qualification(found: Qualification, required: tuple[Required, ...], day: date) -> Qualified:
    """How it stood by this one of its qualifications, whether a later one counts by then or not."""
    coupons = [each for each in found.coupons if each.on <= day]
    held, charts = tuple(_held(required, coupons)), tuple(_charts(coupons))
    return Qualified(standing=_standing(found, held, charts, day), qualification=found, held=held, charts=charts)


def _standing(found: Qualification, held: Iterable[HeldCoupons], charts: Iterable[Charted], day: date) -> MachineStanding:
    controls = [each.chart for each in charts]
    if day < found.qualified_on:
        return MachineStanding.NOT_YET
    if day > found.valid_until:
        return MachineStanding.ENDED
    if any(each.control is Control.OUT_OF_CONTROL for each in controls):
        return MachineStanding.OUT_OF_CONTROL
    # Where a chart cannot be judged for another reason than its few groups, nobody knows.
    unknown = any(each.control is Control.UNKNOWN for each in controls)
    if unknown or any(each.judged.shown is not CouponOutcome.SHOWN for each in held):
        return MachineStanding.NOT_SHOWN
    return MachineStanding.QUALIFIED


def _held(required: Iterable[Required], coupons: Iterable[Coupons]) -> Iterable[HeldCoupons]:
    listed = list(coupons)
    for each in required:
        values = tuple(value for of in listed if of.property is each.property for value in of.values)
        yield HeldCoupons(each, values, judged_coupons(values, coverage=Coverage(each.coverage_percent), least=each.least, most=each.most))


def _charts(coupons: Iterable[Coupons]) -> Iterable[Charted]:
    """One for each property and size of group: groups of other sizes have other limits; one of no such size has no chart."""
    groups: defaultdict[tuple[CouponProperty, int], list[Subgroup]] = defaultdict(list)
    for each in coupons:
        groups[each.property, len(each.values)].append(Subgroup(name=each.reference or each.on.isoformat(), day=each.on, values=each.values))
    for (of, size), listed in sorted(groups.items()):
        chart = control_chart(listed)
        if chart.unjudged is not Unjudged.NO_SUCH_SIZE:
            yield Charted(of, size, chart)
