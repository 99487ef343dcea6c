"""The print list and the last buy, on the table of the tests for printing: plates that can be counted by hand."""

import json
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from generator.geometry.printing.poses import poses_of
from generator.planning.offers import Offer
from generator.planning.print_time import PrintWork, grams_of_plate, minutes_for, minutes_of_plate, model_of
from generator.planning.stock.demand import Demand, Source
from generator.planning.stock.known import StockKnown, UnfitCount
from generator.planning.stock.last_buy import last_buys
from generator.planning.stock.need import PartNeed, QuantityReason, Reorder, StockState
from generator.planning.stock.print_list import print_lists
from generator.records.lots import Lot
from generator.records.machines import Machine
from generator.records.makers import Process
from generator.records.materials import LastOrder
from generator.records.production import Production
from tests.planning.stock.test_need import DAY, RULE, books, part
from tests.planning.test_month import batch
from tests.planning.test_printing import TABLE, Facts

ME = Process.MATERIAL_EXTRUSION
WORK = PrintWork(shell_cm3=10.0, infill_cm3=2.0, support_cm3=0.0, layers=100, density_g_cm3=1.2)


def wanted(count, *, catalogue, poses=None, position=0, demand=10.0, state=StockState.ORDER, number="EX-0001"):
    """The knob in the shape of a table of 60 x 40 on the plate, of which so many are to be printed."""
    sheet = part(shelf=0)
    sheet = replace(sheet, mesh=Facts(), poses=poses_of(TABLE) if poses is None else None, folder=replace(sheet.folder, number=number))
    known = StockKnown(counted=position, first_day=None, last_day=None, went=0, uncounted=0, waiting=0, is_less_than_nothing=False)
    offer = Offer(catalogue.makers["bench"], True, Decimal(1), 10.0)
    reorder = Reorder(offer=offer, mean=1.0, point=2, quantity=count, because=QuantityReason.QUARTER, count=count, price=Decimal(count))
    need = Demand(a_year=demand, source=Source.RECORD, fitted=0, days=0, at_once=1) if demand is not None else None
    return PartNeed(sheet=sheet, state=state, known=known, demand=need, reorder=reorder)


def test_a_plate_starts_once_and_has_the_layers_of_its_tallest():
    model, low = model_of((), ME), replace(WORK, layers=40, shell_cm3=5.0)
    start, shell, core, layer = 10.0, 5.0, 3.0, 0.07  # the guess of print_time.py
    by_hand = start + shell * (2 * 10 + 3 * 5) + core * (2 * 2 + 3 * 2) + layer * 100
    assert minutes_of_plate(model, [(WORK, 2), (low, 3)]).likely == pytest.approx(by_hand)
    assert minutes_of_plate(model, [(WORK, 4)]) == minutes_for(model, WORK, 4)
    assert grams_of_plate(model, [(WORK, 2), (low, 3)]).likely == pytest.approx(1.2 * (2 * 12 + 3 * 7))
    assert minutes_of_plate(model, []) is None
    assert minutes_of_plate(model_of((), Process.POWDER_BED_FUSION), [(WORK, 1)]) is None  # of which nobody guesses


def test_plates_by_printer_and_material_with_their_times():
    catalogue = books()
    # 3 tables of 60 across on 200 with 5 between, 4 of 40 deep: 12 a plate.
    (found,) = print_lists([wanted(14, catalogue=catalogue)], catalogue, {}, DAY)
    assert (found.maker.id, found.material, found.has_machines, found.unlaid) == ("bench", "petg", False, ())
    assert [sum(count for _, count in each.pieces) for each in found.plates] in ([12, 2], [13, 1], [14])
    assert sum(count for each in found.plates for _, count in each.pieces) == 14
    assert found.likely_minutes == pytest.approx(sum(each.minutes.likely for each in found.plates))
    assert print_lists([wanted(14, catalogue=catalogue, state=StockState.ENOUGH)], catalogue, {}, DAY) == ()


