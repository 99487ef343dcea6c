"""A PDF that whoever gets it cannot open (ISO 32000-1): cut off, locked, or with something behind it. The others open."""

import random
import zlib

import pytest

from generator.reading.disk import Disk
from generator.reading.letter_text import Reads, read_of, told_in
from generator.reading.pdf_acts import pdf_acts
from generator.reading.pdf_objects import Ref, dictionary_at
from generator.reading.pdf_whole import is_encrypted, pdf_fault
from generator.records.catalogue import Fault, KeptFile
from generator.rules.kept import is_file
from tests.papers.test_submission import PDF
from tests.reading import sealed_pdfs

NOISE = random.Random(3)
PAGES = b"1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n2 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj\n3 0 obj<</Type/Page/Parent 2 0 R>>endobj\n"
LOCK = b"<</Root 1 0 R/Encrypt 9 0 R>>"


def classic(trailer=b"<</Root 1 0 R/Size 2>>", body=b"", end=b"\n%%EOF\n", pages=PAGES):
    """A PDF with a plain table."""
    head = b"%PDF-1.4\n" + pages + body
    return head + b"xref\n0 1\n0000000000 65535 f \ntrailer" + trailer + b"\nstartxref\n%d" % len(head) + end


def streamed(dictionary=b"<</Type/XRef/Root 1 0 R/Size 2>>"):
    """A PDF whose table is a stream (7.5.8)."""
    head = b"%PDF-1.5\n" + PAGES
    return head + b"2 0 obj" + dictionary + b"stream\nabc\nendstream endobj\nstartxref\n%d\n%%%%EOF" % len(head)


def updated(before, trailer, end=b"\n%%EOF\n"):
    """With an update behind it that has a table of its own (7.5.6)."""
    before += b"%" + b"x" * 2000 + b"\n"  # so that the end before it is found by its place alone
    return before + b"xref\n0 0\ntrailer" + trailer + b"\nstartxref\n%d" % len(before) + end


def hybrid(beside):
    """A plain table, and one in a stream beside it that older readers do not know (7.5.8.4)."""
    stream = b"8 0 obj" + beside + b"stream\nabc\nendstream endobj\n"
    return classic(body=stream, trailer=b"<</Root 1 0 R/Size 2/XRefStm %d>>" % (9 + len(PAGES)))


def packed(objects, otherwise=b"/FlateDecode"):
    """A PDF whose objects lie in a stream (7.5.7)."""
    stream = zlib.compress(b"1 0 2 50 " + objects)
    return classic(pages=b"1 0 obj<</Type/Catalog>>endobj\n4 0 obj<</Type/ObjStm/N 2/First 9/Filter%b>>stream\n%b\nendstream endobj\n" % (otherwise, stream))


@pytest.mark.parametrize(
    "content",
    [
        classic(),
        classic(end=b"\r\n%%EOF"),
        classic(end=b"\n%%EOF" + b"\n" * 900),
        classic() + b"2 0 obj<<>>endobj\n" + classic()[9:].replace(b"startxref\n40", b"startxref\n40"),  # with an update behind it
        classic(body=b"1 0 obj(it says /Encrypt 9 0 R)endobj\n"),  # as a text
        classic(trailer=b"<</Root 1 0 R/Encryption 1>>"),
        classic(body=b"% startxref 7 %%EOF\n"),
        streamed(),
        packed(PAGES[9:]),
        packed(b"1 0 obj", otherwise=b"/LZWDecode"),  # nobody can tell what is in it
        classic(pages=PAGES.replace(b"/Kids[", b"/K#69ds [")),
        classic(trailer=b"<</Root 1 0 R % /Encrypt 9 0 R\n/Size 2>>"),  # as a comment
        classic(trailer=b"<</Root 1 0 R/Info(/Encrypt 9 0 R)/Size 2>>"),
        classic(trailer=b"<</Root 1 0 R/Encrypt null>>"),  # as if it were not there (7.3.9)
        classic(end=b"\n% a line of its own\n%%EOF"),
        classic(end=b"\n%%EOF" + 60 * b"\r\n\0 \x1a"),  # some programs write blanks, or what once ended a text file
        updated(classic(), b"<</Root 1 0 R/Prev %d>>" % classic().index(b"xref")),
        updated(classic(), b"<</Root 1 0 R/Prev 0>>"),  # some programs write that of none
        hybrid(b"<</Type/XRef/Size 2>>"),
        PDF,
        b"",
        b"no PDF at all",
    ],
    ids=range(22),
)
def test_what_opens(content):
    assert pdf_fault(content) is None


