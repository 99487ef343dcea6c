"""A PDF that runs, sends or carries something is no document to open in place, however it hides that (ISO 32000-1)."""

import hashlib
import random
import zlib

import pytest

from generator.reading.disk import Disk
from generator.reading.kinds import kind_told
from generator.reading.pdf_acts import pdf_acts
from generator.records.catalogue import Fault, FileKind
from tests.reading.test_pdf_whole import classic

SCRIPT = b"<</S/JavaScript/JS(app.alert(1))>>"


def pdf(*objects):
    body = b"".join(b"%d 0 obj%s endobj\n" % (at, each) for at, each in enumerate(objects, start=1))
    return b"%PDF-1.7\n" + body + b"trailer<</Root 1 0 R>>\n%%EOF\n"


def packed(content, head=b"/Type/ObjStm/N 1/First 4/Filter/FlateDecode", level=9):
    data = zlib.compress(b"7 0 " + content, level)
    return b"<<%s/Length %d>>\nstream\n%s\nendstream" % (head, len(data), data)


@pytest.mark.parametrize(
    "content",
    [
        pdf(b"<</OpenAction<</S/JavaScript/JS(1)>>>>"),
        pdf(b"<</S/#4aavaScript/JS(1)>>"),
        pdf(b"<</S/Java#53cript/JS(1)>>"),
        pdf(b"<</S/J#61#76#61Script>>"),
        pdf(b"<</S /Launch/F(calc.exe)>>"),
        pdf(b"<</Names<</EmbeddedFiles 3 0 R>>>>"),
        pdf(b"<</Type/EmbeddedFile/Length 0>>stream\n\nendstream"),
        pdf(b"<</S/SubmitForm/F(http://x.invalid)>>"),
        pdf(b"<</AcroForm<</XFA 4 0 R>>>>"),
        pdf(b"<</Subtype/RichMedia>>"),
        pdf(b"<</S/GoToE>>"),
        pdf(b"<<>>").replace(b"trailer<<", b"trailer<</Encrypt 9 0 R"),  # nobody can look into it
        pdf(packed(SCRIPT)),
        pdf(packed(SCRIPT, level=0)),
        pdf(packed(SCRIPT, head=b"/N 1/First 4/Filter/Fl")),  # a reader may take it for one all the same
        pdf(packed(SCRIPT, head=b"/Type/ObjStm/X( endobj)/N 1/First 4/Filter/FlateDecode")),
        pdf(packed(b" " * 100_000 + SCRIPT)),
        pdf(b"<</Type/ObjStm/N 1/First 4/Filter/ASCIIHexDecode>>\nstream\n37203020\nendstream"),
        pdf(b"<</Type/ObjStm/N 1/First 4/Filter[/ASCII85Decode/FlateDecode]>>\nstream\nabc\nendstream"),
        pdf(packed(b"<<>>"), packed(SCRIPT)),
    ],
)
def test_what_acts_or_cannot_be_looked_into(content):
    assert pdf_acts(content)


@pytest.mark.parametrize(
    "content",
    [
        pdf(b"<</Type/Catalog/Pages 2 0 R>>"),
        pdf(packed(b"<</Type/Catalog/Outlines 2 0 R>>")),
        pdf(b"<</S/URI/URI(https://x.invalid/JavaScript-guide)>>"),  # a link only leads somewhere
        pdf(b"<</S/GoTo/D[1 0 R/Fit]>>"),
        pdf(b"<</Title(About JavaScript and Launch)>>"),
        pdf(b"<</Launcher true/XFAx 1/JavaScripts 2/Encrypted false>>"),
        pdf(b"<</Filter/ASCII85Decode/Subtype/Image>>\nstream\nabc\nendstream"),
        pdf(b"<</Type/XRef/Filter/FlateDecode/DecodeParms<</Predictor 12/Columns 4>>>>\nstream\n" + zlib.compress(b"\x02\x01\x00\x10\x00") + b"\nendstream"),
        b"%PDF-1.7\n" + random.Random(7).randbytes(2_000_000),  # as the bytes of a picture
        b"",
    ],
)
def test_what_only_shows_itself(content):
    assert not pdf_acts(content)


def test_a_packed_flood_is_not_unpacked_without_end():
    flood = pdf(*[packed(b"7 0 " + b" " * 40_000_000)] * 3)
    assert pdf_acts(flood)  # nobody can tell


def test_one_that_is_kept_is_a_pdf_that_acts_and_of_what_is_worse_that_is_told(tmp_path):
    """No reviewer is told that it is no PDF."""
    acting = classic(body=b"5 0 obj" + SCRIPT + b"endobj\n")
    for name, content in (("a.pdf", acting), ("b.pdf", acting[:-20]), ("c.pdf", classic()), ("d.pdf", b"no PDF /Launch ")):
        (tmp_path / name).write_bytes(content)
    disk = Disk(tmp_path)
    assert [disk.kept(f"{name}.pdf").fault for name in "abcd"] == [Fault.ACTS, Fault.CUT, None, None]
    assert [(each.where.file, each.key) for each in disk.problems] == [("a.pdf", "acts"), ("b.pdf", "acts")]


def test_it_is_offered_as_any_other_file(tmp_path):
    for name, content, kind in (("a.pdf", pdf(SCRIPT), FileKind.OTHER), ("b.pdf", pdf(b"<<>>"), FileKind.PDF), ("c.PDF", pdf(SCRIPT), FileKind.OTHER)):
        (tmp_path / name).write_bytes(content)
        digest = hashlib.sha256(content).hexdigest()
        assert kind_told(str(tmp_path / name), content, digest) is kind
        assert kind_told(str(tmp_path / name), None, digest) is kind  # a large one
