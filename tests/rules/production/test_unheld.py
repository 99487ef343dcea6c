"""A record that others name has no file: is every list told that it is short, and of whom, and does the part ask?"""

from dataclasses import replace
from datetime import date

import pytest

from generator.records.lots import Lot
from generator.rules.production.incomplete import gaps_of
from generator.rules.production.piece import of_any, of_batches
from generator.rules.production.unheld import unheld_problems
from tests.fixtures.production import batch, depot, recall, row

CAB, ROOF = ("A1", "cab"), ("A1", "roof")
HELD = row("2026-02-01", "B-1")
CASES = {
    "nothing is gone": ([HELD], {}, ()),
    "a line fits of it": ([HELD, row("2026-02-02", "B-7")], {}, ("batches/B-7.yml",)),
    "a line takes it off alone": ([HELD, row("2026-02-02", off="B-7")], {}, ("batches/B-7.yml",)),
    "it was found so": ([HELD, row("2026-02-02", "B-7", as_found=True)], {}, ()),  # it never had a record, and is told to be looked for
    "its file is there and cannot be read": ([HELD, row("2026-02-02", "B-7")], {"unread": {"batches/B-7.yml": None}}, ("batches/B-7.yml",)),
    "all of them are gone": ([HELD], {"batches": {}}, ("batches/B-1.yml",)),
    "its file bears another number": ([HELD], {"batches": {"B-9": batch()}}, ("batches/B-1.yml",)),
    "its file is written in small letters": ([HELD], {"batches": {"b-1": batch()}}, ("batches/B-1.yml",)),
    "its lot": ([HELD], {"lots": {}}, ("materials/lots/L-1.yml",)),
    "its lot, in other capitals": ([HELD], {"lots": {"l-1": Lot(material="petg", supplier_lot="S1")}}, ()),
    "its lot cannot be read": ([HELD], {"lots": {}, "unread": {"materials/lots/L-1.yml": None}}, ("materials/lots/L-1.yml",)),
    "a recall that a block names": (
        [HELD], {"recalls": {"RC-0001": recall(batch="B-1").model_copy(update={"events": (*recall(batch="B-1").events, recall(lifted="2026-07-01", batch="B-1").events[1].model_copy(update={"why": "RC-0002 stands for it"}))})}}, ("recalls/RC-0002.yml",),
    ),
    "somebody else's number": ([HELD], {"recalls": {"RC-0001": recall(batch="B-1").model_copy(update={"events": (recall(batch="B-1").events[0].model_copy(update={"why": "as XRC-0002 and RC-2026-0002 say", "reference": "RC-0002"}),)})}}, ()),
}  # fmt: skip


def of(rows, what, going_to=None):
    catalogue = depot(*rows)
    return replace(catalogue, production=replace(catalogue.production, **what, going_to=going_to or {}))


@pytest.mark.parametrize("case", CASES)
def test_what_is_named_and_gone_makes_a_list_short(case):
    rows, what, files = CASES[case]
    assert tuple(each.file for each in gaps_of(of(rows, what).production)) == files


def test_a_list_of_a_part_is_short_of_what_may_be_of_it():
    rows = [HELD, row("2026-02-02", "B-7"), row("2026-02-03", "B-8", place="roof")]
    production = of(rows, {"lots": {}}, {CAB: frozenset({"EX-0001"})}).production
    assert [each.file for each in gaps_of(production, parts={"EX-0001"})] == ["batches/B-7.yml", "batches/B-8.yml", "materials/lots/L-1.yml"]
    assert [each.file for each in gaps_of(production, parts={"EX-0002"})] == ["batches/B-8.yml"]  # nobody knows what goes onto the roof
    assert [each.file for each in gaps_of(production, recalls=False)] == ["batches/B-7.yml", "batches/B-8.yml"]  # a lot only tells what stops it


@pytest.mark.parametrize(
    ("rows", "number", "asks"),
    [
        ([HELD], "EX-0001", False),
        ([HELD, row("2026-02-02", "B-7")], "EX-0001", True),
        ([HELD, row("2026-02-02", off="B-7")], "EX-0001", True),
        ([HELD, row("2026-02-02", "B-7")], "EX-0002", False),  # it does not go there
        ([HELD, row("2026-02-02", "B-7", as_found=True)], "EX-0001", False),
        ([HELD, row("2026-02-02", "B-7", as_found=True), row("2026-03-02", off="B-7")], "EX-0001", False),
    ],
)
def test_a_part_asks_for_a_piece_of_no_batch_and_for_no_other(rows, number, asks):
    catalogue, day = of(rows, {}, {CAB: frozenset({"EX-0001"}), ROOF: frozenset({"EX-0002"})}), date(2026, 6, 1)
    pieces = of_batches(number, "A", None, catalogue, day)
    assert (of_any(number, "A", catalogue, day, pieces).piece is None) is asks
    assert all(each.piece == "known" for each in pieces.values())


def test_a_part_asks_where_the_whole_folder_is_gone():
    catalogue, day = of([HELD], {"batches": {}}, {CAB: frozenset({"EX-0001"})}), date(2026, 6, 1)
    assert catalogue.production.keeps_batches
    assert of_any("EX-0001", "A", catalogue, day, {}).piece_less == ("batches/B-1.yml",)


@pytest.mark.parametrize(
    ("numbers", "holes"),
    [((1,), []), ((1, 2, 4), [3]), ((1, 3), [2]), ((2, 3), [1]), ((412,), []), ((1, 412), []), ((), [])],  # the last but one numbers in its own way
)
def test_a_hole_between_the_numbers_of_recalls_is_asked_about(numbers, holes):
    recalls = {f"RC-{number:04}": recall(batch="B-1") for number in numbers}
    told = [each.where.file for each in unheld_problems(of([HELD], {"recalls": recalls}).production)]
    assert told == [f"recalls/RC-{number:04}.yml" for number in holes]


def test_one_message_tells_of_many_lines_and_none_of_one_that_may_be_a_slip():
    rows = [HELD, row("2026-02-02", "B-7"), row("2026-03-02", off="B-7"), row("2026-02-02", "B-8"), row("2026-02-02", "B-01"), row("2026-02-03", "B-01")]
    (told,) = unheld_problems(of(rows, {}).production)
    assert (told.code, told.where.file) == ("BAL05", "batches/B-7.yml")
    assert dict(told.facts) == {"batch": "B-7", "count": 2, "line": "fitted/2026.csv:3"}
