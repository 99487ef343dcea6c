"""What was fitted: repairs as things fail, overhauls as planned, trials, and what came off again."""

from __future__ import annotations

import heapq
from collections import defaultdict
from dataclasses import dataclass, field
from datetime import date, timedelta
from random import Random

from generator.records.catalogue import Catalogue
from generator.records.vehicles import vehicles_in
from tests.models.year.prints import TRIED, Run, Workshop
from tests.models.year.scene import (
    ALSO_PRINTED,
    BEGINS,
    BRITTLE_BATCH_OF,
    CALLED_BACK,
    CALLED_BACK_ON,
    ENDS,
    OVERHAULED,
    OVERHAULS,
    PARTS,
    Printed,
)

FREE = ((1, 1), (12, 25), (12, 26), (5, 1))
Spot = tuple[str, str, str, str, str]
"""Part, fleet, vehicle, place, position."""


@dataclass(slots=True)
class Line:
    """One line of fitted/<year>.csv."""

    day: date
    spot: Spot
    batch: str = ""
    count: int = 0
    removed_batch: str = ""
    removed: int = 0
    why: str = ""
    by: str = ""


@dataclass(slots=True)
class Fleet:
    """Everything that happens to the vehicles, day by day."""

    catalogue: Catalogue
    shop: Workshop
    chance: Random
    lines: list[Line] = field(default_factory=list)
    sitting: dict[Spot, Run] = field(default_factory=dict)
    due: list[tuple[date, int, str, Spot]] = field(default_factory=list)
    _order: int = 0

    def lived(self) -> None:
        """The whole year."""
        for number, how in PARTS.items():
            spots = self._spots(number, how)
            for _ in range(how.a_year):
                self._plan(self._day(how.first, how.last), "fails", self.chance.choice(spots))
        for begins, fleet, vehicle in OVERHAULS:
            for number, most in OVERHAULED.items():
                here = [each for each in self._spots(number, PARTS[number]) if each[1:3] == (fleet, vehicle)][:most]
                for spot in here:
                    self._plan(begins + timedelta(days=self.chance.choice((1, 2, 3, 4, 7, 8, 9))), "overhaul", spot)
        for vehicle in ("404", "406", "409"):
            self._trial("TV-0207", vehicle, "cab-front", date(2026, 2, 24), date(2026, 8, 24))
        for vehicle in ("403", "407"):
            self._trial("TV-0140", vehicle, "bogie", date(2026, 10, 7), None)
        for number, wanted in ALSO_PRINTED:
            self._plan(wanted - timedelta(days=1) if wanted <= ENDS else ENDS, "print", (number, "", "", "", ""))
        while self.due:
            day, _, what, spot = heapq.heappop(self.due)
            if day <= ENDS and day.weekday() < 5 and (day.month, day.day) not in FREE:
                self._happens(day, what, spot)
            elif day <= ENDS:
                self._plan(day + timedelta(days=2), what, spot)
        self._called_back()
        self.lines.sort(key=lambda line: line.day)

    def _spots(self, number: str, how: Printed) -> list[Spot]:
        part = self.catalogue.folder(number).part
        found = []
        for fit in part.fits:
            fleet = self.catalogue.fleets[fit.fleet]
            if (number, fit.fleet) == ("TV-0231", "W2"):
                continue  # is asked about first
            for vehicle in vehicles_in(fit.vehicles) or fleet.numbers:
                found += [(number, fit.fleet, vehicle, fit.place, position) for position in how.spots[: fit.per_vehicle]]
        return found

    def _day(self, first: date, last: date) -> date:
        begins = max(first, BEGINS + timedelta(days=20))
        return begins + timedelta(days=self.chance.randrange((last - begins).days))

    def _plan(self, day: date, what: str, spot: Spot) -> None:
        self._order += 1
        heapq.heappush(self.due, (day, self._order, what, spot))

    def _trial(self, number: str, vehicle: str, place: str, begins: date, ends: date | None) -> None:
        for at, position in enumerate(TRIED[number].spots):
            spot = (number, "TR4", vehicle, place, position)
            self._plan(begins + timedelta(days=int(vehicle) % 3), "trial", spot)
            if ends:
                early = self.chance.randrange(118, 160)
                is_worn = at in (0, 2) or vehicle == "406"
                self._plan(begins + timedelta(days=early) if is_worn else ends, "trial worn" if is_worn else "trial ends", spot)

    def _happens(self, day: date, what: str, spot: Spot) -> None:
        number = spot[0]
        if what == "print":
            self._made(number, next(wanted for part, wanted in ALSO_PRINTED if part == number))
            return
        how = PARTS.get(number) or TRIED[number]
        own = self.sitting.pop(spot, None)
        if what in ("trial worn", "trial ends"):
            if own:
                self.lines.append(Line(day, spot, removed_batch=own.name, removed=1, why="worn" if what == "trial worn" else "campaign", by=how.by))
            return
        if own and what in ("fails", "overhaul"):
            self.sitting[spot] = own  # one that is new already stays
            return
        if own is None and what == "own fails":
            return
        if day > how.last:
            return
        why = "campaign" if what == "overhaul" else self.chance.choice(("broken", "broken", "worn"))
        run = self._taken(number, day)
        line = Line(day, spot, by=how.by)
        if what != "trial":
            line.removed, line.why = 1, why
            line.removed_batch = own.name if own else ""
        if run:
            line.batch, line.count = run.name, 1
            self._sits(day, spot, run, how)
        if line.count or line.removed:
            self.lines.append(line)

    def _sits(self, day: date, spot: Spot, run: Run, how: Printed) -> None:
        self.sitting[spot] = run
        run.left -= 1
        run.fits[day] = run.fits.get(day, 0) + 1
        if spot[0] in TRIED:
            return
        of_part = [each for each in self.shop.runs if each.part == spot[0]]
        is_brittle = spot[0] == BRITTLE_BATCH_OF and of_part.index(run) == 1
        share = 0.75 if is_brittle else how.fails
        if self.chance.random() < share:
            after = self.chance.randrange(25, 150) if is_brittle else self.chance.randrange(20, 330)
            self._plan(day + timedelta(days=after), "own fails", spot)

    def _taken(self, number: str, day: date) -> Run | None:
        """A piece off the shelf, the oldest batch first; where none is left a new batch has been printed in time."""
        for run in self.shop.runs:
            is_good = run.part == number and run.left > 0 and run.released and run.released <= day
            if is_good and not (CALLED_BACK in run.lots and day >= CALLED_BACK_ON):
                return run
        made = self._made(number, day)
        return made if made and made.released and made.released <= day else None

    def _made(self, number: str, day: date) -> Run | None:
        made = self.shop.printed(number, day, revision="A" if number in ("TV-0136", "TV-0207") else None)
        if made:
            made.name = f"new-{len(self.shop.runs)}"
        return made

    def _called_back(self) -> None:
        """Of what was printed from the lot that is called back most has come off by now."""
        days: defaultdict[str, date] = defaultdict(lambda: CALLED_BACK_ON)
        for spot, run in sorted(self.sitting.items()):
            if CALLED_BACK not in run.lots:
                continue
            if days[spot[2]] is CALLED_BACK_ON:
                days[spot[2]] = CALLED_BACK_ON + timedelta(days=self.chance.choice((2, 3, 4, 8, 9, 11, 16, 24, 31, 60, 70, 80)))
            day = days[spot[2]]
            if day <= ENDS:
                how = PARTS[spot[0]]
                self.lines.append(Line(day, spot, removed_batch=run.name, removed=1, why="campaign", by=how.by))
