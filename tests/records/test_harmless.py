"""No text in a cell is a formula in any country's spreadsheet, and each comes back as it was (OWASP's advice on CSV injection)."""

import csv
import io

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from generator.records.harmless import as_said, harmless
from generator.writing.tables import table_text

BEGINS = "=+-@\t\r\n＝＋－＠"
ATTACKS = [
    "=1+1", "+1+1", "-2+3+cmd|' /C calc'!A0", "@SUM(1)", "\t=1", "\r=1", "\n=1", "'=1", "''=1", "＝1+1", "door;=1+1", 'door;"=1+1"', "door,=1",
    'a"";=1', "a\t=1", "a|=1", "-", "--5", "-5x", "- left", '"=1', "+5",
]  # fmt: skip


@given(st.text(alphabet=[*BEGINS, *"';\",|a5 .🙂"], max_size=12))
@example("=")
@example("'-5")
@example(";;=';\n'=")
def test_each_text_comes_back(text):
    assert as_said(harmless(text)) == text


@pytest.mark.parametrize("text", ATTACKS)
@pytest.mark.parametrize("sign", [",", ";", "\t", "|"])
def test_a_spreadsheet_of_any_country_finds_no_formula(text, sign):
    written = table_text([["door", text, 1]])
    for row in csv.reader(io.StringIO(written, newline=""), delimiter=sign):
        assert [cell for cell in row if cell.strip('"')[:1] and cell.strip('"')[:1] in BEGINS] == []


@pytest.mark.parametrize("text", ["-5", "-5.25", "-5,25", "door", "2026-11-26", "B-0147", "left - right", "a+b", "O'Neil", "", "a, -b"])
def test_what_is_none_is_written_as_it_is(text):
    assert harmless(text) == text


def test_numbers_stay_numbers():
    assert table_text([[-5, -0.5, None, True]]) == "-5,-0.50,,True\r\n"
