"""What did the newest commits of a catalogue change? Kept by commit, so that a build asks only for those that are new.

The line is that of first parents, as for what stood on a day (as_of.py): what was merged counts with its merge. Nothing is asked
for but the day of a commit and what it changed; who wrote it, and its message, are not read.
"""

import hashlib
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from itertools import islice
from pathlib import Path
from typing import Any, Final

from generator.provenance.remembering.committed_produced import said_in
from generator.provenance.remembering.git import PRODUCED, Changed, GitError, Repository
from generator.provenance.remembering.states import keep, kept_in
from generator.reading.validating import record
from generator.reading.yaml_places import read_yaml
from generator.records.approvals import Approval
from generator.records.parts import Part
from generator.rules import lately as rules
from generator.rules.lately import (
    CATALOGUE,
    LISTED,
    MATERIAL,
    REQUEST,
    Fact,
    Lately,
    LatelyChange,
    PartFiles,
    in_order,
    part_facts,
    produced_facts,
)
from generator.rules.past import Past, past_of

MOST_COMMITS: Final = 1000
"""So many of the newest ones that changed something are told."""
_MOST_READ: Final = 4000
"""So many versions of records stand behind all that is told, so that a long history costs no more; what is older is left out."""
_LARGEST_BYTES: Final = 400_000
"""A version that is larger is not read."""
_AT_ONCE: Final = 64
_LISTS: Final = {"depot.yml": "depot", "fleets.yml": "fleets", "makers.yml": "makers", "prints.yml": "prints", "words.yml": "words"}
_PATHS: Final = ("parts", "materials", "requests", *(each for each in PRODUCED if "/" not in each), *_LISTS)
_OF_PART: Final = re.compile(r"parts/([^/]+)/(part\.yml|approval\.yml|fitting\.md|model\.[^/]+|(?:documents|photos)/[^/]+)")
_OF_PRODUCTION: Final = re.compile(r"(?:materials/lots|machines|batches|recalls)/([^/]+)\.yml")
_OF_MATERIAL: Final = re.compile(r"materials/([^/]+)\.yml")
_OF_REQUEST: Final = re.compile(r"requests/([^/]+)\.yml")
_OF_LINES: Final = re.compile(r"fitted/([0-9]{4})\.csv")
# A file's name that no record can have names nothing here: it could be a text of its own.
_NAME: Final = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,79}")


@dataclass(slots=True)
class _Read:
    """What the versions of records say, by their blobs; what is not in them was not read, or is no such record."""

    parts: dict[str, Part] = field(default_factory=dict)
    approvals: dict[str, Past] = field(default_factory=dict)
    produced: dict[tuple[str, str], dict[str, Past]] = field(default_factory=dict)
    """By file and blob."""
    lines: dict[str, int] = field(default_factory=dict)


def lately(root: Path, file: Path, most: int = MOST_COMMITS) -> Lately | None:
    """What git tells of the catalogue in `root`; `file` keeps it. None without git, without a commit, or where git does not answer."""
    try:
        repository = Repository.around(root)
        return _lately(repository, file, most) if repository else None
    except GitError:
        return None  # why is told already, of the records' past (compared.py)


def _lately(repository: Repository, file: Path, most: int) -> Lately:
    code = _code()
    key, kept = [code, repository.head, repository.prefix, repository.is_shallow, most], kept_in(file)
    known = _known(kept, key)
    if kept.get("key") == key and known is not None:
        return _told(known.values(), is_cut=kept.get("cut") is True)
    every = repository.changes(_PATHS, most + 1)
    listed = list(_bounded(every[:most]))
    is_cut = len(listed) < len(every) or repository.is_shallow
    # A commit never changes, so what was found out of it holds, unless a shallow copy has got its parents since.
    known = known or {}
    fresh = [each for each in listed if each.commit not in known and not (each.is_first and repository.is_shallow)]
    known |= {each.commit: each for each in _changes(repository, fresh)}
    changes = tuple(known[each.commit] for each in listed if each.commit in known)
    keep(file, {"key": key, "cut": is_cut, "changes": [_plain(each) for each in changes]})
    return _told(changes, is_cut=is_cut)


def _told(changes: Iterable[LatelyChange], *, is_cut: bool) -> Lately:
    return Lately(changes=tuple(each for each in changes if each.facts), is_cut=is_cut)


def _known(kept: Mapping[str, Any], key: list[Any]) -> dict[str, LatelyChange] | None:
    """The kept commits that were worked out by this code, of a catalogue at this place; None where the file is none of ours."""
    before = kept.get("key")
    if not isinstance(before, list) or len(before) != len(key) or (before[0], before[2]) != (key[0], key[2]):
        return None
    try:
        return {each.commit: each for each in map(_change_in, kept["changes"])}
    except (KeyError, TypeError, ValueError):
        return None


def _plain(change: LatelyChange) -> list[Any]:
    return [change.commit, change.day.isoformat(), [fact.as_plain() for fact in change.facts]]


def _change_in(plain: Any) -> LatelyChange:
    commit, day, facts = plain
    return LatelyChange(commit=str(commit), day=date.fromisoformat(day), facts=tuple(Fact(**each) for each in facts))


def _code() -> str:
    """What the facts are worked out with: other code may tell them otherwise."""
    records = sorted(Path(str(rules.__file__)).parent.parent.glob("records/*.py"))
    ours = (Path(__file__), *(Path(str(rules.__file__)).with_name(f"{name}.py") for name in ("lately", "past", "past_produced", "chain")))
    return hashlib.sha256(b"".join(each.read_bytes() for each in (*ours, *records))).hexdigest()


def _changes(repository: Repository, commits: list[Changed]) -> Iterator[LatelyChange]:
    said = _read(repository, commits)
    for commit in commits:
        yield LatelyChange(commit=commit.commit, day=commit.day, facts=in_order(_facts(commit, said)))


