"""Records of production against their own commits, the store and the last site: what was taken out, and whose pieces ask."""

import shutil
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from generator.assemble.whole_way import read_with_past
from generator.provenance.remembering import committed_produced
from generator.provenance.remembering.compared import for_site
from generator.provenance.remembering.kept import as_bytes, memory_file, remember, remembered
from generator.provenance.remembering.produced import produced_to_remember
from generator.records.fitted import COLUMNS
from generator.rules.production.ledger import ledger
from generator.rules.production.piece import of_any, of_batch, of_batches
from generator.systems.store import Store
from tests.fixtures.told import line
from tests.provenance.remembering.test_git import asked

pytestmark = pytest.mark.skipif(not shutil.which("git"), reason="there is no git")
BATCH, LOT, RECALL, FITTED = "batches/B-0001.yml", "materials/lots/L-1.yml", "recalls/R-1.yml", "fitted/2028.csv"
HEAD = """\
part: EX-0001
revision: A
printed_as: "spares print: 1\\n"
fingerprint: "0000000000000000000000000000000000000000000000000000000000000000"
count: 4
machine: M-1
printed_by: specialist
lots: [L-1]
started: "2028-01-05 08:00"
ended: "2028-01-05 12:00"
events:
  - {on: 2028-01-06, what: measured, by: specialist, checks: [{check: Bore, values_mm: [6], gauge: P, calibrated_until: 2028-12-31}]}
"""
REJECTED = "  - {on: 2028-01-07, what: rejected, by: keeper, why: cracks}\n"
COUNTED = "  - {on: 2028-01-08, what: counted, by: keeper, on_shelf: 4}\n"
CALL = "lot: L-1\nevents:\n  - {what: called back, on: 2028-02-01, by: keeper, why: cracks}\n"
LIFTED = "  - {what: lifted, on: 2028-02-09, by: keeper, why: no cracks}\n"
ROWS = [f"2028-02-{day},A1,11,cab,,B-0001,1,,,,fitter,r{day}" for day in ("27", "28", "29")]


def put(depot, name, text):
    (depot / name).parent.mkdir(parents=True, exist_ok=True)
    (depot / name).write_bytes(text.encode())


def rows(*lines, end="\n"):
    return end.join([",".join(COLUMNS), *lines, ""])


@pytest.fixture
def commit(depot):
    def committed(day="2028-03-01", *words):
        asked(depot, "add", "-A", day=day)
        asked(depot, "commit", "-q", "--allow-empty", "-m", "x", *words, day=day)

    put(depot, BATCH, HEAD + REJECTED)
    put(depot, LOT, "material: petg\nsupplier_lot: S-1\nevents:\n  - {what: received, on: 2028-01-01, by: keeper, grams: 1000}\n")
    put(depot, RECALL, CALL)
    put(depot, FITTED, rows(*ROWS))
    asked(depot, "init", "-q", "-b", "main")
    committed()
    return committed


def looked(depot, store="store", published=None):
    catalogue, memory = read_with_past(depot, Store(depot.parent / store), published)
    problems = (each for each in catalogue.problems if each.code in ("PAST08", "PAST09"))
    return [line(each).partition("\n")[0] for each in problems], catalogue, memory


def told(depot, *place):
    return [each.partition(": error ")[2].partition(", as git")[0].partition(" than git")[0] for each in looked(depot, *place)[0]]


def test_what_only_grows_is_as_it_was(depot, commit):
    assert told(depot) == []
    put(depot, BATCH, HEAD + REJECTED + COUNTED)
    put(depot, RECALL, CALL + LIFTED)
    put(depot, FITTED, rows(*ROWS, "2028-03-01,A1,12,cab,,B-0001,1,,,,fitter,r1"))
    assert told(depot) == []
    commit("2028-03-02")
    assert told(depot) == []


def test_a_rejection_that_is_taken_out_is_told_and_its_pieces_ask(depot, commit):
    head = asked(depot, "rev-parse", "HEAD")[:10]
    put(depot, BATCH, HEAD)
    found, catalogue, _ = looked(depot)
    assert found == [f"{BATCH}:12:5: error PAST08: event 2 is gone: 'rejected' of 2028-01-07, as git, commit {head} of 2028-03-01, has it"]
    batch, day = catalogue.production.batches["B-0001"], date(2028, 3, 1)
    assert of_batch("B-0001", batch, "A", None, catalogue, day).piece is None
    assert of_any("EX-0001", "A", catalogue, day, of_batches("EX-0001", "A", None, catalogue, day)).piece is None
    assert of_any("EX-0001", "B", catalogue, day, of_batches("EX-0001", "B", None, catalogue, day)).piece == "not kept"
    commit("2028-03-02")  # to commit it says it no less
    assert told(depot) == ["PAST08: event 2 is gone: 'rejected' of 2028-01-07"]
    put(depot, BATCH, HEAD + REJECTED)
    assert told(depot) == []


