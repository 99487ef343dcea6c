"""What of the lines of fitted/*.csv cannot be, or must not have been? Each is a problem at its line.

What names something that there is not, or more pieces than there are, is an error for good. What should not have been done
(fitted where the part does not fit, before its release, after it was called back) is an error as long as the pieces sit
there, and a warning once they have come off: then it is history, and nobody can undo it.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from generator.records.batches import Batch
from generator.records.catalogue import Catalogue
from generator.records.fitted import FittedRow
from generator.records.fleets import Fleet
from generator.records.parts import Fit, Part
from generator.records.problems import Problem, Severity, Where, wrong
from generator.records.vehicles import vehicles_in
from generator.rules.production.by_then import may_be_stopped, rejected_before, stopped_before
from generator.rules.production.ledger import scrapped_off
from generator.rules.production.moves import Day, Missing, Site, Sitting, days
from generator.rules.production.states import Stopped, released_on, scrapped


@dataclass(slots=True, kw_only=True)
class Known:
    """What lines are held against; None where the file that would tell cannot be read, so that nothing is said of it.

    What is asked again and again is remembered.
    """

    fleets: Mapping[str, Fleet] | None
    roles: frozenset[str] | None
    parts: Mapping[str, Part]
    catalogue: Catalogue
    numbers: Mapping[str, frozenset[str]]
    """The vehicles of each fleet."""
    _named: dict[tuple[str, ...], tuple[Problem, ...]] = field(default_factory=dict)
    _fits: dict[tuple[str, ...], Fit | None] = field(default_factory=dict)
    _stoppable: dict[str, bool] = field(default_factory=dict)

    @classmethod
    def of(cls, catalogue: Catalogue) -> "Known":
        depot = catalogue.depot
        is_read = not any(each.where.file == "fleets.yml" and each.severity is Severity.ERROR for each in catalogue.problems)
        return cls(
            fleets=catalogue.fleets if catalogue.fleets or is_read else None,
            roles=frozenset(each.id for each in depot.roles) if depot else None,
            parts={each.number: each.part for each in reversed(catalogue.parts) if each.part},
            catalogue=catalogue,
            numbers={id_: frozenset(fleet.numbers) for id_, fleet in catalogue.fleets.items()},
        )

    def batch(self, name: str) -> Batch | None:
        return self.catalogue.production.batches.get(name)

    def unnamed(self, row: FittedRow) -> tuple[Problem, ...]:
        """What the line names that there is not."""
        key = (row.fleet, row.vehicle, row.place, row.by, row.batch, row.removed_batch)
        if key not in self._named:
            self._named[key] = tuple(_names(row, self))
        return self._named[key]

    def fit(self, number: str, row: FittedRow) -> Fit | None:
        """Where the part's record says that it sits at the place of the line, on that vehicle."""
        key = (number, row.fleet, row.place, row.vehicle)
        if key not in self._fits:
            part = self.parts.get(number)
            there = (fit for fit in (part.fits if part else ()) if (fit.fleet, fit.place) == (row.fleet, row.place))
            self._fits[key] = next((fit for fit in there if not fit.vehicles or row.vehicle in vehicles_in(fit.vehicles)), None)
        return self._fits[key]

    def stopped(self, row: FittedRow, batch: Batch) -> Stopped | None:
        """What kept the batch of the line from being fitted by then."""
        production = self.catalogue.production
        if row.batch not in self._stoppable:
            self._stoppable[row.batch] = may_be_stopped(row.batch, batch, production)
        return stopped_before(row.batch, batch, production, row.day) if self._stoppable[row.batch] else None

    def is_unread(self, name: str) -> bool:
        return f"batches/{name}.yml" in self.catalogue.production.unread


@dataclass(slots=True)
class _Gone:
    """How many pieces of each batch went on and came off by a day, as the days go by."""

    fitted: Counter[str] = field(default_factory=Counter)
    off: defaultdict[str, Counter[date]] = field(default_factory=lambda: defaultdict(Counter))
    early: dict[str, FittedRow] = field(default_factory=dict)
    """The first line of a batch that is dated before its release."""


