"""`spares recall`: one command stops a lot, a batch or a revision, and says where its pieces are."""

import json
import re

import pytest
import yaml

from generator.records.fitted import COLUMNS
from tests.edge.conftest import bytes_of
from tests.fixtures.with_batches import with_batches

CRACKS = ("--why", "cracks: at the hook", "--by", "fitter")


@pytest.fixture
def fitted(depot):
    (with_batches(depot / "catalogue") / "fitted").mkdir()
    rows = "2026-03-01,A1,11,cab,,B-0001,1,,,,fitter,\n2026-03-01,A1,12,cab,,B-0001,2,,,,fitter,\n"
    (depot / "catalogue/fitted/2026.csv").write_text(",".join(COLUMNS) + "\n" + rows, encoding="utf-8")
    return depot


def written(depot, name="RC-0001"):
    return yaml.safe_load((depot / "catalogue/recalls" / f"{name}.yml").read_text(encoding="utf-8"))


def test_what_may_be_more_of_it_is_found_though_no_batch_of_it_is_written_down(fitted, spares):
    """Recall, trace, notice and its JSON list those vehicles, each apart from what is called back."""
    lots = fitted / "catalogue/materials/lots"
    lot = yaml.safe_load((lots / "L-0001.yml").read_text("utf-8"))
    near = {"material": lot["material"], "supplier_lot": f"Lot {lot['supplier_lot']} rest", "events": [{"on": "2026-01-02", "what": "received", "by": "fitter", "grams": 900.0}]}
    (lots / "L-0009.yml").write_text(yaml.safe_dump(near), "utf-8")
    code, out, _ = spares("recall", "--lot", "L-0009", *CRACKS)
    assert (code, "No vehicle carries any of it." in out) == (0, True)
    for told in (out, spares("trace", "--lot", "L-0009")[1]):
        apart = told[told.index("Ask about these, too") :]
        assert re.search(r"A1 11 .*B-0001 +1 +of lot L-0001", apart), apart
        assert "To ask about on vehicles: 3. Vehicles: 2. On no vehicle: 4." in apart
    asked = json.loads(spares("trace", "--lot", "L-0009", "--format", "json")[1])["asks_too"]
    assert [(each["vehicle"], each["count"]) for each in asked["fitted"]] == [("11", 1), ("12", 2)]
    assert "To ask about on vehicles: 3." in spares("notice", "RC-0001", "--to", "n.pdf")[1]
    assert "Ask about these, too" not in spares("trace", "--lot", "L-0001")[1]


def test_a_recalled_revision_is_not_fitted(fitted, spares):
    assert "Do not fit" not in spares("explain", "EX-0001")[1]
    spares("recall", "--part", "EX-0001", "--revision", "A", *CRACKS)
    assert "Do not fit. Called back on 25 Nov 2026: cracks: at the hook (recall RC-0001)" in spares("explain", "EX-0001")[1]


def test_a_recall_says_where_the_pieces_are(fitted, spares):
    code, out, err = spares("recall", "--lot", "l-0001", *CRACKS, "--reference", "report 12")
    assert (code, err) == (0, "")
    assert "A1 11    Driver's cab  EX-0001 A  B-0001  1" in out
    assert "Pieces on vehicles: 3. Vehicles: 2." in out
    assert "To find on the shelf: 4." in out  # three of the one, one of the other
    record = written(fitted)
    assert record["lot"] == "L-0001"
    # a reader of YAML 1.1 takes the key "on" for a truth
    assert {"on" if key is True else key: str(value) for key, value in record["events"][0].items()} == {
        "what": "called back", "on": "2026-11-25", "by": "fitter", "why": "cracks: at the hook", "reference": "report 12",
    }  # fmt: skip


@pytest.mark.parametrize("what", [("--lot", "L-0001"), ("--batch", "B-0001"), ("--part", "EX-0001", "--revision", "A")], ids=" ".join)
def test_the_same_thing_twice_is_refused_with_its_number(what, fitted, spares):
    assert spares("recall", *what, *CRACKS)[0] == 0
    before = bytes_of(fitted / "catalogue")
    code, _, err = spares("recall", *what, "--why", "once more", "--by", "specialist")
    assert code == 1
    assert "RC-0001" in err
    assert bytes_of(fitted / "catalogue") == before


def test_another_thing_gets_the_next_number_also_behind_one_that_cannot_be_read(fitted, spares):
    spares("recall", "--batch", "B-0001", *CRACKS)
    (fitted / "catalogue/recalls/RC-0007.yml").write_text("nonsense\n", encoding="utf-8")
    assert spares("recall", "--batch", "B-0002", *CRACKS)[0] == 0
    assert written(fitted, "RC-0008")["batch"] == "B-0002"


