"""What columns are called in three languages, and what is asked about."""

from types import SimpleNamespace

import pytest

from generator.importing.csv_list import read_text_list
from generator.importing.fields import Field
from generator.importing.first_row import data_in
from generator.importing.headings import (
    Heading,
    Headings,
    found_headings,
    headings_in,
    meaning_of,
    proposed_meanings,
)
from generator.importing.proposal import understood
from generator.importing.whole_list import rows_below
from generator.records.parts import NumberKind


@pytest.mark.parametrize(
    ("heading", "field"),
    [
        ("Part no.", Field.NUMBER),
        ("Teile-\nnummer", Field.NUMBER),
        ("Varenr.", Field.NUMBER),
        ("Benen\u00adnung", Field.NAME),
        ("BETEGNELSE", Field.NAME),
        ("Länge [cm]", Field.LENGTH),
        ("Laenge (mm)", Field.LENGTH),
        ("Længde mm", Field.LENGTH),
        ("Maße", Field.SIZE),
        ("Sicherheitsrelevant", Field.SAFETY_ROLE),
        ("Gültig bis", Field.VALID_UNTIL),
        ("Freigabe vom", Field.LETTER_DATE),
        ("Freigabe bis", Field.VALID_UNTIL),
        ("Freigegeben für", Field.APPROVED_FOR),
        ("Stück je Fzg.", Field.PER_VEHICLE),
        ("Freigabe-Nr.", Field.LETTER_NUMBER),
        ("Freigabeschreiben", Field.LETTER_FILE),
        ("Godkendelsesnr.", Field.LETTER_NUMBER),
        ("Godkendelsesbrev", Field.LETTER_FILE),
        ("Lager", Field.ON_SHELF),
        ("approved from", Field.LETTER_DATE),
        ("Approved until", Field.VALID_UNTIL),
        ("approved for", Field.APPROVED_FOR),
        ("Approval letter", Field.LETTER_FILE),
        ("Masse", None),
        ("Freigabe", None),
        ("approved", None),
        ("Nr.", None),
        ("Typ", None),
        ("", None),
    ],
)
def test_a_heading_is_known_for_sure_or_not_at_all(heading, field):
    found = meaning_of(heading)
    assert (found.field if found else None) == field


def test_whose_old_number_it_is_stands_in_the_heading():
    assert meaning_of("Zeichnungs-Nr.").kind is NumberKind.DRAWING
    assert meaning_of("leverandørnummer").kind is NumberKind.MAKER


@pytest.mark.parametrize(("heading", "unit"), [("Länge [cm]", "cm"), ("L in mm", "mm"), ("Width (in)", "in"), ("Höhe", None)])
def test_the_unit_stands_in_the_heading(heading, unit):
    (table,) = read_text_list(f"Nummer;Name;{heading}\n1;2;3\n".encode())
    assert found_headings(table).columns[2].unit == unit


def test_two_columns_for_one_thing_are_both_asked_about():
    (table,) = read_text_list(b"Nummer;Name;Teilenummer;alte Nummer;Altnummer\nA1;x;B1;c;d\n")
    found = proposed_meanings(found_headings(table))
    assert {i: meaning.field for i, meaning in found.items()} == {1: Field.NAME, 3: Field.OLD_NUMBERS, 4: Field.OLD_NUMBERS}


@pytest.mark.parametrize(
    ("heading", "cell", "field"),
    [
        ("Lager", "12", Field.ON_SHELF),
        ("Lager", "R3-F2", Field.SHELF_PLACE),
        ("Lager", "", Field.ON_SHELF),
        ("Freigabeschreiben", "TR-19-044.pdf", Field.LETTER_FILE),
        ("Freigabeschreiben", "TR-19-044", Field.LETTER_NUMBER),
        ("Godkendt til", "31.05.2029", Field.VALID_UNTIL),
        ("Godkendt til", "tidsubegrænset", Field.VALID_UNTIL),
        ("Godkendt til", "kunde", Field.APPROVED_FOR),
    ],
)
def test_of_two_things_the_cells_say_which_a_heading_tells(heading, cell, field):
    (table,) = read_text_list(f"Nummer;Name;{heading}\nA1;x;{cell}\n".encode())
    found = found_headings(table)
    (_, _, column) = understood(table, found)
    assert column.field is field


def test_columns_without_headings_are_called_by_their_letters():
    (table,) = read_text_list(b"A1;x;;y\nA2;x;;\n")
    found = headings_in(table, 0)
    assert [each.name for each in found.columns] == ["A", "B", "D"]
    assert found.named("d").column == found.named("(D)").column == 3
    assert found.named("C") is None
    assert [row.number for row in rows_below(table, found)] == [1, 2]


def test_with_headings_a_letter_alone_is_no_column():
    (table,) = read_text_list(b"Nummer;Name\nA1;x\n")
    found = found_headings(table)
    assert found.named("A") is None
    assert found.named("(A)").text == "Nummer"


@pytest.mark.parametrize("text", ["7001", "12.345-6", "K-7001", "TRK4711", "03.05.2019", "tr4", "TR4 railcar", "B31", "PETG grey", "EX-01"])
def test_what_looks_like_a_part_is_no_heading_for_sure(text):
    assert data_in(one_heading(text), CATALOGUE) == (text,)


@pytest.mark.parametrize("text", ["Farbe", "Rev2", "Spalte1", "Länge 1", "Nummer", "B x H", "Typ", "Nr."])
def test_a_heading_is_not_taken_for_a_part(text):
    assert data_in(one_heading(text), CATALOGUE) == ()


def one_heading(text):
    return Headings(1, (Heading(0, text, text),))


CATALOGUE = SimpleNamespace(
    fleets={"TR4": SimpleNamespace(id="TR4", name="TR4 railcar", vehicles=("B31-B33",))},
    materials={"petg": SimpleNamespace(name="PETG grey")},
    makers={},
    parts=(SimpleNamespace(number="EX-01"),),
)
