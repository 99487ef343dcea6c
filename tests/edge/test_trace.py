"""`spares trace`: from a lot to the vehicles and back, as a table, as JSON and as CSV."""

import csv
import io
import json

import pytest
import yaml

from generator.records.fitted import COLUMNS
from tests.fixtures.prints import PRINTS
from tests.fixtures.tiny import overlaid
from tests.fixtures.with_batches import with_batches

ROWS = """\
2026-03-01,A1,11,cab,left,B-0001,1,,,,fitter,
2026-03-01,A1,12,cab,,B-0001,2,,,,fitter,
2026-04-01,A1,12,cab,,B-0002,1,B-0001,1,broken,fitter,
2026-04-02,A1,12,cab,,,,,1,wrong,fitter,
"""


@pytest.fixture
def fitted(depot):
    (with_batches(depot / "catalogue") / "fitted").mkdir()
    (depot / "catalogue/fitted/2026.csv").write_text(",".join(COLUMNS) + "\n" + ROWS, encoding="utf-8")
    return depot


def plain(spares, *arguments):
    code, out, err = spares("trace", *arguments, "--format", "json")
    assert (code, err) == (0, "")
    return json.loads(out)


def test_every_way_in(fitted, spares):
    lot = plain(spares, "--lot", "L-0001")
    assert [(each["vehicle"], each["batch"], each["count"]) for each in lot["fitted"]] == [("11", "B-0001", 1), ("12", "B-0001", 1), ("12", "B-0002", 1)]
    assert [(each["batch"], each["on_vehicles"], each["removed"], each["shelf"]) for each in lot["batches"]] == [("B-0001", 2, 1, 3), ("B-0002", 1, 0, 0)]
    assert plain(spares, "--machine", "bench-1") == plain(spares, "--part", "ex-0001") == lot
    assert plain(spares, "--part", "EX-0001", "--revision", "a") == lot
    for strange in ("Z", "B"):
        code, _, err = spares("trace", "--part", "EX-0001", "--revision", strange)
        assert (code, f"there is no revision {strange} of it" in err, "name one of A" in err) == (2, True, True)
    vehicle = plain(spares, "--vehicle", "12")
    assert [(each["batch"], each["why"]) for each in vehicle["removed"]] == [("B-0001", "broken"), ("", "wrong")]
    assert [each["batch"] for each in plain(spares, "--batch", "b-0002")["fitted"]] == ["B-0002"]


@pytest.mark.parametrize("way", ["--lot", "--batch", "--part", "--vehicle", "--machine"])
def test_a_way_in_that_is_empty_is_one_message(fitted, spares, way):
    for empty in ("", "  "):
        code, _, err = spares("trace", way, empty)
        assert (code, f"{way} is empty" in err, "fault of spares" in err) == (2, True, False), err


def test_a_lot_by_the_number_of_its_supplier_is_offered_and_not_taken(fitted, spares):
    """A supplier's letter knows no number of ours, and one of its lots may have come in twice."""
    file = fitted / "catalogue/materials/lots/L-0001.yml"
    number = yaml.safe_load(file.read_text(encoding="utf-8"))["supplier_lot"]
    file.with_name("L-0002.yml").write_text(file.read_text(encoding="utf-8").replace(number, f"Lot {number}"), encoding="utf-8")
    ways = (("trace",), ("recall", "--why", "they crack", "--by", "keeper"))
    for way in ways:
        code, _, err = spares(*way, "--lot", f"{number} rest")
        assert (code, f"L-0001 ({number}); L-0002 (Lot {number})" in err) == (2, True), err
    code, _, err = spares("lot", "block", number, "--why", "they crack", "--by", "keeper")
    assert (code, f"L-0001 ({number})" in err) == (2, True), err
    assert "name one of L-0001; L-0002" in spares("trace", "--lot", "X 77777")[2]


def test_a_vehicle_is_named_as_the_table_names_it(fitted, spares):
    assert plain(spares, "--vehicle", "A1 12") == plain(spares, "--vehicle", "12") == plain(spares, "--vehicle", "a1  12")
    code, _, err = spares("trace", "--vehicle", "B2 12")
    assert (code, "there is no vehicle B2 12" in err) == (2, True), err


def test_a_list_that_is_cut_says_so(fitted, spares):
    batch = (fitted / "catalogue/batches/B-0001.yml").read_text(encoding="utf-8")
    for at in range(100, 120):
        (fitted / f"catalogue/batches/B-0{at}.yml").write_text(batch, encoding="utf-8")
    assert "B-0109; …" in spares("trace", "--batch", "X-1")[2]


def test_a_person_reads_a_table_and_a_program_csv(fitted, spares):
    code, out, _ = spares("trace", "--lot", "L-0001")
    assert code == 0
    assert "Pieces on vehicles: 3. Vehicles: 2." in out
    assert "rejected" in out
    assert "broken" in out
    rows = list(csv.DictReader(io.StringIO(spares("trace", "--vehicle", "11", "--format", "csv")[1])))
    assert [(each["place"], each["position"], each["count"]) for each in rows] == [("cab", "left", "1")]


