"""What the batches tell of prints counts as a line of prints.yml does, once."""

from dataclasses import replace
from datetime import datetime, timedelta

from generator.planning.printing import PrintedShape, batch_slips, models_of, slip_doubts
from generator.records.production import Production
from generator.rules.recorded import Printed, batch_runs, run_doubts
from tests.fixtures.prints import MACHINE, batch_of, printed_catalogue
from tests.planning.test_printing import DAY, ME, Facts, Sheet, part, run
from tests.rules.cases import tiny

SHAPES = {"EX-0001": PrintedShape(part(), Facts(), Sheet.poses)}
TIMES = (100, 101, 102, 103, 104, 105, 106)


def batch(minutes, day=2, grams=20.0, **other):
    started = datetime(2026, 3, day, 8, 0)  # noqa: DTZ001  as records tell moments
    ended = started + timedelta(minutes=minutes)
    return batch_of(started=f"{started:%Y-%m-%d %H:%M}", ended=f"{ended:%Y-%m-%d %H:%M}", count=1, grams=grams, events=[], **other)


def with_batches(batches, prints=()):
    machines = {MACHINE: printed_catalogue().production.machines[MACHINE]}
    return replace(tiny(), prints=tuple(prints), production=Production(machines=machines, batches=batches))


def test_batches_teach_what_lines_of_prints_yml_teach():
    by_lines = models_of(replace(tiny(), prints=tuple(run(each) for each in TIMES)), SHAPES, DAY)[ME]
    by_batches = models_of(with_batches({f"B-{at}": batch(each) for at, each in enumerate(TIMES)}), SHAPES, DAY)[ME]
    assert by_batches.minutes.runs == by_lines.minutes.runs == len(TIMES)
    assert by_batches.grams.runs == by_lines.grams.runs


def test_a_run_that_both_tell_counts_once_and_is_told():
    catalogue = with_batches({"B-1": batch(100)}, [run(100), run(140)])
    parts = {"EX-0001": Printed(part(), None, has_model=True)}
    (told,) = run_doubts(catalogue, parts)
    assert (told.code, told.key, told.path, dict(told.facts)["batch"]) == ("PRINT03", "batch", ("prints", 0), "B-1")
    assert models_of(with_batches({"B-1": batch(100)}, [run(each) for each in TIMES]), SHAPES, DAY)[ME].minutes.runs == len(TIMES)


def test_times_that_cannot_be_teach_nothing():
    ended_first, too_long = batch(-30), batch(20 * 24 * 60)
    assert batch_runs(with_batches({"B-1": ended_first, "B-2": too_long, "B-3": batch(50, machine="gone")})) == {}
    assert models_of(with_batches({"B-1": batch(100, day=2)}), SHAPES, datetime(2026, 3, 1).date()) == {}  # noqa: DTZ001


def test_a_batch_with_a_mistyped_end_is_named_itself():
    batches = {f"B-{at}": batch(each) for at, each in enumerate((*TIMES, 1000))}
    catalogue = with_batches(batches)
    models = models_of(catalogue, SHAPES, DAY).values()
    assert slip_doubts(models) == ()
    ((name, told),) = batch_slips(models, catalogue)
    assert (name, told.path) == ("B-7", ("ended",))
