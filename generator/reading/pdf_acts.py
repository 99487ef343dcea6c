"""Does a PDF do anything besides being read: run a script, start a program, send something, carry files along?

Looked at as ISO 32000-1 has it: a name may be written with #xx for any letter (7.3.5), objects may lie packed in object streams (7.5.7), what
acts are actions (12.6.4), embedded files (7.11.4) and forms of XFA (12.7.8). What cannot be looked into counts as acting: encrypted
(7.6), or objects packed in another way than programs pack them.
"""

import re
import zlib
from collections.abc import Iterator
from typing import Final

_MOST_UNPACKED: Final = 64_000_000
_ENDS = rb"(?=[\x00\t\n\f\r ()<>\[\]{}/%]|$)"


def name_of(*words: str) -> re.Pattern[bytes]:
    """Any of these names, however its letters are written."""
    spelt = ("".join(f"(?:{letter}|#{ord(letter):02x}|#{ord(letter):02X})" for letter in word) for word in words)
    return re.compile(b"/(?:" + "|".join(spelt).encode("ascii") + b")" + _ENDS)


# A script is an action whose /S is /JavaScript; /JS alone is too short to be told from what a picture's bytes may be.
_ACTS = name_of("JavaScript", "Launch", "EmbeddedFile", "EmbeddedFiles", "RichMedia", "SubmitForm", "ImportData", "GoToE", "Rendition", "XFA", "Encrypt")
_PACKED = name_of("ObjStm")
# What programs do not pack objects with; a picture may be.
_OTHERWISE = name_of("ASCIIHexDecode", "AHx", "ASCII85Decode", "A85", "LZWDecode", "LZW", "RunLengthDecode", "RL", "Crypt", "Predictor")
STREAM = re.compile(rb"stream\r?\n")
_HEAD: Final = 1024
# An object stream begins with the numbers of its objects and where each lies.
_NUMBERS = re.compile(rb"[\x00\t\n\f\r ]*[0-9]+[\x00\t\n\f\r ]+[0-9]+")
_BEGINNING: Final = 64


def pdf_acts(content: bytes) -> bool:
    """Whether it does, or whether nobody can tell. A tenth of a second for 30 MB."""
    return _ACTS.search(content) is not None or any(each is None or _ACTS.search(each) for each in object_streams(content))


def object_streams(content: bytes) -> Iterator[bytes | None]:
    """What lies packed in each, whatever its dictionary says; None of one that is packed otherwise."""
    left = _MOST_UNPACKED
    for found in STREAM.finditer(content):
        head = content[max(0, found.start() - _HEAD) : found.start()]
        head = head[head.rfind(b"endobj") + 1 :]
        if _PACKED.search(head) and _OTHERWISE.search(head):
            yield None
        if not _NUMBERS.match(_unpacked(content[found.end() : found.end() + 4 * _BEGINNING], _BEGINNING)):
            continue
        unpacked = _unpacked(memoryview(content)[found.end() :], left)
        left -= len(unpacked)
        yield unpacked if left > 0 else None


def _unpacked(packed: bytes | memoryview, most: int) -> bytes:
    """As much of it as can be."""
    try:
        return zlib.decompressobj().decompress(packed, most)
    except zlib.error:
        return b""