def test_only_who_answers_for_it_lifts_a_recall(fitted, spares):
    spares("recall", "--batch", "B-0001", *CRACKS)
    raw = (fitted / "catalogue/recalls/RC-0001.yml").read_bytes()
    code, _, err = spares("recall", "--lift", "RC-0001", "--why", "holds", "--by", "fitter")
    assert code == 1
    assert "keeper" in err
    code, _, _ = spares("recall", "--lift", "RC-0001", "--why", "holds", "--by", "keeper", "--on", "2026-11-24")
    assert code == 2  # before it was called back
    assert (fitted / "catalogue/recalls/RC-0001.yml").read_bytes() == raw
    assert spares("recall", "--lift", "rc-0001", "--why", "holds", "--by", "keeper")[0] == 0
    assert (fitted / "catalogue/recalls/RC-0001.yml").read_bytes().startswith(raw)
    assert [each["what"] for each in written(fitted)["events"]] == ["called back", "lifted"]
    assert spares("recall", "--lift", "RC-0001", "--why", "holds", "--by", "keeper")[0] == 1
    assert spares("recall", "--batch", "B-0001", *CRACKS)[0] == 0  # once lifted, it may be called back anew
    assert written(fitted, "RC-0002")["batch"] == "B-0001"


MISUSE = {
    "a lot that there is not": (["--lot", "L-9"], "there is no lot L-9"),
    "a batch that there is not": (["--batch", "B-9"], "there is no batch B-9"),
    "a part without a revision": (["--part", "EX-0001"], "--revision"),
    "a revision without a part": (["--batch", "B-0001", "--revision", "A"], "--revision"),
    "a revision that there is not": (["--part", "EX-0001", "--revision", "Z"], "no revision Z"),
    "a day to come": (["--batch", "B-0001", "--on", "2026-11-26"], "has not come yet"),
    "a recall that there is not": (["--lift", "RC-0009"], "there is no recall RC-0009"),
}


@pytest.mark.parametrize("case", MISUSE)
def test_misuse_is_told_and_writes_nothing(case, fitted, spares):
    arguments, says = MISUSE[case]
    code, _, err = spares("recall", *arguments, *CRACKS)
    assert code == 2
    assert says in err
    assert not (fitted / "catalogue/recalls").exists()


def test_a_role_that_there_is_not_and_a_text_that_cannot_be_seen(fitted, spares):
    assert spares("recall", "--batch", "B-0001", "--why", "tried", "--by", "nobody")[0] == 2
    file = fitted / "catalogue" / "depot.yml"
    for language, unseen, empty, long in (
        ("en", "holds a sign that cannot be seen (U+202E)", "--why says nothing", "is longer than"),
        ("de", "nicht zu sehen ist (U+202E)", "--why sagt nichts", "ist länger als"),
        ("da", "der ikke kan ses (U+202E)", "--why siger ingenting", "er længere end"),
    ):
        file.write_text(re.sub("^language: ..", f"language: {language}", file.read_text("utf-8"), flags=re.MULTILINE), "utf-8")
        for why, says in (("x\u202ey", unseen), ("", empty), (" ", empty), ("x" * 5000, long)):
            code, _, err = spares("recall", "--batch", "B-0001", "--why", why, "--by", "fitter")
            assert (code, says in " ".join(err.split())) == (2, True), err
            assert not re.search("(?i)value error|string should|U\\+202E.*sign=", err)
    assert not (fitted / "catalogue/recalls").exists()


def test_a_dry_run_writes_nothing(fitted, spares):
    before = bytes_of(fitted / "catalogue")
    code, out, _ = spares("recall", "--batch", "B-0001", *CRACKS, "--dry-run")
    assert code == 0
    assert "Would be written: recalls/RC-0001.yml" in out
    assert bytes_of(fitted / "catalogue") == before


def test_a_notice_says_what_to_look_for_and_where(fitted, spares, monkeypatch):
    told = []
    monkeypatch.setattr("generator.edge.commands.notice.recall_notice", lambda notice, w: told.append(notice) or b"%PDF-1.7")
    spares("recall", "--batch", "B-0001", *CRACKS)
    code, out, _ = spares("notice", "rc-0001", "--to", "n.pdf")
    assert code == 0
    assert "Vehicles to visit: 2." in out
    (notice,) = told
    assert notice.look_for == ("EX-0001 Rev. A B-0001",)
    assert [(each.vehicle, each.count) for each in notice.found_at] == [("A1 11", "1"), ("A1 12", "2")]
    assert spares("notice", "RC-0001", "--to", "n.pdf")[0] == 1  # it is there
    assert spares("notice", "RC-0002", "--to", "m.pdf")[0] == 2
    spares("recall", "--lift", "RC-0001", "--why", "holds", "--by", "keeper")
    assert spares("notice", "RC-0001", "--to", "m.pdf")[0] == 1


