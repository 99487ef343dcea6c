"""Which parts does a zipped 3MF package hold, and is it safe to unzip them?"""

from __future__ import annotations

import posixpath
import zipfile
import zlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from io import BytesIO
from typing import IO, Final
from urllib.parse import unquote
from xml.parsers import expat

from generator.reading.meshes.errors import EXPORT_3MF, SAVE_AGAIN, MeshError, unusable
from generator.reading.meshes.limits import (
    MAX_UNZIPPED_BYTES,
    MAX_ZIP_ENTRIES,
    MAX_ZIP_RATIO,
    ZIP_RATIO_FROM_BYTES,
)
from generator.reading.meshes.outside import leads_outside

# Relationship type of the part that a reader starts from (3MF Core Specification, Appendix E.1).
START_PART: Final = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
_RELATIONS: Final = "_rels/.rels"
_CHUNK_BYTES: Final = 1024 * 1024


class Package:
    """An opened package: names of its parts and their bytes, each read in pieces."""

    def __init__(self, content: bytes) -> None:
        """Open the zip and look at its directory only; raises MeshError when it is not worth unzipping."""
        try:
            self._zip = zipfile.ZipFile(BytesIO(content))
        except (zipfile.BadZipFile, NotImplementedError, ValueError, OverflowError):
            raise unusable("package broken", SAVE_AGAIN) from None
        self._entries = {name.filename: name for name in self._zip.infolist()}
        _check_directory(self._zip.infolist())

    def pieces(self, part: str) -> Iterator[bytes]:
        """Unzip one part piece by piece; raises MeshError when it is missing or broken."""
        with self._opened(part) as stream:
            while piece := _read(stream, part):
                yield piece

    @contextmanager
    def _opened(self, part: str) -> Iterator[IO[bytes]]:
        entry = self._entries.get(part)
        if entry is None:
            raise unusable("package part missing", SAVE_AGAIN, part=part[:80])
        if entry.flag_bits & 0x1:
            raise unusable("package locked", EXPORT_3MF)
        try:
            stream = self._zip.open(entry)
        except (zipfile.BadZipFile, NotImplementedError, RuntimeError):
            raise _broken(part) from None
        with stream:
            yield stream

    def start_part(self) -> str:
        """Name the model that the package says a reader begins with."""
        if _RELATIONS not in self._entries:
            raise unusable("package no model", EXPORT_3MF)
        targets: list[str] = []

        def seen(name: str, attributes: dict[str, str]) -> None:
            if name.rpartition(" ")[2] == "Relationship" and attributes.get("Type") == START_PART:
                targets.append(attributes.get("Target", ""))

        parse_xml(self.pieces(_RELATIONS), _RELATIONS, start=seen)
        if not targets:
            raise unusable("package no model", EXPORT_3MF)
        return part_name(targets[0])


def part_name(path: str) -> str:
    """Turn a path inside a package into the name of a zip entry; raises MeshError for one that leads out."""
    name = unquote(path).replace("\\", "/")
    if leads_outside(name.removeprefix("/")) or name.startswith("//"):
        raise unusable("package points outside", EXPORT_3MF, target=path[:80])
    return posixpath.normpath(name.removeprefix("/"))


def _read(stream: IO[bytes], part: str) -> bytes:
    try:
        return stream.read(_CHUNK_BYTES)
    except (zipfile.BadZipFile, zlib.error, EOFError, OSError):
        raise _broken(part) from None


def _broken(part: str) -> MeshError:
    return unusable("package part broken", SAVE_AGAIN, part=part[:80])


def _check_directory(entries: list[zipfile.ZipInfo]) -> None:
    """Judge by the directory of the zip; reading never gives more than it states, so a lie gains nothing."""
    if len(entries) > MAX_ZIP_ENTRIES:
        raise unusable("package too many files", EXPORT_3MF, count=len(entries), most=MAX_ZIP_ENTRIES)
    if len({entry.filename for entry in entries}) != len(entries):
        raise unusable("package name twice", EXPORT_3MF)
    unzipped = sum(entry.file_size for entry in entries)
    zipped = max(1, sum(entry.compress_size for entry in entries))
    if unzipped > MAX_UNZIPPED_BYTES:
        raise unusable("package unzips too large", megabytes=round(unzipped / 1024 ** 2), most=MAX_UNZIPPED_BYTES // 1024 ** 2)
    if unzipped > ZIP_RATIO_FROM_BYTES and unzipped / zipped > MAX_ZIP_RATIO:
        raise unusable("package bomb", times=round(unzipped / zipped))


def parse_xml(
    pieces: Iterator[bytes],
    part: str,
    *,
    start: Callable[[str, dict[str, str]], None],
    end: Callable[[str], None] | None = None,
    namespace: Callable[[str | None, str], None] | None = None,
) -> None:
    """Feed the pieces to a parser that knows neither document types nor entities nor other files.

    start: called with (name, attributes) of each element, name as "namespace local"; end with (name);
    namespace with (prefix, namespace) of each declaration, before the element that bears it.
    A MeshError that they raise gets the line where the parser stands.
    """
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.buffer_text = True
    parser.StartElementHandler = start
    parser.EndElementHandler = end
    parser.StartNamespaceDeclHandler = namespace
    # Core Specification 2.4: XML in a package must hold no document type; entities live only there.
    parser.StartDoctypeDeclHandler = _refuse_document_type
    for piece in pieces:
        _parse(parser, piece, part, is_last=False)
    _parse(parser, b"", part, is_last=True)


def _parse(parser: expat.XMLParserType, piece: bytes, part: str, *, is_last: bool) -> None:
    try:
        parser.Parse(piece, is_last)
    except expat.ExpatError as error:
        reason = expat.ErrorString(error.code)
        raise unusable("package not well-formed", SAVE_AGAIN, line=error.lineno, part=part[:80], reason=reason) from None
    except LookupError:
        raise unusable("package encoding", EXPORT_3MF, part=part[:80]) from None
    except MeshError as error:
        raise error.on_line(parser.CurrentLineNumber) from None


def _refuse_document_type(*_: object) -> None:
    raise unusable("package document type", EXPORT_3MF)
