"""`spares import`: a map that is as strict as every record, rows that are whole or refused, and nothing overwritten."""

import hashlib
import re
import shutil

import pytest
from openpyxl import Workbook

from generator.edge.commands import import_list
from generator.edge.disk import list_files
from generator.importing.any_list import tables_in
from generator.reading.yaml_places import read_yaml
from tests.edge.conftest import bytes_of, names_in

LIST = """\
Nummer;Benennung;Flotte;Fahrzeuge;Einbauort;Je Fahrzeug;Sicherheitsrolle;Werkstoff;Revision;Zeichnungsnummer;Bemerkung
EX-0100;Endkappe;A1;11-12, 14;cab;2;none;petg;B;12.345-6;siehe Regal
EX-0101;Hebel;B2;21;Driver's cab;1;safety;PETG;A;;
"""
MAP = "parts.map.yml"


@pytest.fixture(autouse=True)
def in_this_process(monkeypatch):
    """The child's start is most of what a small list takes."""
    monkeypatch.setattr(list_files, "read_in_a_child", tables_in)


@pytest.fixture
def parts(depot):
    (depot / "parts.csv").write_text(LIST, "utf-8")
    return depot / "parts.csv"


def mended(depot, *pairs):
    """The proposed map with what a person changes in it."""
    text = (depot / MAP).read_text("utf-8")
    for before, after in pairs:
        assert before in text
        text = text.replace(before, after)
    (depot / MAP).write_text(text, "utf-8")


def last(out):
    return out.splitlines()[-1]


def test_a_first_run_says_what_it_understood_and_writes_a_map_alone(depot, parts, spares):
    before = bytes_of(depot / "catalogue")
    code, out, _ = spares("import", "parts.csv")
    assert code == 0
    assert bytes_of(depot / "catalogue") == before
    assert re.search(r"J\s+Zeichnungsnummer\s+old numbers \(drawing number\)\s+12.345-6", out)
    assert re.search(r"K\s+Bemerkung\s+left out\s+siehe Regal", out)
    assert "No column is known to tell: purpose" in out
    assert f"spares import parts.csv --map {MAP} --dry-run" in out
    assert "safety role: " not in (depot / MAP).read_text("utf-8").partition("defaults")[2]


def test_a_map_is_never_overwritten(depot, parts, spares):
    (depot / MAP).write_text("mine\n", "utf-8")
    code, _, err = spares("import", "parts.csv")
    assert code == 2
    assert "never overwritten" in err
    assert (depot / MAP).read_text("utf-8") == "mine\n"


def test_a_dry_proposal_writes_nothing(depot, parts, spares):
    code, out, _ = spares("import", "parts.csv", "--dry-run")
    assert code == 0
    assert "heading: Benennung" in out
    assert not (depot / MAP).exists()


def test_each_row_becomes_a_folder_of_what_the_list_tells(depot, parts, spares):
    spares("import", "parts.csv")
    code, out, _ = spares("import", "parts.csv", "--map", MAP)
    assert (code, last(out)) == (0, "Rows: 2 = 2 written + 0 already here + 0 refused")
    folder = depot / "catalogue/parts/EX-0100-endkappe"
    assert names_in(folder) == ["approval.yml", "fitting.md", "part.yml"]
    record = read_yaml("part.yml", (folder / "part.yml").read_bytes()).content
    assert record == {
        "number": "EX-0100",
        "revision": "B",
        "name": "Endkappe",
        "purpose": "TODO",
        "replaces": [{"number": "12.345-6", "kind": "drawing number"}],
        "fits": [{"fleet": "A1", "vehicles": ["11-12", "14"], "place": "cab", "per_vehicle": 2}],
        "safety_role": "none",
        "material": "petg",
        "no_model": {"because": "TODO"},
    }
    assert "# In the list besides: Bemerkung: siehe Regal" in (folder / "part.yml").read_text("utf-8")
    approval = read_yaml("approval.yml", (folder / "approval.yml").read_bytes()).content
    assert approval == {"format": 2, "route": "TODO", "events": []}


