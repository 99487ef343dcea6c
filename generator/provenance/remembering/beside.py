"""Which files of a work tree are the very bytes that git keeps, so that they are linked and not copied?

A catalogue's papers may be gigabytes. What git's index says of them is not asked, for it can be told otherwise (assume-unchanged,
a filter that keeps the size); they are summed up as git does it: SHA-1, or SHA-256, of "blob", size, a zero and the bytes.
"""

import hashlib
import os
import stat
from pathlib import Path

from generator.provenance.remembering.git import Entry
from generator.reading.plain_files import opened_plain

LEAST_BYTES = 16_000
"""Records are typed and small: each is copied as git has it."""
_SHA1_LETTERS = 40


def linked(entry: Entry, beside: Path, into: Path) -> bool:
    """Whether `into / path` now is the file of the work tree `beside`, which holds what git keeps under that name."""
    there, here = beside / entry.path, into / entry.path
    try:
        found = there.lstat()
        if entry.size < LEAST_BYTES or not stat.S_ISREG(found.st_mode) or found.st_size != entry.size or _sum(there, entry) != entry.blob:
            return False
        here.parent.mkdir(parents=True, exist_ok=True)
        os.link(there, here)
        if os.path.samestat(found, here.lstat()):
            return True
        here.unlink()  # another file came in its place meanwhile
    except OSError:  # on another disk, without the right to, on a system without links: it is copied
        pass
    return False


def _sum(file: Path, entry: Entry) -> str:
    begun = hashlib.new("sha1" if len(entry.blob) == _SHA1_LETTERS else "sha256", usedforsecurity=False)
    begun.update(b"blob %d\0" % entry.size)
    with opened_plain(file) as stream:
        return hashlib.file_digest(stream, lambda: begun).hexdigest()
