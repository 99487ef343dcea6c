"""A list whose records say less or something else than they did says so: what was taken out of them is missing in it."""

import shutil

import pytest

from generator.records.fitted import COLUMNS
from tests.fixtures.with_batches import with_batches
from tests.remembering.test_git import asked

CALL = "lot: L-0001\nevents:\n  - {what: called back, on: 2026-05-01, by: keeper, why: cracks}\n"
ROWS = [f"2026-03-0{n},A1,1{n},cab,,B-0001,1,,,,fitter," for n in (1, 2)]
FITTED, BATCH = "fitted/2026.csv", "batches/B-0001.yml"
pytestmark = pytest.mark.skipif(not shutil.which("git"), reason="there is no git")


@pytest.fixture
def kept(depot):
    root = with_batches(depot / "catalogue")
    for name, text in ((FITTED, "\n".join([",".join(COLUMNS), *ROWS, ""])), ("recalls/RC-0001.yml", CALL)):
        (root / name).parent.mkdir(exist_ok=True)
        (root / name).write_text(text, encoding="utf-8")
    for words in (("init", "-q", "-b", "main"), ("add", "-A"), ("commit", "-q", "-m", "x")):
        asked(depot, *words, day="2026-06-01")
    return root


def cut(root):
    file = root / FITTED
    file.write_text(file.read_text(encoding="utf-8").replace(ROWS[1] + "\n", ""), encoding="utf-8")


def gone(root):
    shutil.rmtree(root / "fitted")


def renamed(root):
    (root / FITTED).rename(root / "fitted/old.txt")


def edited(root):
    file = root / FITTED
    file.write_text(file.read_text(encoding="utf-8").replace("A1,12", "A1,13"), encoding="utf-8")


def to_come(root):
    file = root / FITTED
    file.write_text(file.read_text(encoding="utf-8") + "2026-12-31,A1,11,cab,,,,B-0001,1,worn,fitter,\n", encoding="utf-8")


def lots(now):
    def change(root):
        file = root / BATCH
        text = file.read_text(encoding="utf-8")
        assert "L-0001" in text
        file.write_text(text.replace("L-0001", now), encoding="utf-8")

    return change


LESS = "fitted/2026.csv says less or something else than it did."
MISSING = "fitted/2026.csv is not there, though batches tell of pieces that went out of store in its time."
CHANGED = "A batch whose record, lot or recall says something else than it did: B-0001."
CASES = {
    "cut at the end of a line": (cut, LESS, {"11"}),
    "gone": (gone, LESS, set()),
    "renamed": (renamed, MISSING, set()),
    "a line that was edited": (edited, LESS, {"11", "13"}),
    "a line of a day to come": (to_come, "Line 4 of fitted/2026.csv is of a day to come: it takes nothing off yet.", {"11", "12"}),
    "a lot in small letters": (lots("l-0001"), CHANGED, {"11", "12"}),
    "another lot": (lots("L-0077"), CHANGED, set()),
}


@pytest.mark.parametrize("case", CASES)
def test_the_list_and_the_notice_say_what_they_are_short_of(case, kept, spares, monkeypatch):
    told = []
    monkeypatch.setattr("generator.edge.commands.notice.recall_notice", lambda notice, w: told.append(notice) or b"%PDF-1.7")
    assert spares("trace", "--lot", "L-0001", "--on", "2026-06-02")[0] == 0
    assert spares("notice", "RC-0001", "--to", "m.pdf")[0] == 0
    change, says, vehicles = CASES[case]
    change(kept)
    code, out, _ = spares("trace", "--lot", "L-0001", "--on", "2026-06-02")
    assert (code, out.splitlines()[0]) == (1, "This list is incomplete.")
    assert says in out
    code, out, _ = spares("notice", "RC-0001", "--to", "n.pdf")
    assert (code, says in out) == (1, True)
    whole, short = told
    assert (whole.incomplete, says in short.incomplete) == ((), True)
    assert {each.vehicle.removeprefix("A1 ") for each in short.found_at} == vehicles


def test_a_new_recall_says_so_too(kept, spares):
    cut(kept)
    code, out, _ = spares("recall", "--batch", "B-0001", "--why", "cracks", "--by", "keeper")
    assert (code, LESS in out) == (1, True)