def row_problems(catalogue: Catalogue, rows: Iterable[FittedRow] | None = None) -> list[Problem]:
    """Everything that speaks against the catalogue's lines, or against `rows` in their place, in the order of the days.

    Nothing is asked here of the day of today: see `days_to_come`.
    """
    known, gone = Known.of(catalogue), _Gone()
    listed = tuple(catalogue.production.fitted if rows is None else rows)
    found = [(row, problem) for row in listed for problem in known.unnamed(row)]
    astray = {id(row) for row, _ in found}
    crowded: list[tuple[FittedRow, Problem]] = []
    sitting = Sitting()
    for day in days(listed):
        sitting = day.sitting
        found += [(each.row, _not_there(each, known)) for each in day.missing]
        found += _none_left(day, known, gone)
        crowded += _too_many(day, known)
        found += [(row, each) for row in day.rows if row.batch and id(row) not in astray for each in _should_not(row, known)]
    found += crowded
    return [_weighed(row, problem, known, sitting).at(Where(row.file, row.line)) for row, problem in found]


def to_come(rows: Iterable[FittedRow], today: date) -> list[Problem]:
    """Lines of a day that has not come yet."""
    return [
        wrong("FITTED11", "to come", where=Where(row.file, row.line), on=row.day) for row in rows if row.day > today
    ]


def _names(row: FittedRow, known: Known) -> Iterator[Problem]:
    """What the line names must exist."""
    if known.fleets is not None:
        fleet = known.fleets.get(row.fleet)
        if fleet is None:
            yield wrong("FITTED04", "no fleet", fleet=row.fleet, fleets=tuple(known.fleets))
        else:
            if row.vehicle not in known.numbers[row.fleet]:
                yield wrong("FITTED04", "no vehicle", vehicle=row.vehicle, fleet=row.fleet, has=fleet.vehicles)
            if all(row.place != place.id for place in fleet.places):
                yield wrong("FITTED04", "no place", place=row.place, fleet=row.fleet, places=tuple(each.id for each in fleet.places))
    if known.roles is not None and row.by not in known.roles:
        yield wrong("FITTED04", "no role", role=row.by, roles=tuple(sorted(known.roles)))
    for name in dict.fromkeys(filter(None, (row.batch, row.removed_batch))):
        if known.batch(name) is None and not known.is_unread(name):
            yield wrong("FITTED04", "no batch", batch=name)


def _not_there(missing: Missing, known: Known) -> Problem:
    row = missing.row
    if missing.elsewhere:
        return wrong(
            "FITTED10", "other position", removed=row.removed, batch=row.removed_batch, sat=missing.sat, vehicle=row.vehicle,
            place=_place(row, known), position=row.position or "-", positions=tuple(each or "-" for each in missing.elsewhere),
        )  # fmt: skip
    if not missing.sat:
        return wrong("FITTED10", "never there", batch=row.removed_batch, vehicle=row.vehicle, place=_place(row, known))
    return wrong(
        "FITTED10", "more than sits there", removed=row.removed, batch=row.removed_batch, sat=missing.sat, vehicle=row.vehicle,
        place=_place(row, known),
    )  # fmt: skip


def _none_left(day: Day, known: Known, gone: _Gone) -> Iterator[tuple[FittedRow, Problem]]:
    """The first line of a batch by which more is fitted than was printed and not scrapped by that day, and each after it."""
    for row, off in day.taken:
        gone.off[row.removed_batch][day.on] += off
    for row in day.rows:
        batch = known.batch(row.batch) if row.batch else None
        if batch is None:
            continue
        before = gone.fitted[row.batch]
        gone.fitted[row.batch] += row.count
        if is_before_release(row, batch):
            gone.early.setdefault(row.batch, row)
        events = [each for each in batch.events if each.on <= day.on]
        scrap = scrapped(events)
        left = batch.count - (scrap - scrapped_off(events, gone.off[row.batch])) - before
        if row.count > left:
            yield row, _ran_out(row, batch, max(left, 0), scrap, gone.early.get(row.batch))


