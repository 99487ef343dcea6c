"""A lot's document counts where its own text names the lot or a role has compared the two, and never by the record's word alone."""

import hashlib
from datetime import date

import pytest
import yaml

from generator.reading.catalogue import read_catalogue
from generator.rules.production.doubts import counting_papers, doubts_of
from generator.rules.production.naming import Naming, naming
from generator.rules.production.piece import of_batch
from tests.fixtures import produced
from tests.fixtures.pdf import pdf, showing
from tests.reading.sealed_pdfs import kept

SCAN = b"\x89PNG\r\n\x1a\n" + b"\0" * 60
TEXT = "inspection certificate 3.1 of the lot S-L-1"
DAY = date(2026, 3, 1)


@pytest.fixture
def printed(depot):
    """The tiny depot with a released batch of a lot."""
    produced.produced(depot, "petg")
    produced.batch(depot, "B-0001", "EX-0001")
    return depot


def filed(depot, name, content, *events, lot="S-L-1", **more):
    """The lot's only document."""
    (depot / "materials/lots" / "documents" / name).write_bytes(content)
    paper = {"type": "3.1", "lot": lot, "reference": "C L-1", "issued_on": "2025-06-01", "file": f"documents/{name}", "sha256": digest(content), **more}
    file = depot / "materials/lots/L-1.yml"
    record = yaml.safe_load(file.read_text("utf-8"))
    received = {"what": "received", "on": "2025-06-10", "by": "fitter", "grams": 1000}
    file.write_text(yaml.safe_dump(record | {"inspection_documents": [paper], "events": [received, *events]}), "utf-8")


def digest(content):
    return hashlib.sha256(content).hexdigest()


def compared(content, **more):
    return {"what": "compared", "on": "2025-06-10", "by": "fitter", "reference": "C L-1", "sha256": digest(content), **more}


def asked(depot):
    """What speaks against the batch's lot, which documents count for it, what check tells of it, and how the document names it."""
    catalogue = read_catalogue(depot)
    batch, lot = catalogue.production.batches["B-0001"], catalogue.production.lots["L-1"]
    doubts = [each for each in doubts_of("B-0001", batch, catalogue) if each.startswith(("lot", "mistake"))]
    told = [(each.code, each.key, each.severity) for each in catalogue.problems if "lots/" in each.where.file]
    word = naming(lot.inspection_documents[0], lot, catalogue.production)
    piece = of_batch("B-0001", batch, "A", None, catalogue, DAY)
    assert bool(piece.piece_files) == bool(counting_papers(batch, catalogue)) == (not any(each.startswith("lot doc") for each in doubts))
    return doubts, told, word


GOOD = {
    "a text": ("c.txt", TEXT.encode(), ()),
    "its number over two lines": ("c.txt", TEXT.replace("S-L-1", "S-L-\n1").encode(), ()),
    "a PDF": ("c.pdf", showing(TEXT.encode(), b"impact strength as stated"), ()),
    "a scan that somebody compared": ("c.png", SCAN, (compared(SCAN),)),
    "another form of the number, compared": ("c.txt", TEXT.replace("S-L-1", "S/L/1").encode(), (compared(TEXT.replace("S-L-1", "S/L/1").encode()),)),
}
NOT_COMPARED = {
    "a scan": ("c.png", SCAN, ()),
    "a PDF of a scan": ("c.pdf", pdf(SCAN), ()),
    "a PDF with hardly a word": ("c.pdf", showing(b"S-L-1"), ()),
    "a PDF whose glyphs are numbered": ("c.pdf", pdf(b"(%s) Tj" % TEXT.encode(), b"<0041004200430044004500460047004800490050005100520053> Tj"), ()),
    "a scan, and somebody compared another file": ("c.png", SCAN, (compared(SCAN + b"x"),)),
}  # fmt: skip
NOT_NAMED = {
    "another lot": TEXT.replace("S-L-1", "S-L-2"),
    "a lot whose number begins so": TEXT.replace("S-L-1", "S-L-12"),
    "a lot whose number ends so": TEXT.replace("S-L-1", "XS-L-1"),
    "a part of that lot": TEXT.replace("S-L-1", "S-L-1/2"),
    "a certificate whose number ends so": TEXT.replace("S-L-1", "IC-S-L-1"),
    "no lot at all": "inspection certificate 3.1, impact strength as stated",
}


