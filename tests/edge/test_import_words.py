"""Words of a list: what they mean is said by the map alone, in lines that the mends give; what is said is said in the depot's language."""

import re
import shutil

import pytest

from tests.edge.listed import LIST, MAP, last, mended

pytestmark = pytest.mark.usefixtures("in_this_process")


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


def test_words_of_a_column_that_takes_none_are_told(depot, parts, spares):
    spares("import", "parts.csv")
    mended(depot, ("# words:\n", "words:\n  Benennung: {Hebel: Griff}\n"))
    code, out, _ = spares("import", "parts.csv", "--map", MAP)
    assert code == 1
    assert f"{MAP}:" in out
    assert "has words of 'Benennung', which is name and takes its cells as they are" in out


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


@pytest.mark.parametrize(("language", "open_", "heading"), [("de", "Jedes TODO ersetzen", "## Werkzeug"), ("da", "Erstat hvert TODO", "## Værktøj")])
def test_what_stands_beside_an_imported_part_is_in_the_language_of_the_depot(language, open_, heading, depot, spares):
    file = depot / "catalogue/depot.yml"
    file.write_text(re.sub(r"(?m)^language: .*$", f"language: {language}", file.read_text("utf-8")), "utf-8")
    (depot / "parts.csv").write_text("Teilenummer;Bezeichnung\nEX-0200;Knopf\n", "utf-8")
    spares("import", "parts.csv")
    assert spares("import", "parts.csv", "--map", MAP)[0] == 0
    written = {each.name: each.read_text("utf-8") for each in next((depot / "catalogue/parts").glob("EX-0200-*")).iterdir()}
    assert written["part.yml"].startswith(f"# {open_}")
    assert heading in written["fitting.md"]
    comments = " ".join(line.partition("# ")[2] for name in ("part.yml", "approval.yml") for line in written[name].splitlines())
    assert not re.search(r"\b(the|what|where|which|happened|Regulation)\b", comments)


def test_a_name_with_a_space_is_printed_as_every_shell_takes_it(depot, spares):
    (depot / "our parts.csv").write_text("Teilenummer;Bezeichnung\nEX-0200;Knopf\n", "utf-8")
    assert 'spares import "our parts.csv" --map "our parts.map.yml" --dry-run' in spares("import", "our parts.csv")[1]


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
