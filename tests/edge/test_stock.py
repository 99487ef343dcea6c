"""`spares stock` and `spares savings`: as text, table, JSON, and an order as the draft of a mail."""

import csv
import email
import email.policy
import json
import re
from decimal import Decimal
from pathlib import Path

import pytest

from generator.edge.refusals import Ending
from tests.fixtures.produced import batch, lot
from tests.papers.printed import text_of


@pytest.fixture
def stocked(depot):
    """The knob with a batch, a demand, what it replaces, and two that were fitted."""
    lot(Path("catalogue"), "L-1", "petg")
    counts = [{"what": "counted", "on": "2026-11-20", "by": "specialist", "on_shelf": 1}]
    batch(Path("catalogue"), "B-0001", "EX-0001", count=40, started="2026-10-05 08:00", grams=41.5, events=counts)
    Path("catalogue/fitted").mkdir()
    head = "day,fleet,vehicle,place,position,batch,count,removed_batch,removed,why,by,row\n"
    Path("catalogue/fitted/2026.csv").write_text(head + "2026-10-12,A1,11,cab,,B-0001,2,,,,fitter,\n", encoding="utf-8")
    for number, demand in (("EX-0001-lid-knob", 400), ("EX-0002-brake-lever", 9)):
        part = Path(f"catalogue/parts/{number}/part.yml")
        kept = [line for line in part.read_text("utf-8").splitlines() if not line.startswith("yearly_demand")]
        part.write_text("\n".join([*kept, f"yearly_demand: {demand}", ""]), encoding="utf-8")
    return depot


def test_what_to_print_now_and_what_nobody_has_counted(stocked, spares):
    code, out, err = spares("stock", "EX-0001", "--on", "2026-11-25")
    assert (code, err) == (0, ""), out
    assert "1, counted on 20 Nov 2026" in out
    assert "P(X ≤ r) ≥ 95 %" in out
    told = json.loads(spares("stock", "EX-0001", "--format", "json")[1])
    (one,) = told["parts"]
    assert (one["state"], one["there"]["left"], one["there"]["from"], one["demand"]["source"]) == ("order", 1, "2026-11-20", "record")
    assert one["reorder"]["now"] == 100  # a quarter's need
    other = json.loads(spares("stock", "EX-0001", "--format", "json", "--service", "99.9")[1])
    assert other["rule"]["service_percent"] == 99.9
    assert other["parts"][0]["reorder"]["point"] > one["reorder"]["point"]
    lever = json.loads(spares("stock", "EX-0002", "--format", "json")[1])["parts"][0]
    assert (lever["state"], lever["there"]["position"]) == ("count", None)


def test_the_print_list_on_paper_says_what_the_terminal_says(stocked, spares, tmp_path):
    file = tmp_path / "prints.pdf"
    told = spares("stock", "--print-list")[1]
    code, out, err = spares("stock", "--print-list", "--to", str(file))
    assert (code, err) == (0, "")
    assert f": {file}" in out
    on_paper = " ".join(text_of(file.read_bytes()).split())
    plates = [line for line in told.splitlines() if re.match(r"Plate \d", line)]
    assert out.startswith(f"Print list, {len(plates)} plates:")
    assert on_paper.count("Plate ") == len(plates) == 2
    for pieces, number in (re.search(r"(\d+) × (EX-\d+)", plate).groups() for plate in plates):
        assert re.search(rf"\b{pieces} × {number} revision ", on_paper)
    first = file.read_bytes()
    assert spares("stock", "--print-list", "--to", str(file), "--force")[0] == 0
    assert file.read_bytes() == first
    assert spares("stock", "--print-list", "--to", "x.txt")[0] == Ending.MISUSE
    assert spares("stock", "--print-list", "--order", "bench")[0] == Ending.MISUSE
    assert spares("stock", "--print-list", "--to", "catalogue/x.pdf")[0] == Ending.MISUSE