@pytest.mark.parametrize(
    ("file", "was", "now", "says"),
    [
        (BATCH, "count: 4", "count: 5", "says another 'count'"),
        (BATCH, "why: cracks", "why: dust", "event 2 says something else than 'rejected' of 2028-01-07"),
        (BATCH, "events:\n", "events:\n" + COUNTED, "event 1 ('counted' of 2028-01-08) was put in before others that git"),
        (RECALL, "on: 2028-02-01", "on: 2029-02-01", "event 1 says something else than 'called back' of 2028-02-01"),
        (RECALL, "lot: L-1", "batch: B-0009", "says another 'lot'"),
        (LOT, "S-1", "S-2", "says another 'supplier_lot'"),
    ],
)
def test_what_is_rewritten_asks_of_the_batch_that_it_speaks_of(depot, commit, file, was, now, says):
    text = (depot / file).read_text("utf-8")
    put(depot, file, text.replace(was, now))
    assert [each.partition(": ")[2].startswith(says) for each in told(depot)] == [True]
    production = looked(depot)[1].production
    assert production.rewritten >= {"B-0001"}
    assert production.files_rewritten("B-0001") == (file,)  # the one that changed, be it the recall's or the lot's


@pytest.mark.parametrize("file", [BATCH, RECALL, LOT])
def test_a_file_that_is_gone_or_renamed_is_told_and_pieces_ask(depot, commit, file):
    (depot / file).rename((depot / file).with_name(Path(file).stem + "9.yml"))
    found, catalogue, _ = looked(depot)
    assert [each.split(",")[0] for each in found] == [f"{file}: error PAST08: is gone"]
    day = date(2028, 3, 1)
    if file == BATCH:
        assert catalogue.production.unread[BATCH] == "EX-0001"
    assert of_any("EX-0001", "A", catalogue, day, of_batches("EX-0001", "A", None, catalogue, day)).piece is None
    put(depot, file, "# nothing but a comment\n")
    assert file in looked(depot)[1].production.unread  # an error already, and nothing of it is known


def test_what_cannot_be_read_is_an_error_already(depot, commit):
    put(depot, BATCH, HEAD.replace("count: 4", "count: many"))
    put(depot, FITTED, "other,head\n")
    assert told(depot) == []


def test_lines_in_another_order_or_with_other_ends_are_the_same_lines(depot, commit):
    for text in (rows(*reversed(ROWS)), rows(*ROWS, end="\r\n"), "\ufeff" + rows(*ROWS), rows(*ROWS).rstrip("\n"), rows(*ROWS, "")):
        put(depot, FITTED, text)
        assert told(depot) == []
    put(depot, FITTED, rows('2028-02-27,A1,11,cab,,"B-0001",01,,0,,fitter,r27', *ROWS[1:]))
    assert told(depot) == []


def test_a_line_from_the_middle_is_told_behind_the_one_before_and_nothing_else_asks(depot, commit):
    put(depot, FITTED, rows(ROWS[0], ROWS[2]))
    found, catalogue, _ = looked(depot)
    assert [each.partition(", as")[0].partition(" as git")[0] for each in found] == [
        f"{FITTED}:2: error PAST09: behind this line one is missing or says something else: line 3"
    ]
    assert (catalogue.production.rewritten, catalogue.production.unread) == (frozenset(), {})
    commit("2028-03-02")
    put(depot, FITTED, rows(ROWS[0], ROWS[2], "2028-03-01,A1,12,cab,,B-0001,1,,,,fitter,r1"))
    commit("2028-03-03")
    assert len(looked(depot, "fresh")[0]) == 1
    put(depot, FITTED, rows(ROWS[0], ROWS[1].replace("cab", "door"), ROWS[2]))
    assert len(looked(depot)[0]) == 2  # the other line of 3 March is missing too, since it was committed
    (depot / FITTED).unlink()
    assert [each.partition(": ")[2].partition(",")[0] for each in told(depot)][:1] == ["is gone with its 3 lines"]


def test_a_leap_day_stays_and_no_line_goes_without_its_end(depot, commit):
    put(depot, FITTED, rows(*ROWS).rstrip("\n") + "x\n")  # r29 became r29x: the bytes begin as before
    assert len(looked(depot)[0]) == 1
    commit("2028-03-02")
    assert len(looked(depot, "fresh")[0]) == 1


