"""Which lots ask since their supplier's number is, or nearly is, that of one that is stopped: said of a batch, of a lot and beside a recall."""

from collections.abc import Iterable, Iterator

from generator.pages.on_vehicles.off_words import elsewhere_words
from generator.pages.wording import Wording
from generator.records.batches import Batch
from generator.records.catalogue import Catalogue
from generator.records.production import Production
from generator.rules.production.asking_beside import AskingPieces
from generator.rules.production.doubts import doubts_of
from generator.rules.production.same_delivery import (
    ASKED,
    StoppedDelivery,
    alike_numbers,
    asking_beside,
    numbers_of,
    same_beside,
    same_number,
    stopped_elsewhere,
)


def doubt_words(name: str, batch: Batch, catalogue: Catalogue, w: Wording) -> Iterator[str]:
    """What of a batch has to be asked about, with the numbers that are alike."""
    numbers = w("list_separator").join(alike_numbers(batch, catalogue.production))
    for each in doubts_of(name, batch, catalogue):
        about = w.term("piece_asked", each)
        yield f"{about} ({numbers})" if each in ASKED else about


def alike_words(lots: Iterable[str], production: Production, w: Wording) -> tuple[str, ...]:
    """Of each of these lots that asks: of which number here it may be more; and whose number under another material it has."""
    names = tuple(lots)
    told = ((name, numbers_of(name, production)) for name in names)
    same = ((name, each) for name in names if name in production.lots for each in same_number(production.lots[name], production, name))
    return (*(_words(name, numbers, production, w) for name, numbers in told if numbers), *(_same_words(*each, production, w) for each in same))


def beside_words(lot: str | None, production: Production, w: Wording) -> tuple[str, ...]:
    """Of a lot that is stopped: which others ask because of it, and which have its number under another material."""
    if lot is None:
        return ()
    asking = (_words(name, numbers, production, w) for name, numbers in asking_beside(lot, production))
    return (*asking, *(_same_words(name, other, production, w) for name, other in same_beside(lot, production)))


def _same_words(name: str, other: StoppedDelivery, production: Production, w: Wording) -> str:
    own, its = production.lots[name], production.lots[other.name]
    return w("same_number", name=name, material=own.material, number=own.supplier_lot, other=other.name, its=its.material, batches=_batches(name, production) or None)


def _batches(name: str, production: Production) -> list[str]:
    return sorted(each for each, batch in production.batches.items() if name in batch.lots)


def asking_rows(found: AskingPieces, catalogue: Catalogue, w: Wording) -> list[tuple[str, str, str, str, str, str]]:
    """Vehicle, place, position, batch, count and the lot because of which one asks: vehicles first, then what lies elsewhere."""
    why = {batch: w("asking.lot", lots=list(lots)) for batch, lots in found.lots.items()}
    rows = [
        (f"{each.spot.fleet} {each.spot.vehicle}", catalogue.place_name(each.spot.fleet, each.spot.place), each.spot.position, each.batch, w.number(each.count), why[each.batch])
        for each in found.spots
    ]
    return rows + [("–", elsewhere_words(each, catalogue, w), "", each.batch, w.number(each.count), why[each.batch]) for each in found.elsewhere]


def asking_sum(found: AskingPieces, w: Wording) -> str:
    """How many, on how many vehicles, and off them."""
    return w("asking.sum", pieces=w.number(found.pieces), vehicles=w.number(found.vehicles), off=w.number(found.off_vehicles))


def _words(name: str, numbers: Iterable[str], production: Production, w: Wording) -> str:
    others = dict.fromkeys(each.stop.recall or each.name for each in stopped_elsewhere(name, production))
    return w("alike", name=name, numbers=list(numbers), batches=_batches(name, production) or None, others=list(others))
