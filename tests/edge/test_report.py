"""`spares report`: a month as text, table, JSON and paper."""

import csv
import json
from pathlib import Path

import pytest

from generator.edge.refusals import Ending
from generator.pages.reports.plain import COLUMNS
from tests.fixtures.produced import lot

BATCH = """\
part: EX-0001
revision: A
printed_as: "spares print: 1\\n"
fingerprint: "0000000000000000000000000000000000000000000000000000000000000000"
count: 4
machine: M-1
printed_by: specialist
lots: [L-1]
started: "2026-10-05 08:00"
ended: "2026-10-05 12:00"
grams: 41.5
events:
  - {on: 2026-10-06, what: scrapped, by: specialist, count: 1, why: "=1+1 corner"}
"""


@pytest.fixture
def printed(depot):
    Path("catalogue/batches").mkdir()
    Path("catalogue/batches/B-0001.yml").write_text(BATCH, encoding="utf-8")
    lot(Path("catalogue"), "L-1", "petg")
    return depot


def test_the_month_that_is_over_last_is_told(printed, spares):
    code, out, err = spares("report")  # on 25 November 2026
    lines = out.splitlines()
    assert (code, err, lines[:2]) == (0, "", ["Report of October 2026", "The whole month."])
    at = lines.index("Printed")
    assert lines[at + 2].split() == ["M-1", "1", "4", "41.5", "4"]
    assert "EX-0001 Lid knob  6 Oct 2026  B-0001  1       =1+1 corner" in lines


def test_a_month_without_anything_says_so_and_one_that_is_not_over_too(printed, spares):
    assert "Nothing is dated in this month." in spares("report", "--month", "2026-09")[1]
    assert "Until 25 Nov 2026; the month is not over." in spares("report", "--month", "2026-11")[1]


def test_the_table_and_json_say_the_same(printed, spares, tmp_path):
    _, out, _ = spares("report", "--month", "2026-10", "--format", "csv")
    assert spares("report", "--month", "2026-10", "--to", tmp_path / "a.csv")[0] == 0
    written = (tmp_path / "a.csv").read_bytes()
    assert written.decode("utf-8-sig").replace("\r\n", "\n") == out
    rows = list(csv.DictReader(out.splitlines()))
    assert tuple(rows[0]) == COLUMNS
    told = [(each["section"], each["pieces"], each["reason"]) for each in rows if each["section"] in ("prints", "scrap")]
    assert told == [("prints", "4", ""), ("scrap", "1", "'=1+1 corner")]
    made = next(each for each in rows if each["section"] == "prints")
    assert (made["month"], made["machine"], made["grams"], made["minutes"]) == ("2026-10", "M-1", "41.50", "240.00")
    told = json.loads(spares("report", "--month", "2026-10", "--format", "json")[1])
    assert (told["month"], told["is_over"], told["scrap_by_reason"]) == ("2026-10", True, {"=1+1 corner": 1})
    assert told["prints"][0]["machine"] == "M-1"


def test_a_paper_is_a_pdf_and_nothing_is_written_over(printed, spares, tmp_path):
    file = tmp_path / "october.pdf"
    code, out, _ = spares("report", "--month", "2026-10", "--to", file)
    assert (code, out) == (0, f"Report of October 2026 is written: {file}\n")
    assert file.read_bytes().startswith(b"%PDF-")
    code, _, err = spares("report", "--to", file)
    assert (code, "is there already" in err) == (Ending.PROBLEMS, True)
    assert spares("report", "--to", file, "--force")[0] == 0


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--month", "2026-13"], "'2026-13' is no month; write one as 2026-10"),
        (["--month", "26-1"], "is no month"),
        (["--month", "2026-12"], "the month 2026-12 begins after 2026-11-25"),
        (["--to", "report.txt"], "report.txt is neither a paper nor a table"),
        (["--to", "catalogue/parts/a.pdf"], "lies in the catalogue"),
    ],
)
def test_what_cannot_be_asked_for(depot, spares, words, says):
    code, out, err = spares("report", *words)
    assert (code, out) == (Ending.MISUSE, "")
    assert says in err