def test_where_list_and_folder_differ_it_is_told_and_nothing_is_touched(depot, parts, spares):
    spares("import", "parts.csv")
    spares("import", "parts.csv", "--map", MAP)
    (file,) = (depot / "catalogue/parts").glob("EX-0100*/part.yml")
    file.write_text(file.read_text("utf-8").replace("Endkappe", "End cap").replace("purpose: TODO", "purpose: Closes"), "utf-8")
    before = bytes_of(depot / "catalogue")
    code, out, _ = spares("import", "parts.csv", "--map", MAP)
    assert code == 1
    assert "row 2, Benennung: parts/EX-0100-endkappe is there and says otherwise: name is 'End cap', the list says 'Endkappe'" in out
    assert last(out) == "Rows: 2 = 0 written + 1 already here + 1 refused"
    assert bytes_of(depot / "catalogue") == before


def test_stopped_in_the_middle_it_leaves_whole_folders_and_a_repeat_goes_on(depot, parts, spares, monkeypatch):
    spares("import", "parts.csv")
    real, made = import_list.create_folder, []

    def stopped(folder, files):
        if made:
            raise KeyboardInterrupt
        made.append(folder)
        real(folder, files)

    monkeypatch.setattr(import_list, "create_folder", stopped)
    code, _, err = spares("import", "parts.csv", "--map", MAP)
    assert code == 130
    assert "EX-0100-endkappe is there" in err
    monkeypatch.setattr(import_list, "create_folder", real)
    assert last(spares("import", "parts.csv", "--map", MAP)[1]) == "Rows: 2 = 1 written + 1 already here + 0 refused"


BAD_MAPS = {
    "heading": ("heading: Benennung", "heading: Bennenung", "did you mean 'Benennung'?"),
    "field": ("field: material", "field: materiel", "'material'"),
    "no number": ("field: number ", "field: left out ", "no column that tells the number"),
    "twice": ("field: revision", "field: name", "'name' twice"),
    "default": ("# defaults:\n", "defaults: {safety role: none}\n", "only these may be the same for all"),
    "approval": ("# defaults:\n", "defaults: {letter date: 2019-01-01}\n", "only these may be the same for all"),
    "kind": ("kind: drawing number", "kind: a number", "kind"),
    "words": ("# words:\n", "words: {Colour: {a: b}}\n", "no heading among its columns"),
    "key": ("heading_row: 1", "heading_row: 1\nlenght: 2", "'lenght' is not a key"),
    "anchors": ("heading_row: 1", "heading_row: 1\nwords: &a {b: {c: d}}", "reference"),
    "row": ("heading_row: 1", "heading_row: 40", "nothing in row 40"),
    "tag": ("heading_row: 1", "heading_row: !!python/name:os.system 1", "tag"),
}


@pytest.mark.parametrize("mistake", BAD_MAPS)
def test_a_mistake_in_the_map_is_told_with_its_line(mistake, depot, parts, spares):
    spares("import", "parts.csv")
    before, after, says = BAD_MAPS[mistake]
    mended(depot, (before, after))
    code, out, err = spares("import", "parts.csv", "--map", MAP)
    assert code == 1
    assert re.search(rf"^({MAP}:\d+|parts\.csv)", out)
    assert says in out + err
    assert not list((depot / "catalogue/parts").glob("EX-01*"))


def test_columns_are_found_by_heading_not_by_place(depot, parts, spares):
    spares("import", "parts.csv")
    rows = [line.split(";")[::-1] for line in LIST.splitlines()]
    rows[0] = ["BENEN\u00adNUNG " if cell == "Benennung" else cell for cell in rows[0]]
    parts.write_text("\n".join(";".join(row) for row in rows) + "\n", "utf-8")
    assert last(spares("import", "parts.csv", "--map", MAP)[1]) == "Rows: 2 = 2 written + 0 already here + 0 refused"


def test_a_map_does_not_lie_in_the_catalogue(depot, parts, spares):
    code, _, err = spares("import", "parts.csv", "--map", "catalogue/parts/map.yml")
    assert code == 2
    assert "would lie in the catalogue" in err
    assert not (depot / "catalogue/parts/map.yml").exists()


def test_words_of_the_list_are_led_to_those_of_the_depot_by_the_map_alone(depot, parts, spares):
    parts.write_text(LIST.replace(";petg;", ";PETG grau;"), "utf-8")
    spares("import", "parts.csv")
    code, out, _ = spares("import", "parts.csv", "--map", MAP)
    assert code == 1
    assert "row 2, Werkstoff: there is no material 'PETG grau' here" in out
    mended(depot, ("# words:\n", "words:\n"), ('#   Werkstoff:\n#     "PETG grau": petg', '  Werkstoff:\n    "PETG grau": petg'))
    code, _, err = spares("import", "parts.csv", "--map", MAP)
    assert code == 0
    assert "“PETG grau” in Werkstoff is petg" in err


