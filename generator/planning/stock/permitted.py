"""Until when, and under a trial how many, pieces of a part's own revision may be fitted.

The last day is asked of the judge itself, day by day on which something ends: of an approval, its papers, or a trial. What arrives after it may
not be fitted unless a renewal comes, so that no more is wanted by then than until it (need.py).

A trial is of so many pieces as it plans, and of no more than its vehicles have places for. Each piece that was fitted counts against its plan, also
one that came off: it was fitted and watched.
"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from generator.planning.holding.pieces import fitted_pieces
from generator.planning.holding.trials import Course, trials_of
from generator.records.catalogue import Catalogue
from generator.records.vehicles import vehicles_in
from generator.rules.grounds import Ground
from generator.rules.sheet import Sheet
from generator.rules.verdicts import Look, Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialRoom:
    """What a trial leaves, where nothing but trials permits a part."""

    planned: int
    """Pieces: as many as the trials plan, and no more than their vehicles have places for."""
    left: int
    """So many may still be fitted."""

    @property
    def fitted(self) -> int:
        return self.planned - self.left


@dataclass(frozen=True, slots=True, kw_only=True)
class Permitted:
    day: date
    """As on which it was asked."""
    last_day: date | None
    """The last day on which a piece may be fitted somewhere as the records stand; None: no end is in sight, or it may be fitted nowhere."""
    trial: TrialRoom | None
    """None where an approval permits it somewhere."""

    @property
    def days_left(self) -> int | None:
        """None without a last day."""
        return None if self.last_day is None else (self.last_day - self.day).days


def permitted(sheet: Sheet, catalogue: Catalogue, day: date) -> Permitted:
    own = [
        (ground, said)
        for ground, said in zip(sheet.grounds, sheet.judgements, strict=True)
        if not ground.label_revision and said.verdict is not Verdict.DO_NOT_FIT
    ]
    ends = [_last_day(ground, day) for ground, _ in own]
    is_tried = bool(own) and all(said.facts.permit == "trial" for _, said in own)
    return Permitted(
        day=day,
        last_day=max((each for each in ends if each), default=None) if all(ends) else None,
        trial=_room(sheet, [ground for ground, _ in own], catalogue, day) if is_tried else None,
    )


def _last_day(ground: Ground, day: date) -> date | None:
    """The day before the first on which a piece may be fitted there no more; None where that does not come."""
    for last in sorted(set(_ends(ground, day))):
        if ground.on(last + timedelta(days=1)).verdict is Verdict.DO_NOT_FIT:
            return last
    return None


def _ends(ground: Ground, day: date) -> Iterable[date]:
    """Each day from `day` on that ends something."""
    lasting = [taken.step.fact for taken in ground.on(day).steps if taken.step.test is Look.LASTS]
    for value in (getattr(facts, fact) for facts in ground.permits for fact in lasting):
        if isinstance(value, date) and day <= value < date.max:
            yield value


def _room(sheet: Sheet, grounds: list[Ground], catalogue: Catalogue, day: date) -> TrialRoom:
    """Of all trials of the part's own revision that run."""
    revision = sheet.part.revision if sheet.part else ""
    running = [each for each in trials_of(sheet.number, sheet.folder.approval, catalogue, day) if each.course is Course.RUNNING and each.event.revision == revision]
    sites = {(ground.fleet, vehicle, ground.place): ground.per_vehicle for ground in grounds for vehicle in vehicles_in(ground.vehicles)}
    pieces = fitted_pieces(catalogue.production, day).of(catalogue.production.of_part(sheet.number))
    sitting = Counter(each.spot[:3] for each in pieces if each.off_on is None)
    free, most = sum(max(count - sitting[site], 0) for site, count in sites.items()), sum(sites.values())
    plans = [each.event.planned_pieces for each in running]
    planned = sum(each for each in plans if each)
    if not planned or None in plans:
        return TrialRoom(planned=most, left=free)
    return TrialRoom(planned=min(planned, most), left=min(free, max(planned - sum(each.figures.pieces for each in running), 0)))
