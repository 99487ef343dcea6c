"""Lists without headings lose no part; what words mean in the depot's language is proposed; what has one mend is told once."""

import re

import pytest
from openpyxl import Workbook

from tests.edge.listed import LETTERS, MAP, WHOLE, last, mended

pytestmark = pytest.mark.usefixtures("in_this_process")
BARE = "7001;Knopf;A1\n7002;Hebel;A1\n"
NUMBERED = ("- heading: A\n    field: left out", "- heading: A\n    field: number")
NAMED = ("- heading: B\n    field: left out", "- heading: B\n    field: name")


def in_language(depot, language):
    file = depot / "catalogue/depot.yml"
    file.write_text(re.sub(r"(?m)^language: .*$", f"language: {language}", file.read_text("utf-8")), "utf-8")


def test_a_list_without_headings_keeps_its_first_part(depot, parts, spares):
    parts.write_text(BARE, "utf-8")
    _, out, err = spares("import", "parts.csv")
    assert "no headings, rows of parts: 2" in out
    assert "are these headings? Row 1 looks like a part: 7001; A1" in err
    assert "heading_row: 0   # no headings" in (depot / MAP).read_text("utf-8")
    mended(depot, NUMBERED, NAMED)
    code, out, _ = spares("import", "parts.csv", "--map", MAP)
    assert (code, last(out)) == (0, "Rows: 2 = 2 written + 0 already here + 0 refused")
    assert list((depot / "catalogue/parts").glob("7001-knopf"))


@pytest.mark.parametrize("name", ["Knopf", "Regal"])  # one is a heading elsewhere
def test_a_map_that_takes_a_part_for_headings_is_told_each_time(name, depot, parts, spares):
    parts.write_text(BARE.replace("Knopf", name), "utf-8")
    (depot / MAP).write_text(f'heading_row: 1\ncolumns:\n  - {{heading: "7001", field: number}}\n  - {{heading: {name}, field: name}}\n', "utf-8")
    _, _, err = spares("import", "parts.csv", "--map", MAP, "--dry-run")
    assert "are these headings? Row 1 looks like a part: 7001; A1; if the list has no headings, heading_row: 0 in the map" in err


def test_headings_of_which_none_is_known_are_asked_about(depot, parts, spares):
    parts.write_text("Numer;Nazwa\nEX-0100;Klapka\n", "utf-8")
    _, _, err = spares("import", "parts.csv")
    assert "are these headings? None in row 1 is known" in err
    assert "heading_row: 1   # are these headings?" in (depot / MAP).read_text("utf-8")
    mended(depot, ("heading_row: 1", "heading_row: 0"), ("Numer\n    field: left out", "(A)\n    field: number"), ("Nazwa\n    field: left out", "(B)\n    field: name"))
    _, out, _ = spares("import", "parts.csv", "--map", MAP)
    assert last(out) == "Rows: 2 = 2 written + 0 already here + 0 refused"


def test_headings_that_are_known_are_not_asked_about(depot, parts, spares):
    _, _, err = spares("import", "parts.csv")
    assert "are these headings" not in err
    assert "heading_row: 1\n" in (depot / MAP).read_text("utf-8")


def test_without_headings_a_row_wider_than_most_is_refused(depot, parts, spares):
    parts.write_text("7001;Knopf;A1\n7002;Hebel;A1\n7003;Kappe; rund;A1\n", "utf-8")
    spares("import", "parts.csv")
    mended(depot, NUMBERED, NAMED)
    _, out, _ = spares("import", "parts.csv", "--map", MAP)
    assert "row 3: has more cells than most rows: 'A1'" in out
    assert last(out) == "Rows: 3 = 2 written + 0 already here + 1 refused"


def test_rows_of_several_cells_above_the_headings_are_told(depot, parts, spares):
    parts.write_text("List of parts;\n7001;Knopf\nNummer;Benennung\n7002;Hebel\n", "utf-8")
    _, out, err = spares("import", "parts.csv")
    assert "headings in row 3, rows of parts: 1" in out
    assert "rows above the headings are not read: 2\n" in err


def test_a_spreadsheet_of_numbers_without_headings_keeps_its_first_part(depot, spares):
    book = Workbook()
    for row in ([7001, "Knopf", 3], [7002, "Hebel", 2], ["K-3", "Kappe", "2"]):
        book.active.append(row)
    book.save(depot / "parts.xlsx")
    spares("import", "parts.xlsx")
    mended(depot, NUMBERED, NAMED, ("# numbers: as shown", "numbers: as shown"))
    _, out, _ = spares("import", "parts.xlsx", "--map", MAP)
    assert last(out) == "Rows: 3 = 3 written + 0 already here + 0 refused"