LETTERS = """\
Nummer;Benennung;Flotte;Fahrzeuge;Einbauort;Je Fahrzeug;Sicherheitsrolle;Werkstoff;Revision;Freigabenummer;Freigabedatum;Freigabe durch;Freigabe für;gültig bis;Freigabedatei;Auflagen
EX-0100;Endkappe;A1;11-12;cab;2;none;petg;B;TR-19-044;03.05.2019;technical office;customer;31.05.2029;letter.txt;none
EX-0101;Kappe;A1;11;cab;2;none;petg;B;TR-19-045;03.05.2019;technical office;customer;;letter.txt;none
EX-0102;Hebel;A1;11;cab;2;safety;petg;B;TR-19-046;03.05.2019;technical office;customer;31.05.2029;letter.txt;none
"""
WHOLE = LETTERS.splitlines()[1]


@pytest.fixture
def with_letters(depot, spares):
    (depot / "parts.csv").write_text(LETTERS, "utf-8")
    (depot / "papers").mkdir()
    (depot / "papers/letter.txt").write_text("Approval of part EX-0100.\n", "utf-8")
    spares("import", "parts.csv")
    return ("import", "parts.csv", "--map", MAP, "--files", "papers")


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


def test_words_of_a_column_that_takes_none_are_told(depot, parts, spares):
    spares("import", "parts.csv")
    mended(depot, ("# words:\n", "words:\n  Benennung: {Hebel: Griff}\n"))
    code, out, _ = spares("import", "parts.csv", "--map", MAP)
    assert code == 1
    assert f"{MAP}:" in out
    assert "has words of 'Benennung', which is name and takes its cells as they are" in out


def approval_of(depot, number="EX-0100"):
    (file,) = (depot / "catalogue/parts").glob(f"{number}*/approval.yml")
    return read_yaml("approval.yml", file.read_bytes()).content


def comments_of(depot, number):
    (file,) = (depot / "catalogue/parts").glob(f"{number}*/approval.yml")
    return [line for line in file.read_text("utf-8").splitlines() if line.startswith("#")]


def test_what_a_row_says_of_an_approval_that_is_not_taken_over_is_kept_as_text(depot, with_letters, spares):
    text = LETTERS.replace("EX-0101;Kappe;A1;11;cab;2;none;petg;B;TR-19-045;03.05.2019;technical office;customer;;letter.txt;none",
                           'EX-0101;Kappe;A1;11;cab;2;none;petg;B;TR-19-045;03.05.2019;technical office;customer;;letter.txt;"nur innen\nevents: []"')  # fmt: skip
    (depot / "parts.csv").write_text(text, "utf-8")
    code, _, err = spares(*with_letters, "--by", "specialist")
    assert code == 0
    kept = comments_of(depot, "EX-0101")
    assert "# Not confirmed by anybody: row 3 of parts.csv says of an approval, which is not taken over:" in kept
    for line in (
        "#   Freigabenummer: TR-19-045",
        "#   Freigabedatum: 03.05.2019",
        "#   Freigabe durch: technical office",
        "#   Freigabe für: customer",
        "#   Freigabedatei: letter.txt",
        "#   Auflagen: nur innen",
        "#     events: []",
    ):
        assert line in kept
    assert approval_of(depot, "EX-0101") == {"format": 2, "route": "TODO", "events": []}
    assert not any("Not confirmed" in line for line in comments_of(depot, "EX-0100"))
    assert "belong to no row" not in err
    assert "letters that rows name and that are not taken over, left where they are: letter.txt (rows 3, 4)" in err


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
        ("empty.txt", "is empty"),
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


def test_a_model_is_measured_and_its_makers_are_those_with_room(depot, parts, spares):
    models = depot / "models"
    models.mkdir()
    (models / "EX-0100.stl").write_bytes((depot / "catalogue/parts/EX-0001-lid-knob/model.stl").read_bytes())
    (models / "EX-0101.stl").write_text("solid nothing\nendsolid nothing\n")
    spares("import", "parts.csv")
    code, out, _ = spares("import", "parts.csv", "--map", MAP, "--files", "models")
    assert code == 1
    assert "EX-0101.stl: error MESH" in out
    assert "row 3" in out
    assert last(out) == "Rows: 2 = 1 written + 0 already here + 1 refused"
    folder = depot / "catalogue/parts/EX-0100-endkappe"
    record = read_yaml("part.yml", (folder / "part.yml").read_bytes()).content
    assert record["makers"] == ["bench"]
    assert record["mesh_units"] == "mm"
    assert "no_model" not in record
    code, out, _ = spares("check", "--format", "json")
    assert set(re.findall(r'"code": "(\w+)"', out)) <= {"REC04", "FIT02"}


