"""What `spares import` makes of old approvals: taken over where a row tells all of it, kept as text where it does not."""

import hashlib

import pytest

from generator.reading.yaml_places import read_yaml
from tests.edge.conftest import bytes_of
from tests.edge.listed import LETTERS, MAP, WHOLE, last, mended

pytestmark = pytest.mark.usefixtures("in_this_process")


def test_an_approval_is_taken_over_where_the_list_tells_all_of_it(depot, with_letters, spares):
    code, out, _ = spares(*with_letters, "--by", "specialist")
    assert code == 0
    folder = depot / "catalogue/parts/EX-0100-endkappe"
    approval = read_yaml("approval.yml", (folder / "approval.yml").read_bytes()).content
    (event,) = approval["events"]
    assert approval["route"] == "customer"
    assert event["evidence"][0].pop("sha256") == hashlib.sha256((depot / "papers/letter.txt").read_bytes()).hexdigest()
    assert event == {
        "on": "2026-11-25",
        "what": "taken over",
        "by": "specialist",
        "reference": "TR-19-044",
        "letter_of": "2019-05-03",
        "approved_by": "technical office",
        "approver": "customer",
        "scope": [{"fleet": "A1", "vehicles": ["11-12"], "places": ["cab"]}],
        "valid_until": "2029-05-31",
        "evidence": [{"file": "documents/letter.txt", "title": "Approval letter"}],
        "revision": "B",
    }
    assert (folder / "documents/letter.txt").read_bytes() == (depot / "papers/letter.txt").read_bytes()
    assert "row 3, Freigabenummer: tells of an approval, and none is written; of what it needs this lacks: the last day" in out
    assert "row 4, Freigabenummer: tells of an approval, and none is written; of what it needs this lacks: the authority's letter" in out


def test_without_a_role_no_approval_is_taken_over(depot, with_letters, spares):
    _, _, err = spares(*with_letters)
    assert "--by ROLE" in err
    for file in (depot / "catalogue/parts").glob("EX-01*/approval.yml"):
        assert read_yaml("approval.yml", file.read_bytes()).content["events"] == []
    assert not list((depot / "catalogue/parts").glob("EX-01*/documents"))


@pytest.mark.parametrize("column", ["", ";Auflagen"])
@pytest.mark.parametrize("cell", ["", " "])
def test_conditions_that_nobody_speaks_of_are_not_known_to_be_none(column, cell, depot, with_letters, spares):
    heads = LETTERS.splitlines()[0].removesuffix(";Auflagen") + column
    row = WHOLE.removesuffix(";none") + (f";{cell}" if column else "")
    (depot / "parts.csv").write_text(f"{heads}\n{row}\n", "utf-8")
    (depot / MAP).unlink()
    spares("import", "parts.csv")
    code, out, _ = spares(*with_letters, "--by", "specialist")
    assert (code, last(out)) == (0, "Rows: 1 = 1 written + 0 already here + 0 refused")
    assert "this lacks: its conditions, or the word that there are none" in out
    assert approval_of(depot)["events"] == []


@pytest.mark.parametrize(
    ("cell", "words", "taken", "says"),
    [
        ("none", "", True, ""),
        ("None", "", True, ""),
        ("keine", '  Auflagen: {"keine": none}', True, "“keine” in Auflagen is none"),
        ("keine", "", False, "its conditions, which are written by hand"),
        ("nur innen", '  Auflagen: {"keine": none}', False, "its conditions, which are written by hand"),
        ("-", "", False, "its conditions, which are written by hand"),
    ],
)
def test_only_a_word_for_none_means_that_there_are_no_conditions(cell, words, taken, says, depot, with_letters, spares):
    (depot / "parts.csv").write_text(f"{LETTERS.splitlines()[0]}\n{WHOLE.removesuffix(';none')};{cell}\n", "utf-8")
    mended(depot, ("# words:\n", f"words:\n{words}\n" if words else ""))
    code, out, err = spares(*with_letters, "--by", "specialist")
    assert code == 0
    assert bool(approval_of(depot)["events"]) is taken
    assert says in out + err


def test_words_for_conditions_lead_to_none_alone(depot, with_letters, spares):
    (depot / "parts.csv").write_text(f"{LETTERS.splitlines()[0]}\n{WHOLE.removesuffix(';none')};keine\n", "utf-8")
    mended(depot, ("# words:\n", "words:\n  Auflagen: {keine: no}\n"))
    code, out, _ = spares(*with_letters, "--by", "specialist")
    assert (code, last(out)) == (1, "Rows: 1 = 0 written + 0 already here + 1 refused")
    assert "row 2, Auflagen: " in out


def approval_of(depot, number="EX-0100"):
    (file,) = (depot / "catalogue/parts").glob(f"{number}*/approval.yml")
    return read_yaml("approval.yml", file.read_bytes()).content


def comments_of(depot, number):
    (file,) = (depot / "catalogue/parts").glob(f"{number}*/approval.yml")
    return [line for line in file.read_text("utf-8").splitlines() if line.startswith("#")]