def _facts(commit: Changed, said: _Read) -> Iterator[Fact]:
    if any(path == "depot.yml" for _, _, path in commit.files) and not any(old for old, _, _ in commit.files):
        # The catalogue begins here, or has come here from another place: nothing of it is new by itself.
        count = sum(path.endswith("/part.yml") and bool(new) for _, new, path in commit.files)
        yield Fact(about=CATALOGUE, what="begun", count=count)
        return
    yield from _of_parts(commit, said)
    for old, new, path in commit.files:
        yield from _of_file(old, new, path, said)


def _of_file(old: str, new: str, path: str, said: _Read) -> Iterator[Fact]:
    what = "changed" if old and new else "new" if new else "gone"
    if path in _LISTS:
        yield Fact(about=LISTED, name=_LISTS[path], what=what)
    elif found := _OF_LINES.fullmatch(path):
        more = said.lines.get(new, 0) - (said.lines.get(old, 0) if old else 0) if not old or old in said.lines else 0
        yield Fact(about=LISTED, name=f"fitted {found[1]}", what="lines" if more > 0 else what, count=max(more, 0))
    elif _named(_OF_PRODUCTION, path):
        yield from produced_facts(path, *(said.produced.get((path, blob), {}) if blob else None for blob in (old, new)))
    elif name := _named(_OF_MATERIAL, path):
        yield Fact(about=MATERIAL, name=name, what=what)
    elif name := _named(_OF_REQUEST, path):
        yield Fact(about=REQUEST, name=name, what=what)


def _named(pattern: re.Pattern[str], path: str) -> str | None:
    found = pattern.fullmatch(path)
    return found[1] if found and _NAME.fullmatch(found[1]) else None


def _of_parts(commit: Changed, said: _Read) -> Iterator[Fact]:
    """Of each part, by its number where its record says it: a folder that was only called otherwise is the same part."""
    before: defaultdict[str, dict[str, str]] = defaultdict(dict)
    now: defaultdict[str, dict[str, str]] = defaultdict(dict)
    for old, new, path in commit.files:
        if (found := _OF_PART.fullmatch(path)) and _NAME.fullmatch(found[1]):
            before[found[1]] |= {found[2]: old} if old else {}
            now[found[1]] |= {found[2]: new} if new else {}
    numbers = {folder: number for folder in before | now if (number := _number(before[folder], now[folder], said))}
    groups: defaultdict[str, list[str]] = defaultdict(list)
    for folder in before | now:
        groups[numbers.get(folder, folder)].append(folder)
    for folders in groups.values():
        had, has = ({path: blob for folder in folders for path, blob in files[folder].items()} for files in (before, now))
        name = next((each for each in sorted(folders) if now[each]), min(folders))
        yield from part_facts(f"parts/{name}", _state(had, said), _state(has, said), number=numbers.get(folders[0], ""))


def _number(before: Mapping[str, str], now: Mapping[str, str], said: _Read) -> str | None:
    found = [said.parts[blob] for files in (now, before) if (blob := files.get("part.yml")) in said.parts and blob]
    return found[0].number if found else None


def _state(files: Mapping[str, str], said: _Read) -> PartFiles:
    return PartFiles(
        record=said.parts.get(files.get("part.yml", "")), approval=said.approvals.get(files.get("approval.yml", "")), files=files
    )


def _bounded(commits: Iterable[Changed]) -> Iterator[Changed]:
    """The newest of them, until they need too many versions; what is kept from before plays no part, so that the same commit tells the same."""
    room = _MOST_READ
    for at, commit in enumerate(commits):
        room -= len(_needed(commit))
        if room < 0 and at:
            return
        yield commit


def _needed(commit: Changed) -> dict[str, set[str]]:
    """The versions that the facts of a commit need, by their blobs, with their paths."""
    needed: dict[str, set[str]] = {}
    for old, new, path in commit.files:
        if path.startswith("parts/"):
            is_read = path.endswith(("/part.yml", "/approval.yml")) and bool(_OF_PART.fullmatch(path))
        else:
            is_read = bool(_OF_PRODUCTION.fullmatch(path) or _OF_LINES.fullmatch(path))
        for blob in (old, new) if is_read else ():
            if blob:
                needed.setdefault(blob, set()).add(path)
    return needed


def _read(repository: Repository, commits: Iterable[Changed]) -> _Read:
    """What the facts need; of one commit alone that changed very many records only the first are read."""
    some: defaultdict[str, set[str]] = defaultdict(set)
    for commit in commits:
        for blob, paths in islice(_needed(commit).items(), _MOST_READ):
            some[blob] |= paths
    sizes = repository.sizes(some)
    listed = [blob for blob in some if sizes.get(blob, _LARGEST_BYTES + 1) <= _LARGEST_BYTES]
    said = _Read()
    for at in range(0, len(listed), _AT_ONCE):
        for blob, raw in repository.contents(listed[at : at + _AT_ONCE]):
            for path in some[blob]:
                _take(said, path, blob, raw)
    return said


def _take(said: _Read, path: str, blob: str, raw: bytes) -> None:
    if path.endswith("/part.yml"):
        if blob not in said.parts and (part := record(Part, read_yaml("part.yml", raw))):
            said.parts[blob] = part
    elif path.endswith("/approval.yml"):
        if blob not in said.approvals and (approval := record(Approval, read_yaml("approval.yml", raw))):
            said.approvals[blob] = past_of(approval)
    elif path.endswith(".csv"):
        said.lines[blob] = sum(bool(line.strip()) for line in raw.splitlines()[1:])
    else:
        said.produced[path, blob] = said_in(path, raw)
