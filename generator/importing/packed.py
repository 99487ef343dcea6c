"""May a spreadsheet's package be opened? What it would unpack to is known before anything of it is unpacked."""

import re
import zlib
from io import BytesIO
from zipfile import BadZipFile, ZipFile

from generator.records.problems import Problem, wrong

# A list of 20,000 rows has some 20 MB when unpacked; its pictures are never unpacked.
LARGEST_UNPACKED_BYTES = 200_000_000
LARGEST_RATIO = 200
MOST_FILES = 2000
_ZIP, _OLE = b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_DOCUMENT_TYPE = re.compile(rb"<!\s*(?:DOCTYPE|ENTITY)")
_ENCODING = re.compile(rb"""<\?xml[^>]*encoding\s*=\s*["']([A-Za-z0-9._-]+)""")
_READ = ("xml", "rels")


def refused(content: bytes) -> Problem | None:
    """Why a file that is named .xlsx is not opened; None where nothing speaks against it."""
    if content.startswith(_OLE):
        locked = "EncryptedPackage".encode("utf-16-le") in content
        return wrong("LIST02", "locked" if locked else "old")
    if not content.startswith(_ZIP):
        return wrong("LIST02", "no spreadsheet")
    try:
        with ZipFile(BytesIO(content)) as package:
            return _too_much(package) or _dangerous(package)
    except (BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError, ValueError, OSError):
        return wrong("LIST02", "broken")


def _too_much(package: ZipFile) -> Problem | None:
    """By what the package says of itself; more than it says is never unpacked (zipfile stops there)."""
    entries = package.infolist()
    if len(entries) > MOST_FILES:
        return wrong("LIST02", "many files", count=len(entries))
    if any(entry.flag_bits & 1 for entry in entries):
        return wrong("LIST02", "locked")
    unpacked = sum(entry.file_size for entry in entries)
    packed = max(1, sum(entry.compress_size for entry in entries))
    if unpacked > LARGEST_UNPACKED_BYTES or (unpacked > 10_000_000 and unpacked / packed > LARGEST_RATIO):
        return wrong("LIST02", "unpacks", megabytes=round(unpacked / 1e6))
    names = [entry.filename for entry in entries]
    if len(set(names)) < len(names):
        return wrong("LIST02", "broken")
    return None if "xl/workbook.xml" in names else wrong("LIST02", "no spreadsheet")


def _dangerous(package: ZipFile) -> Problem | None:
    """A document type can make much out of little and read other files; no package may hold one (OPC, ISO/IEC 29500-2)."""
    for entry in package.infolist():
        if entry.filename.rpartition(".")[2].lower() not in _READ:
            continue
        raw = package.read(entry)
        named = _ENCODING.search(raw[:300])
        if named and named[1].upper() not in (b"UTF-8", b"UTF8", b"UTF-16", b"US-ASCII"):
            return wrong("LIST02", "encoding", encoding=named[1].decode("ascii"))
        plain = raw.replace(b"\x00", b"") if raw[:2] in (b"\xff\xfe", b"\xfe\xff") or b"\x00" in raw[:4] else raw
        if _DOCUMENT_TYPE.search(plain):
            return wrong("LIST02", "document type")
    return None
