"""A list that is short says so: lines that could not be read, records that could not, and pieces whose batch nobody knows."""

from dataclasses import replace

import pytest

from generator.reading.catalogue import read_catalogue
from generator.records.fitted import COLUMNS, FileGap
from generator.rules.production.incomplete import gaps_of
from generator.rules.production.recalling import reach_of
from generator.rules.production.suspects import suspects_of
from tests.fixtures.production import batch, depot, recall, row
from tests.fixtures.with_batches import copied_with_batches

HEAD = ",".join(COLUMNS) + "\n"
GOOD = "2026-03-01,A1,11,cab,,B-0001,1,,,,fitter,r1\n"
FILES = {
    "all read": ({"2026.csv": HEAD + GOOD}, ()),
    "a line of another count of cells": ({"2026.csv": f"{HEAD}{GOOD}2026-03-01,A1\n"}, (FileGap(file="fitted/2026.csv", lines=(3,)),)),
    "a day that there is not": ({"2026.csv": HEAD + GOOD.replace("03-01", "02-30") + GOOD}, (FileGap(file="fitted/2026.csv", lines=(2,)),)),
    "more bad lines than are told one by one": (
        {"2026.csv": HEAD + GOOD.replace("B-0001", "b 1") * 60},
        (FileGap(file="fitted/2026.csv", lines=tuple(range(2, 62))),),
    ),
    "a row that says otherwise than before": (
        {"2026.csv": HEAD + GOOD + GOOD.replace(",11,", ",12,")}, (FileGap(file="fitted/2026.csv", lines=(3,)),)
    ),
    "a row that says the same again": ({"2026.csv": HEAD + GOOD + GOOD}, ()),
    "another head": ({"2026.csv": "day;fleet\n" + GOOD}, (FileGap(file="fitted/2026.csv", from_line=1),)),
    "an empty file": ({"2026.csv": ""}, (FileGap(file="fitted/2026.csv", from_line=1),)),
    "a quote that never ends": ({"2026.csv": f'{HEAD}{GOOD}"2026-03-01,A1\n\n'}, (FileGap(file="fitted/2026.csv", from_line=3),)),
    "letters of another encoding": ({"2026.csv": (HEAD + GOOD).encode() + b"\xff\n"}, (FileGap(file="fitted/2026.csv", from_line=1),)),
    "a year of another name": ({"2026 (copy).csv": HEAD + GOOD}, (FileGap(file="fitted/2026 (copy).csv", from_line=1),)),
    "a file without a year": ({"old.csv": HEAD + GOOD}, (FileGap(file="fitted/old.csv", from_line=1),)),
    "a file that is too large": ({"2026.csv": "x" * 2_100_000}, (FileGap(file="fitted/2026.csv", from_line=1),)),
    "what is no table": ({"README.txt": "x", "notes.txt": "x"}, ()),
}  # fmt: skip


@pytest.mark.parametrize("case", FILES)
def test_every_line_that_is_left_out_is_known(case, tmp_path):
    files, gaps = FILES[case]
    root = copied_with_batches(tmp_path / "depot")
    (root / "fitted").mkdir()
    for name, text in files.items():
        (root / "fitted" / name).write_bytes(text if isinstance(text, bytes) else text.encode())
    production = read_catalogue(root).production
    assert production.gaps == gaps
    assert tuple(each for each in gaps_of(production) if each.why == "unread") == gaps
    assert ("missing" in {each.why for each in gaps_of(production)}) == ("2026.csv" not in files)  # a count found less than there was


def test_records_that_cannot_be_read_are_gaps_of_what_they_may_speak_of():
    unread = {"batches/B-7.yml": "EX-0001", "recalls/x.yml": None, "batches/B-8.yml": "EX-0003"}
    production = replace(depot().production, unread=unread)
    assert [each.file for each in gaps_of(production)] == ["batches/B-7.yml", "batches/B-8.yml", "recalls/x.yml"]
    assert [each.file for each in gaps_of(production, parts={"EX-0001"})] == ["batches/B-7.yml", "recalls/x.yml"]
    assert {each.from_line for each in gaps_of(production)} == {1}


