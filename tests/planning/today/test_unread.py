"""A record that cannot be read is one task, however many parts wait for it, and nothing that follows from it is another."""

import pytest

from generator.planning.today.drawn import todays
from generator.planning.today.tasks import TaskKind
from generator.reading.catalogue import read_catalogue
from tests.fixtures.prints import PRINTS
from tests.fixtures.tiny import ALL_PARTS, CLIP, DAY, KNOB, overlaid, sheets

STOPS = {
    "batches/B-0001.yml": ALL_PARTS,
    "materials/lots/L-0007.yml": ALL_PARTS,
    "materials/petg.yml": (KNOB, CLIP),
    "makers.yml": ALL_PARTS,
    "fleets.yml": ALL_PARTS,
    "machines/M-1.yml": (KNOB,),
    "depot.yml": ALL_PARTS,
    "requests/coat-hook.yml": (),
    "fitted/2026.csv": (),
}


def drawn(root):
    return todays(sheets(root)[0], read_catalogue(root), DAY)


def broken(depot, *files):
    overlaid(depot, PRINTS)
    for file in files:
        (depot / file).parent.mkdir(exist_ok=True)
        with (depot / file).open("a", encoding="utf-8") as stream:
            stream.write("xx: [\n")
    return drawn(depot)


@pytest.mark.parametrize("file", STOPS)
def test_one_record_is_one_task(depot, file):
    """It bears what all parts that wait for it are worth together."""
    whole = {(task.kind, task.number, task.what) for task in broken(depot)}
    found = broken(depot, file)
    records = [task for task in found if task.kind is TaskKind.RECORD]
    assert [(task.number, tuple(task.worths)) for task in records] == [(file, STOPS[file])]
    assert {(task.kind, task.number, task.what) for task in found} - {(TaskKind.RECORD, file, "unread")} <= whole, "nothing that follows from it"
    assert records[0].value_a_week == sum(each.a_week for each in records[0].worths.values())


@pytest.mark.parametrize("name", ["part.yml", "approval.yml"])
def test_of_a_part_with_a_mistake_of_its_own_that_is_the_one_task(depot, name):
    found = broken(depot, f"parts/EX-0001-lid-knob/{name}")
    assert [task.what in ("record", "mend_record") for task in found if KNOB in task.worths] == [True]
    assert not [task for task in found if task.kind is TaskKind.RECORD]


def test_two_records_are_two_tasks_and_a_part_s_own_mistake_stays(depot):
    found = broken(depot, "materials/petg.yml", "batches/B-0001.yml", "parts/EX-0001-lid-knob/approval.yml")
    assert {task.number for task in found if task.kind is TaskKind.RECORD} == {"materials/petg.yml", "batches/B-0001.yml"}
    assert len([task for task in found if task.number == KNOB]) == 1
