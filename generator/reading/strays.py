"""What lies in a part's folder and is no file of it: a second copy of a record is one from which nobody knows which counts."""

import os
import re
from collections.abc import Iterator
from pathlib import Path

from generator.reading.disk import Disk, legible
from generator.reading.lying_files import beginning, files_below, keys_of_record, says
from generator.records.problems import Problem, Where, doubt, wrong

RECORDS = {"part.yml": "part", "approval.yml": "approval"}
"""The records of a part, with their names' stems; each stands once, in the part's folder itself."""

# Names as editors, file managers and people give them to a second copy (common practice, no source): .approval.yml.swp,
# approval.yml~, #approval.yml#, approval.yml.orig, approval (1).yml, approval - copy.yaml, approval_old, Copy of approval.yml
_WORDS = r"(?:copy|copy of|old|new|backup|bak|orig|draft|final|\(?[0-9]+\)?|v[0-9]+)"
_COPY = {
    record: re.compile(
        rf"(?:.*[^a-z])?{stem}\.ya?ml.*|[.#~_$]*(?:{_WORDS}[ _.-]*)*{stem}(?:[ _.-]*{_WORDS})*(?:\.ya?ml.*|[#~]*)",
        re.IGNORECASE | re.DOTALL,
    )
    for record, stem in RECORDS.items()
}
_SAYS = {"approval.yml": keys_of_record("route", "events"), "part.yml": keys_of_record("number", "revision", "fits")}


def strays(disk: Disk, folder: str) -> Iterator[Problem]:
    """Every file below a part's folder that is a copy of a record, and every hidden one beside them."""
    for path, name in files_below(disk, folder):
        inside = path.removeprefix(f"{folder}/")
        if inside in RECORDS or inside == "fitting.md" or (name.startswith("model.") and "/" not in inside):
            continue
        beside = "/" not in inside
        record = _copied(disk, path, name, beside=beside)
        if record and (not beside or disk.is_there(f"{folder}/{record}")):  # else it is the one that is to be renamed
            found = wrong("FOLD04", "approval") if record == "approval.yml" else doubt("FOLD04", "part")
            yield found.at(Where(legible(path)))
        elif name.startswith(".") and beside:
            yield doubt("FOLD03", "hidden", where=Where(legible(path)))


def leads_elsewhere(disk: Disk, folder: str, name: str) -> Problem | None:
    """A record that is a link to a file outside of the part's folder: it may be another part's."""
    path = disk.path(f"{folder}/{name}")
    try:
        is_elsewhere = os.path.islink(path) and Path(path).resolve().parent != Path(path).parent.resolve()
    except (OSError, RuntimeError):  # it is told where the file is read
        return None
    return wrong("FOLD05", "leads out", where=Where(f"{folder}/{name}")) if is_elsewhere else None


def _copied(disk: Disk, path: str, name: str, *, beside: bool) -> str | None:
    """Which record it is a copy of, by its name or by what it says."""
    if beside and name.lstrip(".").lower().startswith("approval"):
        return "approval.yml"
    for record, copy in _COPY.items():
        if copy.fullmatch(name):
            return record
    raw = beginning(disk, path)
    return next((record for record in RECORDS if raw and says(raw, _SAYS[record])), None)
