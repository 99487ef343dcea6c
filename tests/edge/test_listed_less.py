"""A list whose records say less or something else than they did says so: what was taken out of them is missing in it."""

import json
import shutil

import pytest

from generator.records.fitted import COLUMNS
from tests.fixtures.with_batches import with_batches
from tests.papers.printed import text_of
from tests.provenance.remembering.test_git import asked

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


@pytest.mark.parametrize("case", CASES)
def test_what_sits_the_labels_and_the_month_say_it_too(case, kept, spares):
    change, sentence, _ = CASES[case]
    commands = {
        "fitted": ("fitted",),
        "labels": ("labels", "--recall", "RC-0001", "--to"),
        "report": ("report", "--month", "2026-05", "--on", "2026-06-02"),
    }
    if case == "another lot":
        del commands["labels"]  # there is none to print then
    for at, words in enumerate(commands.values()):
        assert spares(*words, *([f"whole-{at}.pdf"] if words[-1] == "--to" else []))[0] == 0, words
    change(kept)
    for at, words in enumerate(commands.values()):
        code, out, _ = spares(*words, *([f"less-{at}.pdf"] if words[-1] == "--to" else []))
        assert (code, "This list is incomplete." in out, sentence in " ".join(out.split())) == (1, True, True), (words, out)


def test_an_ordinary_label_knows_a_lot_in_other_capitals(kept, spares):
    """The lot is called back, and the batch names it in small letters: no label that looks good."""
    lots("l-0001")(kept)
    code, _, err = spares("labels", "EX-0001", "--batch", "B-0001", "--to", "a.pdf")
    assert (code, "Called back, RC-0001" in err) == (1, True)


def test_a_month_that_is_short_says_so_in_each_form(kept, spares, tmp_path):
    """Fitted years that cannot be read are named by the page, the paper, the table and JSON, as in a trace."""
    file = kept / FITTED
    file.write_text(file.read_text(encoding="utf-8") + "2026-04-01,A1\n", encoding="utf-8")
    month = ("report", "--month", "2026-03", "--on", "2026-06-02")
    sentence = "Line 4 of fitted/2026.csv could not be read."
    code, out, _ = spares(*month)
    assert (code, out.splitlines()[:2]) == (1, ["This list is incomplete.", sentence])
    for words in (("--format", "csv"), ("--format", "json")):
        code, out, err = spares(*month, *words)
        assert (code, sentence in " ".join(err.split())) == (1, True)
    told = json.loads(out)
    assert (told["is_complete"], told["unread"][0]["lines"]) == (False, [4])
    code, out, _ = spares(*month, "--to", tmp_path / "m.pdf")
    assert (code, sentence in out) == (1, True)
    words = " ".join(text_of((tmp_path / "m.pdf").read_bytes()).split())
    assert words.index("This list is incomplete.") < words.index(sentence) < words.index("Fitted")
