"""What git remembers of the records of production: the states of each that no later one contains.

Every version that HEAD reaches is looked at, since what was taken out in a commit stands in no newer one; but each only
once: what a version says is kept by its blob. Most versions of a file of fitted lines are the beginning of the next one,
byte by byte, so that they say nothing of their own, and their lines are never read.
"""

import hashlib
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

from generator.provenance.remembering.counting import KINDS
from generator.provenance.remembering.git import Log, Repository, Version
from generator.provenance.remembering.kept import as_plain, past_in
from generator.provenance.remembering.states import State, keep, kept_in
from generator.reading.fitted import fitted_file
from generator.reading.validating import record
from generator.reading.yaml_places import read_yaml
from generator.rules.past import Past
from generator.rules.past_produced import past_of_lines, pasts_of_record, unsaid_of

_AT_ONCE = 16
"""Blobs that are held in memory together."""
Known = dict[str, dict[str, Any]]
"""What each version says, by file and blob: its pasts by name, plain, or the blob of which it is the beginning."""


def by_kind(log: Log) -> tuple[Log, Log]:
    """The log of the parts' records, and that of the records of production."""
    logs = Log(), Log()
    for version in log.versions:
        logs[not version.folder.startswith("parts/")].versions.append(version)
    for folder, forks in log.forks.items():
        logs[not folder.startswith("parts/")].forks[folder] = forks
    return logs


def committed_produced(
    repository: Repository, log: Log, file: Path, code: str
) -> tuple[tuple[State, ...], dict[str, frozenset[str]]]:
    """The states, newest first, and the events that a merge brought together, by name; `file` keeps what the blobs say. Raises GitError."""
    kept = kept_in(file)
    known: Known = kept.get("blobs", {}) if kept.get("code") == code else {}
    wanted = {_key(version): version for version in log.versions}
    known = {key: told for key, told in known.items() if key in wanted and _still_holds(told, wanted[key], wanted)}
    if wanted.keys() - known.keys():
        _read_records(repository, [version for key, version in wanted.items() if key not in known], known)
        _read_lines(repository, log.versions, known)
        keep(file, {"code": code, "blobs": known})
    merged = {name: frozenset(events) for name, events in _merged(log, known)}
    return tuple(_lasting(log, known, merged)), merged


def _key(version: Version) -> str:
    return f"{version.folder} {version.blob}"


def _still_holds(told: Mapping[str, Any], version: Version, wanted: Iterable[str]) -> bool:
    """Whether the version that holds all of this one is still one that HEAD reaches: after a rebase it may not be."""
    return "within" not in told or f"{version.folder} {told['within']}" in wanted


def _read_records(repository: Repository, versions: Iterable[Version], known: Known) -> None:
    by_blob: defaultdict[str, list[Version]] = defaultdict(list)
    for version in versions:
        if not version.folder.startswith("fitted/"):
            by_blob[version.blob].append(version)
    for blob, raw in repository.contents(by_blob) if by_blob else ():
        for version in by_blob[blob]:
            known[_key(version)] = {"said": {name: as_plain(past) for name, past in said_in(version.folder, raw).items()}}


def said_in(file: str, raw: bytes) -> dict[str, Past]:
    """What a record says; nothing of one with mistakes, which nobody could rest anything on."""
    found = record(KINDS[file.rpartition("/")[0]], read_yaml(file, raw))
    return pasts_of_record(file, found) if found else {}


def _read_lines(repository: Repository, versions: Iterable[Version], known: Known) -> None:
    """Each version of a file of lines against the next newer one of it."""
    by_file: defaultdict[str, dict[str, Version]] = defaultdict(dict)
    for version in versions:
        if version.folder.startswith("fitted/"):
            by_file[version.folder].setdefault(version.blob, version)
    for file, listed in by_file.items():
        blobs = list(listed)
        missing = {at for at, blob in enumerate(blobs) if f"{file} {blob}" not in known}
        needed = sorted({place for at in missing for place in (at - 1, at) if place >= 0})
        newer: tuple[int, bytes] = (-2, b"")
        for at, raw in zip(needed, _contents(repository, [blobs[at] for at in needed]), strict=True):
            if at in missing:
                is_within = newer[0] == at - 1 and _begins(newer[1], raw)
                known[f"{file} {blobs[at]}"] = {"within": blobs[at - 1]} if is_within else {"said": {file: as_plain(_lines(file, raw))}}
            newer = at, raw


def _begins(whole: bytes, beginning: bytes) -> bool:
    """Whether the whole one begins with all lines of the other."""
    size = len(beginning)
    return whole.startswith(beginning) and (not size or beginning.endswith(b"\n") or whole[size : size + 1] in (b"", b"\r", b"\n"))


def _lines(file: str, raw: bytes) -> Past:
    return past_of_lines(fitted_file(file, raw).rows, len(raw), hashlib.sha256(raw).hexdigest())


def _contents(repository: Repository, blobs: list[str]) -> Iterator[bytes]:
    for at in range(0, len(blobs), _AT_ONCE):
        yield from (raw for _, raw in repository.contents(blobs[at : at + _AT_ONCE]))


def _pasts(version: Version, known: Known) -> dict[str, Past]:
    return {name: past_in(plain) for name, plain in known.get(_key(version), {}).get("said", {}).items()}


def _lasting(log: Log, known: Known, merged: Mapping[str, frozenset[str]]) -> Iterator[State]:
    """Without the states that a later one of the same name contains: most records only grow."""
    later: defaultdict[str, list[Past]] = defaultdict(list)
    for version in log.versions:
        for name, past in _pasts(version, known).items():
            if not any(not unsaid_of(name, past, each, merged.get(name, ())) for each in later[name]):
                later[name].append(past)
                yield State(name, version.commit, version.day.isoformat(), past)


def _merged(log: Log, known: Known) -> Iterator[tuple[str, set[str]]]:
    found: defaultdict[str, set[str]] = defaultdict(set)
    for file, forks in log.forks.items():
        for blob in (blob for blobs in forks for blob in blobs):
            for name, plain in known.get(f"{file} {blob}", {}).get("said", {}).items():
                found[name] |= {event.own for event in past_in(plain).events}
    yield from found.items()
