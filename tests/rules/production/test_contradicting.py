"""What speaks against pieces on vehicles, and against none but those: whoever reads the list goes and looks."""

from dataclasses import replace

from generator.records.fitted import FileGap
from generator.rules.production.contradicting import Contradictions, contradictions, line_problems
from generator.rules.production.tracing import of_all
from tests.fixtures.production import batch, depot, recall, row

BATCHES = {"B-1": batch(), "B-2": batch()}
NEVER_THERE = row("2026-06-03", off="B-2", vehicle="13", as_found=True)
WINDOWS = [row("2026-02-01", "B-1", vehicle=vehicle, position="window") for vehicle in ("11", "12", "13", "14")]
TAKEN = row("2026-06-01", "B-2", vehicle="12", position="window", as_found=True)


def codes(problems):
    return sorted(f"{each.code} {each.key}" for each in problems)


def told(*rows, **production):
    catalogue = depot(*rows, batches=BATCHES)
    catalogue = replace(catalogue, production=replace(catalogue.production, **production))
    return codes(line_problems(catalogue))


def test_what_may_follow_from_lines_that_nobody_can_read_is_told_of_the_years_before_alone():
    """What seems never to have gone on, or to sit in another's place, may have done so by such a line."""
    both = ["FITTED10 never there", "FITTED15 taken"]
    assert told(*WINDOWS, TAKEN, NEVER_THERE) == both
    assert told(*WINDOWS, TAKEN, NEVER_THERE, gaps=(FileGap(file="fitted/2027.csv", why="unread"),)) == both
    assert told(*WINDOWS, TAKEN, NEVER_THERE, shortened=frozenset({"fitted/2027.csv"})) == both
    for file in ("fitted/2026.csv", "fitted/2025.csv"):
        assert told(*WINDOWS, TAKEN, NEVER_THERE, gaps=(FileGap(file=file, why="unread"),)) == []
        assert told(*WINDOWS, TAKEN, NEVER_THERE, shortened=frozenset({file})) == []
    more = row("2026-02-01", "B-77", as_found=True)  # what does not follow from them stays told
    assert told(more, NEVER_THERE, gaps=(FileGap(file="fitted/2026.csv", why="unread"),)) == ["FITTED04 no batch"]
    assert told() == []


def against(*rows):
    catalogue = depot(*rows, batches=BATCHES)
    found, every = contradictions(catalogue), of_all(catalogue.production)
    return {(each.spot.vehicle, each.batch): codes(found.of(each)) for each in every.carried}, {each.batch: codes(found.of(each)) for each in every.came_off}


def test_a_line_that_says_two_things_speaks_against_each_by_what_is_wrong_with_it():
    sits, off = against(row("2026-02-01", "B-1"), row("2026-06-01", "B-77", off="B-1", as_found=True))
    assert (sits, off) == ({("11", "B-77"): ["FITTED04 no batch"]}, {"B-1": []})
    sits, off = against(row("2026-06-01", "B-1", off="B-88", as_found=True))
    assert (sits, off) == ({("11", "B-1"): []}, {"B-88": ["FITTED04 no batch", "FITTED10 never there"]})
    catalogue = depot(row("2026-02-01", "B-1"), row("2026-06-02", "B-1", off="B-1", as_found=True), batches=BATCHES, recalls={"RC-1": recall(batch="B-1")})
    found, every = contradictions(catalogue), of_all(catalogue.production)
    assert [codes(found.of(each)) for each in (*every.carried, *every.came_off)] == [["FITTED09 called back"], []]
    sits, off = against(*WINDOWS, TAKEN)
    assert sits == {("11", "B-1"): [], ("12", "B-1"): [], ("12", "B-2"): ["FITTED15 taken"], ("13", "B-1"): [], ("14", "B-1"): []}


def test_what_cannot_be_so_on_a_vehicle_speaks_against_the_line_and_against_no_piece():
    by_nobody = row("2026-02-01", "B-1", by="nobody")
    assert told(by_nobody) == ["FITTED04 no role"]
    assert against(by_nobody) == ({("11", "B-1"): []}, {})
    without = row("2026-03-01", removed=1, vehicle="12")
    assert against(by_nobody, without)[1] == {"": []}


def test_what_speaks_against_it_stands_however_its_position_is_written():
    found = row("2026-06-02", "B-77", position=" Left ", as_found=True)
    catalogue = depot(found, batches=BATCHES)
    (sits,) = of_all(catalogue.production).carried
    assert codes(contradictions(catalogue).of(sits)) == ["FITTED04 no batch"]


def test_without_lines_nothing_speaks_against_anything():
    assert contradictions(depot(batches=BATCHES)) == Contradictions()