GERMAN = (";customer;31.05.2029;letter.txt;none", ";Kunde;unbefristet;letter.txt;keine")
DANISH = (";customer;31.05.2029;letter.txt;none", ";myndighed;tidsubegrænset;letter.txt;ingen")


@pytest.mark.parametrize(
    ("language", "cells", "proposed", "none"),
    [
        ("de", GERMAN, ['"alle": all', '"Kunde": customer', '"unbefristet": open'], '#     "keine": none\n'),
        ("da", DANISH, ['"alle": all', '"myndighed": authority', '"tidsubegrænset": open'], '#     "ingen": none\n'),
    ],
)
def test_a_word_with_one_meaning_is_proposed_and_no_conditions_are_a_persons(language, cells, proposed, none, depot, spares):
    in_language(depot, language)
    row = WHOLE.replace(*cells).replace(";11-12;", ";alle;").replace(";2;none;", ";2;nein;")
    (depot / "parts.csv").write_text(f"{LETTERS.splitlines()[0]}\n{row}\n", "utf-8")
    spares("import", "parts.csv")
    text = (depot / MAP).read_text("utf-8")
    for line in proposed:
        assert re.search(rf"(?m)^    {line}   # \w+", text)
    assert none in text
    assert '#     "nein": none or safety' in text
    mended(depot, ('#   Sicherheitsrolle:\n#     "nein": none or safety', '  Sicherheitsrolle:\n    "nein": none'))
    (depot / "papers").mkdir()
    (depot / "papers/letter.txt").write_text("Approval of part EX-0100.\n", "utf-8")
    code, out, _ = spares("import", "parts.csv", "--map", MAP, "--files", "papers", "--by", "specialist")
    assert (code, last(out).count("1")) == (0, 2)
    (file,) = (depot / "catalogue/parts").glob("EX-0100*/approval.yml")
    assert "taken over" not in file.read_text("utf-8")  # for nobody has said that there are no conditions


@pytest.mark.parametrize(("language", "word"), [("da", "Kunde der Linie"), ("da", "unbefristet"), ("de", "offen"), ("en", "alle")])
def test_a_word_that_could_mean_something_else_is_left_to_a_person(language, word, depot, spares):
    in_language(depot, language)
    column = {"alle": ";11-12;", "Kunde der Linie": ";customer;"}.get(word, ";31.05.2029;")
    (depot / "parts.csv").write_text(f"{LETTERS.splitlines()[0]}\n{WHOLE.replace(column, f';{word};', 1)}\n", "utf-8")
    spares("import", "parts.csv")
    assert "\n# words:\n" in (depot / MAP).read_text("utf-8")
    assert f'#     "{word}": ' in (depot / MAP).read_text("utf-8")


def test_all_is_all_where_the_map_says_so(depot, parts, spares):
    parts.write_text("Nummer;Benennung;Flotte;Fahrzeuge\nEX-0100;Kappe;A1;all\n", "utf-8")
    spares("import", "parts.csv")
    _, out, _ = spares("import", "parts.csv", "--map", MAP)
    assert last(out) == "Rows: 1 = 1 written + 0 already here + 0 refused"
    mended(depot, ('words:\n  Fahrzeuge:\n    "all": all', "#"))
    parts.write_text("Nummer;Benennung;Flotte;Fahrzeuge\nEX-0101;Kappe;A1;all\n", "utf-8")
    assert last(spares("import", "parts.csv", "--map", MAP)[1]) == "Rows: 1 = 0 written + 0 already here + 1 refused"


@pytest.mark.parametrize(("rows", "more"), [(3, None), (4, "and 1 more row has the same: 5"), (6, "and 3 more rows have the same: 5; 6; 7")])
def test_what_one_line_of_the_map_mends_is_told_three_times_and_then_counted(rows, more, depot, spares):
    book = Workbook()
    book.active.append(["Nummer", "Benennung"])
    for number in range(rows):
        book.active.append([4711 + number, "Kappe"])
    book.save(depot / "parts.xlsx")
    spares("import", "parts.xlsx")
    code, out, _ = spares("import", "parts.xlsx", "--map", MAP)
    assert code == 1
    assert out.count("is a number to the spreadsheet") == 3
    assert re.findall(r"and \d+ more .*", out) == ([more] if more else [])
    assert last(out) == f"Rows: {rows} = 0 written + 0 already here + {rows} refused"
