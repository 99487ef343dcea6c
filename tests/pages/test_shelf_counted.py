"""The shelf by its batches: as counted, on the day of the count, and what went since; never more than was written down."""

from datetime import date
from pathlib import Path
from shutil import copytree

import pytest

from generator.pages.on_vehicles.off_words import between_words
from generator.pages.part.counted import batch_lines, to_take
from generator.pages.part.shelf import LaterCount, Shelf, shelf
from generator.pages.wording import wording
from generator.records.parts import Stock
from generator.rules.production.counted_twice import whole_count
from generator.rules.production.ledger import balance_of
from generator.rules.production.stock import BatchStock, stock_of
from tests.fixtures.produced import REJECTED, RELEASED, batch, counted, fitted, produced
from tests.pages.sample import CATALOGUE, DAY, judged_sample

W = wording("en")


@pytest.fixture
def root(tmp_path: Path) -> Path:
    copied = Path(copytree(CATALOGUE, tmp_path / "catalogue"))
    produced(copied, "plain")
    return copied


def told(root: Path, number: str = "P-0002", day: date = DAY) -> Shelf:
    catalogue, sheets, _ = judged_sample(root)
    sheet = next(each for each in sheets if each.number == number)
    assert sheet.part
    return shelf(sheet, sheet.part, (), stock_of(number, catalogue, day, ()), W)


def test_of_one_day_it_is_one_sum_with_its_batches(root: Path) -> None:
    batch(root, "B-1", "P-0002", events=[*RELEASED, counted("2026-09-01", 9), counted("2026-11-03", 7)])
    batch(root, "B-2", "P-0002", events=[*RELEASED, counted("2026-11-03", 4)])
    one = told(root)
    assert (one.counted, one.on_shelf, one.stopped) == ("11 on 3 Nov 2026, counted:", 11, "")
    assert one.where == "Rack 2, labelled P-0002 revision A"
    assert one.batches == ("Batches: 7 of B-1; 4 of B-2",)


def test_of_several_days_each_batch_tells_its_own(root: Path) -> None:
    batch(root, "B-1", "P-0002", events=[*RELEASED, counted("2026-11-01", 1)])
    batch(root, "B-2", "P-0002", events=[*RELEASED, counted("2026-11-03", 4)])
    assert told(root).counted == "Counted: 1 of B-1 on 1 Nov 2026; 4 of B-2 on 3 Nov 2026:"


def test_what_went_since_the_count_is_told_with_what_is_left(root: Path) -> None:
    """After the count on its own day, too; what was issued and then fitted is one movement. What is left is said."""
    later = [{"what": "issued", "on": "2026-11-03", "by": "fitter", "count": 1}, {"what": "issued", "on": "2026-11-10", "by": "fitter", "count": 3}]
    gone = [{"what": "returned", "on": "2026-11-11", "by": "fitter", "count": 1}, {"what": "scrapped", "on": "2026-11-12", "by": "fitter", "count": 1, "why": "fell"}]
    batch(root, "B-1", "P-0002", events=[*RELEASED, counted("2026-11-03", 7), *later, *gone])
    fitted(root, {"day": "2026-11-12", "fleet": "F1", "vehicle": "1", "place": "roof", "batch": "B-1", "count": 1, "by": "fitter"})
    one = told(root)
    assert (one.counted, one.batches[1:]) == ("7 on 3 Nov 2026, counted:", ("Since that count, of B-1: 3 issued or fitted; 1 scrapped. Between 2 and 4 should lie there now: which pieces were fitted or scrapped is not written down.",))
    assert one.on_shelf == 2