@pytest.mark.parametrize("case", GOOD)
def test_what_its_text_or_a_role_says_counts(printed, case):
    name, content, events = GOOD[case]
    filed(printed, name, content, *events)
    assert asked(printed)[:2] == ([], [])


@pytest.mark.parametrize("case", NOT_COMPARED)
def test_what_nobody_compared_asks_and_is_told(printed, case):
    name, content, events = NOT_COMPARED[case]
    filed(printed, name, content, *events)
    doubts, told, word = asked(printed)
    assert word is Naming.UNREAD
    assert ("LOT03", "not compared", "warning") in told
    assert doubts[-1] == "lot document not compared"


@pytest.mark.parametrize("case", NOT_NAMED)
def test_what_names_another_lot_asks_though_the_record_says_otherwise(printed, case):
    filed(printed, "c.txt", NOT_NAMED[case].encode())
    assert asked(printed) == (["lot document not compared"], [("LOT03", "not named", "warning")], Naming.OTHER)


def test_who_compared_must_be_a_role_and_the_rest_of_the_document_must_be_right(printed):
    filed(printed, "c.png", SCAN, compared(SCAN, by="nobody"))
    assert asked(printed)[0] == ["mistake"]
    filed(printed, "c.png", SCAN, compared(SCAN), type="2.1")
    assert asked(printed)[0] == ["lot document"]
    filed(printed, "c.png", SCAN, compared(SCAN), lot="S-L-9")
    assert "lot document" in asked(printed)[0]
    filed(printed, "c.png", SCAN, compared(SCAN))
    (printed / "materials/lots/documents/c.png").write_bytes(SCAN + b"other")  # the file is exchanged after it was compared
    assert "lot document" in asked(printed)[0]


def test_a_comparison_is_said_for_good(printed):
    """An event like others: whoever compared wrongly lets the lot be blocked; to take the word out is told by git and store."""
    filed(printed, "c.png", SCAN, compared(SCAN), compared(SCAN))
    assert asked(printed)[:2] == ([], [])


def test_what_is_locked_was_compared_by_nobody_whatever_the_record_says(printed):
    shut = showing(TEXT.encode(), b"impact strength as stated").replace(b"trailer<<", b"trailer<</Encrypt 9 0 R")
    for events in ((), (compared(shut),)):
        filed(printed, "c.pdf", shut, *events)
        doubts, told, word = asked(printed)
        assert (doubts, word) == (["lot document locked"], Naming.LOCKED)
        assert ("LOT03", "locked", "warning") in told


def test_what_opens_without_a_password_counts_once_somebody_has_compared_it_and_never_by_a_program(printed):
    for _, content, opens in kept():
        if not opens:
            continue
        filed(printed, "c.pdf", content)
        assert asked(printed)[0::2] == (["lot document not compared"], Naming.UNREAD)
        filed(printed, "c.pdf", content, compared(content))
        assert asked(printed)[0::2] == ([], Naming.COMPARED)


def test_nobody_says_that_they_compared_what_is_locked(printed, monkeypatch, capsys):
    from generator.edge.cli import main

    shut = showing(TEXT.encode()).replace(b"trailer<<", b"trailer<</Encrypt 9 0 R")
    filed(printed, "c.pdf", shut)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", str(1_772_400_000))
    before = (printed / "materials/lots/L-1.yml").read_bytes()
    assert main(["lot", "--catalogue", str(printed), "compare", "L-1", "--by", "fitter"]) != 0
    assert "could not be opened without a password" in capsys.readouterr().err
    assert (printed / "materials/lots/L-1.yml").read_bytes() == before