def test_suspects_are_counted_place_by_place_and_without_anything_that_is_looked_for_there_are_none():
    loose = row("2026-03-03", removed=1, vehicle="12")
    rows = row("2026-02-01", "B-1", vehicle="12"), row("2026-02-01", "B-2", vehicle="13"), loose, row("2026-02-03", "B-77", as_found=True), row("2026-03-02", off="B-78", vehicle="14", as_found=True)
    catalogue = depot(*rows, batches={"B-1": batch(), "B-2": batch()})
    found = suspects_of(catalogue, ["B-1"])
    assert ([each.batch for each in found.sitting], [each.spot.vehicle for each in found.came_off], [each.batch for each in found.lying]) == (["B-77"], ["12"], ["B-78"])
    assert (found.count, found.is_empty) == (3, False)
    assert suspects_of(catalogue, ["B-2"]).came_off == ()  # it sits on another vehicle
    for nothing in (suspects_of(catalogue, []), suspects_of(depot(), ["B-1"])):
        assert (nothing.count, nothing.is_empty, nothing.sitting, nothing.lying) == (0, True, (), ())


def test_pieces_of_a_batch_without_a_record_are_suspects_where_the_part_goes():
    catalogue = depot(row("2026-03-01", "B-1"), row("2026-03-01", "B-77", 2), row("2026-03-01", "B-78", place="roof"))
    found = suspects_of(catalogue, catalogue.production.batches)
    assert [(each.batch, each.count) for each in found.sitting if each.spot.place == "cab"] == [("B-77", 2)]
    assert "B-77" not in {each.batch for each in suspects_of(catalogue, ["B-77"]).sitting}  # no suspect of its own recall
    assert all(each.batch != "B-1" for each in found.sitting)


def test_a_piece_without_a_batch_that_came_off_where_one_of_it_sits_is_a_suspect():
    here = row("2026-03-01", "B-1", position="left")
    off = row("2026-04-01", removed=1, position="Left ")
    others = batch(part="EX-0003"), batch()
    exchanged = row("2026-04-02", "B-3", removed=1, position="left")  # of another part: an original of its own kind came off
    again = row("2026-04-03", "B-4", removed=1, position="left")
    elsewhere = row("2026-04-01", removed=1, vehicle="12"), row("2026-02-01", removed=1, position="left")
    catalogue = depot(here, off, *elsewhere, exchanged, again, batches={"B-1": batch(), "B-3": others[0], "B-4": others[1]})
    assert [(each.on.isoformat(), each.spot.vehicle) for each in suspects_of(catalogue, ["B-1"]).came_off] == [
        ("2026-04-01", "11"), ("2026-04-03", "11"),
    ]  # fmt: skip


def test_a_recall_knows_each_spot_and_what_lies_elsewhere():
    rows = (row("2026-03-01", "B-1", 1, position="left"), row("2026-03-01", "B-1", 2, position="right"), row("2026-04-01", off="B-1", position="left"))
    issued = [{"what": "released", "on": "2026-01-10", "by": "specialist"}, {"what": "issued", "on": "2026-02-01", "by": "keeper", "count": 5, "to": "night shift"}]
    catalogue = depot(*rows, batches={"B-1": batch(events=issued)}, recalls={"RC-0001": recall(lot="L-1")})
    reach = reach_of(catalogue.production.recalls["RC-0001"], catalogue.production)
    assert [(each.spot.position, each.count) for each in reach.spots] == [("right", 2)]
    assert [(each.kind, each.batch, each.count) for each in reach.elsewhere] == [("shelf", "B-1", 5), ("out", "B-1", 2), ("came_off", "B-1", 1)]
    assert [each.to for each in reach.elsewhere if each.kind == "out"] == ["night shift"]
    assert [spot.positions for each in reach.elsewhere if each.off for spot in each.off.spots] == [("left",)]


def test_a_batch_without_a_record_is_visited_all_the_same():
    catalogue = depot(row("2026-03-01", "B-77", 2), recalls={"RC-0001": recall(batch="B-77")})
    reach = reach_of(catalogue.production.recalls["RC-0001"], catalogue.production)
    assert [(each.site.vehicle, each.sits) for each in reach.visits] == [("11", 2)]
    assert reach.unrecorded == ("B-77",)