def _ran_out(row: FittedRow, batch: Batch, left: int, scrap: int, early: FittedRow | None) -> Problem:
    """early: the first line of the batch that is dated before its release, which may be the one that is wrong."""
    if early is None or early is row:
        return wrong("FITTED07", "none left", batch=row.batch, count=row.count, left=left, printed=batch.count, scrap=scrap)
    return wrong(
        "FITTED07", "none left since early", batch=row.batch, count=row.count, left=left, printed=batch.count, scrap=scrap,
        early=f"{early.file}:{early.line}", on=early.day,
    )  # fmt: skip


def _too_many(day: Day, known: Known) -> Iterator[tuple[FittedRow, Problem]]:
    """More of a part at a place than one vehicle has there, all its batches together, at the end of the day."""
    last: dict[tuple[Site, str], FittedRow] = {}
    for row in day.rows:
        batch = known.batch(row.batch) if row.batch else None
        if batch:
            last[Site(row.fleet, row.vehicle, row.place), batch.part] = row
    for (site, number), row in last.items():
        fit = known.fit(number, row)
        count = _of_part(number, site, known, day.sitting) if fit else 0
        if fit and count > fit.per_vehicle:
            yield row, wrong(
                "FITTED06", "too many", part=number, count=count, most=fit.per_vehicle, vehicle=row.vehicle, place=_place(row, known),
            )  # fmt: skip


def _of_part(number: str, site: Site, known: Known, sitting: Sitting) -> int:
    """Pieces of a part at a site, of all its batches."""
    found = sitting.at(site)
    return sum(count for name, count in found.items() if (batch := known.batch(name)) and batch.part == number)


def _should_not(row: FittedRow, known: Known) -> Iterator[Problem]:
    """What was fitted where it does not fit, before its release, or after it was rejected or called back."""
    batch = known.batch(row.batch)
    if batch is None:
        return
    part = known.parts.get(batch.part)
    if part and not any((fit.fleet, fit.place) == (row.fleet, row.place) for fit in part.fits):
        yield wrong("FITTED05", "no fit", part=batch.part, batch=row.batch, fleet=row.fleet, place=_place(row, known))
    elif part and known.fit(batch.part, row) is None:
        yield wrong("FITTED05", "not this vehicle", part=batch.part, batch=row.batch, vehicle=row.vehicle, place=_place(row, known))
    yield from _unreleased(row, batch)
    stop = known.stopped(row, batch)
    if stop and stop.recall:
        yield wrong("FITTED09", "called back", batch=row.batch, on=stop.on, recall=stop.recall, vehicle=row.vehicle, place=_place(row, known))
    elif stop:
        yield wrong("FITTED09", "lot blocked", batch=row.batch, on=stop.on, lot=stop.lot, vehicle=row.vehicle, place=_place(row, known))


def is_before_release(row: FittedRow, batch: Batch) -> bool:
    """Whether a line is dated before the batch was released for the first time."""
    first = released_on(batch)
    return first is not None and row.day < first


def _unreleased(row: FittedRow, batch: Batch) -> Iterator[Problem]:
    rejected = rejected_before(batch, row.day)
    first = released_on(batch)
    if rejected:
        yield wrong("FITTED08", "rejected", batch=row.batch, on=rejected.on, vehicle=row.vehicle)
    elif first is None:
        yield wrong("FITTED08", "never released", batch=row.batch, vehicle=row.vehicle)
    elif is_before_release(row, batch):
        yield wrong("FITTED08", "before release", batch=row.batch, on=first, vehicle=row.vehicle)


def _weighed(row: FittedRow, problem: Problem, known: Known, sitting: Sitting) -> Problem:
    """A warning once the pieces have come off; what is wrong in itself stays an error."""
    site = Site(row.fleet, row.vehicle, row.place)
    match problem.code:
        case "FITTED05" | "FITTED08" | "FITTED09":
            stands = row.batch in sitting.at(site)
        case "FITTED06":
            batch = known.batch(row.batch)
            fit = known.fit(batch.part, row) if batch else None
            stands = bool(batch and fit and _of_part(batch.part, site, known, sitting) > fit.per_vehicle)
        case _:
            return problem
    if problem.key == "before release":
        return replace(problem, severity=Severity.WARNING)
    return problem if stands else replace(problem, severity=Severity.WARNING, mend="FITTED05.history")


def _place(row: FittedRow, known: Known) -> str:
    return known.catalogue.place_name(row.fleet, row.place)