def test_a_release_that_does_not_hold_is_told_as_none(depot, spares):
    overlaid(depot / "catalogue", PRINTS)
    assert [each["state"] for each in plain(spares, "--batch", "B-0001")["batches"]] == ["released"]
    file = depot / "catalogue/batches/B-0001.yml"
    text = file.read_text(encoding="utf-8")
    told = yaml.safe_load(text)
    file.write_text(text.replace(f"printed_by: {told['printed_by']}", "printed_by: keeper"), encoding="utf-8")
    assert [each["state"] for each in plain(spares, "--batch", "B-0001")["batches"]] == ["void"]
    assert "this release does not hold" in spares("trace", "--batch", "B-0001")[1]


def test_a_vehicle_that_has_gone_is_still_found(fitted, spares):
    fleets = fitted / "catalogue/fleets.yml"
    fleets.write_text(fleets.read_text(encoding="utf-8").replace('"11-14"', '"11"'), encoding="utf-8")
    assert [each["batch"] for each in plain(spares, "--vehicle", "12")["fitted"]] == ["B-0001", "B-0002"]


def test_a_list_that_is_short_says_so_first_and_ends_otherwise(fitted, spares):
    file = fitted / "catalogue/fitted/2026.csv"
    file.write_text(file.read_text(encoding="utf-8") + "2026-05-01,A1,13,cab,,B-0001,one,,,,fitter,\n", encoding="utf-8")
    code, out, _ = spares("trace", "--lot", "L-0001")
    assert code == 1
    assert out.startswith("This list is incomplete.\nLine 6 of fitted/2026.csv could not be read.\n")
    code, out, err = spares("trace", "--lot", "L-0001", "--format", "csv")
    assert (code, "This list is incomplete." in err, out.startswith("fleet,")) == (1, True, True)
    code, out, _ = spares("trace", "--vehicle", "13", "--format", "json")
    assert (code, json.loads(out)["is_complete"], json.loads(out)["unread"]) == (1, False, [{"file": "fitted/2026.csv", "lines": [6], "from_line": None, "why": "unread"}])


def test_a_batch_that_cannot_be_read_makes_its_pieces_suspects_and_the_list_short(fitted, spares):
    (fitted / "catalogue/batches/B-0001.yml").write_text("nonsense: 1\n", encoding="utf-8")
    code, out, _ = spares("trace", "--lot", "L-0001")
    assert code == 1
    assert "batches/B-0001.yml could not be read." in out
    assert "Batch unknown: look" in out
    assert "A1 11    Driver's cab  left      B-0001" in out[out.index("Batch unknown") :]


def test_a_period_is_of_the_days_on_which_batches_were_printing(fitted, spares):
    started = [str(each)[:10] for each in (yaml.safe_load((fitted / f"catalogue/batches/B-000{n}.yml").read_text(encoding="utf-8"))["started"] for n in (1, 2))]
    first, second = started

    def names(*arguments):
        return [each["batch"] for each in plain(spares, "--machine", "bench-1", *arguments)["batches"]]

    assert names() == ["B-0001", "B-0002"]
    assert names("--since", first, "--until", first) == [name for name, day in zip(("B-0001", "B-0002"), started, strict=True) if day == first]
    assert names("--until", "2000-01-01") == []
    assert names("--since", second) == [name for name, day in zip(("B-0001", "B-0002"), started, strict=True) if day >= second]
    out = spares("trace", "--machine", "bench-1", "--since", "2026-01-01")[1]
    assert "Only batches that were printing from 1 Jan 2026 on, both days included:" in out


MISUSE = {
    "a period of a vehicle": (["--vehicle", "11", "--since", "2026-01-01"], "of a machine or a lot"),
    "a period that ends before it begins": (["--lot", "L-0001", "--since", "2026-02-01", "--until", "2026-01-01"], "is before"),
    "a lot that there is not": (["--lot", "L-9"], "there is no lot L-9"),
    "a batch that there is not": (["--batch", "B-9"], "there is no batch B-9"),
    "a machine that there is not": (["--machine", "x"], "there is no machine x"),
    "a part that there is not": (["--part", "x"], "there is no part x"),
    "a vehicle that there is not": (["--vehicle", "99"], "there is no vehicle 99"),
    "a fleet that there is not": (["--vehicle", "11", "--fleet", "Z9"], "there is no fleet Z9"),
    "a vehicle of the other fleet": (["--vehicle", "11", "--fleet", "B2"], "there is no vehicle 11"),
    "a revision of nothing": (["--lot", "L-0001", "--revision", "A"], "no part is named"),
    "a fleet of nothing": (["--lot", "L-0001", "--fleet", "A1"], "none is named"),
    "nothing": ([], ""),
    "two things": (["--lot", "L-0001", "--batch", "B-0001"], ""),
}


@pytest.mark.parametrize("case", MISUSE)
def test_misuse_is_told(case, fitted, spares):
    arguments, says = MISUSE[case]
    code, _, err = spares("trace", *arguments)
    assert code == 2
    assert says in err


def test_on_a_day_before_the_recall_nothing_is_called_back_yet(fitted, spares):
    assert spares("recall", "--batch", "B-0001", "--why", "cracks", "--by", "fitter", "--on", "2026-05-02")[0] == 0
    for day, recalls, word in (("2026-05-01", [], False), ("2026-05-02", ["RC-0001"], True)):
        told = plain(spares, "--batch", "B-0001", "--on", day)["batches"]
        assert [each["recalls"] for each in told] == [recalls]
        assert ("RC-0001" in spares("trace", "--batch", "B-0001", "--on", day)[1]) is word
