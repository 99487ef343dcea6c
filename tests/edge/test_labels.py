"""`spares labels`: what the record says stands on the label, what was there before stays, and the code leads to the part's page."""

import re

import pytest

from generator.pages.addresses import page_on_site
from generator.papers.coded import label_text
from generator.records.base import SiteAddress
from generator.records.depot import Depot
from tests.edge.conftest import bytes_of
from tests.edge.test_loaded import loaded
from tests.fixtures.prints import PRINTS
from tests.fixtures.tiny import overlaid
from tests.papers.printed import codes_on, page, page_count, text_of

HERE = "https://parts.tarnvale.example/eastmere"


@pytest.fixture
def served(depot):
    file = depot / "catalogue" / "depot.yml"
    file.write_text(f"address: {HERE}/\n" + file.read_text("utf-8"), "utf-8")
    return depot


def codes(pdf, number=1):
    return [read.text for read in codes_on(page(pdf, 203.2, number))]


def test_labels_tell_number_revision_and_name_of_the_record(depot, spares):
    code, out, err = spares("labels", "ex-0001", "EX-0002", "--count", "2")
    assert (code, err) == (0, "")
    pdf = (depot / "labels.pdf").read_bytes()
    shown = " ".join(text_of(pdf).split())
    assert "4 labels on one page: labels.pdf" in out
    assert "Print it at 100 %" in out
    assert "'address' in depot.yml" in out
    assert shown.count("EX-0001") == shown.count("EX-0002") == shown.count("Lid knob") == 2
    assert codes(pdf) == ["EX-0001 A", "EX-0001 A", "EX-0002 B", "EX-0002 B"]


def test_with_an_address_the_codes_lead_to_the_page(served, spares):
    code, out, _ = spares("labels", "EX-0001", "--batch", "B-0147", "--batch", "B-0148", "--roll", "62x29", "--to", "two.pdf")
    pdf = (served / "two.pdf").read_bytes()
    assert code == 0
    assert codes(pdf) + codes(pdf, 2) == [f"{HERE}/parts/EX-0001.html#batch=B-0147", f"{HERE}/parts/EX-0001.html#batch=B-0148"]
    assert f"{HERE}/parts/EX-0001.html\n" in out
    assert "B-0148" in text_of(pdf)
    assert spares("labels", "EX-0001", "--to", "plain.pdf")[0] == 0
    assert codes((served / "plain.pdf").read_bytes()) == [f"{HERE}/parts/EX-0001.html"]


def test_the_page_that_a_code_names_is_the_page_of_the_part(served, spares, tmp_path):
    assert spares("build", "--markdown", "plain")[0] == 0
    assert (tmp_path / "plain" / "parts" / "EX-0001.md").is_file()


def test_a_revision_that_is_not_the_records_is_printed_and_told(depot, spares):
    code, _, err = spares("labels", "EX-0001", "--revision", "Z9", "--roll", "57x32")
    assert code == 0
    assert "The record of EX-0001 is at revision A; the labels say Z9." in err
    assert "Rev. Z9" in text_of((depot / "labels.pdf").read_bytes())
    assert codes((depot / "labels.pdf").read_bytes()) == ["EX-0001 Z9"]


def test_labels_speak_the_language_of_the_depot(depot, spares):
    file = depot / "catalogue" / "depot.yml"
    file.write_text(file.read_text("utf-8").replace("language: en", "language: de"), "utf-8")
    _, out, _ = spares("labels", "EX-0001", "--count", "30", "--start", "3")
    assert "30 Etiketten auf 2 Seiten" in out
    assert page_count((depot / "labels.pdf").read_bytes()) == 2


def test_what_is_there_stays(depot, spares):
    (depot / "labels.pdf").write_bytes(b"mine")
    code, _, err = spares("labels", "EX-0001")
    assert code == 1
    assert "is there already; nothing was written" in err
    assert (depot / "labels.pdf").read_bytes() == b"mine"
    assert spares("labels", "EX-0001", "--force")[0] == 0
    assert (depot / "labels.pdf").read_bytes().startswith(b"%PDF")
    assert [each.name for each in depot.glob(".new*")] == []


