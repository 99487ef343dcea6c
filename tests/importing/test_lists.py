"""What becomes of each of some ninety depots' lists, row by row, from the proposed map to `spares check`."""

import contextlib
import io
import re
import shutil
from dataclasses import dataclass
from pathlib import Path

import pytest

from generator.edge.cli import main
from generator.edge.disk import list_files
from generator.importing.any_list import tables_in
from generator.reading.catalogue import read_catalogue
from generator.reading.yaml_places import read_yaml
from generator.records.problems import Severity
from tests.importing.lists import NAMES, written_to
from tests.importing.otherwise import MAPS, OTHERWISE

FIXTURE = Path(__file__).parents[1] / "fixtures" / "depot"
MATERIAL = "name: {name}\nfamily: PETG\ndensity_g_cm3: 1.2\nprocesses: [material extrusion]\n"
FLEET = """\
  - id: {id}
    name: {id} railcar
    vehicles: [{vehicles}]
    in_service_since: 1990
    operation_category: 2
    design_category: "N"
    places:
      - {{id: cab, name: Driver's cab, area: interior, largest_mm: 200}}
"""
FLEETS = {"K1": '"401-420"', "K3": '"31-39"', "W": '"0401-0404"'}
SUM = re.compile(r"Rows: (?P<rows>\d+) = (?P<new>\d+) written \+ (?P<here>\d+) already here \+ (?P<back>\d+) refused")
# What a person has still to fill in, as `spares new` leaves it.
LEFT_TO_A_PERSON = {"REC04", "FIT02"}


def k_depot(root):
    """The depot that the lists speak of: fleets K1, K3, W; materials petg-fr, pc-black, pa12-fr; no parts yet."""
    (root / "materials").mkdir(parents=True)
    (root / "parts").mkdir()
    for name in ("depot.yml", "words.yml"):
        shutil.copy(FIXTURE / name, root / name)
    (root / "fleets.yml").write_text("fleets:\n" + "".join(FLEET.format(id=name, vehicles=v) for name, v in FLEETS.items()), "utf-8")
    (root / "makers.yml").write_text((FIXTURE / "makers.yml").read_text("utf-8").replace("petg, petg-new", "petg-fr, pc-black").replace("nylon", "pa12-fr"), "utf-8")
    for name in ("petg-fr", "pc-black", "pa12-fr"):
        (root / "materials" / f"{name}.yml").write_text(MATERIAL.format(name=name), "utf-8")
    return root


@pytest.fixture(scope="module")
def lists(tmp_path_factory):
    folder = tmp_path_factory.mktemp("lists")
    return folder, written_to(folder)


@pytest.fixture(scope="module")
def bare_depot(tmp_path_factory):
    return k_depot(tmp_path_factory.mktemp("k") / "catalogue")


@pytest.fixture
def desk(bare_depot, tmp_path, monkeypatch):
    """Where somebody sits with a list: a catalogue of their own, read without child processes."""
    shutil.copytree(bare_depot, tmp_path / "catalogue")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1795651200")  # 2026-11-26 00:00 UTC
    monkeypatch.setattr(list_files, "read_in_a_child", tables_in)  # the child's start is most of the time of a small list
    return tmp_path


@dataclass
class Outcome:
    """What one list came to."""

    code: int
    out: str
    written: list
    refused: set
    whole: bool = False
    """The list itself was refused, with all its rows."""
    last: str = ""
    """The last line on standard output."""