@pytest.mark.parametrize(("words", "says"), [(("--by", "nobody"), "there is no role"), (("--files", "nowhere"), "there is no folder")])
def test_misuse_is_told(words, says, depot, parts, spares):
    spares("import", "parts.csv")
    code, _, err = spares("import", "parts.csv", "--map", MAP, *words)
    assert code == 2
    assert says in err


@pytest.mark.parametrize(
    ("name", "content", "says"),
    [("a.ods", b"PK", "kind"), ("a.csv", b"", "empty"), ("a.csv", b"\x00" * 9, "no text"), ("b.csv", None, "not there"), ("a.csv", b"a;b" * 7_000_000, "MB")],
)
def test_a_list_that_cannot_be_read_is_told(name, content, says, depot, spares):
    if content is not None:
        (depot / name).write_bytes(content)
    code, out, _ = spares("import", name)
    assert code == 1
    assert says in out


def test_a_vehicle_that_a_spreadsheet_made_a_number_with_a_point_is_not_guessed(depot, spares):
    fleets = depot / "catalogue/fleets.yml"
    text = fleets.read_text("utf-8")
    fleets.write_text(re.sub(r"(id: B2\n(?:.*\n)*?    vehicles: )\[.*\]", r'\1["21", "31.1", "31.2"]', text, count=1), "utf-8")
    book = Workbook()
    sheet = book.active
    for row in ([*LIST.splitlines()[0].split(";")], ["EX-0101", "Hebel", "B2", 31.1, "Driver's cab", 1, "safety", "PETG", "A", "", ""]):
        sheet.append(row)
    sheet["D2"].number_format = "0.00"  # 31.10 to whoever reads it
    book.save(depot / "parts.xlsx")
    spares("import", "parts.xlsx")
    code, out, err = spares("import", "parts.xlsx", "--map", "parts.map.yml")
    assert "lost digits" in out + err
    assert not list((depot / "catalogue/parts").glob("EX-0101*"))
    assert code == 1


@pytest.mark.parametrize(
    ("column", "before", "cell", "here"),
    [
        ("Fahrzeuge", ";11-12, 14;", "alle", "all"),
        ("Fahrzeuge", ";11-12, 14;", "sämtliche Wagen", "all"),
        ("Werkstoff", ";petg;", "PETG grau", "petg"),
        ("Sicherheitsrolle", ";none;", "nein", "none"),
    ],
)
def test_the_mend_of_a_word_is_the_line_of_the_map(column, before, cell, here, depot, parts, spares):
    parts.write_text("\n".join(LIST.splitlines()[:2]).replace(before, f";{cell};") + "\n", "utf-8")
    spares("import", "parts.csv")
    code, out, _ = spares("import", "parts.csv", "--map", MAP)
    assert code == 1
    (line,) = re.findall(rf'under words in the map: ({column}: {{"{cell}": [^}}]+}})', out)
    mended(depot, ("# words:\n", f"words:\n  {line.replace('…', here)}\n"))
    code, out, err = spares("import", "parts.csv", "--map", MAP)
    assert (code, last(out)) == (0, "Rows: 1 = 1 written + 0 already here + 0 refused")
    assert f"“{cell}” in {column} is {here}" in err


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


def test_where_a_depot_has_no_record_of_a_kind_yet_it_is_said(depot, parts, spares):
    for file in (depot / "catalogue/materials").glob("*.yml"):
        file.unlink()
    spares("import", "parts.csv")
    _, out, _ = spares("import", "parts.csv", "--map", MAP)
    assert "there is no material 'petg' here, for none has a record yet" in out
    assert "write its record in materials/ first" in out


