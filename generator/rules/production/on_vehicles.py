"""What of the lines of fitted/*.csv cannot be, or must not have been? Each is a problem at its line.

What names something that there is not, or more pieces than there are, is an error for good. What should not have been done
(fitted where the part does not fit, before its release, after it was called back) is an error as long as the pieces sit
there, and a warning once they have come off: then it is history, and nobody can undo it. What somebody has found so on the
vehicle is a warning from the first day: it is there, and only what is written down is looked for.
"""

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from generator.records.batches import Batch
from generator.records.catalogue import Catalogue
from generator.records.fitted import FittedRow
from generator.records.fleets import Fleet
from generator.records.parts import Fit, Part
from generator.records.problems import Problem, Severity, Where, doubt, wrong
from generator.records.vehicles import read_alike, vehicles_in
from generator.rules.production.by_then import may_be_stopped, rejected_before, stopped_before
from generator.rules.production.moves import Day, RemovedTooMany, Sitting, VehiclePlace, compared, days
from generator.rules.production.refitted import scrapped_off
from generator.rules.production.states import Stopped, released_on, scrapped

_NO_SITE = ("no fleet", "no vehicle", "no place")
_MAY_BE_FOUND = ("FITTED05", "FITTED06", "FITTED07", "FITTED08", "FITTED09", "FITTED10", "FITTED15")


