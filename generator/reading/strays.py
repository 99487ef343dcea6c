"""What lies in a part's folder and is no file of it: a second copy of a record is one from which nobody knows which counts."""

import os
import re
from collections.abc import Iterator
from pathlib import Path

from generator.reading.disk import LITTER, UNFINISHED, Disk
from generator.records.problems import Problem, Where, doubt, wrong

RECORDS = {"part.yml": "part", "approval.yml": "approval"}
"""The records of a part, with their names' stems; each stands once, in the part's folder itself."""
# Some hundred times what a folder holds; whatever is more was put there by a machine.
_MOST_ENTRIES = 10_000
_LARGEST_LOOKED_INTO = 2_000_000

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
_KEY = r"(?:^|[{{,])[ \t]*[\"']?{}[\"']?[ \t]*:"
_SAYS = {
    "approval.yml": tuple(re.compile(_KEY.format(key).encode(), re.MULTILINE) for key in ("route", "events")),
    "part.yml": tuple(
        re.compile(_KEY.format(key).encode(), re.MULTILINE) for key in ("number", "revision", "fits")
    ),
}


def strays(disk: Disk, folder: str) -> Iterator[Problem]:
    """Every file below a part's folder that is a copy of a record, and every hidden one beside them."""
    for path, name in _entries(disk, folder):
        inside = path.removeprefix(f"{folder}/")
        if inside in RECORDS or inside == "fitting.md" or (name.startswith("model.") and "/" not in inside):
            continue
        beside = "/" not in inside
        record = _copied(disk, path, name, beside=beside)
        if record and (not beside or disk.is_there(f"{folder}/{record}")):  # else it is the one that is to be renamed
            found = wrong("FOLD04", "approval") if record == "approval.yml" else doubt("FOLD04", "part")
            yield found.at(Where(_seen(path)))
        elif name.startswith(".") and beside:
            yield doubt("FOLD03", "hidden", where=Where(_seen(path)))


def leads_elsewhere(disk: Disk, folder: str, name: str) -> Problem | None:
    """A record that is a link to a file outside of the part's folder: it may be another part's."""
    file = disk.root / folder / name
    try:
        is_elsewhere = file.is_symlink() and file.resolve().parent != file.parent.resolve()
    except (OSError, RuntimeError):  # it is told where the file is read
        return None
    return wrong("FOLD05", "leads out", where=Where(f"{folder}/{name}")) if is_elsewhere else None


def _entries(disk: Disk, folder: str) -> Iterator[tuple[str, str]]:
    """Files below a folder, by their path in the catalogue and their name; no link is followed."""
    seen = 0
    root = disk.root / folder
    for here, folders, files in os.walk(root):
        folders.sort()
        seen += len(files)
        if seen > _MOST_ENTRIES:
            return
        inside = (Path(folder) / Path(here).relative_to(root)).as_posix()
        yield from ((f"{inside}/{name}", name) for name in sorted(files) if _is_ours(name))


def _is_ours(name: str) -> bool:
    """Whether somebody put it there, and not a system or a command of ours that writes at this moment."""
    return name not in LITTER and not UNFINISHED.match(name)


def _copied(disk: Disk, path: str, name: str, *, beside: bool) -> str | None:
    """Which record it is a copy of, by its name or by what it says."""
    if beside and name.lstrip(".").lower().startswith("approval"):
        return "approval.yml"
    for record, copy in _COPY.items():
        if copy.fullmatch(name):
            return record
    raw = _beginning(disk, path)
    return next((record for record in RECORDS if raw and all(key.search(raw) for key in _SAYS[record])), None)


def _beginning(disk: Disk, path: str) -> bytes | None:
    """What a small plain file says; None of one that is none, or that is no text."""
    file = disk.root / path
    try:
        if file.is_symlink() or not file.is_file() or file.stat().st_size > _LARGEST_LOOKED_INTO:
            return None
        with file.open("rb") as stream:
            start = stream.read(4)
            if start == b"%PDF" or start[:3] in (b"\x89PN", b"\xff\xd8\xff"):
                return None
            return start + stream.read()
    except OSError:
        return None


def _seen(path: str) -> str:
    return "".join(letter if letter.isprintable() else "�" for letter in path)