def test_where_a_depot_has_one_fleet_alone_it_is_proposed(depot, spares):
    (depot / "parts.csv").write_text("Teilenummer;Bezeichnung;Fahrzeuge\nEX-0100;Kappe;11\nEX-0101;Knopf;99\n", "utf-8")
    fleets = depot / "catalogue/fleets.yml"
    text = fleets.read_text("utf-8")
    fleets.write_text(text[: text.index("- id: B2")].rstrip() + "\n", "utf-8")
    _, out, _ = spares("import", "parts.csv")
    assert "tell: revision; purpose; place" in out
    code, out, _ = spares("import", "parts.csv", "--map", MAP)
    assert (code, last(out)) == (1, "Rows: 2 = 1 written + 0 already here + 1 refused")
    assert "A1 has no vehicle 99" in out


@pytest.mark.parametrize(
    ("language", "known", "unknown"),
    [("de", "Zuordnung für parts.csv", "Überschrift unbekannt"), ("da", "Kolonnenøgle til parts.csv", "ukendt overskrift")],
)
def test_the_map_is_proposed_in_the_language_of_the_depot(language, known, unknown, depot, parts, spares):
    file = depot / "catalogue/depot.yml"
    file.write_text(re.sub(r"(?m)^language: .*$", f"language: {language}", file.read_text("utf-8")), "utf-8")
    parts.write_text(LIST.replace(";Bemerkung", ";Farbe"), "utf-8")
    spares("import", "parts.csv")
    proposed = (depot / MAP).read_text("utf-8")
    assert proposed.startswith(f"# {known}")
    assert unknown in proposed
    comments = " ".join(line.partition("#")[2] for line in proposed.splitlines())
    assert not re.search(r"\b(the|such as|where|what|proposed|empty)\b", comments)


@pytest.mark.parametrize(
    ("language", "one", "several", "checked"),
    [
        ("en", "as row 3, or", "as rows 2 and 4, or", "1 part in catalogue: "),
        ("de", "wie Zeile 3, oder", "wie Zeilen 2 und 4, oder", "1 Teil in catalogue: "),
        ("da", "som række 3, eller", "som rækkerne 2 og 4, eller", "1 del i catalogue: "),
    ],
)
def test_one_row_and_several_are_spoken_of_as_such(language, one, several, checked, depot, spares):
    file = depot / "catalogue/depot.yml"
    file.write_text(re.sub(r"(?m)^language: .*$", f"language: {language}", file.read_text("utf-8")), "utf-8")
    for folder in (depot / "catalogue/parts").iterdir():
        shutil.rmtree(folder)
    (depot / "parts.csv").write_text("Nummer;Benennung\nEX-1;a\nEX-1;b\n", "utf-8")
    spares("import", "parts.csv")
    assert one in spares("import", "parts.csv", "--map", MAP)[1]
    (depot / "parts.csv").write_text("Nummer;Benennung\nEX-1;a\nEX-1;b\nEX-1;c\nEX-2;d\n", "utf-8")
    assert several in spares("import", "parts.csv", "--map", MAP)[1]
    assert checked in spares("check")[1]


PLACEHOLDERS = """\
Teilenummer;Bezeichnung;Flotte;Fahrzeuge;Werkstoff;Bestand;Länge mm;Sicherheitsrolle;Freigabe durch
TODO;Knopf;;;;;;;
EX-0201;Knopf;A1;TODO;;;;;
EX-0202;Knopf;A1;11;TBD;;;;
EX-0203;Knopf;A1;11;;-;;;
EX-0204;Knopf;A1;11;;;?;;
EX-0205;Knopf;A1;11;;;;unknown;
EX-0206;Knopf;;;;;;;?
EX-0207;Knopf;A1;11;;;;x;
"""


def test_what_only_keeps_a_place_free_is_refused_and_never_led_to_a_word(depot, spares):
    (depot / "parts.csv").write_text(PLACEHOLDERS, "utf-8")
    spares("import", "parts.csv")
    assert not re.search(r"TBD\"|unknown\"|\?\"", (depot / MAP).read_text("utf-8").partition("# words:")[2])
    code, out, _ = spares("import", "parts.csv", "--map", MAP)
    assert (code, last(out)) == (1, "Rows: 8 = 0 written + 0 already here + 8 refused")
    says = re.findall(r"row (\d), ([^:]+): '([^']+)' only keeps a place free", out)
    assert [(row, cell) for row, _, cell in says] == [("2", "TODO"), ("3", "TODO"), ("4", "TBD"), ("5", "-"), ("6", "?"), ("7", "unknown"), ("8", "?")]
    assert out.count("leave the cell empty") == 6  # of a number it would be no help
    assert '"x": …' in out
    assert '"TODO": all' not in out
