"""What of the record of a lot, a machine or a recall cannot be right, by itself?

Each is a problem by its path in the record.
"""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from itertools import pairwise
from typing import Protocol

from generator.records.base import as_compared
from generator.records.free_texts import is_void
from generator.records.lots import Blocked, Compared, Dried, Lot, Opened, Received, Unblocked, UsedUp
from generator.records.machines import CouponProperty, Machine
from generator.records.makers import Maker
from generator.records.materials import Material
from generator.records.problems import Problem, doubt, wrong
from generator.records.production import Production
from generator.records.recalls import CalledBack, Recall
from generator.rules.blank import blank_texts
from generator.rules.lasting import is_unusually_long

_BELOW_NOTHING = frozenset({CouponProperty.DEVIATION})
"""Properties that may be less than nothing."""


class _Dated(Protocol):
    @property
    def on(self) -> date: ...


def lot_record_faults(lot: Lot) -> Iterator[Problem]:
    """Its documents and its events."""
    for at, paper in enumerate(lot.inspection_documents):
        if as_compared(paper.lot) != as_compared(lot.supplier_lot):
            yield wrong("LOT01", "other lot", path=("inspection_documents", at, "lot"), told=paper.lot, own=lot.supplier_lot)
    received = [each.on for each in lot.events if isinstance(each, Received)]
    if received and lot.use_by and lot.use_by < received[0]:
        yield doubt("LOT01", "use by", path=("use_by",), on=lot.use_by, received=received[0])
    elif received and lot.use_by and is_unusually_long(received[0], lot.use_by):
        yield doubt("LOT01", "use by long", path=("use_by",), on=lot.use_by, received=received[0])
    for at, before in _backwards(lot.events):
        yield wrong("LOT02", "backwards", path=("events", at, "on"), on=lot.events[at].on, before=before)
    yield from _lot_events(lot)
    yield from blank_texts(lot)


def shared_documents(name: str, lot: Lot, production: Production) -> Iterator[Problem]:
    """Documents that another lot has as its own: one file speaks of one lot, of which there may be several deliveries; whose it is nobody knows here."""
    for at, paper in enumerate(lot.inspection_documents):
        others = [other for other, each in production.lots.items() if other != name and has_document(each, paper.sha256) and not is_same_lot(each, lot)]
        if others:
            yield wrong("LOT01", "shared", path=("inspection_documents", at, "file"), others=sorted(others))


def has_document(lot: Lot, sha256: str) -> bool:
    return any(each.sha256 == sha256 for each in lot.inspection_documents)


def is_same_lot(one: Lot, other: Lot) -> bool:
    """Whether they are deliveries of one lot of the supplier's."""
    return (one.material, as_compared(one.supplier_lot)) == (other.material, as_compared(other.supplier_lot))


def _lot_events(lot: Lot) -> Iterator[Problem]:
    blocked = used_up = opened = was_received = False
    papers = {each.sha256 for each in lot.inspection_documents}
    keeps_opening = any(isinstance(each, Opened) for each in lot.events)
    for at, each in enumerate(lot.events):
        path = ("events", at, "what")
        if isinstance(each, Received):
            if was_received:
                yield wrong("LOT02", "received twice", path=path)
            elif at:
                yield wrong("LOT02", "not first", path=path)
            was_received = True
        elif isinstance(each, Unblocked) and not blocked:
            yield wrong("LOT02", "no block", path=path)
        elif isinstance(each, Compared) and each.sha256 not in papers:
            yield wrong("LOT02", "no such document", path=("events", at, "sha256"), reference=each.reference)
        elif isinstance(each, UsedUp) and used_up:
            yield wrong("LOT02", "used up twice", path=path)
        elif isinstance(each, Opened | Dried) and used_up:
            yield wrong("LOT02", "after its end", path=path, what=each.what)
        elif isinstance(each, Dried) and keeps_opening and not opened:
            yield doubt("LOT02", "dried closed", path=path)
        opened = opened or isinstance(each, Opened)
        used_up = used_up or isinstance(each, UsedUp)
        blocked = isinstance(each, Blocked) or (blocked and (not isinstance(each, Unblocked) or is_void(each)))
    if not was_received:
        yield doubt("LOT02", "never received", path=("events",))


def machine_faults(machine: Machine, makers: Mapping[str, Maker], materials: Mapping[str, Material]) -> Iterator[Problem]:
    """Its qualifications and their coupons."""
    maker = makers.get(machine.maker)
    yield from blank_texts(machine)
    for at, each in enumerate(machine.qualifications):
        path = ("qualifications", at)
        if each.valid_until < each.qualified_on:
            yield wrong("MACH01", "ends first", path=(*path, "valid_until"), ends=each.valid_until, begins=each.qualified_on)
        elif is_unusually_long(each.qualified_on, each.valid_until):
            yield doubt("MACH01", "valid long", path=(*path, "valid_until"), until=each.valid_until, begins=each.qualified_on)
        material = materials.get(each.material)
        if maker and each.material not in maker.materials:
            yield doubt("MACH01", "other material", path=(*path, "material"), maker=maker.id, material=each.material)
        if maker and material and maker.process not in material.processes:
            yield doubt("MACH01", "other process", path=(*path, "material"), material=each.material, process=maker.process)
        for nth, before in _backwards(each.coupons):
            yield wrong("MACH02", "backwards", path=(*path, "coupons", nth, "on"), on=each.coupons[nth].on, before=before)
        for nth, coupons in enumerate(each.coupons):
            yield from _coupon_faults(coupons.property, coupons.values, (*path, "coupons", nth))
            if (coupons.file is None) != (coupons.sha256 is None):
                yield wrong("MACH02", "half a file", path=(*path, "coupons", nth))


def _coupon_faults(of: CouponProperty, values: Iterable[float], path: tuple[str | int, ...]) -> Iterator[Problem]:
    for place, value in enumerate(values):
        if value <= 0 and of not in _BELOW_NOTHING:
            yield wrong("MACH02", "cannot be", path=(*path, "values", place), value=value)


def recall_faults(recall: Recall) -> Iterator[Problem]:
    """Its events: called back, lifted, and so on by turns."""
    for at, before in _backwards(recall.events):
        yield wrong("RECALL01", "backwards", path=("events", at, "on"), on=recall.events[at].on, before=before)
    called = False
    for at, each in enumerate(recall.events):
        is_call = isinstance(each, CalledBack)
        if is_call == called:
            key = "called twice" if is_call else "not called"
            yield wrong("RECALL01", key, path=("events", at, "what"))
        called = is_call or (called and is_void(each))
    yield from blank_texts(recall)


def _backwards(events: Iterable[_Dated]) -> Iterator[tuple[int, date]]:
    """Places of events of an earlier day than one before them, with that day."""
    listed = list(events)
    for at, (before, each) in enumerate(pairwise(listed), 1):
        if each.on < before.on:
            yield at, before.on
