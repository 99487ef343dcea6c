"""What of a released batch still has to be asked about: of its lots, its machine, its measurements. From the side of who would rather not ask."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from generator.records.batches import MeasuredCheck
from generator.records.catalogue import Fault
from generator.records.inspection import InspectionDocument
from generator.records.machines import CouponProperty, Coupons
from generator.records.materials import Required
from generator.records.problems import Where, wrong
from generator.rules.production.doubts import (
    counting_papers,
    counts,
    doubts_of,
    machine_on,
    material_of,
    would_count,
)
from generator.rules.production.qualifying import MachineStanding
from tests.fixtures.prints import BATCH, LOT, MACHINE, batch_of, printed_catalogue, with_production
from tests.fixtures.tiny import KNOB

GOOD = printed_catalogue()
LEAST = InspectionDocument.CERTIFICATE_3_1
ITS_LOT, ITS_BATCH = GOOD.production.lots[LOT], GOOD.production.batches[BATCH]
(PAPER,) = ITS_LOT.inspection_documents
FILE = f"materials/lots/{PAPER.file}"


def asked(batch=ITS_BATCH, catalogue=GOOD, name=BATCH):
    return doubts_of(name, batch, catalogue)


def with_lot(lot=None, **change):
    """The depot with its lot otherwise."""
    return with_production(GOOD, lots={LOT: lot or ITS_LOT.model_copy(update=change)})


def with_file(**change):
    kept = GOOD.production.files[FILE]
    return with_production(GOOD, files={**GOOD.production.files, FILE: replace(kept, **change)})


def with_paper(**change):
    return with_lot(inspection_documents=(PAPER.model_copy(update=change),))


def test_of_a_good_batch_nothing_is_asked():
    assert asked() == ()
    assert counting_papers(ITS_BATCH, GOOD) == (PAPER,)


def test_each_record_that_it_rests_on_is_looked_at():
    """Nobody knows what else would have been told without the mistake; one of another record is none of its own."""
    for file, mistaken in ((f"batches/{BATCH}.yml", True), (f"machines/{MACHINE}.yml", True), (f"materials/lots/{LOT}.yml", True), ("machines/M-2.yml", False)):
        spoilt = replace(GOOD, problems=(*GOOD.problems, wrong("LOT03", "not named", where=Where(file))))
        assert asked(catalogue=spoilt) == (("mistake",) if mistaken else ())


def test_what_was_measured_out_is_asked_about_also_after_it_was_released():
    """The bore is 6.0 to 6.1 mm."""
    first, *rest = ITS_BATCH.events
    wide = first.model_copy(update={"checks": (MeasuredCheck(check="Bore", values_mm=(6.02, 6.2), gauge="P-2", calibrated_until=date(2026, 9, 30)),)})
    assert asked(ITS_BATCH.model_copy(update={"events": (wide, *rest)})) == ("measured out",)
    assert asked(ITS_BATCH.model_copy(update={"events": (wide,)})) == ()  # nobody has released it: that is asked before


def test_a_lot_that_nobody_recorded_or_that_was_too_old_is_asked_about():
    assert asked(ITS_BATCH.model_copy(update={"lots": ("L-9", "L-8")})) == ("lot unknown",)
    assert asked(ITS_BATCH.model_copy(update={"lots": ("L-9", LOT)}), with_lot(use_by=date(2026, 1, 1))) == ("lot unknown", "lot use by")
    for use_by, told in ((date(2026, 2, 10), ("lot use by",)), (date(2026, 2, 11), ()), (None, ())):  # printed on 11 February
        assert asked(catalogue=with_lot(use_by=use_by)) == told


@pytest.mark.parametrize("change", [
    {"type": InspectionDocument.DECLARATION}, {"lot": "PG-2232"}, {"file": "documents/gone.txt"}, {"sha256": "0" * 64}, {"reference": "TBD"},
])  # fmt: skip
def test_a_document_of_another_lot_or_type_or_that_is_not_kept_as_recorded_counts_for_nothing(change):
    catalogue = with_paper(**change)
    assert asked(catalogue=catalogue) == ("lot document",)
    assert counting_papers(ITS_BATCH, catalogue) == ()


def test_neither_does_an_empty_file_or_one_of_a_lot_without_a_number():
    assert asked(catalogue=with_file(size_bytes=0)) == ("lot document",)
    assert asked(catalogue=with_lot(inspection_documents=())) == ("lot document",)
    nameless = with_lot(supplier_lot="TBD", inspection_documents=(PAPER.model_copy(update={"lot": "TBD"}),))
    assert asked(catalogue=nameless) == ("lot document",)


def test_a_document_that_says_more_than_is_asked_counts_and_one_that_says_less_does_not():
    types = list(InspectionDocument)
    for least in types:
        for told in types:
            paper = PAPER.model_copy(update={"type": told})
            assert would_count(paper, ITS_LOT, least, GOOD) == counts(paper, ITS_LOT, least, GOOD) == (types.index(told) >= types.index(least))


def test_the_number_of_a_lot_is_read_whatever_its_spaces_and_capitals():
    assert would_count(PAPER.model_copy(update={"lot": " pg-2231 "}), ITS_LOT, LEAST, GOOD)


def test_of_a_part_without_an_approval_the_most_is_asked():
    folder = GOOD.folder(KNOB)
    others = tuple(each for each in GOOD.parts if each.number != KNOB)
    unapproved = replace(GOOD, parts=(*others, replace(folder, approval=None)))
    assert asked(catalogue=unapproved) == ("lot document",)
    best = PAPER.model_copy(update={"type": InspectionDocument.CERTIFICATE_3_2})
    assert asked(catalogue=replace(unapproved, production=with_lot(inspection_documents=(best,)).production)) == ()
    assert asked(ITS_BATCH.model_copy(update={"part": "EX-9999"})) == ("lot document",)


def test_a_document_whose_text_names_another_lot_is_asked_about_by_its_own_word():
    assert asked(catalogue=with_production(GOOD, named={(FILE, PAPER.lot): False})) == ("lot document not compared",)
    assert asked(catalogue=with_production(GOOD, named={})) == ("lot document not compared",)
    shut = with_file(fault=Fault.LOCKED)
    assert asked(catalogue=shut) == ("lot document locked",)
    open_too = PAPER.model_copy(update={"reference": "IC-89", "file": "documents/open.txt"})
    files = {**shut.production.files, "materials/lots/documents/open.txt": GOOD.production.files[FILE]}
    both = with_production(with_lot(inspection_documents=(PAPER, open_too)), files=files, named={})
    assert asked(catalogue=both) == ("lot document not compared",)  # one of them can be


def test_one_good_document_beside_a_bad_one_is_enough_and_each_is_told_once():
    bad = PAPER.model_copy(update={"lot": "PG-1"})
    assert asked(catalogue=with_lot(inspection_documents=(bad, PAPER))) == ()
    both = ITS_BATCH.model_copy(update={"lots": (LOT, "L-2")})
    same = with_production(GOOD, lots={LOT: ITS_LOT, "L-2": ITS_LOT})
    assert counting_papers(both, same) == (PAPER,)
    assert counting_papers(both, GOOD) == (PAPER,)  # of the lot that is known


def test_a_machine_that_nobody_qualified_or_that_was_set_otherwise_is_asked_about():
    assert asked(ITS_BATCH.model_copy(update={"machine": "M-9"})) == ("machine not qualified",)
    assert asked(batch_of(started="2026-01-29T23:00")) == ("machine not qualified",)  # qualified on the 30th
    assert machine_on(batch_of(started="2026-01-30T00:00"), GOOD).standing is MachineStanding.QUALIFIED
    other = ITS_BATCH.settings_file.model_copy(update={"sha256": "0" * 64})
    assert asked(ITS_BATCH.model_copy(update={"settings_file": other})) == ("other settings",)
    assert asked(ITS_BATCH.model_copy(update={"settings_file": None})) == ("other settings",)


def test_what_a_batch_was_printed_from_is_what_its_text_says():
    assert material_of(ITS_BATCH) == "petg"
    without = ITS_BATCH.model_copy(update={"printed_as": ITS_BATCH.printed_as.replace('material: "petg"\n', "")})
    assert material_of(without) is None
    nylon = ITS_BATCH.printed_as.replace('material: "petg"', 'material: "nylon"')
    assert asked(ITS_BATCH.model_copy(update={"printed_as": nylon})) == ("machine not qualified",)
    assert asked(without) == ("machine not qualified",)


def test_what_the_material_asks_of_coupons_is_asked_of_the_machine():
    """Five coupons of 30.6 MPa and more; 40 MPa asked of every second part is not shown (worked out in tests/rules/test_coupons.py)."""
    least = Required(property=CouponProperty.TENSILE_STRENGTH_Z, least=40.0, coverage_percent=90, source="specification 4")
    petg = GOOD.materials["petg"].model_copy(update={"required": (least,)})
    assert asked(catalogue=replace(GOOD, materials={**GOOD.materials, "petg": petg})) == ("machine not qualified",)


def test_a_machine_whose_process_has_left_its_limits_is_asked_about():
    """Ten weeks alike, then one far above: three standard deviations are 0.577 mean ranges (control_factors.py)."""
    steady = [Coupons(on=date(2025, 6, 2) + timedelta(7 * at), property=CouponProperty.TENSILE_STRENGTH_Z, values=(30.9, 31.4, 31.0, 31.3, 31.2), by="specialist") for at in range(11)]
    machine = GOOD.production.machines[MACHINE]

    def with_coupons(*listed):
        qualified = machine.qualifications[0].model_copy(update={"coupons": listed})
        return with_production(GOOD, machines={MACHINE: machine.model_copy(update={"qualifications": (qualified,)})})

    assert asked(catalogue=with_coupons(*steady)) == ()
    far = steady[-1].model_copy(update={"on": date(2026, 2, 11), "values": (40.9, 41.4, 41.0, 41.3, 41.2)})
    assert asked(catalogue=with_coupons(*steady, far)) == ("machine out of control",)
    assert asked(catalogue=with_coupons(*steady, far.model_copy(update={"on": date(2026, 2, 12)}))) == ()  # printed the day before
