"""A submission as a zip: the paper, what it binds, an index, and every attachment, each read in pieces and held against its SHA-256."""

import hashlib
import zipfile
from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path
from typing import BinaryIO

from generator.edge.disk import done
from generator.edge.disk.atomic import filled_whole
from generator.edge.disk.unbroken import unbroken
from generator.edge.refusals import disk_refusal, refused
from generator.pages.submissions.index import bound_name, index_of
from generator.pages.submissions.kinds import Attachment, Submission

INDEX = "index.json"
_PIECE = 1 << 20
_EARLIEST = date(1980, 1, 1)  # before it a zip tells no day
_LATEST = date(2107, 12, 31)


def write_zip(file: Path, value: Submission, paper: tuple[str, bytes], root: Path, *, force: bool) -> None:
    """Whole or not at all, and the same bytes from the same files; another file only with `force`. Raises Refusal.

    Nothing is packed, so that no machine packs it otherwise: nearly all of it is PDF, which packs badly. Memory holds a
    megabyte of an attachment at a time.
    """
    made = dict(_made(value, paper))
    index = index_of(value, {name: (len(content), hashlib.sha256(content).hexdigest()) for name, content in made.items()})
    try:
        with unbroken():
            filled_whole(file, lambda stream: _fill(stream, value, {**made, INDEX: index}, root), force=force)
            done.wrote(f"{file} is written")
    except FileExistsError:
        raise refused("file_there", file=str(file)) from None
    except OSError as error:
        raise disk_refusal(error, "writing", file) from error


def _made(value: Submission, paper: tuple[str, bytes]) -> Iterator[tuple[str, bytes]]:
    yield paper
    for dossier in value.dossiers:
        if dossier.text:
            yield bound_name(dossier.number), dossier.text.encode("utf-8")


def _fill(stream: BinaryIO, value: Submission, made: Mapping[str, bytes], root: Path) -> None:
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_STORED) as packed:
        for name, content in made.items():
            packed.writestr(_entry(name, value.day, len(content)), content)
        for each in stored(value):
            _copied(packed, each, value.day, root)


def stored(value: Submission) -> tuple[Attachment, ...]:
    """What lies in the zip: each file once, whatever it is called besides."""
    return tuple(each for each in value.attachments if each.stored_as and each.same_as is None)


def _copied(packed: zipfile.ZipFile, each: Attachment, day: date, root: Path) -> None:
    digest = hashlib.sha256()
    with (root / each.path).open("rb") as source, packed.open(_entry(each.stored_as, day, each.size_bytes), "w") as target:
        while piece := source.read(_PIECE):
            digest.update(piece)
            target.write(piece)
    if digest.hexdigest() != each.sha256:
        raise refused("submission_changed", file=str(root / each.path))


def _entry(name: str, day: date, size: int) -> zipfile.ZipInfo:
    at = min(max(day, _EARLIEST), _LATEST)
    entry = zipfile.ZipInfo(name, date_time=(at.year, at.month, at.day, 0, 0, 0))
    entry.create_system, entry.external_attr, entry.file_size = 3, 0o644 << 16, size  # of Unix on every machine
    return entry
