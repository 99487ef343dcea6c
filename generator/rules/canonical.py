"""The form of a canonical text, version 2: a person can read it, and no two different records give the same.

UTF-8, lines of "key: value" ended by a line feed. A text stands in quotes as JSON (RFC 8259, section 7) writes it; one
that is not in Unicode form NFC, or holds a combining or unseen sign, is written in ASCII with escapes, so that no
editor can change it unseen. A number is a plain decimal without exponent or trailing zeros, `none` is what is not
given. A name inside a key is quoted like a text.
"""

import hashlib
import json
import re
import unicodedata
from collections.abc import Iterable, Mapping
from decimal import Decimal
from functools import lru_cache
from types import MappingProxyType

# What was matched is never tried again in another way (`++`, `*+`): there is only one.
_LINE = re.compile(r'((?:[^":]++|"(?:[^"\\]++|\\.)*+")*+): (.*)')
_VALUE = re.compile(r'none|-?\d+(?:\.\d+)?|"(?:[^"\\]++|\\.)*+"')
NONE = "none"


def as_written(value: object) -> str:
    """A value as it stands in a line."""
    match value:
        case None:
            return NONE
        case int() | float():
            text = format(Decimal(repr(value)), "f")
            return (text.rstrip("0").rstrip(".") if "." in text else text) or "0"
        case _:
            return _quoted(str(value))


@lru_cache(4096)  # keys, names of places and places themselves, each asked for many times
def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=text.isascii() or not _is_plain(text))


def joined(lines: Iterable[tuple[str, object]]) -> str:
    """Lines of keys, whose names are quoted already, and values."""
    return "".join(f"{key}: {as_written(value)}\n" for key, value in lines)


def _is_plain(text: str) -> bool:
    """Whether the text shows as it is, and stays as it is wherever it is copied."""
    is_seen = text.isprintable() and not any(unicodedata.category(sign).startswith("M") for sign in text)
    return is_seen and unicodedata.is_normalized("NFC", text)


@lru_cache(256)  # the texts of one part after the other, each asked for many times
def lines_of(text: str) -> Mapping[str, str]:
    """The lines of a canonical text by their keys, values as written; the last counts where a key comes twice."""
    cut = (_LINE.fullmatch(line) for line in text.split("\n"))
    return MappingProxyType({found[1]: found[2] for found in cut if found})


@lru_cache(4096)
def text_in(value: str | None) -> str | None:
    """The text or number that a line tells; None where it tells nothing, or is not of this form."""
    if value is None or value == NONE:
        return None
    if not value.startswith('"'):
        return value
    try:
        text = str(json.loads(value))
        text.encode("utf-8")  # an escape may name half a sign, which no file can hold
    except (json.JSONDecodeError, UnicodeEncodeError):
        return None
    return text


@lru_cache(256)
def is_well_formed(text: str) -> bool:
    """Whether every line has the form and says one value, and no key comes twice, so that nobody asks what counts."""
    lines, told = text.removesuffix("\n").split("\n"), lines_of(text)
    return len(told) == len(lines) and all(map(_VALUE.fullmatch, told.values()))


def fingerprint(text: str) -> str:
    """SHA-256 (FIPS 180-4), as 64 hexadecimal digits, of a canonical text."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def from_record(approved_as: str) -> str:
    """The canonical text from an approval record, where YAML has taken the last line feed off."""
    return unicodedata.normalize("NFC", approved_as.strip()) + "\n"
