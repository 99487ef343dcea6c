"""Batches: what was printed when, on which machine, of which lots, what was measured, and how it was judged."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from random import Random

from generator.records.catalogue import Catalogue
from generator.records.parts import Check, Part
from tests.models.year.scene import CALLED_BACK, CALLED_BACK_ON, ENDS, LOTS, PARTS, WORN_NOZZLE, Printed

SCRAP = ("corner lifted off the plate", "stringing in the bore", "layer shifted", "surface torn where the support stood", "powder not fused at one edge")
GAUGES = {"caliper": "caliper C-07", "gauge": "plug gauge G-12"}


@dataclass(slots=True)
class Run:
    """One batch."""

    name: str
    part: str
    revision: str
    machine: str
    lots: list[str]
    count: int
    started: datetime
    ended: datetime
    grams: float
    events: list[dict[str, object]] = field(default_factory=list)
    left: int = 0
    """What still lies on the shelf."""
    released: date | None = None
    fits: dict[date, int] = field(default_factory=dict)


@dataclass(slots=True)
class Workshop:
    """The machines' days, and every batch so far."""

    catalogue: Catalogue
    chance: Random
    runs: list[Run] = field(default_factory=list)
    busy: dict[str, list[tuple[datetime, datetime]]] = field(default_factory=dict)
    used: dict[str, float] = field(default_factory=dict)
    """Grams taken of each lot."""

    def printed(self, number: str, needed: date, *, revision: str | None = None, size: int | None = None) -> Run | None:
        """A batch that is released before `needed`; None where no lot or machine is there."""
        part = self.catalogue.folder(number).part
        how = PARTS.get(number) or TRIED[number]
        count = size or how.size
        grams = round(how.grams * count * self.chance.uniform(0.98, 1.03))
        minutes = round(how.minutes * count * self.chance.uniform(0.95, 1.05)) + 25
        is_bureau = part.makers[0].startswith("sinter")
        target = _workday(needed - timedelta(days=14 if is_bureau else 6))
        machine, started = self._slot(part, minutes, target)
        lot = self._lot(part.material, started.date(), grams)
        if lot is None:
            return None
        ended = started + timedelta(minutes=minutes)
        self.busy.setdefault(machine, []).append((started, ended))
        self.used[lot] = self.used.get(lot, 0) + grams
        run = Run("", number, revision or part.revision, machine, [lot], count, started, ended, grams)
        self._judge(run, part)
        self.runs.append(run)
        return run

    def _lot(self, material: str, day: date, grams: float) -> str | None:
        """The oldest that is there, not past its last day, not blocked, and has enough left."""
        for name, lot in LOTS.items():
            is_good = lot.material == material and lot.received + timedelta(days=3) <= day <= (lot.use_by or day)
            is_stopped = name == CALLED_BACK and day >= CALLED_BACK_ON
            if is_good and not is_stopped and self.used.get(name, 0) + grams < lot.grams * 0.93:
                return name
        return None

    def _slot(self, part: Part, minutes: int, target: date) -> tuple[str, datetime]:
        """A machine that runs the material and is free, as late as the day allows."""
        machines = ["sinter-1"] if part.makers[0].startswith("sinter") else list(part.makers)
        self.chance.shuffle(machines)
        for back in range(40):
            day = _workday(target - timedelta(days=back))
            for machine in machines:
                for hour in (7, 13, 15):
                    started = datetime.combine(day, time(hour, self.chance.choice((5, 10, 20, 40))))
                    ended = started + timedelta(minutes=minutes + 20)
                    if all(ended <= one or other <= started for one, other in self.busy.get(machine, [])):
                        return machine, started
        raise SystemExit(f"no room for {part.number} before {target}")

    def _judge(self, run: Run, part: Part) -> None:
        chance, off = self.chance, _workday(run.ended.date() + timedelta(days=1))
        scrap = sum(chance.random() < 0.025 for _ in range(run.count))
        printer = "am-specialist"
        if scrap:
            run.events.append({"what": "scrapped", "on": off, "by": printer, "count": scrap, "why": chance.choice(SCRAP)})
        good = run.count - scrap
        machine, material, worn, anew = WORN_NOZZLE
        is_bad = (run.machine, part.material) == (machine, material) and worn <= run.started.date() < anew
        checked = _workday(off + timedelta(days=1))
        if checked > ENDS:
            run.left = 0
            return
        until = date(checked.year, 6, 30) if checked <= date(checked.year, 6, 30) else date(checked.year, 12, 31)
        run.events.append(
            {
                "what": "measured", "on": checked, "by": printer,
                "checks": [self._measured(each, good, until, is_bad=is_bad and at == 0) for at, each in enumerate(part.checks)],
            }
        )  # fmt: skip
        said = _workday(checked + timedelta(days=1))
        if is_bad:
            run.events.append({"what": "rejected", "on": said, "by": "quality", "why": f"{part.checks[0].name} out of its limits: the nozzle of bench-B was worn."})
            run.events.append({"what": "scrapped", "on": said, "by": printer, "count": good, "why": "rejected"})
            return
        run.events.append({"what": "released", "on": said, "by": "quality"})
        run.released, run.left = said, good

    def _measured(self, check: Check, good: int, until: date, *, is_bad: bool) -> dict[str, object]:
        sample = min(good, 5)
        gauge = GAUGES.get(check.measured_with, f"{check.measured_with} G-03")
        head: dict[str, object] = {"check": check.name}
        if check.measured_with == "gauge" and not is_bad:
            return head | {"passed": sample, "failed": 0, "gauge": gauge, "calibrated_until": until}
        middle, half = check.nominal_mm + (check.plus_mm - check.minus_mm) / 2, (check.plus_mm + check.minus_mm) / 2
        drift = half * 1.15 if is_bad else 0.0
        values = [round(middle + drift + max(-0.85, min(0.85, self.chance.gauss(0, 0.32))) * (0.1 if is_bad else 1) * half, 2) for _ in range(sample)]
        return head | {"values_mm": values, "gauge": gauge, "calibrated_until": until}


TRIED = {
    "TV-0207": Printed(size=14, minutes=16, grams=6.4, a_year=0, spots=("left, bush 1", "left, bush 2", "right, bush 1", "right, bush 2"), by="fitter-body"),
    "TV-0140": Printed(size=10, minutes=125, grams=83, a_year=0, spots=tuple(f"leading bogie, guide {n}" for n in range(1, 5)), by="fitter-running-gear"),
}
"""What is only fitted on trial."""


def _workday(day: date) -> date:
    """The day, or the Friday or Monday beside a weekend."""
    return day - timedelta(days=1) if day.weekday() == 5 else day + timedelta(days=1) if day.weekday() == 6 else day
