"""Which lot, batch, part, machine or vehicle of the catalogue is named, as leniently as the pages read it; what it does not know is refused."""

from collections.abc import Iterable

from generator.edge.commands import options as asking
from generator.edge.commands.terminal import Terminal
from generator.edge.meant import batch_meant, name_meant, near
from generator.edge.refusals import Ending, refused
from generator.records.catalogue import Catalogue
from generator.records.vehicles import read_alike
from generator.rules.production.same_delivery import called_by_supplier

_MOST_NAMED = 12


def lot_known(typed: str, catalogue: Catalogue) -> str:
    """As the catalogue writes it. Raises Refusal; so do the two below."""
    production = catalogue.production
    called = {recall.lot for recall in production.recalls.values() if recall.lot}
    every = {*production.lots, *called, *(lot for batch in production.batches.values() for lot in batch.lots)}
    if name_meant(typed, every) is None and (supplied := called_by_supplier(typed, production)):
        raise refused("lot_of_supplier", Ending.MISUSE, name=typed, known=supplied)
    return known("lot", typed, every)


def batch_known(typed: str, catalogue: Catalogue) -> str:
    """One that sits on a vehicle or is called back is known, too. A whole label is read, where it agrees with the batch."""
    production = catalogue.production
    sits = {each: "" for row in production.fitted for each in (row.batch, row.removed_batch) if each}
    sits |= {recall.batch: "" for recall in production.recalls.values() if recall.batch}
    parts = sits | {name: batch.part for name, batch in production.batches.items()}
    return _told(typed, batch_meant(typed, parts, (each.number for each in catalogue.parts)), "batch", parts)


def part_known(typed: str, catalogue: Catalogue) -> str:
    numbers = {each.number for each in catalogue.parts} | {batch.part for batch in catalogue.production.batches.values()}
    return known("part", typed, numbers)


def known(kind: str, typed: str, names: Iterable[str]) -> str:
    """As the catalogue writes it, as leniently as the pages read it."""
    every = set(names)
    return _told(typed, name_meant(typed, every), kind, every)


def _told(typed: str, found: str | None, kind: str, names: Iterable[str]) -> str:
    if found is None:
        every = sorted(names)
        raise refused(f"trace_{kind}", Ending.MISUSE, near=near(typed, every), name=typed, known=[*every[:_MOST_NAMED], *(["…"] if every[_MOST_NAMED:] else [])])
    asking.tell_meant(Terminal(), typed, found)
    return found


def _vehicles_meant(typed: str, there: Iterable[tuple[str, str]]) -> list[tuple[str, str]]:
    """By its number, or as the tables name it, behind its fleet; in another writing where none has that one."""
    every = list(there)
    exact = [each for each in every if each[1] == typed or " ".join(each) == typed]
    said = read_alike(typed.strip())
    return exact or [each for each in every if said in {read_alike(each[1]), read_alike(" ".join(each))}]


def vehicle_known(typed: str, in_fleet: str | None, catalogue: Catalogue) -> tuple[str, str]:
    """Of the fleets, or of lines that stand: a vehicle that has gone since carried pieces all the same."""
    every = {(fleet.id, number) for fleet in catalogue.fleets.values() for number in fleet.numbers}
    every |= {(row.fleet, row.vehicle) for row in catalogue.production.fitted}
    there = sorted(each for each in every if in_fleet is None or each[0].casefold() == in_fleet.casefold())
    if not there:
        raise refused("trace_no_fleet", Ending.MISUSE, name=in_fleet or "-", known=sorted({fleet for fleet, _ in every}))
    found = _vehicles_meant(typed, there)
    if len(found) == 1:
        return found[0]
    if found:
        raise refused("trace_two_fleets", Ending.MISUSE, name=typed, known=[fleet for fleet, _ in found])
    fleets = [each for each in catalogue.fleets.values() if any(each.id == fleet for fleet, _ in there)]
    raise refused("trace_vehicle", Ending.MISUSE, name=typed, known=[f"{each.id} {', '.join(each.vehicles)}" for each in fleets])
