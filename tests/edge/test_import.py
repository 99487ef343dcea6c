"""`spares import`: a map that is as strict as every record, rows that are whole or refused, and nothing overwritten."""

import re

import pytest
from openpyxl import Workbook

from generator.edge.commands import import_list
from generator.reading.yaml_places import read_yaml
from tests.edge.conftest import bytes_of, names_in
from tests.edge.listed import LIST, MAP, last, mended

pytestmark = pytest.mark.usefixtures("in_this_process")


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