@dataclass(slots=True, kw_only=True)
class DepotKnown:
    """What lines are held against; None where the file that would tell cannot be read, so that nothing is said of it.

    What is asked again and again is remembered.
    """

    fleets: Mapping[str, Fleet] | None
    roles: Mapping[str, str] | None
    """By their names and ids."""
    parts: Mapping[str, Part]
    catalogue: Catalogue
    numbers: Mapping[str, frozenset[str]]
    """The vehicles of each fleet."""
    found: frozenset[str] = frozenset()
    """Batches that somebody found on a vehicle: they can come off, whatever the records say of them."""
    found_at: frozenset[tuple[VehiclePlace, str]] = frozenset()
    """These by the place of a vehicle: of a line before it nobody can tell any more whether its own pieces sit there."""
    off: Mapping[tuple[str, ...], list[FittedRow]] = field(default_factory=dict)
    """The lines by which a batch came off a place of a vehicle."""
    _named: dict[tuple[str, ...], tuple[Problem, ...]] = field(default_factory=dict)
    _fits: dict[tuple[str, ...], Fit | None] = field(default_factory=dict)
    _stoppable: dict[str, bool] = field(default_factory=dict)

    @classmethod
    def of(cls, catalogue: Catalogue, rows: Iterable[FittedRow]) -> "DepotKnown":
        depot = catalogue.depot
        return cls(
            fleets=catalogue.fleets if catalogue.fleets or fleets_are_read(catalogue) else None,
            roles={name: each.id for each in depot.roles for name in (each.id, each.name)} if depot else None,
            parts={each.number: each.part for each in reversed(catalogue.parts) if each.part},
            catalogue=catalogue,
            numbers={id_: frozenset(fleet.numbers) for id_, fleet in catalogue.fleets.items()},
            found=frozenset(row.batch for row in rows if row.as_found),
            found_at=frozenset((VehiclePlace(row.fleet, row.vehicle, row.place), row.batch) for row in rows if row.as_found),
            off=_off_by_place(rows),
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

    def spelt(self, name: str) -> str | None:
        """The batch that there is, whose number differs in zeros before it alone: a label has one way to be read."""
        return next((each for each in self.catalogue.production.batches if read_alike(each) == read_alike(name)), None)

    def is_unread(self, name: str) -> bool:
        return self.catalogue.production.may_be_unread("batches", name)


@dataclass(slots=True)
class _Gone:
    """How many pieces of each batch were taken to be fitted and came off by a day, as the days go by."""

    fitted: Counter[str] = field(default_factory=Counter)
    """From the stock: those that went on again (refitted.py) are not among them."""
    again: Counter[str] = field(default_factory=Counter)
    found: Counter[str] = field(default_factory=Counter)
    """Of what was found so on a vehicle, the pieces that no other line nor the stock accounts for may be so many."""
    first_found: dict[str, FittedRow] = field(default_factory=dict)
    off: defaultdict[str, Counter[date]] = field(default_factory=lambda: defaultdict(Counter))
    early: dict[str, FittedRow] = field(default_factory=dict)
    """The first line of a batch that is dated before its release."""


def row_problems(catalogue: Catalogue, rows: Iterable[FittedRow] | None = None) -> list[Problem]:
    """Everything that speaks against the catalogue's lines, or against `rows` in their place, in the order of the days.

    Nothing is asked here of the day of today: see `days_to_come`.
    """
    listed = tuple(catalogue.production.fitted if rows is None else rows)
    known, gone = DepotKnown.of(catalogue, listed), _Gone()
    found = [(row, problem) for row in listed for problem in known.unnamed(row)]
    astray = {id(row) for row, problem in found if not may_be_found(problem)}
    nowhere = {id(row) for row, problem in found if problem.key in _NO_SITE}  # what sat there nobody can say
    crowded: list[tuple[FittedRow, Problem]] = []
    crowds = _Crowds()
    sitting = Sitting()
    for day in days(listed):
        sitting = day.sitting
        found += [(each.row, _milder(_not_there(each, known), is_mild=_is_short_by_found(each.row, known))) for each in day.missing if id(each.row) not in nowhere]
        found += _none_left(day, known, gone)
        crowded += _too_many(day, known, crowds)
        found += [(row, each) for row in day.rows if row.batch and id(row) not in astray for each in _should_not(row, known)]
    found += crowded
    return [_weighed(row, problem, known, sitting).at(Where(row.file, row.line)) for row, problem in found]


def fleets_are_read(catalogue: Catalogue) -> bool:
    return not any(each.where.file == "fleets.yml" and each.severity is Severity.ERROR for each in catalogue.problems)


def to_come(rows: Iterable[FittedRow], today: date) -> list[Problem]:
    """Lines of a day that has not come yet."""
    return [
        wrong("FITTED11", "to come", where=Where(row.file, row.line), on=row.day) for row in rows if row.day > today
    ]


def _names(row: FittedRow, known: DepotKnown) -> Iterator[Problem]:
    """What the line names must exist."""
    if known.fleets is not None:
        fleet = known.fleets.get(row.fleet)
        if fleet is None:
            yield _meant(wrong("FITTED04", "no fleet", fleet=row.fleet, fleets=tuple(known.fleets)), row.fleet, {each: each for each in known.fleets})
        else:
            if row.vehicle not in known.numbers[row.fleet]:
                yield _meant(wrong("FITTED04", "no vehicle", vehicle=row.vehicle, fleet=row.fleet, has=fleet.vehicles), re.sub(r"\.0+$", "", row.vehicle), {each: each for each in known.numbers[row.fleet]})
            if all(row.place != place.id for place in fleet.places):
                yield _meant(wrong("FITTED04", "no place", place=row.place, fleet=row.fleet, places=tuple(each.id for each in fleet.places)), row.place, {name: each.id for each in fleet.places for name in (each.id, each.name)})
    if known.roles is not None and row.by not in known.roles.values():
        yield _meant(wrong("FITTED04", "no role", role=row.by, roles=tuple(sorted({*known.roles.values()}))), row.by, known.roles)
    for name in dict.fromkeys(filter(None, (row.batch, row.removed_batch))):
        if known.batch(name) is None and not known.is_unread(name) and (name == row.batch or name not in known.found):
            own = known.spelt(name)
            yield wrong("FITTED04", "other spelling", batch=name, own=own) if own else wrong("FITTED04", "no batch", batch=name)


def _meant(problem: Problem, said: str, called: Mapping[str, str]) -> Problem:
    """With what may be meant, where one alone is called so in another writing. called: names here, each by what it is called."""
    meant = {name for each, name in called.items() if read_alike(each) == read_alike(said)}
    return problem.mended("other name", near=min(meant)) if len(meant) == 1 else problem


def may_be_found(problem: Problem) -> bool:
    """Whether it speaks against what may be so on the vehicle all the same; the rest cannot be, or cannot be read."""
    return problem.code in _MAY_BE_FOUND or problem.key == "no batch"


def _not_there(missing: RemovedTooMany, known: DepotKnown) -> Problem:
    row = missing.row
    if not missing.sat and (other := _taken_by(row, known.off[_off_at(row)])):
        line = f"{other.file}:{other.line}"
        return wrong("FITTED10", "off already", batch=row.removed_batch, line=line, on=other.day, vehicle=row.vehicle, place=_place(row, known))
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


def _milder(problem: Problem, *, is_mild: bool) -> Problem:
    """A warning of a line that would be right without what was found so."""
    return replace(problem, severity=Severity.WARNING) if is_mild else problem


def _is_short_by_found(row: FittedRow, known: DepotKnown) -> bool:
    return any(each.as_found and each.day <= row.day for each in known.off[_off_at(row)])


def _off_by_place(rows: Iterable[FittedRow]) -> Mapping[tuple[str, ...], list[FittedRow]]:
    found: defaultdict[tuple[str, ...], list[FittedRow]] = defaultdict(list)
    for row in rows:
        if row.removed_batch:
            found[_off_at(row)].append(row)
    return found


def _off_at(row: FittedRow) -> tuple[str, ...]:
    return (row.fleet, row.vehicle, row.place, row.removed_batch)


def _taken_by(row: FittedRow, alike: Iterable[FittedRow]) -> FittedRow | None:
    """The last line that took the same batch off the same place by then."""
    here = compared(row.position)
    by_then = (each for each in alike if each is not row and each.day <= row.day and (not here or compared(each.position) in {"", here}))
    return max(by_then, key=lambda each: each.day, default=None)


def _none_left(day: Day, known: DepotKnown, gone: _Gone) -> Iterator[tuple[FittedRow, Problem]]:
    """The first line of a batch by which more is fitted than was printed and not scrapped by that day, and each after it.

    What was found so comes last: it takes no piece away from a line that is right.
    """
    for row, off in day.taken:
        gone.off[row.removed_batch][day.on] += off
    went = [(row, row.batch, row.count) for row in day.rows if row.batch]
    went += [(row, row.removed_batch, count) for row, count in day.unwritten]
    for row, name, count in sorted(went, key=lambda each: each[0].as_found) if known.found or day.unwritten else went:
        batch = known.batch(name)
        if batch and (problem := _drawn(row, name, batch, count, gone)):
            yield row, problem


def _drawn(row: FittedRow, name: str, batch: Batch, count: int, gone: _Gone) -> Problem | None:
    """What speaks against these pieces, which are counted as gone from now on."""
    before = gone.fitted[name]
    gone.fitted[name] += count
    if is_before_release(row, batch) and not row.as_found:
        gone.early.setdefault(name, row)
    if row.as_found:
        gone.found[name] += count
        gone.first_found.setdefault(name, row)
    events = [each for each in batch.events if each.on <= row.day]
    scrap, scrap_off = scrapped(events), scrapped_off(events, gone.off[name])
    left = batch.count - (scrap - scrap_off) - before
    if count <= left:
        return None
    again = max(min(count, count - left, gone.found[name], sum(gone.off[name].values()) - scrap_off), 0)
    if again:
        gone.fitted[name] -= again
        gone.found[name] -= again
        gone.off[name][row.day] -= again
    if again >= count - left:
        return doubt("FITTED07", "again", batch=name, count=count, again=again) if row.as_found else None
    ran_out = _ran_out(row, _Short(name, count, max(left, 0), batch.count, scrap), gone)
    return _milder(ran_out, is_mild=count - left - again <= gone.found[name])


@dataclass(frozen=True, slots=True)
class _Short:
    """More of a batch than there was."""

    batch: str
    count: int
    left: int
    printed: int
    scrap: int


def _ran_out(row: FittedRow, of: _Short, gone: _Gone) -> Problem:
    """With the first line of the batch that is dated before its release, or was found so, which may be the one that is wrong."""
    early, found = gone.early.get(of.batch), gone.first_found.get(of.batch)
    if early and early is not row:
        return wrong(
            "FITTED07", "none left since early", batch=of.batch, count=of.count, left=of.left, printed=of.printed, scrap=of.scrap,
            early=f"{early.file}:{early.line}", on=early.day,
        )  # fmt: skip
    if found and not row.as_found:
        return wrong(
            "FITTED07", "none left since found", batch=of.batch, count=of.count, left=of.left, printed=of.printed, scrap=of.scrap,
            found=f"{found.file}:{found.line}", on=found.day,
        )  # fmt: skip
    return wrong("FITTED07", "none left", batch=of.batch, count=of.count, left=of.left, printed=of.printed, scrap=of.scrap)


@dataclass(slots=True)
class _Crowds:
    """Where more of a part was found than one vehicle has there, as the days go by."""

    most: dict[tuple[VehiclePlace, str], int] = field(default_factory=dict)
    """So many were found there, and are there still."""
    found: Counter[tuple[VehiclePlace, str]] = field(default_factory=Counter)
    """Of what went on there what was found so."""


def _too_many(day: Day, known: DepotKnown, crowds: _Crowds) -> Iterator[tuple[FittedRow, Problem]]:
    """More of a part at a place than one vehicle has there, all its batches together, at the end of the day."""
    last: dict[tuple[VehiclePlace, str], FittedRow] = {}
    for row in day.rows:
        batch = known.batch(row.batch) if row.batch else None
        if batch:
            key = VehiclePlace(row.fleet, row.vehicle, row.place), batch.part
            last[key] = row if row.as_found or key not in last or not last[key].as_found else last[key]
            crowds.found[key] += row.count if row.as_found else 0
    for (site, number), row in last.items():
        fit = known.fit(number, row)
        count = _of_part(number, site, known, day.sitting) if fit else 0
        if fit and count > (fit.per_vehicle if row.as_found else crowds.most.get((site, number), fit.per_vehicle)):
            is_by_found = count - crowds.found[site, number] <= fit.per_vehicle
            if row.as_found or is_by_found:
                crowds.most[site, number] = count
            too_many = wrong(
                "FITTED06", "too many", part=number, count=count, most=fit.per_vehicle, vehicle=row.vehicle, place=_place(row, known),
            )  # fmt: skip
            yield row, _milder(too_many, is_mild=is_by_found)
    for (site, number), most in [*crowds.most.items()]:
        if (count := _of_part(number, site, known, day.sitting)) < most:
            crowds.most[site, number] = count


def _of_part(number: str, site: VehiclePlace, known: DepotKnown, sitting: Sitting) -> int:
    """Pieces of a part at a site, of all its batches."""
    found = sitting.at(site)
    return sum(count for name, count in found.items() if (batch := known.batch(name)) and batch.part == number)


def _should_not(row: FittedRow, known: DepotKnown) -> Iterator[Problem]:
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


def _weighed(row: FittedRow, problem: Problem, known: DepotKnown, sitting: Sitting) -> Problem:
    """A warning once the pieces have come off; what is wrong in itself stays an error."""
    if row.as_found and may_be_found(problem):
        problem = replace(problem, severity=Severity.WARNING)
    site = VehiclePlace(row.fleet, row.vehicle, row.place)
    match problem.code:
        case "FITTED05" | "FITTED08" | "FITTED09":
            stands = row.batch in sitting.at(site) and (site, row.batch) not in known.found_at
        case "FITTED06":
            batch = known.batch(row.batch)
            fit = known.fit(batch.part, row) if batch else None
            stands = bool(batch and fit and _of_part(batch.part, site, known, sitting) > fit.per_vehicle)
        case _:
            return problem
    if problem.key == "before release":
        return replace(problem, severity=Severity.WARNING)
    return problem if stands else replace(problem, severity=Severity.WARNING, mend="FITTED05.history")


def _place(row: FittedRow, known: DepotKnown) -> str:
    return known.catalogue.place_name(row.fleet, row.place)

