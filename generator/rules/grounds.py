"""May this part be fitted? The facts for every fleet, place and group of vehicles, and the verdict on a day."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import cache

from generator.geometry.sections import Walls
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.parts import Fit
from generator.records.problems import Problem
from generator.records.vehicles import as_ranges, vehicles_in
from generator.rules.basis import Basis
from generator.rules.binding import Bound
from generator.rules.contested import contested
from generator.rules.facts.case import Case, Copy
from generator.rules.facts.fields import EndingFacts, Facts, PermitFacts, PieceFacts, StockFacts
from generator.rules.facts.of_fire import FireFound, fire_found
from generator.rules.facts.of_papers import paper_facts
from generator.rules.facts.of_part import ending_facts, part_facts, stock_facts
from generator.rules.facts.of_permit import no_permit_facts, permit_facts
from generator.rules.facts.of_place import place_facts
from generator.rules.history import History
from generator.rules.permits import Permit, Tried, covers
from generator.rules.production.piece import UNKNOWN, of_any, of_batches
from generator.rules.verdicts import Judgement, judged_together


@dataclass(frozen=True, slots=True)
class Ground:
    """Vehicles of one fleet at one place that stand alike: the facts of each permit that speaks of them."""

    fleet: str
    place: str
    vehicles: tuple[str, ...]
    """Ranges such as '401-412'."""
    per_vehicle: int
    permits: tuple[Facts, ...]
    fire: FireFound
    """What the fire standard asks there and what answers it, under the newest permit; as all stands now where there is none."""
    pieces: tuple[Mapping[str, PieceFacts], ...]
    """What is known of a piece of each batch of the part, under each of the permits."""
    label_revision: str | None = None
    """Set where this speaks only of stock that carries the label of an earlier revision."""

    def on(self, day: date) -> Judgement:
        return judged_together(self.permits, day)

    def of_piece(self, batch: str, day: date, *, is_sure: bool = True) -> Judgement:
        """The same of a piece of that batch; where the catalogue has no such batch of the part, it is not known which it is.

        is_sure: whether it surely is that piece; what speaks against it counts, and nobody knows it where it is not.
        """
        found = (pieces.get(batch, UNKNOWN) for pieces in self.pieces)
        told = (each if is_sure else replace(each, piece=UNKNOWN.piece) for each in found)
        return judged_together((each.of_piece(piece) for each, piece in zip(self.permits, told, strict=True)), day)


@dataclass(frozen=True, slots=True)
class Spoken:
    """What speaks of the same vehicles: permits, newest first, and trials that have not passed, or not yet."""

    permits: tuple[Permit, ...]
    tried: tuple[Tried, ...]


def grounds(
    folder: PartFolder,
    catalogue: Catalogue,
    history: History,
    bound: Mapping[int, Bound],
    copy: Copy,
    *,
    problems: tuple[Problem, ...],
    walls: Walls | None = None,
) -> tuple[Ground, ...]:
    """Every fleet, place and group of vehicles that the part fits, with the facts of its permits.

    bound: what each permit binds against what is there now, by the permit's place in the record. problems: everything
    that is wrong with the part. walls: as measured of its model. A part whose record cannot be read has no ground: its page says "Do not fit" by itself.
    """
    if folder.part is None:
        return ()
    case = Case(
        folder=folder,
        part=folder.part,
        catalogue=catalogue,
        history=history,
        copy=copy,
        bound=bound,
        problems=problems,
        walls=walls,
        contested=contested(catalogue.materials),
    )
    pieces = _pieces_of(case)
    return tuple(ground for fit in folder.part.fits for ground in _grounds_of(case, fit, pieces))


Judged = tuple[Facts, FireFound, Permit | None]
Pieces = Callable[[str, str | None], tuple[PieceFacts, Mapping[str, PieceFacts]]]
"""What is known of any piece of a revision, and of those of each batch, under the text of a permit; None where there is none."""


def _pieces_of(case: Case) -> Pieces:
    """Each asked once: most grounds of a part stand under one permit."""
    number, catalogue, day = case.part.number, case.catalogue, case.copy.built_on

    @cache
    def under(revision: str, text: str | None) -> tuple[PieceFacts, Mapping[str, PieceFacts]]:
        known = of_batches(number, revision, text, catalogue, day)
        return of_any(number, revision, catalogue, day, known), known

    return under


def _grounds_of(case: Case, fit: Fit, pieces: Pieces) -> Iterator[Ground]:
    for vehicles, spoken in _groups(fit, case.catalogue, case.history):
        for label in (None, *(each for each in case.history.revisions if each != case.part.revision)):
            said = _facts_of_label(case, fit, spoken, label) if label else _own_facts(case, fit, spoken)
            known = [pieces(label or case.part.revision, permit.text if permit else None) for _, _, permit in said]
            yield Ground(
                fleet=fit.fleet,
                place=fit.place,
                vehicles=vehicles,
                per_vehicle=fit.per_vehicle,
                permits=tuple(facts.of_piece(anyone) for (facts, _, _), (anyone, _) in zip(said, known, strict=True)),
                fire=said[0][1],
                pieces=tuple(each for _, each in known),
                label_revision=label,
            )


def _own_facts(case: Case, fit: Fit, spoken: Spoken) -> tuple[Judged, ...]:
    """Of parts that are made as the record says now."""
    own, permits = case.part.revision, spoken.permits
    # What was approved of an earlier revision says nothing of this one, where this one has a permit of its own.
    speaking = [permit for permit in permits if permit.event.revision == own] or permits
    about = ending_facts(case, permits, own), stock_facts(case, own)
    said = tuple(
        (*_facts(case, fit, basis, about, permit_facts(case, permit, fit, basis, spoken.tried)), permit)
        for permit in speaking
        for basis in [case.basis_under(permit, fit)]
    )
    return said or ((*_facts(case, fit, case.basis(fit), about, no_permit_facts(case)), None),)


def _facts_of_label(case: Case, fit: Fit, spoken: Spoken, revision: str) -> tuple[Judged, ...]:
    """Stock printed before a change keeps the verdict of its own revision, told by its label.

    It is judged by what it was made of and for, not by what the part is made of now. Where no permit of that
    revision stands any more, its label is told as what must not be fitted.
    """
    own = [permit for permit in spoken.permits if permit.event.revision == revision and case.is_earlier(permit)]
    about = ending_facts(case, spoken.permits, revision), stock_facts(case, revision)
    said = tuple(
        (*_facts(case, fit, then, about, permit_facts(case, permit, fit, then, spoken.tried, own_text=True)), permit)
        for permit in own
        for then in [case.basis_of(permit, fit)]
    )
    if said:
        return said
    # The stage tells how the part stands, not the pieces of an earlier revision.
    nothing, fire = _facts(case, fit, case.basis(fit), about, no_permit_facts(case, revision))
    return ((replace(nothing, stage=None, stage_since=None), fire, None),)


def _facts(
    case: Case, fit: Fit, basis: Basis, about: tuple[EndingFacts, StockFacts], permit: PermitFacts
) -> tuple[Facts, FireFound]:
    fire, there = fire_found(case, fit, basis), place_facts(case, fit, basis)
    return Facts.of(part_facts(case), paper_facts(case, basis, fire), there, *about, permit), fire


def _groups(fit: Fit, catalogue: Catalogue, history: History) -> Iterable[tuple[tuple[str, ...], Spoken]]:
    """The vehicles of a fit, cut into groups that the same permits and trials speak of; newest permit first."""
    permits, tried = history.permits, history.tried
    fleet = catalogue.fleets.get(fit.fleet)
    every = vehicles_in(fit.vehicles) or (fleet.numbers if fleet else ())
    groups: dict[tuple[tuple[tuple[int, date | None], ...], tuple[int, ...]], list[str]] = defaultdict(list)
    for vehicle in every:
        where = fit.fleet, fit.place, vehicle
        own = tuple((i, each.until_newer(*where)) for i, each in enumerate(permits) if each.speaks_of(*where))
        groups[own, tuple(i for i, each in enumerate(tried) if covers(each.event.scope, *where))].append(vehicle)
    if not every:
        yield (), Spoken((), ())
    for (speaking, against), vehicles in groups.items():
        newest_first = tuple(permits[i].ending_on(until) for i, until in reversed(speaking))
        yield as_ranges(vehicles), Spoken(newest_first, tuple(tried[i] for i in against))