def test_what_has_no_pose_is_told_and_machines_that_are_not_qualified_are_not_named():
    machine = Machine.model_validate_json('{"name": "Bench one", "maker": "bench"}')
    catalogue = replace(books(), production=Production(machines={"M-1": machine}))
    (found,) = print_lists([wanted(3, catalogue=catalogue, poses=())], catalogue, {}, DAY)
    assert (found.plates, found.unlaid, found.machines, found.has_machines) == ((), (("EX-0001", 3),), (), True)


def dying(*, lots=None, until="2030-06-01", batches=None):
    catalogue = books()
    order = LastOrder(on=date(2028, 9, 30), needed_until=date.fromisoformat(until), reference="letter 12")
    materials = {name: each.model_copy(update={"last_order": order if name == "petg" else None}) for name, each in catalogue.materials.items()}
    return replace(catalogue, materials=materials, production=Production(lots=lots or {}, batches=batches or {}))


def test_the_last_buy_by_hand():
    from scipy.stats import poisson  # dear

    catalogue = dying()
    parts = [wanted(1, catalogue=catalogue, position=3), wanted(1, catalogue=catalogue, demand=None, number="EX-0009")]
    (found,) = last_buys(parts, catalogue, {}, DAY, RULE)
    days = (date(2030, 6, 1) - DAY).days
    wants = int(poisson.ppf(0.95, 10 * days / 365.25))
    (line,) = found.parts
    assert (found.days, line.wanted, line.missing) == (days, wants, wants - 3)
    assert found.grams == pytest.approx((wants - 3) * line.grams_each)
    assert [each.number for each in found.unsaid] == ["EX-0009"]
    assert (found.keeps_days, found.spoils) == (None, False)
    assert last_buys(parts, dying(until="2028-10-01"), {}, date(2028, 10, 1), RULE) == ()


def test_scrap_is_bought_too_and_material_that_spoils_before_is_told():
    lot = {"material": "petg", "supplier_lot": "7", "use_by": "2028-12-31", "events": [{"what": "received", "on": "2028-01-01", "by": "fitter", "grams": 500.0}]}
    lots = {"L-1": Lot.model_validate_json(json.dumps(lot))}
    scrap = batch({"what": "scrapped", "on": "2028-02-04", "by": "fitter", "count": 2, "why": "corner"}, count=10)
    catalogue = dying(lots=lots, batches={"B-1": scrap})
    (found,) = last_buys([wanted(1, catalogue=catalogue)], catalogue, {}, DAY, RULE)
    assert (found.scrap_share, found.keeps_days, found.spoils) == (0.2, 365, True)
    assert found.grams == pytest.approx(sum(each.missing * each.grams_each for each in found.parts) / 0.8)


def test_a_part_that_is_over_asks_for_no_material():
    from generator.rules.history import Stage

    catalogue = dying()
    gone = wanted(1, catalogue=catalogue, state=StockState.HELD)
    held = last_buys([gone], catalogue, {}, DAY, RULE)[0].parts
    over = last_buys([replace(gone, sheet=replace(gone.sheet, stage=Stage.WITHDRAWN))], catalogue, {}, DAY, RULE)[0].parts
    assert ([each.is_held for each in held], over) == ([True], ())


def test_what_a_renewal_brings_back_is_taken_off_and_what_never_comes_back_is_not():
    catalogue = dying()
    held = wanted(1, catalogue=catalogue, state=StockState.HELD)
    unfit = UnfitCount(counted=9, first_day=None, last_day=None, went=0, returning=6, never=3)
    lying = replace(held, known=replace(held.known, unfit=unfit))
    (before,), (line,) = (last_buys([each], catalogue, {}, DAY, RULE)[0].parts for each in (held, lying))
    assert (line.position, line.returning, line.not_counted, line.missing) == (6, 6, 3, before.missing - 6)
    uncounted = replace(lying, known=replace(lying.known, counted=None))
    assert last_buys([uncounted], catalogue, {}, DAY, RULE)[0].parts[0].position is None


def test_a_material_that_nobody_prints_of_asks_for_nothing():
    (found,) = last_buys([], dying(), {}, DAY, RULE)
    assert (found.parts, found.grams) == ((), 0.0)
