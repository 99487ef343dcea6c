"""Has something changed the ends of lines alone? Git does it on Windows, and then a file is not the one that was approved."""

import hashlib
import re
from collections.abc import Iterable, Iterator

from generator.reading.disk import Disk
from generator.reading.plain_files import opened_plain
from generator.reading.yaml_places import YamlFile
from generator.records.catalogue import KeptFile
from generator.records.problems import Problem, Where, doubt

_SUM = re.compile(r"\b[0-9a-f]{64}\b")
_BEGINNING = 1024


def line_ends_changed(disk: Disk, files: Iterable[KeptFile | None], approval: YamlFile | None) -> Iterator[Problem]:
    """Every file that the record speaks of when its lines end otherwise; the verdict stays that of another file."""
    said = str(approval.content) if approval else ""
    strange = [file for file in files if file and file.sha256 not in said]
    recorded = set(_SUM.findall(said)) if strange else set()
    for file in strange:
        if recorded and _is_one_otherwise(disk, file, recorded):
            yield doubt("DISK08", "line ends", where=Where(file.path))


def _is_one_otherwise(disk: Disk, file: KeptFile, recorded: set[str]) -> bool:
    try:
        with opened_plain(disk.root / file.path) as stream:
            start = stream.read(_BEGINNING)
            if b"\0" in start or b"\n" not in start:
                return False
            content = start + stream.read()
    except OSError:  # it was read a moment ago, and is told where it is read again
        return False
    plain = content.replace(b"\r\n", b"\n")
    return any(hashlib.sha256(each).hexdigest() in recorded for each in (plain, plain.replace(b"\n", b"\r\n")))