SINCE = {
    "one fitted after the day": ([counted("2026-11-03", 12)], ["2026-11-05"], ("12", "1 issued or fitted", 11)),
    "two fitted on the day, counted before": ([counted("2026-11-03", 12)], ["2026-11-03"] * 2, ("12", "2 issued or fitted", 10)),
    "two fitted on the day, counted after": ([counted("2026-11-03", 10)], ["2026-11-03"] * 2, ("10", "", 10)),
    "one lost before the count": ([counted("2026-11-03", 11)], ["2026-11-05"] * 2, ("11", "2 issued or fitted", 9)),
    "more came back than went": (
        [{"what": "issued", "on": "2026-11-01", "by": "fitter", "count": 5}, counted("2026-11-03", 7), {"what": "returned", "on": "2026-11-04", "by": "fitter", "count": 5}],
        [], ("7", "5 came back", 12),
    ),
    "the last one went": ([counted("2026-11-03", 1)], ["2026-11-05"], ("1", "1 issued or fitted", 0)),
    "counted twice on a day": ([counted("2026-11-03", 12), {"what": "issued", "on": "2026-11-03", "by": "fitter", "count": 4}, counted("2026-11-03", 8)], [], ("8", "", 8)),
}  # fmt: skip


@pytest.mark.parametrize("case", SINCE)
def test_what_is_told_of_the_shelf_leaves_nothing_to_reckon(root: Path, case: str) -> None:
    events, days, (n, went, left) = SINCE[case]
    batch(root, "B-1", "P-0002", events=[*RELEASED, *events])
    for at, day in enumerate(days):
        fitted(root, {"day": day, "fleet": "F1", "vehicle": "1", "place": "roof", "batch": "B-1", "count": 1, "by": "fitter", "row": f"2026-{at}"})
    one = told(root)
    assert one.counted == (f"{n} on 3 Nov 2026, counted:" if left else "None should lie there now: what was counted went since")
    assert one.on_shelf == left
    assert one.batches[1:] == ((f"Since that count, of B-1: {went}. {left} should lie there now.",) if went else ())


def test_a_stopped_batch_is_not_summed_and_named(root: Path) -> None:
    batch(root, "B-1", "P-0002", events=[*RELEASED, counted("2026-11-03", 7)])
    batch(root, "B-2", "P-0002", events=[*REJECTED, counted("2026-11-03", 4)])
    batch(root, "B-3", "P-0002", events=[*REJECTED, counted("2026-11-03", 0)])
    one = told(root)
    assert (one.on_shelf, one.stopped) == (7, "Do not take: B-2. These batches are stopped.")


def test_a_count_of_a_day_to_come_is_not_told_yet(root: Path) -> None:
    batch(root, "B-1", "P-0002", events=[*RELEASED, counted("2026-11-03", 7)])
    assert told(root, day=date(2026, 11, 2)).counted == "None on the shelf (Rack 2)"
    assert told(root, day=date(2026, 11, 2)).batches == ("Never counted: B-1, of which 12 should lie there by what is written down",)


def test_none_and_only_stopped_ones_are_none_to_take(root: Path) -> None:
    batch(root, "B-1", "P-0002", events=[*RELEASED, counted("2026-11-03", 0)])
    batch(root, "B-2", "P-0002", events=[*REJECTED, counted("2026-11-03", 5)])
    one = told(root)
    assert (one.counted, one.on_shelf, one.where, one.is_to_be_taken) == ("None on the shelf that may be taken, as counted", 0, "", False)


def test_another_label_is_told_apart(root: Path) -> None:
    batch(root, "B-1", "P-0004", revision="A", events=[*RELEASED, counted("2026-11-03", 7)])
    assert (told(root, "P-0004").label, told(root, "P-0004").where) == ("A", "labelled P-0004 revision A")
    both = tuple(BatchStock(batch=f"B-{label}", revision=label, counted=n, on=date(2026, 11, 3), by="fitter", remains=n, least=n, most=n) for label, n in (("A", 7), ("B", 2)))
    taken, label = to_take(both, "B")
    assert (label, [each.batch for each in taken]) == ("B", ["B-B"])
    assert "Also 7 of B-A, labelled revision A, counted on 3 Nov 2026. Only the verdict with that label speaks for these." in batch_lines(both, taken, W)


def test_without_batches_it_is_what_the_part_says(root: Path) -> None:
    assert told(root).counted == "None on the shelf (Rack 2)"