@pytest.mark.parametrize(
    ("typed", "code", "says"),
    [
        (("EX-0009",), 2, "there is no part EX-0009"),
        (("EX-0001", "EX-0002", "--batch", "B-1"), 2, "--batch and --revision are of one part"),
        (("EX-0001", "EX-0002", "--revision", "B"), 2, "--batch and --revision are of one part"),
        (("EX-0001", "--to", "labels.txt"), 2, "no name for a PDF"),
        (("EX-0001", "--to", "labels"), 2, "no name for a PDF"),
        (("EX-0001", "--to", "catalogue/parts/EX-0001-lid-knob/documents/a.pdf"), 2, "lies in the catalogue"),
        (("EX-0001", "--to", "nowhere/a.pdf"), 2, "there is no folder nowhere to write a.pdf into"),
        (("EX-0001", "--start", "25"), 1, "there is no field 25"),
        (("EX-0001", "--roll", "62x29", "--start", "2"), 1, "write 1 to 1"),
        (("EX-0001", "--count", "2001"), 1, "2,001 labels are more than one file holds"),
        (("EX-0001", "--margins", "200x0"), 1, "do not lie on the page"),
        (("EX-0001", "--sheet", "220x37"), 1, "do not lie on the page"),
        (("EX-0001", "--roll", "12x12"), 1, "would be too fine to be read on 12 × 12 mm: 0.25 mm a module, and 0.35 mm is the least"),
        (("EX-0001", "--roll", "3x8"), 2, "'3x8' is no size of a label"),
        (("EX-0001", "--sheet", "4x12"), 2, "'4x12' is no size of a label"),
        (("EX-0001", "--sheet", "3x8", "--roll", "62x29"), 2, "not allowed with"),
        (("EX-0001", "--margins", "7"), 2, "no pair of lengths"),
        (("EX-0001", "--start", "0"), 2, "no whole number from 1 to 999999"),
        (("EX-0001", "--count", "-1"), 2, "no whole number from 1 to 999999"),
        (("EX-0001", "--revision", ""), 2, "is no revision"),
        (("EX-0001", "--revision", "c"), 2, "is no revision"),
        *((("EX-0001", "--batch", each), 2, "is no batch") for each in ("", "B-", "B-123456789", "ABCDE-1", "B-1\n1", "B-١")),
        ((), 2, "no part is named"),
        (("--recall", "RC-0001"), 2, "there is no recall RC-0001"),
        (("EX-0001", "--recall", "RC-0001"), 2, "--recall tells parts"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_written(depot, spares, typed, code, says):
    before = bytes_of(depot)
    got, out, err = spares("labels", *typed)
    assert (got, says in " ".join(err.split()), out) == (code, True, ""), err
    assert bytes_of(depot) == before


def test_a_part_that_cannot_be_read_has_no_label(depot, spares):
    file = depot / "catalogue/parts/EX-0001-lid-knob/part.yml"
    file.write_text(file.read_text("utf-8").replace("revision: A", "revision: a b"), "utf-8")
    code, _, err = spares("labels", "EX-0001")
    assert code == 1
    assert "part.yml cannot be read" in err
    assert not (depot / "labels.pdf").exists()


def test_nothing_that_measures_or_writes_pages_is_loaded(depot):
    got = loaded("labels", "EX-0001")
    assert got & {"numpy", "trimesh", "PIL", "mkdocs", "jinja2", "markdown", "rich.table"} == set()
    assert {"typst", "segno"} <= got


@pytest.mark.parametrize(
    ("address", "taken"),
    [
        ("https://parts.example", True),
        ("https://parts.example/", True),
        ("https://parts.example:8443/a/b_c/", True),
        ("https://xn--bersicht-r4a.example", True),
        ("http://parts.example", False),
        ("https://parts.example?x=1", False),
        ("https://parts.example/#a", False),
        ("https://user@parts.example", False),
        ("https://Parts.example", False),
        ("https://übersicht.example", False),
        ("https://", False),
        ("https://-.example", False),
        ("https:///parts", False),
        ("https://parts.example/a b", False),
        ("https://parts.example//", False),
        ("https://parts.example/../..", True),
        ("https://parts.example\nx", False),
        ("javascript:alert(1)", False),
        ("https://" + "a" * 100, False),
    ],
)
def test_an_address_is_https_and_has_room_behind_it(address, taken):
    pattern = re.compile(next(each.pattern for each in SiteAddress.__metadata__[0].metadata if hasattr(each, "pattern") and each.pattern))
    assert (bool(pattern.fullmatch(address)) and len(address) <= 100) is taken
    assert "address" in Depot.model_fields


def test_a_code_tells_what_the_label_tells_where_no_site_is_served():
    told = [label_text(number="TV-0417", revision="C", batch=batch, name="", page=None).code for batch in ("B-0147", None)]
    assert told == ["TV-0417 C B-0147", "TV-0417 C"]
    assert page_on_site(None, "TV-0417") is None
    assert page_on_site("https://a.example/b/", "A_B") == "https://a.example/b/parts/A%5FB.html"


BATCH = """\
part: EX-0001
revision: {revision}
printed_as: "mesh sha256: none"
fingerprint: {sha}
count: 4
machine: bench
printed_by: specialist
lots: [L-1]
started: 2026-11-20 07:40
ended: 2026-11-20 11:10
events: [{events}]
"""
RELEASED = "{what: released, on: 2026-11-21, by: reviewer}"
REJECTED = "{what: rejected, on: 2026-11-21, by: reviewer, why: corner lifted}"


@pytest.fixture
def batch(depot):
    (depot / "catalogue" / "batches").mkdir()

    def write(name="B-0147", revision="A", events=RELEASED, text=None):
        made = BATCH.format(revision=revision, sha="0" * 64, events=events) if text is None else text
        (depot / "catalogue" / "batches" / f"{name}.yml").write_text(made, "utf-8")

    return write


def test_a_batch_of_the_catalogue_tells_its_own_revision(depot, spares, batch):
    batch(revision="Z")
    code, _, err = spares("labels", "EX-0001", "--batch", "B-0147", "--roll", "57x32", "--quarantine")
    assert (code, "at revision A; the labels say Z" in err) == (0, True)
    assert codes((depot / "labels.pdf").read_bytes()) == ["EX-0001 Z B-0147"]


def test_a_revision_that_is_called_back_gets_no_label_without_a_batch_either(depot, spares):
    (depot / "catalogue" / "recalls").mkdir()
    event = "- {what: called back, on: 2026-11-22, by: reviewer, why: the hook breaks}"
    (depot / "catalogue" / "recalls" / "RC-1.yml").write_text(f"part: EX-0001\nrevision: A\nevents:\n  {event}\n", "utf-8")
    code, _, err = spares("labels", "EX-0001")
    assert (code, "EX-0001 A gets no ordinary label: Called back, RC-1" in " ".join(err.split())) == (1, True), err
    assert spares("labels", "EX-0001", "--revision", "B")[0] == 0


def test_a_batch_that_nobody_has_released_gets_a_label_that_says_so_or_none(depot, spares, batch):
    batch(events="")
    code, _, err = spares("labels", "EX-0001", "--batch", "B-0147")
    assert (code, "B-0147 gets no ordinary label: Not released" in err) == (1, True)
    batch()  # of a text that nobody printed: the word alone is no release
    assert "Release does not hold" in spares("labels", "EX-0001", "--batch", "B-0147", "--force")[2]
    assert not (depot / "labels.pdf").exists()
    code, out, _ = spares("labels", "EX-0001", "--batch", " b-0147", "--quarantine", "--roll", "57x32")
    shown = " ".join(text_of((depot / "labels.pdf").read_bytes()).split())
    assert (code, "DO NOT FIT" in shown, "B-0147" in shown, "They say DO NOT FIT" in out) == (0, True, True, True)
    assert codes((depot / "labels.pdf").read_bytes()) == ["EX-0001 A B-0147"]
    overlaid(depot / "catalogue", PRINTS)
    assert spares("labels", "EX-0001", "--batch", "b-0001", "--force")[2] == ""
    assert "DO NOT FIT" not in text_of((depot / "labels.pdf").read_bytes())


def test_each_page_that_labels_open_is_announced_once(served, spares):
    out = spares("labels", "EX-0001", "EX-0002", "--count", "2", "--to", "both.pdf")[1]
    assert [out.count(f"{HERE}/parts/{number}.html") for number in ("EX-0001", "EX-0002")] == [1, 1]


def test_a_recall_has_labels_for_all_its_pieces_that_are_about(served, spares, batch):
    batch()
    batch("B-0148", events="{what: scrapped, on: 2026-11-22, by: reviewer, count: 4, why: dropped}")
    (served / "catalogue" / "recalls").mkdir()
    event = "- {what: called back, on: 2026-11-22, by: reviewer, why: the hook breaks}"
    (served / "catalogue" / "recalls" / "RC-0001.yml").write_text(f"lot: L-1\nevents:\n  {event}\n", "utf-8")
    code, out, err = spares("labels", "--recall", "rc-0001")
    assert (code, err, "4 labels on one page" in out) == (0, "", True)
    shown = " ".join(text_of((served / "labels.pdf").read_bytes()).split())
    assert (shown.count("DO NOT FIT"), shown.count("B-0147"), shown.count("B-0148")) == (4, 4, 0)
    assert set(codes((served / "labels.pdf").read_bytes())) == {f"{HERE}/parts/EX-0001.html#batch=B-0147"}
    assert "8 labels" in spares("labels", "--recall", "RC-0001", "--count", "4", "--force")[1]


@pytest.mark.parametrize(
    ("typed", "written", "code", "says"),
    [
        (("EX-0001", "--batch", "B-0148"), {}, 2, "there is no batch B-0148"),
        (("EX-0001", "--batch", "B-0148"), {}, 2, "did you mean B-0147?"),
        (("EX-0001", "--batch", "B-0148", "--batch", "B-0147"), {}, 2, "there is no batch B-0148"),
        (("EX-0002", "--batch", "B-0147"), {}, 2, "B-0147 is a batch of EX-0001, not of EX-0002"),
        (("EX-0001", "--batch", "B-0147", "--revision", "B"), {}, 2, "was printed as revision A, not B"),
        (("EX-0001", "--batch", "B-0147"), {"events": REJECTED}, 1, "B-0147 gets no ordinary label: Rejected"),
        (("EX-0001", "--batch", "B-0147"), {"events": f"{RELEASED}, {REJECTED}"}, 1, "B-0147 gets no ordinary label: Rejected"),
        (("EX-0001", "--batch", "B-0147"), {"text": "part: EX-0001\n"}, 1, "the record of B-0147 has a mistake (batches/B-0147.yml:1:1)"),
        (("EX-0001", "--batch", "B-0147"), {"text": "["}, 1, "the record of B-0147 has a mistake (batches/B-0147.yml:1:2)"),
    ],
)
def test_a_label_never_says_what_the_batch_does_not(depot, spares, batch, typed, written, code, says):
    batch(**written)
    got, _, err = spares("labels", *typed)
    assert (got, says in " ".join(err.split())) == (code, True), err
    assert not (depot / "labels.pdf").exists()


USED = "  - {what: scrapped, on: 2026-11-22, by: reviewer, count: 1, why: dropped}\n  - {what: issued, on: 2026-11-23, by: reviewer, count: 1}"


def test_of_a_batch_no_more_labels_are_printed_than_pieces_of_it_are_about(depot, spares, batch):
    overlaid(depot / "catalogue", PRINTS)  # its batch of 4 is released
    file = depot / "catalogue/batches/B-0001.yml"
    file.write_text(file.read_text("utf-8").rstrip("\n") + f"\n{USED}\n", "utf-8")
    assert spares("labels", "EX-0001", "--batch", "B-0001", "--count", "3")[::2] == (0, "")
    before = bytes_of(depot)
    code, out, err = spares("labels", "EX-0001", "--batch", "B-0001", "--count", "2", "--batch", "b-1", "--force")
    assert (code, out) == (1, "")
    assert "4 labels of B-0001 are more than pieces of it are about by the records: 3 (2 on the shelf, 1 handed out, 0 on vehicles)" in " ".join(err.split())
    assert "--count 3 is the most" in err
    assert bytes_of(depot) == before
    code, _, err = spares("labels", "EX-0001", "--batch", "B-0001", "--count", "4", "--quarantine", "--force")
    assert (code, "of B-0001 3 are about by the records" in " ".join(err.split())) == (0, True), err


@pytest.mark.parametrize("of", ["batch: B-0147", "lot: L-1", "part: EX-0001\nrevision: A"])
def test_what_is_called_back_gets_no_label(depot, spares, batch, of):
    batch()
    (depot / "catalogue" / "recalls").mkdir()
    event = "- {what: called back, on: 2026-11-22, by: reviewer, why: the hook breaks}"
    (depot / "catalogue" / "recalls" / "RC-1.yml").write_text(f"{of}\nevents:\n  {event}\n", "utf-8")
    code, _, err = spares("labels", "EX-0001", "--batch", "B-0147")
    assert (code, "B-0147 gets no ordinary label: Called back, RC-1" in " ".join(err.split())) == (1, True), err
    assert not (depot / "labels.pdf").exists()


def test_letters_that_no_font_has_are_told(depot, spares):
    file = depot / "catalogue/parts/EX-0001-lid-knob/part.yml"
    file.write_text(file.read_text("utf-8").replace("Lid knob", "Lid knob 漢"), "utf-8")
    code, _, err = spares("labels", "EX-0001")
    assert (code, "a box stands in place of 漢 (U+6F22)" in " ".join(err.split())) == (0, True)