def test_what_a_row_says_of_an_approval_that_is_not_taken_over_is_kept_as_text(depot, with_letters, spares):
    text = LETTERS.replace("EX-0101;Kappe;A1;11;cab;2;none;petg;B;TR-19-045;03.05.2019;technical office;customer;;letter.txt;none",
                           'EX-0101;Kappe;A1;11;cab;2;none;petg;B;TR-19-045;03.05.2019;technical office;customer;;second.txt;"nur innen\nevents: []"')  # fmt: skip
    (depot / "parts.csv").write_text(text, "utf-8")
    (depot / "papers/second.txt").write_text("Approval of part EX-0101.\n", "utf-8")
    code, _, err = spares(*with_letters, "--by", "specialist")
    assert code == 0
    kept = comments_of(depot, "EX-0101")
    assert "# Not confirmed by anybody: row 3 of parts.csv says of an approval, which is not taken over:" in kept
    for line in (
        "#   Freigabenummer: TR-19-045",
        "#   Freigabedatum: 03.05.2019",
        "#   Freigabe durch: technical office",
        "#   Freigabe für: customer",
        "#   Freigabedatei: second.txt",
        "#   Auflagen: nur innen",
        "#     events: []",
    ):
        assert line in kept
    assert approval_of(depot, "EX-0101") == {"format": 2, "route": "TODO", "events": []}
    assert not any("Not confirmed" in line for line in comments_of(depot, "EX-0100"))
    assert "belong to no row" not in err
    assert "letters that rows name and that are not taken over, left where they are: second.txt (row 3); letter.txt (row 4)" in err


def test_without_a_role_what_the_rows_say_of_approvals_is_kept_as_text(depot, with_letters, spares):
    _, _, err = spares(*with_letters)
    assert all("#   Freigabedatum: 03.05.2019" in comments_of(depot, f"EX-010{n}") for n in range(3))
    assert "belong to no row" not in err
    assert "letters that rows name and that are not taken over, left where they are: letter.txt (rows 2, 3, 4)" in err
    before = bytes_of(depot / "catalogue")
    assert last(spares(*with_letters)[1]) == "Rows: 3 = 0 written + 3 already here + 0 refused"
    assert bytes_of(depot / "catalogue") == before


@pytest.mark.parametrize(
    ("named", "why"),
    [
        ("../letter.txt", "leads out"),
        ("/etc/hostname", "leads out"),
        ("lettre.txt", "is not in the folder"),
        ("empty.txt", "row 2, Freigabedatei: empty.txt is empty"),
        ("twice.txt", "several files"),
        ("link.txt", "link that leads out"),
    ],
)
def test_no_path_leaves_the_folder_of_files(named, why, depot, with_letters, spares):
    papers = depot / "papers"
    (papers / "empty.txt").touch()
    for folder in ("a", "b"):
        (papers / folder).mkdir()
        (papers / folder / "twice.txt").write_text(folder, "utf-8")
    (papers / "link.txt").symlink_to(depot / "parts.csv")
    (depot / "parts.csv").write_text(LETTERS.splitlines()[0] + "\n" + LETTERS.splitlines()[1].replace("letter.txt", named) + "\n", "utf-8")
    code, out, _ = spares(*with_letters, "--by", "specialist")
    assert code == 1
    assert why in out
    assert not list((depot / "catalogue/parts").glob("EX-0100*"))


def test_a_last_day_in_words_names_the_line_of_the_map(depot, with_letters, spares):
    (depot / "parts.csv").write_text(LETTERS.replace(";31.05.2029;", ";unbefristet;"), "utf-8")
    _, out, _ = spares(*with_letters, "--by", "specialist")
    assert 'if it has no end, write under words in the map: gültig bis: {"unbefristet": open}' in out
    mended(depot, ("# words:\n", 'words:\n  gültig bis: {"unbefristet": open}\n'))
    spares(*with_letters, "--by", "specialist")
    assert approval_of(depot)["events"][0]["open_ended"] is True


def test_a_word_for_no_conditions_names_the_line_of_the_map(depot, with_letters, spares):
    (depot / "parts.csv").write_text(LETTERS.replace(";none\n", ";keine\n"), "utf-8")
    _, out, _ = spares(*with_letters, "--by", "specialist", "--dry-run")
    assert "row 2, Auflagen: “keine” is taken for a condition" in out
    assert 'if it says that there are none, write under words in the map: Auflagen: {"keine": none}' in out


def test_what_a_list_says_of_the_approval_of_a_part_that_is_here_is_told_where_nothing_holds_it(depot, with_letters, spares):
    spares(*with_letters)
    for _ in range(2):  # its text is kept, and each time it is said to be no more than that
        _, out, err = spares(*with_letters)
        assert "row 2" not in out
        assert "row 2 (parts/EX-0100-endkappe); row 3 (parts/EX-0101-kappe); row 4 (parts/EX-0102-hebel); take each letter" in err
    (file,) = (depot / "catalogue/parts").glob("EX-0100*/approval.yml")
    file.write_text(file.read_text("utf-8").replace("03.05.2019", "04.05.2019"), "utf-8")
    before = bytes_of(depot / "catalogue")
    code, out, _ = spares(*with_letters)
    assert (code, last(out)) == (0, "Rows: 3 = 0 written + 3 already here + 0 refused")
    assert "row 2, Freigabenummer: tells of an approval that parts/EX-0100-endkappe does not hold: Freigabedatum: 03.05.2019\n" in out
    assert "row 3" not in out
    assert bytes_of(depot / "catalogue") == before


def test_of_a_part_that_has_its_approval_the_list_is_asked_no_more(depot, with_letters, spares):
    spares(*with_letters, "--by", "specialist")
    _, out, err = spares(*with_letters, "--by", "specialist")
    assert "does not hold" not in out
    assert "row 2 (" not in err
