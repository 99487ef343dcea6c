"""Work with a lot or batch that is called back, blocked, rejected or not released: refused with the reason, and written where it was done all the same."""

import pytest
import yaml

from tests.edge.conftest import bytes_of
from tests.fixtures.prints import PRINTS
from tests.fixtures.tiny import overlaid

NEW = (
    "batch", "new", "EX-0001", "--machine", "M-1", "--lots", "L-0007", "--count", "3", "--started", "2026-11-02 08:10",
    "--ended", "2026-11-02 13:40", "--grams", "31", "--by", "specialist",
)  # fmt: skip
OPEN = ("lot", "open", "L-0007", "--by", "fitter")
DRY = ("lot", "dry", "L-0007", "--hours", "6", "--celsius", "65", "--by", "fitter")
ISSUE = ("batch", "issue", "B-0001", "--count", "1", "--by", "fitter")
CALL = {"what": "called back", "on": "2026-10-12", "by": "keeper", "why": "brittle in the cold."}
LIFT = {"what": "lifted", "on": "2026-11-01", "by": "keeper", "why": "found to be good"}
REJECT = ("batch", "reject", "B-0002", "--why", "too small", "--by", "keeper")
BY = ("--by", "fitter")


@pytest.fixture
def printed(depot):
    overlaid(depot / "catalogue", PRINTS)
    return depot


def called_back(depot, *events, **what):
    file = depot / "catalogue/recalls/RC-0001.yml"
    file.parent.mkdir(exist_ok=True)
    file.write_text(yaml.safe_dump({**(what or {"lot": "L-0007"}), "events": list(events) or [CALL]}), "utf-8")


def refused(depot, spares, words, *says):
    before = bytes_of(depot / "catalogue")
    code, _, err = spares(*words)
    assert (code, bytes_of(depot / "catalogue")) == (1, before), words
    assert all(each in err for each in (*says, "--as-found")), err


def written(spares, words, *says):
    code, out, err = spares(*words)
    assert code == 0, err
    assert all(each in out + err for each in says), out + err
    return out + err


@pytest.mark.parametrize("words", [OPEN, DRY, NEW, ISSUE], ids=["open", "dry", "new", "issue"])
@pytest.mark.parametrize("of", ["lot", "lot of today", "blocked", "revision", "batch"])
def test_what_is_stopped_is_not_worked_with_unless_it_was(printed, spares, words, of):
    speaks = {"revision": words[0] == "batch", "batch": words is ISSUE}.get(of, True)
    day = "2026-11-02" if words is NEW else "2026-11-25"
    if of == "blocked":
        assert spares("lot", "block", "L-0007", "--why", "brittle in the cold.", "--on", "2026-10-12", *BY)[0] == 0
    else:
        whole = {"revision": {"part": "EX-0001", "revision": "A"}, "batch": {"batch": "B-0001"}}.get(of, {"lot": "L-0007"})
        called_back(printed, CALL | ({"on": day} if of == "lot of today" else {}), **whole)
    if not speaks:
        assert "brittle" not in written(spares, words)
    elif of == "blocked" and words is NEW:  # what was blocked before the print is an error of the record
        code, out, err = spares(*words, "--as-found")
        assert (code, "BATCH02" in out + err) == (1, True)
    else:
        refused(printed, spares, words, "brittle in the cold", "blocked" if of == "blocked" else "RC-0001")
        written(spares, (*words, "--as-found"), "Stopped, and stays so", "brittle in the cold")
        assert spares("check")[0] == 0


@pytest.mark.parametrize("words", [OPEN, DRY, NEW, ISSUE], ids=["open", "dry", "new", "issue"])
def test_what_is_lifted_is_worked_with(printed, spares, words):
    called_back(printed, CALL, LIFT)
    assert "brittle" not in written(spares, words)


@pytest.mark.parametrize("words", [(*OPEN, "--on", "2026-10-11"), (*DRY, "--on", "2026-10-11"), (*ISSUE, "--on", "2026-10-11"), NEW])
def test_what_was_done_before_is_written_and_told(printed, spares, words):
    called_back(printed, CALL | ({"on": "2026-11-03"} if words is NEW else {}))
    written(spares, words, "Stopped, and stays so", "RC-0001")


def test_what_helps_to_find_or_to_find_out_is_written_at_once(printed, spares):
    assert spares(*ISSUE)[0] == 0
    called_back(printed)
    written(spares, ("batch", "return", "B-0001", "--count", "1", *BY), "closed box", "RC-0001")
    written(spares, ("batch", "count", "B-0001", "--on-shelf", "2", *BY), "Stopped, and stays so")
    measured = ("batch", "measure", "B-0001", "--check", "Bore=6.02", "--gauge", "pin gauges P-2", "--calibrated-until", "2027-03-31", "--by", "specialist")
    written(spares, measured, "Stopped, and stays so")
    assert "RC-0001" not in written(spares, ("batch", "scrap", "B-0001", "--count", "1", "--why", "called back", *BY))
    assert "RC-0001" not in written(spares, ("lot", "block", "L-0007", "--why", "called back", *BY))
    written(spares, ("lot", "unblock", "L-0007", "--why", "a slip", "--by", "keeper"), "Stopped, and stays so", "RC-0001")
    written(spares, ("lot", "use-up", "L-0007", *BY))