def test_an_order_is_told_and_written_as_the_draft_of_a_mail(stocked, spares, tmp_path):
    assert "Nothing is to be ordered at Sinter bureau now." in spares("stock", "--order", "bureau")[1]
    part = Path("catalogue/parts/EX-0002-brake-lever/part.yml")
    part.write_text(part.read_text("utf-8") + "stock: {place: drawer 1, on_shelf: 0, counted_on: 2026-11-20}\n", encoding="utf-8")
    text = spares("stock", "--order", "bureau")[1]
    assert "× EX-0002 revision" in text
    file = tmp_path / "order.eml"
    assert spares("stock", "--order", "bureau", "--to", file)[0] == 0
    mail = email.message_from_bytes(file.read_bytes(), policy=email.policy.default)
    assert (mail["Subject"], mail["To"], mail["From"], mail["X-Unsent"]) == ("Order of printed parts, Testing depot", None, None, "1")
    assert mail.get_content().replace("\r\n", "\n") == text
    before = file.read_bytes()
    assert spares("stock", "--order", "bureau", "--to", file)[0] == Ending.PROBLEMS
    assert spares("stock", "--order", "bureau", "--to", file, "--force")[0] == 0
    assert file.read_bytes() == before


def test_what_was_saved_adds_up_in_every_form(stocked, spares, tmp_path):
    part = Path("catalogue/parts/EX-0001-lid-knob/part.yml")
    kept = [line for line in part.read_text("utf-8").splitlines() if not line.startswith("assembly")]
    part.write_text("\n".join([*kept, "assembly: {name: Flap, price: 33.335}", ""]), encoding="utf-8")
    code, out, _ = spares("savings")
    told = json.loads(spares("savings", "--format", "json")[1])
    assert code == 0
    assert f"Together: {told['total']} EUR on 2 pieces." in out
    assert sum(Decimal(each["saved"]) for each in told["rows"]) == Decimal(told["total"])
    file = tmp_path / "saved.csv"
    assert spares("savings", "--csv", file)[0] == 0
    (row,) = csv.DictReader(file.read_text("utf-8-sig").splitlines())
    assert (row["month"], row["fleet"], row["pieces"], row["before"], row["saved"]) == ("2026-10", "A1", "2", "33.34", told["total"])
    for command in (("savings",), ("savings", "--format", "json"), ("today",)):
        says = "Line 2 of fitted/2026.csv contradicts other records and counts here all the same"
        assert says in " ".join(spares(*command)[2].split()), "its batch was never released: it sits there, and that is told"
    month = json.loads(spares("report", "--month", "2026-10", "--format", "json")[1])
    assert month["savings"]["total"] == told["total"]
    assert json.loads(spares("savings", "--month", "2026-09", "--format", "json")[1])["total"] is None
    assert json.loads(spares("savings", "--fleet", "A1", "--format", "json")[1])["total"] == told["total"]


@pytest.mark.parametrize("service", ["0", "100", "150", "-5", "0.0", "95,5", "1e1", "९५"])
def test_no_service_level(depot, spares, service):
    code, out, err = spares("stock", f"--service={service}")
    assert (code, out) == (Ending.MISUSE, "")
    assert f"'{service}' is no service level; write a percentage above 0 and no higher than 99.99" in err


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["stock", "--to", "a.txt"], "--to writes the order at one maker or the print list, and neither is named"),
        (["stock", "--order", "bench", "--to", "a.pdf"], "a.pdf is neither a text nor a mail"),
        (["stock", "--order", "nobody"], "makers.yml has no maker 'nobody'"),
        (["stock", "--order", "bench", "--to", "catalogue/a.txt"], "lies in the catalogue"),
        (["stock", "EX-9999"], "EX-9999"),
        (["savings", "--fleet", "Z9"], "there is no fleet Z9"),
        (["savings", "--month", "2027-01"], "the month 2027-01 begins after 2026-11-25"),
        (["savings", "--csv", "catalogue/a.csv"], "lies in the catalogue"),
    ],
)
def test_what_cannot_be_asked_for(depot, spares, words, says):
    code, out, err = spares(*words)
    assert code == Ending.MISUSE
    assert out == ""
    assert says in err
