"""Which files lie below a folder of the catalogue, and what does a small one say, whether or not it is read as a record?"""

import os
import re
import stat
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from generator.reading.disk import Disk, is_ours
from generator.reading.plain_files import opened_plain

# Some hundred times what a folder holds; whatever is more was put there by a machine.
_MOST_ENTRIES: Final = 10_000
_LARGEST: Final = 2_000_000
# First bytes of a PDF, PNG and JPEG (reading/kinds.py): no record begins so.
_PAPERS: Final = (b"%PDF-", b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff")
_SIGN_BYTES: Final = 16

Keys = tuple[tuple[bytes, re.Pattern[bytes]], ...]
"""Each key, and how it stands in a record."""


def files_below(disk: Disk, folder: str) -> Iterator[tuple[str, str]]:
    """Files below a folder, by their path in the catalogue and their name; no link is followed."""
    seen = 0
    root = disk.path(folder)
    for here, folders, files in os.walk(root):
        folders.sort()
        seen += len(files)
        if seen > _MOST_ENTRIES:
            return
        inside = Path(folder + here.removeprefix(root)).as_posix()
        yield from ((f"{inside}/{name}", name) for name in sorted(files) if is_ours(name))


def all_below(disk: Disk, folder: str) -> list[tuple[str, str]] | None:
    """The same; None of what is no folder, or holds what cannot be looked into, is behind a link, or too much."""
    root, unseen, seen = Path(disk.path(folder)), list[OSError](), 0
    if not root.is_dir() or root.is_symlink():
        return None
    for here, folders, files in os.walk(root, onerror=unseen.append):
        seen += len(files)
        if unseen or seen > _MOST_ENTRIES or any(Path(here, each).is_symlink() for each in folders):
            return None
    return None if unseen else list(files_below(disk, folder))


def beginning(disk: Disk, path: str) -> bytes | None:
    """What a plain file says that is not too large, and of a paper the first bytes; None of one that cannot be looked into. A link may lead anywhere."""
    file = disk.path(path)
    try:
        found = os.lstat(file)
        if not stat.S_ISREG(found.st_mode) or found.st_size > _LARGEST:
            return None
        with opened_plain(file) as stream:
            start = stream.read(_SIGN_BYTES)
            return start if is_paper(start) else start + stream.read()
    except OSError:
        return None


def is_paper(raw: bytes) -> bool:
    """Whether it begins as a paper or picture does, be its name what it may."""
    return raw.startswith(_PAPERS) or (raw.startswith(b"RIFF") and raw[8:12] == b"WEBP")


def keys_of_record(*keys: str) -> Keys:
    """Keys that a record of a kind has to have, at the beginning of a line or in a list of keys."""
    return tuple((key.encode(), re.compile(rf"(?:^|[{{,])[ \t]*[\"']?{key}[\"']?[ \t]*:".encode(), re.MULTILINE)) for key in keys)


def says(raw: bytes, keys: Keys) -> bool:
    """Whether a text has all of them, though it may be no YAML any more.

    Most of what is looked into, such as a model that somebody asks for, does not have the words: they are found out twenty times faster.
    """
    return all(key in raw for key, _ in keys) and all(stands.search(raw) for _, stands in keys)
