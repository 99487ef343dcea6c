"""Can a program read what a letter says? Of a scan it cannot: then only a person can compare it."""

import re
import zlib
from collections.abc import Iterator
from enum import Enum, auto
from pathlib import PurePosixPath

from generator.reading.pdf_whole import is_encrypted

# Fewer letters are no letter (common practice, no source); one unseen sign is none.
LEAST_LETTERS = 20
# Some hundred times what the pages of a letter hold; more is a picture, or was made to fill memory.
_MOST_BYTES = 8_000_000
_MOST_STREAMS = 2_000

_STREAM = re.compile(rb"stream\r?\n")
# What PDF shows as text: strings before Tj, TJ, ' or " (ISO 32000-1, 9.4.3). A string that is not closed is one all the
# same, so that nothing is looked at twice.
_TOKEN = re.compile(rb"\((?:[^()\\]|\\.)*+\)?|<[0-9A-Fa-f\s]*+>?|T[jJ]\b|['\"]", re.DOTALL)
_SHOWS = frozenset((b"Tj", b"TJ", b"'", b'"'))


class Reads(Enum):
    """What a program reads of a letter."""

    TEXT = auto()
    LITTLE = auto()
    """Some letters, and fewer than a letter has."""
    NOTHING = auto()


def read_of(name: str, content: bytes) -> Reads:
    """What of the file a program can read; of an unknown kind it is said that it is nothing."""
    suffix = PurePosixPath(name).suffix.lower()
    count = 0
    if suffix == ".pdf" and content.startswith(b"%PDF-") and not is_encrypted(content):
        count = _letters(_shown(content))
    elif suffix == ".txt":
        count = sum(sign.isalnum() for sign in content.decode("utf-8", "ignore"))
    return Reads.TEXT if count >= LEAST_LETTERS else Reads.LITTLE if count else Reads.NOTHING


def tells_text(name: str, content: bytes) -> bool:
    return read_of(name, content) is Reads.TEXT


def told_in(name: str, content: bytes) -> str | None:
    """The text of a file, where a program reads all of it; None of a scan, of what is encrypted, of glyphs that are named by number, of another kind."""
    suffix = PurePosixPath(name).suffix.lower()
    if suffix == ".txt":
        text = content.decode("utf-8", "ignore")
    elif suffix == ".pdf" and content.startswith(b"%PDF-") and not is_encrypted(content):
        shown = list(_shown(content))
        if any(each.startswith(b"<") for each in shown):
            return None
        text = "\n".join(re.sub(rb"\\(.)", rb"\1", each[1:].removesuffix(b")")).decode("latin-1") for each in shown)
    else:
        return None
    return text if sum(map(str.isalnum, text)) >= LEAST_LETTERS else None


def names(text: str, number: str) -> bool:
    """Whether a number stands in a text by itself, whatever white space lies between its signs, and in capitals or not.

    What goes on behind a dash, slash or stop, or begins before one, is another number: 5561-2 and IC-5561 are not 5561.
    """
    signs = [re.escape(sign) for sign in number.casefold() if not sign.isspace()]
    spaced = r"\s*".join(signs)
    return bool(signs) and re.search(rf"(?<!\w)(?<!\w[-/.]){spaced}(?![-/.]?\w)", text.casefold()) is not None


def _letters(shown: Iterator[bytes]) -> int:
    """How many letters and digits the strings show; of glyphs that are named by number, how many glyphs."""
    count = 0
    for each in shown:
        is_hex = each.startswith(b"<")
        count += len(re.sub(rb"[<>\s]", b"", each)) // 4 if is_hex else sum(sign > 0x7F or chr(sign).isalnum() for sign in each)
        if count >= LEAST_LETTERS:
            break
    return count


def _shown(content: bytes) -> Iterator[bytes]:
    """Every string that the streams of a PDF show, as long as they stay small."""
    left = _MOST_BYTES
    for number, begin in enumerate(_STREAM.finditer(content)):
        if number >= _MOST_STREAMS or left <= 0:
            return
        stream = _inflated(content[begin.end() : begin.end() + _MOST_BYTES], left)
        left -= len(stream)
        strings: list[bytes] = []
        for token in _TOKEN.findall(stream):
            if token in _SHOWS:
                yield from strings
                strings = []
            else:
                strings.append(token)


def _inflated(raw: bytes, most: int) -> bytes:
    """A stream as it is, or as FlateDecode gives it (ISO 32000-1, 7.4.4)."""
    end = raw.find(b"endstream")
    plain = raw if end < 0 else raw[:end]
    try:
        return zlib.decompressobj().decompress(plain, most)
    except zlib.error:
        return plain[:most]