def test_a_count_of_the_parts_record_is_told_apart_from_its_batches(root: Path) -> None:
    part = next((root / "parts").glob("P-0002*")) / "part.yml"
    part.write_text(part.read_text(encoding="utf-8").replace("on_shelf: 0", "on_shelf: 8"), encoding="utf-8")
    batch(root, "B-1", "P-0002", events=RELEASED)
    assert told(root).on_shelf == 8
    assert told(root).batches == (
        "That count is of the part's record, which tells no batch and nothing that went since.",
        "Never counted: B-1, of which 12 should lie there by what is written down",
    )


@pytest.mark.parametrize(("found", "on", "says"), [
    (3, "2026-11-10", (3, "That count is newer than those of its batches and stands for them: B-1.")),
    (30, "2026-11-10", (0, "The record counted 30 on 10 Nov 2026, and its batches tell another number: count again before you rely on either.")),
    (30, "2026-11-03", (0, "The record counted 30 on 3 Nov 2026, and its batches tell another number: count again before you rely on either.")),
    (30, "2026-11-01", (9, "Batches: 9 of B-1")),
])  # fmt: skip
def test_the_later_count_stands_and_what_contradicts_is_no_number(root: Path, found: int, on: str, says: tuple[int, str]) -> None:
    batch(root, "B-1", "P-0002", events=[*RELEASED, counted("2026-11-03", 9)])
    catalogue, sheets, _ = judged_sample(root)
    sheet = next(each for each in sheets if each.number == "P-0002")
    assert sheet.part
    part = sheet.part.model_copy(update={"stock": Stock(place="Rack 2", on_shelf=found, counted_on=date.fromisoformat(on))})
    count = whole_count(part, catalogue, DAY)
    assert count
    shown = shelf(sheet, part, (), stock_of("P-0002", catalogue, DAY, ()), W, whole=LaterCount(count, 0))
    assert (shown.on_shelf, shown.batches[0]) == says
    if on == "2026-11-10" and found == 3:
        assert shown.counted == "3 on the shelf, counted on 10 Nov 2026:"
        gone = shelf(sheet, part, (), stock_of("P-0002", catalogue, DAY, ()), W, whole=LaterCount(count, 2))
        assert (gone.on_shelf, gone.batches[1]) == (1, "Pieces went since that count. 1 should lie there now.")


def test_what_the_records_leave_open_is_told_of_the_batch_and_of_one_that_nobody_counted(root: Path) -> None:
    issued = {"what": "issued", "on": "2026-11-05", "by": "fitter", "count": 2}
    batch(root, "B-1", "P-0002", events=[*RELEASED, issued])
    batch(root, "B-2", "P-0002", events=[*RELEASED, counted("2026-11-03", 0)])
    fitted(root, {"day": "2026-11-06", "fleet": "F1", "vehicle": "1", "place": "roof", "batch": "B-1", "count": 2, "by": "fitter"})
    catalogue, _, _ = judged_sample(root)
    first, second = (balance_of(name, catalogue.production) for name in ("B-1", "B-2"))
    assert between_words("B-1", first, W) == "B-1: at least 8 and at most 10 lie on the shelf; which pieces were fitted or scrapped is not written down."
    assert between_words("B-2", second, W) is None
    assert "Never counted: B-1, of which 8 to 10 should lie there by what is written down" in told(root).batches


def test_none_of_what_was_counted_is_not_none_where_others_were_never_counted(root: Path) -> None:
    gone = {"what": "issued", "on": "2026-11-05", "by": "fitter", "count": 2}
    batch(root, "B-1", "P-0002", events=[*RELEASED, counted("2026-11-03", 2), gone])
    assert told(root).counted == "None should lie there now: what was counted went since"
    batch(root, "B-2", "P-0002", events=RELEASED)
    one = told(root)
    assert (one.counted, one.on_shelf) == ("Of what was counted none should lie there now: it went since", 0)
    assert "Never counted: B-2, of which 12 should lie there by what is written down" in one.batches