def test_a_notice_names_position_part_and_batch_and_what_lies_elsewhere(fitted, spares, monkeypatch):
    told = []
    monkeypatch.setattr("generator.edge.commands.notice.recall_notice", lambda notice, w: told.append(notice) or b"%PDF-1.7")
    file = fitted / "catalogue/fitted/2026.csv"
    file.write_text(file.read_text(encoding="utf-8") + "2026-04-01,A1,13,cab,left,B-0001,1,,,,fitter,\n2026-05-01,A1,12,cab,,,,B-0001,1,broken,fitter,\n", encoding="utf-8")
    assert spares("recall", "--batch", "B-0001", *CRACKS)[0] == 0
    assert spares("notice", "RC-0001", "--to", "n.pdf")[0] == 0
    file.write_text(file.read_text(encoding="utf-8") + "2026-06-01,A1\n", encoding="utf-8")
    code, out, _ = spares("notice", "RC-0001", "--to", "m.pdf")
    assert code == 1
    assert "Line 6 of fitted/2026.csv could not be read." in out
    whole, short = told
    assert [(each.vehicle, each.position, each.part, each.batch, each.count) for each in whole.found_at] == [
        ("A1 11", "", "EX-0001 A", "B-0001", "1"), ("A1 12", "", "EX-0001 A", "B-0001", "1"), ("A1 13", "left", "EX-0001 A", "B-0001", "1"),
    ]  # fmt: skip
    assert [(each.where, each.batch, each.count) for each in whole.lying] == [
        ("On the shelf", "B-0001", "2"), ("Came off A1 12, Driver's cab (1 May 2026)", "B-0001", "1"),
    ]  # fmt: skip
    assert (whole.number, whole.incomplete, len(short.incomplete)) == ("RC-0001", (), 3)
    assert whole.stand != short.stand  # another version of the records


def test_a_recall_of_what_cannot_be_listed_whole_is_written_and_says_so(fitted, spares):
    file = fitted / "catalogue/fitted/2026.csv"
    file.write_text(file.read_text(encoding="utf-8") + "2026-06-01,A1\n", encoding="utf-8")
    code, out, _ = spares("recall", "--batch", "B-0001", *CRACKS)
    assert (code, "This list is incomplete." in out) == (1, True)
    assert written(fitted)["batch"] == "B-0001"
    (fitted / "catalogue/recalls/RC-0001.yml").write_text("nonsense\n", encoding="utf-8")
    code, _, err = spares("notice", "rc-0001", "--to", "n.pdf")
    assert (code, "cannot be read" in err) == (1, True)


LIFT = ("recall", "--lift", "RC-0001", "--why", "holds", "--by", "keeper")


def test_a_lifted_recall_says_what_keeps_its_pieces_from_being_fitted_still(fitted, spares):
    """By the lot's own block, by another recall; the answer for a piece cites what stands now, not what is lifted."""
    for what in (("--lot", "L-0001"), ("--batch", "B-0001")):
        spares("recall", *what, *CRACKS)
    spares("lot", "block", "L-0001", "--why", "see RC-0001", "--by", "keeper")
    code, out, _ = spares(*LIFT, "--dry-run")
    assert (code, "spares lot unblock L-0001" in out) == (0, True)
    code, out, _ = spares(*LIFT)
    assert code == 0
    assert "Lot L-0001 is still blocked, since 25 Nov 2026: see RC-0001." in out
    assert "spares lot unblock L-0001" in out
    assert "RC-0002 still calls back: B-0001." in out
    assert "(recall RC-0002)" in explained(spares, "B-0001")
    told = explained(spares, "B-0002")
    assert "Do not fit. Material lot L-0001 blocked on 25 Nov 2026: see RC-0001. Recall RC-0001 is lifted, the lot is blocked still" in told
    assert "Called back" not in told
    spares("lot", "unblock", "L-0001", "--why", "holds", "--by", "keeper")
    assert "blocked" not in explained(spares, "B-0002").replace("no blocked lot", "")


def test_a_recall_that_alone_stood_is_lifted_without_further_ado(fitted, spares):
    spares("recall", "--lot", "L-0001", *CRACKS)
    _, out, _ = spares(*LIFT)
    assert out == "Lifted: RC-0001. What was taken off stays off.\n"


def explained(spares, batch):
    return " ".join(spares("explain", "EX-0001", "--batch", batch)[1].split())
