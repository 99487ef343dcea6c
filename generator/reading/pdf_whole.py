"""Can a PDF be opened by whoever gets it, or is it cut off, locked, without a page, or followed by what is none of it?

Looked at as a reader begins (ISO 32000-1, 7.5.5): the last `startxref` before `%%EOF` says where the table of objects lies; it is
looked for in the last 1024 bytes (annex H, 18). Where more lies behind it, be it blanks, some readers fail and others look further;
and whatever but blanks lies there is none of the document, for an update or a signature ends in a `%%EOF` of its own (7.5.6). Both are
told where nothing worse is, and what is worse is looked for as if nothing lay there. What is encrypted (7.6) may open for
everybody all the same. A page is an object of that type below a node with kids (7.7.3), by itself or packed (7.5.7). What is wrong
between, with the places as they are told, is not found, nor that an update took every page out again.
"""

import re
from typing import Final

from generator.reading.pdf_acts import name_of, object_streams
from generator.reading.pdf_objects import GAP, SKIPPED, SPACE
from generator.reading.pdf_pages import leads_to_page
from generator.reading.pdf_trailers import Seal, is_table, roots, seal
from generator.records.catalogue import Fault

_TAIL: Final = 1024
_BLANKS: Final = b"\x00\t\n\x0c\r \x1a"
"""White space (7.2.2), and the sign that once ended a text file, which some programs add: common practice, no source."""
_START = re.compile(rb"startxref" + SPACE + rb"{1,64}+([0-9]{1,12})(?![0-9])")
_END = re.compile(_START.pattern + rb"(?:" + SPACE + rb"|%(?!%EOF)[^\r\n]{0,80}+(?=[\r\n])){1,64}+%%EOF")
_GOES_ON = re.compile(SKIPPED + rb"[0-9]{1,10}" + GAP + rb"[0-9]{1,5}" + GAP + rb"obj")
_PAGE = re.compile(name_of("Type").pattern + SPACE + b"*" + name_of("Page").pattern)
_KIDS = re.compile(name_of("Kids").pattern + SPACE + rb"*\[?" + SPACE + rb"*[0-9]+" + SPACE + b"+[0-9]+" + SPACE + b"+R")
# Object streams of an encrypted file are encrypted, too (7.5.7).
_PACKS = name_of("ObjStm")


def pdf_fault(content: bytes) -> Fault | None:
    """What keeps a reader from opening the bytes of a PDF; None where nothing was found, and of what begins as none."""
    if not content.startswith(b"%PDF-"):
        return None
    end, is_far = _end(content)
    if end is None or _GOES_ON.match(content, end.end()):
        return Fault.CUT
    starts = _starts(content, end)
    sealed = seal(content, starts)
    if sealed is Seal.LOCKED:
        return Fault.LOCKED
    if not ((_has_pages(content) and _is_led_to_page(content, starts)) or (sealed is Seal.OPEN and _PACKS.search(content))):
        return Fault.PAGELESS
    return Fault.TRAILED if is_far or content[end.end() :].strip(_BLANKS) else Fault.SEALED if sealed is Seal.OPEN else None


def is_encrypted(content: bytes) -> bool:
    """Whether what stands in it is not what a reader shows, be it that everybody can open it; so of what cannot be told."""
    end, _ = _end(content) if content.startswith(b"%PDF-") else (None, False)
    return seal(content, _starts(content, end) if end else ()) is not Seal.NONE


def _end(content: bytes) -> tuple[re.Match[bytes] | None, bool]:
    """The last that a reader finds, if it holds, and whether it lies further before the end than readers have to look."""
    near = list(_END.finditer(content, max(0, len(content) - _TAIL)))
    holding = [end for end in near[-1:] or _END.finditer(content) if is_table(content, int(end[1]))]
    return (holding[-1] if holding else None), not near


def _starts(content: bytes, end: re.Match[bytes]) -> list[int]:
    """Where a reader may begin: its end's, and what else is named so near it or behind it."""
    others = (int(each[1]) for each in _START.finditer(content, max(0, end.end() - _TAIL)))
    return [int(end[1]), *(each for each in others if is_table(content, each))]


def _is_led_to_page(content: bytes, starts: list[int]) -> bool:
    """Where no table names a catalogue, readers look for one themselves; what is packed may be one, too (7.5.7)."""
    named = roots(content, starts)
    return not named or leads_to_page(content, named) or any(True for _ in object_streams(content))


def _has_pages(content: bytes) -> bool:
    """Whether there is one, or what is packed otherwise may be one."""
    found = [bool(each.search(content)) for each in (_PAGE, _KIDS)]
    for packed in () if all(found) else object_streams(content):
        if packed is None:
            return True
        found = [is_there or bool(each.search(packed)) for is_there, each in zip(found, (_PAGE, _KIDS), strict=True)]
        if all(found):
            break
    return all(found)
