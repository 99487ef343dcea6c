"""What columns are called in three languages, and what is asked about."""

import pytest

from generator.importing.csv_list import read_text_list
from generator.importing.fields import Field
from generator.importing.headings import found_headings, meaning_of, proposed_meanings
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