def run(*words):
    """One command in this process, with what it printed on both outputs."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = main([str(each) for each in words])
    assert "Traceback" not in err.getvalue()
    assert "\x1b" not in out.getvalue()
    return code, out.getvalue(), err.getvalue()


def folders(desk):
    return sorted(each.name for each in (desk / "catalogue/parts").iterdir())


def numbers(desk):
    return sorted(each.number for each in read_catalogue(desk / "catalogue").parts)


def outcome(file, folder, desk):
    """Have a map proposed, mend it as a person would, and take the list in."""
    shutil.copy(folder / file, desk / file)
    asked = MAPS.get(file, {})
    code, out, err = run("import", file, *asked.get("first", ()))
    if code:
        return Outcome(code, out + err, [], set(), whole=True)
    proposed = desk / f"{Path(file).stem}.map.yml"
    text = proposed.read_text("utf-8")
    for before, after in asked.get("mended", ()):
        assert before in text, text
        text = text.replace(before, after)
    proposed.write_text(text, "utf-8")
    more = ["--files", folder / "72_meshes", "--store", folder / "store"] if file == "72_with_meshes.csv" else []
    if file == "71_repeat_v2.csv":
        (desk / "v1.csv").write_bytes((folder / "71_repeat_v1.csv").read_bytes())
        run("import", "v1.csv", "--map", proposed)
    before = set(numbers(desk))
    code, out, err = run("import", file, "--map", proposed, *more)
    refused = {int(found) for found in re.findall(r"error \w+: row (\d+)", out)}
    return Outcome(code, out + err, sorted(set(numbers(desk)) - before), refused, whole="Rows:" not in out, last=out.splitlines()[-1])


def tree(folder):
    """Every file and folder with its bytes and its time."""
    return {each: (each.stat().st_mtime_ns, each.read_bytes() if each.is_file() else b"") for each in sorted(folder.rglob("*"))}


@pytest.mark.parametrize("file", NAMES)
def test_a_list_comes_to_what_is_expected_of_it(file, lists, desk):
    folder, cases = lists
    case = cases[file]
    found = outcome(file, folder, desk)
    written, refused = case["written"], {each["row"] for each in case["refused"]}
    if file in OTHERWISE:
        written, refused, _ = OTHERWISE[file]
    assert found.written == written if isinstance(written, list) else len(found.written) == written
    assert found.refused == set(refused)
    assert (found.code != 0) == bool(found.refused or found.whole)
    assert (desk / file).read_bytes() == (folder / file).read_bytes()
    if found.whole:
        assert found.code == 1
        assert Path(file).stem in found.out
        assert "mend:" in found.out
    else:
        total, new, here, back = SUM.fullmatch(found.last).groups()
        assert int(total) == int(new) + int(here) + int(back)
        assert (int(new), int(back)) == (len(found.written), len(found.refused))


def test_a_part_with_its_model_lacks_only_what_a_person_knows(lists, desk):
    outcome("72_with_meshes.csv", lists[0], desk)
    printed = [part for part in read_catalogue(desk / "catalogue").parts if part.mesh]
    assert [part.number for part in printed] == ["K-7201", "K-7202", "K-7203"]
    assert {problem.code for part in printed for problem in part.problems} <= LEFT_TO_A_PERSON
    assert {problem.severity for part in printed for problem in part.problems if problem.code != "REC04"} == {Severity.WARNING}
    assert (desk / "catalogue" / printed[0].mesh.path).read_bytes() == (lists[0] / "72_meshes/K-7201.stl").read_bytes()


@pytest.mark.parametrize("file", ["30_names_as_paths.csv", "66_markup.csv", "37_line_breaks.xlsx", "81_headings_broken_and_spelt_out.xlsx"])
def test_a_part_without_a_model_says_why_or_asks(file, lists, desk):
    outcome(file, lists[0], desk)
    records = sorted((desk / "catalogue/parts").glob("*/part.yml"))
    for each in records:
        source = read_yaml("part.yml", each.read_bytes())
        assert source.problems == []
        assert source.content["no_model"]["because"] == "TODO"
        assert "settings" not in source.content
    assert records


def test_names_come_back_as_they_stood_in_the_list(lists, desk):
    outcome("65_yaml_traps.csv", lists[0], desk)
    lines = (lists[0] / "65_yaml_traps.csv").read_text("utf-8").splitlines()[1:]
    for line in lines:
        number, name, _ = line.split(";")
        (file,) = (desk / "catalogue/parts").glob(f"{number}*/part.yml")
        assert read_yaml("part.yml", file.read_bytes()).content["name"] == name


@pytest.mark.parametrize("file", ["01_de_semicolon_cp1252.csv", "33_vehicle_lists.xlsx", "72_with_meshes.csv"])
def test_a_dry_run_and_a_repeat_touch_nothing(file, lists, desk):
    shutil.copy(lists[0] / file, desk / file)
    more = ("--files", lists[0] / "72_meshes", "--store", lists[0] / "store") if file.startswith("72") else ()
    run("import", file)
    words = ("import", file, "--map", f"{Path(file).stem}.map.yml", *more)
    before = tree(desk / "catalogue")
    dry = run(*words, "--dry-run")[1].splitlines()[-1]
    assert tree(desk / "catalogue") == before
    assert run(*words)[1].splitlines()[-1] == dry.replace("would be ", "")
    written = tree(desk / "catalogue/parts")
    again = SUM.fullmatch(run(*words)[1].splitlines()[-1])
    assert tree(desk / "catalogue/parts") == written
    assert again["new"] == "0"
    assert again["here"] == SUM.fullmatch(dry.replace("would be ", ""))["new"]


def test_a_list_of_old_letters_is_not_guessed(lists, desk):
    shutil.copy(lists[0] / "06_da_cp850.csv", desk)
    code, out, _ = run("import", "06_da_cp850.csv")
    assert code == 1
    assert "D›rgreb" in out
    assert "--encoding cp850" in out
    assert not list(desk.glob("*.map.yml"))


def test_the_dry_run_of_a_thousand_columns_is_short(lists, desk):
    shutil.copy(lists[0] / "41_thousand_columns.csv", desk)
    _, out, _ = run("import", "41_thousand_columns.csv")
    assert len(out.splitlines()) < 40
    assert len((desk / "41_thousand_columns.map.yml").read_text("utf-8").splitlines()) < 40


@pytest.mark.parametrize(
    ("file", "word"),
    [
        ("14_hidden_sheets.xlsx", "alt; geheim"),
        ("15_hidden_row_and_column.xlsx", "gesperrt"),
        ("16_formulas_with_values.xlsx", "results of formulas"),
        ("17_two_sheets.xlsx", "other sheets are not read: K3"),
        ("35_materials.csv", "“PETG-FR” in Werkstoff is petg-fr"),
        ("26_homoglyphs.csv", "A-1O4 looks like A-104"),
        ("69_meaning_in_colour.xlsx", "remarks"),
        ("56_headings_only.csv", "Rows: 0 ="),
        ("72_with_meshes.csv", "K-7203 (1).stl"),
        ("72_with_meshes.csv", "Türknopf.stl could belong to several rows"),
        ("72_with_meshes.csv", "links that lead out of the folder are not followed: K-7209.stl"),
        ("46_encrypted.xlsx", "password"),
        ("49_old_xls_renamed.xlsx", ".xls"),
        ("52_billion_laughs.xlsx", "document type"),
        ("53_outside_entity.xlsx", "document type"),
        ("84_owner_file~$list.xlsx", "open in a spreadsheet program"),
    ],
)
def test_what_is_passed_over_is_said(file, word, lists, desk):
    assert word in outcome(file, lists[0], desk).out


def test_lengths_and_days_are_those_of_the_list(lists, desk):
    outcome("01_de_semicolon_cp1252.csv", lists[0], desk)
    said = [next(line for line in file.read_text("utf-8").splitlines() if "The list says" in line) for file in sorted((desk / "catalogue/parts").glob("*/part.yml"))]
    assert said == [f"# The list says: length {size} mm." for size in ("49.5", "1250", "60", "80.25")]


@pytest.mark.parametrize("file", ["43_zip_bomb_sheet.xlsx", "43_zip_bomb_one_cell.xlsx", "70_truncated.xlsx", "67_dimension_lies.xlsx"])
def test_a_hostile_list_ends_in_its_child_process(file, lists, desk, monkeypatch):
    monkeypatch.undo()
    monkeypatch.chdir(desk)
    found = outcome(file, lists[0], desk)
    assert found.whole == (file != "67_dimension_lies.xlsx")


def test_vehicles_that_nobody_names_are_asked_about_and_never_all(lists, desk):
    outcome("34_vehicle_words.csv", lists[0], desk)
    (file,) = (desk / "catalogue/parts").glob("K-3406*/part.yml")
    assert read_yaml("part.yml", file.read_bytes()).content["fits"][0]["vehicles"] == "TODO"