def test_nothing_of_a_batch_that_is_not_released_is_handed_out(printed, spares):
    """Never judged, or rejected."""
    assert spares(*NEW)[0] == 0
    own = ("batch", "issue", "B-0002", "--count", "1", *BY)
    refused(printed, spares, own, "nobody has released it")
    written(spares, (*own, "--as-found"), "Keep its pieces apart")
    written(spares, ("batch", "return", "B-0002", "--count", "1", *BY), "nobody has released it")
    assert spares(*REJECT)[0] == 0
    refused(printed, spares, (*own, "--again"), "rejected")


def test_more_of_a_lot_that_is_called_back_is_told_to_be_another_number(printed, spares):
    called_back(printed)
    lot = yaml.safe_load((printed / "catalogue/materials/lots/L-0007.yml").read_bytes())
    more = ("lot", "receive", "--material", lot["material"], "--supplier-lot", lot["supplier_lot"], "--grams", "1000", "--number", "L-0008", *BY)
    assert "it is more of L-0007, which is stopped" in spares(*more)[2]
    written(spares, (*more, "--as-found"), "More of L-0007", "RC-0001", "quality has said that it is not concerned")


def test_a_recall_that_cannot_be_read_may_speak_of_it(printed, spares):
    (printed / "catalogue/recalls").mkdir()
    (printed / "catalogue/recalls/RC-0001.yml").write_text("lot: [\n", "utf-8")
    for words in (OPEN, NEW, ISSUE):
        written(spares, words, "recalls/RC-0001.yml cannot be relied on")


def test_the_list_of_lots_says_called_back(printed, spares):
    assert "in use" in spares("lot")[1]
    called_back(printed)
    assert spares("lot", "block", "L-0007", "--why", "called back", *BY)[0] == 0
    assert "called back" in spares("lot")[1]
    called_back(printed, CALL, LIFT)
    assert "blocked" in spares("lot")[1]


def test_more_of_a_stopped_lot_under_a_second_number_is_refused_unless_it_came_in(printed, spares):
    called_back(printed)
    words = ("lot", "receive", "--material", "petg", "--supplier-lot", "pg-2231", "--grams", "1000", "--number", "L-0020", *BY)
    refused(printed, spares, words, "more of L-0007", "brittle in the cold")
    written(spares, (*words, "--as-found"), "More of L-0007", "spares lot block")
    near = ("lot", "receive", "--material", "petg", "--supplier-lot", "Lot PG 2231", "--grams", "1000", *BY)
    written(spares, near, "nearly that of L-0007")
    code, out, err = spares("check")
    assert (code, "LOT04" in out + err) == (0, True)
    for why, asks_on in (("bag was open", True), ("other drum than L-0007, tested", False)):
        for action in ("block", "unblock"):
            code, out, err = spares("lot", action, "L-0020", "--why", why, "--by", "keeper")
            assert code == 0
        assert ("L-0020 still asks because of L-0007" in out + err, "L-0007 or RC-0001 in the text" in out + err) == (asks_on, asks_on)
    out = spares("check")[1]
    assert "L-0021.yml" in out
    assert "L-0020.yml" not in out
    assert spares("recall", "--lot", "L-0021", "--why", "cracks", "--by", "keeper")[0] == 0
    code, out, _ = spares("recall", "--lift", "RC-0002", "--why", "tested, holds", "--by", "keeper")
    assert (code, "L-0021 still asks because of L-0007" in out) == (0, True), out


def test_the_number_of_a_stopped_lot_under_another_material_is_told(printed, spares):
    called_back(printed)
    (printed / "catalogue/materials/pa12.yml").write_bytes((printed / "catalogue/materials/petg.yml").read_bytes())
    written(spares, ("lot", "receive", "--material", "pa12", "--supplier-lot", "PG-2231", "--grams", "1000", "--number", "L-0030", *BY), "that of L-0007", "another material (petg)", "do not ask")
    assert "Look at lot L-0030 (pa12)" in spares("trace", "--lot", "L-0007")[1]
    assert "L-0030.yml" in (told := spares("check")[1]), told


def test_what_has_nearly_the_number_of_a_stopped_lot_asks_wherever_it_is_told_until_quality_has_said(printed, spares):
    file = printed / "catalogue/materials/lots/L-0007.yml"
    lot = yaml.safe_load(file.read_bytes())
    first = {"material": lot["material"], "supplier_lot": f"{lot['supplier_lot']} (spool 1)", "events": [{"on": "2026-01-02", "what": "received", "by": "fitter", "grams": 900.0}]}
    (file.parent / "L-0001.yml").write_text(yaml.safe_dump(first), "utf-8")
    called_back(printed, lot="L-0001")
    numbers = f"{lot['supplier_lot']} (L-0007) ≈ {first['supplier_lot']} (L-0001)"
    explain = ("explain", "EX-0001", "--batch", "B-0001")
    code, out, err = spares(*explain)
    assert (code, "Ask first" in out, numbers in out) == (0, True, True), out + err
    for words in (OPEN, DRY):
        written(spares, words, "nearly that of L-0001", "quality has said")
    written(spares, NEW, numbers)
    written(spares, ISSUE, numbers)
    assert numbers in spares("trace", "--lot", "L-0001")[1]
    assert numbers in spares("trace", "--batch", "B-0001")[1]
    assert spares("lot", "block", "L-0007", "--why", "nearly the number of L-0001", "--by", "keeper")[0] == 0
    written(spares, ("lot", "unblock", "L-0007", "--why", "another lot, by the supplier's letter", "--by", "keeper"))
    assert numbers not in spares("trace", "--lot", "L-0001")[1]
    assert numbers not in spares(*explain)[1]
