"""Of what else could a part be made, where its own material fails or lacks fire evidence, and what would that change?

The same rules judge it as if the part were made so: its material is another, its maker one that prints that, all else
stays: walls, infill, places and what was chosen there. The fire engineer's statement that no test is asked, and his word
that the standard asks nothing, are of the part as it is: they are not taken over.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from generator.planning.fire_cases import Books, case_of, planned, word_of
from generator.planning.offers import Offer, cheapest_one, offers, offers_for
from generator.records.catalogue import Catalogue
from generator.records.fire import AsksNothing, Fire
from generator.records.makers import Maker, Process
from generator.records.materials import Material
from generator.records.parts import Fit, Part
from generator.rules.facts.case import Case, Copy
from generator.rules.facts.fields import OPEN
from generator.rules.facts.of_fire import FireFound, fire_found
from generator.rules.facts.of_papers import paper_facts
from generator.rules.fire.rows import FireAnswer, FireRow
from generator.rules.grounds import Ground
from generator.rules.sheet import Sheet, mass_of
from generator.rules.verdicts import Verdict


@dataclass(frozen=True, slots=True)
class NowAndThen:
    """A figure now and then; None is unknown."""

    now: float | None
    then: float | None

    @property
    def by(self) -> float | None:
        return None if self.now is None or self.then is None else self.then - self.now


@dataclass(frozen=True, slots=True, kw_only=True)
class Swap:
    """The part of another material by one maker."""

    material: str
    maker: Maker
    word: Verdict
    """The worst among its places, of the fire questions alone."""
    why: tuple[str, ...]
    """What asks, by keys of `terms.fire_asked`; none where all passes."""
    has_certificate: bool
    """Whether a certificate of it counts; without one no verdict is kinder than "Do not fit"."""
    fits_plate: bool | None
    process_now: tuple[Process, ...]
    mass_g: NowAndThen
    price_one: NowAndThen
    heat_deflection_c: NowAndThen
    tensile_modulus_mpa: NowAndThen
    """How stiff it is."""

    @property
    def passes(self) -> bool:
        return self.word is Verdict.FIT_IT


@dataclass(frozen=True, slots=True)
class Unanswered:
    """A part that fails or lacks fire evidence at some place."""

    sheet: Sheet
    places: tuple[Fit, ...]
    """Where it is not answered as it is."""
    swaps: tuple[Swap, ...]
    """Those that pass at each of its places first, then those that would ask; none where nothing else would do."""


def unanswered(sheets: Iterable[Sheet], catalogue: Catalogue, copy: Copy) -> Iterator[Unanswered]:
    """Every part that fire keeps from "Fit it" somewhere, with all papers that there are, and its alternatives."""
    books = Books.of(catalogue, copy)
    for sheet, part in planned(sheets):
        case = case_of(sheet, part, books)
        places = tuple(fit for fit in part.fits if word_of(fire_found(case, fit, case.basis(fit)), sheet, copy) is not Verdict.FIT_IT)
        if places:
            yield Unanswered(sheet, places, swaps(sheet, part, books))


def unanswered_part(sheet: Sheet, catalogue: Catalogue) -> Unanswered | None:
    """The same of one part; looked for only where a test of it does not pass now."""
    if all(_passes(row, ground) for ground in sheet.grounds for row in ground.fire.rows):
        return None
    told = sheet.grounds[0].permits[0]
    return next(unanswered((sheet,), catalogue, Copy(told.built_on, told.max_copy_age_days)), None)


def _passes(row: FireRow, ground: Ground) -> bool:
    return row.answer is FireAnswer.PASSES and row.until is not None and row.until >= ground.permits[0].built_on


def swaps(sheet: Sheet, part: Part, books: Books) -> tuple[Swap, ...]:
    """Every other material by every maker that can print the part of it, without those that would not pass at all."""
    found = [
        each
        for name, material in sorted(books.catalogue.materials.items())
        if name not in part.materials
        for maker in _makers_of(name, material, books.catalogue)
        for each in [_swap(sheet, part, name, maker, books)]
        if each.word is not Verdict.DO_NOT_FIT and each.fits_plate is not False
    ]
    return tuple(sorted(found, key=_best_first))


def _best_first(swap: Swap) -> tuple[bool, int, float, str, str]:
    price = swap.price_one.then
    return not swap.passes, len(swap.why), float("inf") if price is None else price, swap.material, swap.maker.id


def _makers_of(name: str, material: Material, catalogue: Catalogue) -> Iterator[Maker]:
    for maker in catalogue.makers.values():
        if name in maker.materials and maker.process in material.processes:
            yield maker


def _plain(price: Decimal | None) -> float | None:
    """As a figure beside others: nothing is summed up here."""
    return None if price is None else float(price)


def _swap(sheet: Sheet, part: Part, name: str, maker: Maker, books: Books) -> Swap:
    other, catalogue = _made_of(part, name, maker), books.catalogue
    case = case_of(sheet, other, books)
    found = [_found(case, fit) for fit in other.fits]
    offer = _offer(sheet, other, maker, catalogue)
    return Swap(
        material=name,
        maker=maker,
        word=max(word_of(each, sheet, books.copy) for each in found),
        why=tuple(dict.fromkeys(why for each in found for why in each.asked)),
        has_certificate=_is_certified(case),
        fits_plate=offer.fits_plate,
        process_now=_processes(part, catalogue),
        mass_g=NowAndThen(sheet.mass_g, offer.mass_g),
        price_one=NowAndThen(_plain(cheapest_one(offers_for(sheet, catalogue))), _plain(offer.price_one)),
        heat_deflection_c=_property("heat_deflection_c", part, name, catalogue),
        tensile_modulus_mpa=_property("tensile_modulus_mpa", part, name, catalogue),
    )


def _made_of(part: Part, name: str, maker: Maker) -> Part:
    fits = tuple(fit.model_copy(update={"fire": _without_statement(fit.fire)}) for fit in part.fits)
    changed = {"material": name, "makers": (maker.id,), "fire": _without_statement(part.fire), "fits": fits}
    return part.model_copy(update=changed)


def _without_statement(fire: Fire | None) -> Fire | None:
    return fire.model_copy(update={"exemption": None}) if fire else None


def _found(case: Case, fit: Fit) -> FireFound:
    """What answers there; that nothing is asked was said of the part as it is."""
    basis = case.basis(fit)
    found = fire_found(case, fit, basis)
    nothing = basis.fire.asks_nothing if basis.fire else None
    if nothing is AsksNothing.NON_COMBUSTIBLE and (basis.material is None or basis.material.combustible):
        return FireFound(need=None)
    return replace(found, asked=(*found.asked, "said of another")) if nothing else found


def _is_certified(case: Case) -> bool:
    """Whether a certificate of the material counts at each place."""
    bases = [(fit, case.basis(fit)) for fit in case.part.fits]
    ends = (paper_facts(case, basis, fire_found(case, fit, basis)).certificate_until for fit, basis in bases)
    return all(end is OPEN or (isinstance(end, date) and end >= case.copy.built_on) for end in ends)


def _offer(sheet: Sheet, part: Part, maker: Maker, catalogue: Catalogue) -> Offer:
    mass = mass_of(part, sheet.mesh, catalogue) if sheet.mesh else None
    return offers((maker,), sheet.mesh.oriented_size_mm if sheet.mesh else None, mass)[0]


def _processes(part: Part, catalogue: Catalogue) -> tuple[Process, ...]:
    return tuple(dict.fromkeys(catalogue.makers[name].process for name in part.makers if name in catalogue.makers))


def _property(name: str, part: Part, other: str, catalogue: Catalogue) -> NowAndThen:
    now = catalogue.materials.get(part.material)
    return NowAndThen(getattr(now.properties, name) if now else None, getattr(catalogue.materials[other].properties, name))
