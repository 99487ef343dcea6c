"""What is a file beside the records? Only what name and bytes both say is believed; a broken picture is none."""

import hashlib
import os
from pathlib import PurePath

from generator.reading.pdf_acts import pdf_acts
from generator.reading.pdf_whole import pdf_fault
from generator.reading.pictures import KeptFiles, picture_fault
from generator.reading.plain_files import opened_plain
from generator.reading.same_bytes import once_of_same_bytes
from generator.records.catalogue import Fault, FileKind, KeptFile

# What a person wrote; more is no reading matter for a page.
LARGEST_SHOWN_TEXT_BYTES = 200_000

# First bytes: PDF (ISO 32000-1, 7.5.2), PNG (ISO/IEC 15948), JPEG (ISO/IEC 10918-1), WebP (RFC 9649).
_SIGNS: dict[FileKind, tuple[int, bytes]] = {
    FileKind.PDF: (0, b"%PDF-"),
    FileKind.PNG: (0, b"\x89PNG\r\n\x1a\n"),
    FileKind.JPEG: (0, b"\xff\xd8\xff"),
    FileKind.WEBP: (8, b"WEBP"),
}
_LONGEST_SIGN = 16
_acts, _fault = once_of_same_bytes(pdf_acts), once_of_same_bytes(pdf_fault)
_ENDINGS = {
    ".pdf": FileKind.PDF,
    ".png": FileKind.PNG,
    ".jpg": FileKind.JPEG,
    ".jpeg": FileKind.JPEG,
    ".webp": FileKind.WEBP,
    ".txt": FileKind.TEXT,
}


def kind_told(path: str, content: bytes | None, sha256: str, kept: KeptFiles | None = None) -> FileKind:
    """The kind of a plain file; of a large one the content is not at hand, and it is no text for a page. Raises OSError.

    kept: where it is known which pictures can be shown.
    """
    kind = _ENDINGS.get(os.path.splitext(path)[1].lower(), FileKind.OTHER)
    if kind is FileKind.OTHER:
        return kind
    if kind is FileKind.TEXT:
        return FileKind.OTHER if content is None or text_told(content) is None else kind
    at, sign = _SIGNS[kind]
    beginning = _beginning(path) if content is None else content[:_LONGEST_SIGN]
    if beginning[at : at + len(sign)] != sign:
        return FileKind.OTHER
    if kind is FileKind.PDF and _acts(_whole(path, content)):
        return FileKind.OTHER  # offered, and opened by nobody's hand but one's own
    if kind.is_picture and picture_fault(kind, sha256, lambda: _whole(path, content), kept):
        return FileKind.OTHER
    return kind


def _beginning(path: str) -> bytes:
    with opened_plain(path) as stream:
        return stream.read(_LONGEST_SIGN)


def _whole(path: str, content: bytes | None) -> bytes:
    if content is not None:
        return content
    with opened_plain(path) as stream:
        return stream.read()


def is_called_pdf(path: str) -> bool:
    return os.path.splitext(path)[1].lower() == ".pdf"


def is_acting_pdf(path: str, content: bytes | None) -> bool:
    """Whether a file begins as a PDF, by name and bytes, and is none that only shows something. Raises OSError."""
    if not is_called_pdf(path):
        return False
    whole = _whole(path, content)
    return whole.startswith(_SIGNS[FileKind.PDF][1]) and _acts(whole)


def pdf_fault_told(path: str, content: bytes | None) -> Fault | None:
    """What keeps a file that is called a PDF from being opened. Raises OSError."""
    return _fault(_whole(path, content)) if is_called_pdf(path) else None


def kept_as_handed(path: str, content: bytes) -> KeptFile:
    """A file that a command hands in, as far as records are judged by it."""
    return KeptFile(path=path, size_bytes=len(content), sha256=hashlib.sha256(content).hexdigest(), fault=pdf_fault_told(path, content))


def is_document(name: str, content: bytes) -> bool:
    """Whether name and first bytes both say that a file is a PDF, a picture or a text with something in it; pictures are not opened."""
    kind = _ENDINGS.get(PurePath(name).suffix.lower(), FileKind.OTHER)
    if kind is FileKind.TEXT:
        try:
            text = content.decode("utf-8-sig")
        except UnicodeDecodeError:
            return False
        return bool(text.strip()) and all(sign.isprintable() or sign in "\r\n\t" for sign in text)
    at, sign = _SIGNS.get(kind, (0, b""))
    return bool(sign) and content[at : at + len(sign)] == sign


def text_told(content: bytes) -> str | None:
    """The text of a file's content that a page can show; None where it is too long or no text in UTF-8."""
    if len(content) > LARGEST_SHOWN_TEXT_BYTES:
        return None
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return None
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    return text if text.replace("\n", "").replace("\t", "").isprintable() else None