def test_squashed_and_merged_branches_lose_nothing(depot, commit):
    asked(depot, "checkout", "-q", "-b", "side")
    put(depot, BATCH, HEAD + REJECTED + COUNTED)
    put(depot, FITTED, rows(*ROWS, "2028-03-01,A1,12,cab,,B-0001,1,,,,fitter,r1"))
    commit("2028-03-02")
    asked(depot, "checkout", "-q", "main")
    other = COUNTED.replace("on_shelf: 4", "on_shelf: 3").replace("01-08", "01-09")
    put(depot, BATCH, HEAD + REJECTED + other)
    put(depot, FITTED, rows(*ROWS, "2028-03-01,A1,13,cab,,B-0001,1,,,,fitter,r2"))
    commit("2028-03-03")
    asked(depot, "merge", "-q", "-s", "ours", "--no-commit", "side")
    both = rows(*ROWS, "2028-03-01,A1,12,cab,,B-0001,1,,,,fitter,r1", "2028-03-01,A1,13,cab,,B-0001,1,,,,fitter,r2")
    put(depot, BATCH, HEAD + REJECTED + COUNTED + other)
    put(depot, FITTED, both)
    commit("2028-03-04")
    assert told(depot) == []
    put(depot, BATCH, HEAD + REJECTED + other)
    put(depot, FITTED, rows(*ROWS, "2028-03-01,A1,13,cab,,B-0001,1,,,,fitter,r2"))
    assert len(told(depot)) == 2
    asked(depot, "checkout", "-q", "-f", "-b", "squashed", "main~1")
    asked(depot, "merge", "-q", "--squash", "-X", "theirs", "side")
    put(depot, BATCH, HEAD + REJECTED + other + COUNTED)
    put(depot, FITTED, both)
    commit("2028-03-05")
    assert told(depot, "fresh") == []


def test_what_an_amended_commit_hides_the_store_and_the_last_site_tell(depot, commit):
    put(depot, FITTED, rows(*ROWS, "2028-03-01,A1,12,cab,,B-0001,1,,,,fitter,r1"))
    commit("2028-03-02")
    _, catalogue, memory = looked(depot)
    now = produced_to_remember(replace(catalogue, problems=()), memory.now, depot, date(2028, 4, 1))
    assert {BATCH, LOT, RECALL, FITTED} == set(now)
    assert remember(memory_file(depot.parent / "store", depot), now) is None
    site = depot.parent / "site"
    site.mkdir()
    (site / "remembered.json").write_bytes(as_bytes(for_site(memory, now)))
    put(depot, FITTED, rows(*ROWS))
    put(depot, BATCH, HEAD)
    commit("2028-03-02", "--amend")
    asked(depot, "update-ref", "-d", "HEAD")  # and even the first one
    commit("2028-03-02")
    assert looked(depot, "fresh")[0] == []
    for found in (looked(depot)[0], looked(depot, "fresh", site)[0]):
        assert [each.split(":")[0] for each in found] == [BATCH, FITTED]
    memory = looked(depot)[2]
    assert remember(memory_file(depot.parent / "store", depot), memory.now) is None  # less is never remembered
    assert remembered(memory_file(depot.parent / "store", depot)) == now
    assert for_site(replace(memory, published=now), memory.now) == now


def test_commits_that_are_left_out_are_not_held_against_it(depot, commit):
    put(depot, BATCH, HEAD)
    depot_yml = (depot / "depot.yml").read_text("utf-8")
    put(depot, "depot.yml", depot_yml + "records_kept_since: {day: 2028-03-01, by: keeper, why: trials}\n")
    commit("2028-03-02")
    assert told(depot) == []


def test_what_git_was_asked_once_it_is_not_asked_again(depot, commit, monkeypatch):
    for number in range(3):
        put(depot, FITTED, rows(*ROWS, *(f"2028-03-0{day},A1,12,cab,,B-0001,1,,,,fitter,s{day}" for day in range(1, number + 2))))
        commit(f"2028-03-0{number + 2}")
    assert told(depot) == []
    read: list[str] = []
    lines = committed_produced.fitted_file
    monkeypatch.setattr(committed_produced, "fitted_file", lambda file, raw: read.append(file) or lines(file, raw))
    assert told(depot) == []
    assert read == []  # nothing has moved
    put(depot, FITTED, rows(*reversed(ROWS)))
    commit("2028-03-09")
    assert len(looked(depot)[0]) == 3
    assert read == [FITTED]  # the newest; the one before it is known
    asked(depot, "reset", "-q", "--hard", "HEAD~3")
    assert told(depot) == []


def test_a_count_that_was_a_slip_is_answered_by_scrap_and_the_message_names_the_way(depot, commit):
    put(depot, BATCH, (HEAD + REJECTED).replace("count: 4", "count: 3"))
    (problem,) = [each for each in looked(depot)[1].problems if each.code == "PAST08"]
    assert (problem.mend, "spares batch scrap" in line(problem), "records_kept_since" in line(problem)) == ("count", True, True)
    put(depot, BATCH, HEAD + REJECTED + "  - {on: 2028-01-08, what: scrapped, by: keeper, count: 1, why: 3 stood on the plate}\n")
    found, catalogue, _ = looked(depot)
    assert (found, ledger(catalogue.production).balances["B-0001"].in_use) == ([], 3)