@pytest.mark.parametrize(
    ("content", "fault"),
    [
        (PDF[:2000], Fault.CUT),
        (PDF[:-40], Fault.CUT),
        (PDF[: len(PDF) // 2], Fault.CUT),
        (PDF[:4000] + PDF[6000:], Fault.CUT),  # a piece out of its middle: the table lies elsewhere
        (b"%PDF-1.4\n", Fault.CUT),
        (b"%PDF-1.4\nstartxref\n999999\n%%EOF", Fault.CUT),
        (classic(end=b"\nstartxref\n9\n%%EOF"), Fault.CUT),  # an object that is no table
        (PDF + NOISE.randbytes(500_000), Fault.TRAILED),
        (PDF + b"\0" * 2000, Fault.TRAILED),
        (classic() + b"x" * 1024, Fault.TRAILED),
        # However little it is: an update or a signature ends in an end of its own (7.5.6).
        (classic(end=b"\n%%EOF" + NOISE.randbytes(900).replace(b"\n", b"")), Fault.TRAILED),
        (PDF + NOISE.randbytes(900), Fault.TRAILED),
        (classic() + b"<!-- served by nobody -->\n", Fault.TRAILED),
        (classic(trailer=b"<</Root 1 0 R/Encrypt 9 0 R>>"), Fault.LOCKED),
        (classic(trailer=b"<</Root 1 0 R/#45ncrypt<</Filter/Standard>>>>"), Fault.LOCKED),
        (streamed(b"<</Type/XRef/Encrypt 3 0 R>>"), Fault.LOCKED),
        *((classic(trailer=LOCK) + 3000 * each, Fault.LOCKED) for each in (b"\n", b"\0", b" ", b"\r\n\0 ")),
        *((classic() + 3000 * each, Fault.TRAILED) for each in (b"\n", b"\0", b" ", b"\r\n\0 ")),  # annex H, 18: 1024 bytes
        (classic(pages=b"1 0 obj<</Type/Catalog>>endobj\n") + b"\n" * 3000, Fault.PAGELESS),
        (classic(trailer=LOCK) + NOISE.randbytes(5000), Fault.LOCKED),
        (classic(trailer=b"<</Root 1 0 R/Encrypt%of all\n9 0 R>>"), Fault.LOCKED),
        (classic(trailer=b" % trailer\n<</Root 1 0 R/#45#6e#63#72#79#70#74 9 0 R>>"), Fault.LOCKED),
        (classic(trailer=b"<</Root 1 0 R/Info(a \\) b (c))/Encrypt 9 0 R>>"), Fault.LOCKED),
        (classic(trailer=b"<<>>\ntrailer" + LOCK), Fault.LOCKED),
        (classic(body=b"", trailer=b"%<<>>\n" + LOCK).replace(b"\ntrailer", b"\n%trailer<<>>\ntrailer"), Fault.LOCKED),
        (classic(trailer=b"<</Root 1 0 R/Encrypt null/Encrypt 9 0 R>>"), Fault.LOCKED),
        (classic(trailer=b"<</Root 1 0 R/Size 2 3/Encrypt 9 0 R>>"), Fault.LOCKED),
        (classic(trailer=b"<</Root 1 0 R 0/Encrypt 9 0 R>>"), Fault.LOCKED),
        (classic(trailer=b"%" + b"x" * 300 + b"\n" + LOCK), Fault.LOCKED),
        (classic(trailer=b"<</Root 1 0 R/Encrypt<</Filter/Other.PubSec>>>>"), Fault.LOCKED),
        (updated(classic(trailer=LOCK), b"<</Root 1 0 R/Prev %d>>" % classic().index(b"xref")), Fault.LOCKED),
        (updated(classic(trailer=LOCK), b"<</Root 1 0 R/Prev 5>>"), Fault.LOCKED),  # nobody can tell what it goes on from
        (hybrid(b"<</Type/XRef/Encrypt 9 0 R>>"), Fault.LOCKED),
        (updated(hybrid(b"<</Type/XRef/Encrypt 9 0 R>>"), b"<</Prev %d>>" % hybrid(b"<</Type/XRef/Encrypt 9 0 R>>").index(b"xref")), Fault.LOCKED),
        (classic(trailer=LOCK, end=b"\nstartxref\n%d\n%%%%EOF" % len(b"%PDF-1.4\n" + PAGES)), Fault.LOCKED),  # twice the same
        (updated(classic(trailer=LOCK), b"<</Root 1 0 R>>", end=b"\nstartxref\n%d\n%%%%EOF" % classic().index(b"xref")), Fault.LOCKED),
        (updated(classic(), LOCK, end=b"\n") + b"startxref\n%d\n%%%%EOF" % classic().index(b"xref"), Fault.LOCKED),
        (classic() + b"5 0 obj<</Signature 1>>endobj\nxref\n0 0\n", Fault.CUT),  # an update without its end
        (classic() + b"5 0 obj(" + b"x" * 5000, Fault.CUT),
        (classic(pages=PAGES[:42] + b"2 0 obj<</Type/Pages/Kids[]/Count 0>>endobj\n"), Fault.PAGELESS),
        (classic(pages=PAGES.replace(b"Kids[3 0 R]/Count 1", b"Kids [ ]/Count 0")), Fault.PAGELESS),  # its page hangs on nothing
        (packed(b"<</Type/Pages/Kids[]/Count 0>>"), Fault.PAGELESS),
    ],
    ids=range(48),
)
def test_what_cannot_be_opened(content, fault):
    assert pdf_fault(content) is fault


PAGE = b"3 0 obj<</Type/Page/Parent 2 0 R>>endobj\n"
TOP = b"1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n"
BESIDE = PAGE + b"9 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj\n"  # a tree that nothing leads to


@pytest.mark.parametrize(
    ("pages", "opens"),
    [
        (TOP + b"2 0 obj<</Type/Pages/Kids[6 0 R]/Count 1>>endobj\n6 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj\n" + PAGE, True),
        (TOP + b"2 0 obj<</Type/Pages/Kids 7 0 R/Count 1>>endobj\n7 0 obj[3 0 R]endobj\n" + PAGE, True),
        (TOP + b"2 0 obj<</Type/Pages/Kids[8 0 R 3 0 R]/Count 2>>endobj\n" + PAGE, True),
        (TOP + b"2 0 obj<</Type/Pages/Kids[2 0 R 3 0 R]/Count 2>>endobj\n" + PAGE, True),
        (b"1 0 obj<</Type/Catalog/Pages 3 0 R>>endobj\n" + BESIDE, True),  # a page right away: readers show it
        (TOP + b"2 0 obj<</Type/Pages/Kids[6 0 R]/Count 1>>endobj\n6 0 obj<</Type/Pages/Kids[2 0 R]/Count 1>>endobj\n" + BESIDE, False),
        (TOP + b"2 0 obj<</Type/Pages/Kids[2 0 R]/Count 1>>endobj\n" + BESIDE, False),
        (TOP + b"2 0 obj<</Type/Pages/Kids[6 0 R 7 0 R]/Count 2>>endobj\n6 0 obj<</Kids[7 0 R]>>endobj\n7 0 obj<</Kids[6 0 R]>>endobj\n" + BESIDE, False),
        (TOP + BESIDE, False),
        (b"1 0 obj<</Type/Catalog>>endobj\n" + BESIDE, False),
        (b"1 0 obj<</Type/Catalog/Pages 1 0 R>>endobj\n" + BESIDE, False),
        (BESIDE, False),
        (TOP + b"2 0 obj<</Type/Pages/Kids[8 0 R]/Count 1>>endobj\n" + BESIDE, False),
        (TOP + b"2 0 obj<</Type/Pages/Kids[null]/Count 1>>endobj\n" + BESIDE, False),
        (TOP + b"2 0 obj<</Type/Pages/Kids[3 1 R]/Count 1>>endobj\n" + BESIDE, False),
    ],
    ids=range(15),
)
def test_some_way_from_the_catalogue_ends_at_a_page(pages, opens):
    """The oracle: poppler's pdfinfo and pdftotext, of the same trees with whole tables: a page with its size, or none."""
    assert pdf_fault(classic(pages=pages)) is (None if opens else Fault.PAGELESS)


def test_a_tree_too_large_to_be_walked_may_hold_a_page():
    nodes = b"".join(b"%d 0 obj<</Kids[%d 0 R]>>endobj\n" % (at, at + 1) for at in range(20, 120))
    assert pdf_fault(classic(pages=TOP + b"2 0 obj<</Kids[20 0 R]>>endobj\n" + nodes + BESIDE)) is None
    long = b"2 0 obj<</Type/Pages/Kids 7 0 R>>endobj\n7 0 obj[" + b"8 0 R " * 20_000 + b"3 0 R]endobj\n"
    assert pdf_fault(classic(pages=TOP + long + PAGE)) is None


def test_it_is_known_of_each_file_and_of_none_that_is_called_otherwise(tmp_path):
    for name, content in (("a.pdf", PDF[:2000]), ("b.PDF", PDF), ("c.txt", PDF[:2000]), ("large.pdf", PDF + bytes(5_000_000))):
        (tmp_path / name).write_bytes(content)
    disk = Disk(tmp_path)
    assert [disk.kept(name).fault for name in ("a.pdf", "b.PDF", "c.txt", "large.pdf")] == [Fault.CUT, None, None, Fault.TRAILED]


def test_it_is_told_of_a_lock_whether_it_keeps_anybody_out(tmp_path):
    told = {}
    for name, content, opens in sealed_pdfs.kept():
        (tmp_path / "a.pdf").write_bytes(content)
        disk = Disk(tmp_path)
        disk.kept("a.pdf")
        told[name, opens] = [(each.code, each.key) for each in disk.problems]
    assert told == {(name, opens): [("DISK09", "sealed" if opens else "locked")] for name in sealed_pdfs.ALGORITHMS for opens in (True, False)}


@pytest.mark.parametrize(("fault", "counts"), [(None, True), (Fault.CUT, False), (Fault.PAGELESS, False), (Fault.LOCKED, True), (Fault.SEALED, True), (Fault.TRAILED, True), (Fault.ACTS, True)])
def test_as_evidence_counts_what_somebody_can_open(fault, counts):
    assert is_file(KeptFile(path="a.pdf", size_bytes=9, sha256="0", fault=fault), "0") is counts


@pytest.mark.parametrize(("algorithm", "content", "opens"), sealed_pdfs.kept())
def test_what_opens_without_a_password_is_not_called_locked(algorithm, content, opens):
    """The oracle is the library that wrote the files, see sealed_pdfs.py."""
    assert pdf_fault(content) is (Fault.SEALED if opens else Fault.LOCKED)
    assert pdf_fault(content + b"\n" * 3000) is (Fault.TRAILED if opens else Fault.LOCKED)
    assert pdf_acts(content)  # nobody can look into it
    assert is_encrypted(content)


@pytest.mark.parametrize(("algorithm", "content", "opens"), [each for each in sealed_pdfs.kept() if each[2]])
def test_one_byte_of_its_lock_and_it_is_locked(algorithm, content, opens):
    at = content.index(b"/U <") + 4
    assert pdf_fault(content[:at] + (b"0" if content[at : at + 1] != b"0" else b"1") + content[at + 1 :]) is Fault.LOCKED
    assert pdf_fault(content.replace(b"/Filter /Standard", b"/Filter /Strangers")) is Fault.LOCKED
    number, at = content[content.index(b"/Encrypt ") :].split()[1], content.rindex(b"\nxref") + 1
    twice = content + b"%b 0 obj<</Filter/Standard/V 2/R 3/O(x)/U(y)>>endobj\n" % number  # which one counts?
    assert pdf_fault(updated(twice, b"<</Root 3 0 R/Prev %d>>" % at)) is Fault.LOCKED
    assert pdf_fault(updated(content, b"<</Root 3 0 R/Prev %d>>" % at)) is Fault.SEALED


def test_pages_of_what_is_encrypted_are_looked_for_where_they_can_be_seen():
    _, content, _ = sealed_pdfs.kept()[0]
    without = content.replace(b"/Type /Page\n", b"/Type /Card\n")
    at = content.rindex(b"\nxref") + 1
    assert pdf_fault(without) is Fault.PAGELESS
    assert pdf_fault(updated(without + b"9 0 obj<</Type/ObjStm>>stream\nabc\nendstream endobj\n", b"<</Prev %d>>" % at)) is Fault.SEALED  # they may be in there
    number = content[content.index(b"/Encrypt ") :].split()[1]
    assert pdf_fault(updated(content + b"1%b 0 obj<<>>endobj\n" % number, b"<</Prev %d>>" % at)) is Fault.SEALED  # of another number


def test_what_is_encrypted_is_read_by_no_program_though_letters_stand_in_it():
    """A reader deciphers what stands there plainly, and shows something else."""
    text = b"4 0 obj<<>>stream\nBT (This certificate is of the lot S-4711 of powder) Tj ET\nendstream endobj\n"
    plain, shut = classic(body=text), classic(body=text, trailer=LOCK)
    assert (read_of("a.pdf", plain), read_of("a.pdf", shut)) == (Reads.TEXT, Reads.NOTHING)
    assert "S-4711" in told_in("a.pdf", plain)
    assert told_in("a.pdf", shut) is None
    assert told_in("a.pdf", shut[:-12]) is None  # cut off: nobody can tell


def test_dictionaries_are_read_as_they_are_written():
    """ISO 32000-1, 7.3: strings, names, references."""
    told = dictionary_at(b"%c\n<</A(a\\053\\n(b)\\\r\nc\rd)/B<4 14>/#43 9 %x\n0 R/D[1 -2 true/E 3.5]/F<</G null/G 1>>/A 7 8 (x)/H>>", 0)
    assert told == {"A": b"a+\n(b)c\nd", "B": b"A@", "C": Ref(9, 0), "D": [1, -2, True, "E", None], "F": {"G": 1}, "H": None}
    for broken in (b"", b"[1]", b"<</A", b"<</A(", b"<</A]", b"7", b"<</A[>>", b">>"):
        assert dictionary_at(broken, 0) is None
