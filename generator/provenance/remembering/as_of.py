"""What lay in the catalogue in a commit, or at the end of a day: asked of git, written into a folder of its own.

Git only tells; nothing of a repository is run. It is asked for the bytes as they are kept (`cat-file`), so that no
filter, attribute or hook of a checkout has a say, and what a repository keeps elsewhere is not fetched.
"""

import os
from collections import defaultdict
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any

from generator.provenance.remembering.beside import linked
from generator.provenance.remembering.git import Entry, GitError, Repository

MOST_FILES = 200_000
_MOST_AT_ONCE_BYTES = 64_000_000
# Nothing of a catalogue is read that is larger (reading/disk.py): such a file is as large, and empty.
_LARGEST_BYTES = 100_000_000
_LINK, _SUBMODULE = "120000", "160000"


class NoStateError(Exception):
    """Nothing can be said of that commit or day; `key` names the refusal, `facts` what it tells."""

    def __init__(self, key: str, **facts: str) -> None:
        """key: of `commands.refused` in the words files."""
        super().__init__(key)
        self.key, self.facts = key, dict[str, Any](facts)


@dataclass(frozen=True, slots=True)
class AsOf:
    """A commit, and where the catalogue lies in it."""

    repository: Repository
    """Its head is that commit."""
    commit: str
    day: date
    """That of its committer, in UTC."""

    @property
    def short(self) -> str:
        return self.commit[:10]


def as_of(root: Path, at: date | str) -> AsOf:
    """The commit that is named, or the last one until the end of a day (UTC) of the line that leads to HEAD.

    That line goes by first parents: what was merged counts from the day of the merge. Raises NoStateError.
    """
    try:
        repository = Repository.around(root)
        if repository is None:
            raise NoStateError("at_no_git", root=str(root), day="DATE" if isinstance(at, str) else at.isoformat())
        found = _named(repository, at) if isinstance(at, str) else _until(repository, at)
    except GitError as error:
        raise NoStateError("at_git", reason=str(error)) from error
    return AsOf(replace(repository, head=found[0]), *found)


def _named(repository: Repository, name: str) -> tuple[str, date]:
    commit = repository.named(name)
    if commit is None:
        raise NoStateError("at_shallow" if repository.is_shallow else "at_no_commit", at=name)
    return commit, replace(repository, head=commit).newest()


def _until(repository: Repository, day: date) -> tuple[str, date]:
    line = repository.line()
    found = next(((commit, on) for commit, on in line if on <= day), None)
    if found is None:
        if repository.is_shallow:
            raise NoStateError("at_shallow", at=day.isoformat())
        raise NoStateError("at_before", at=day.isoformat(), first=line[-1][1].isoformat())
    return found


def written(state: AsOf, into: Path, *, beside: Path | None = None) -> None:
    """Write the catalogue as it lay there into the folder `into`, which is made. Raises NoStateError, OSError.

    beside: the catalogue in a work tree; a large file there that holds the same bytes is linked, so that nobody may write into `into`.
    """
    try:
        entries = [each for each in state.repository.entries(MOST_FILES) if _is_plain(each.path)]
        if not entries:
            folder = state.repository.prefix.rstrip("/")
            raise NoStateError("at_no_catalogue", commit=state.short, day=state.day.isoformat(), folder=folder or ".")
        into.mkdir()
        _write(state.repository, [each for each in entries if not (beside and _may_be_linked(each) and linked(each, beside, into))], into)
    except GitError as error:
        raise NoStateError("at_git", reason=str(error)) from error


def _may_be_linked(entry: Entry) -> bool:
    return entry.mode not in (_LINK, _SUBMODULE) and entry.size <= _LARGEST_BYTES


def _is_plain(path: str) -> bool:
    """Whether it stays below the folder on every system, and makes no repository of it."""
    return not any(step in ("", ".", "..") or step.casefold() == ".git" or "\\" in step or ":" in step for step in path.split("/"))


def _write(repository: Repository, entries: Iterable[Entry], into: Path) -> None:
    """Links come last, so that nothing is written through one."""
    files = [each for each in entries if each.mode not in (_LINK, _SUBMODULE)]
    for each in files:
        if each.size > _LARGEST_BYTES:
            _put(into / each.path, each.size, b"")
    for some in _in_turns([each for each in files if each.size <= _LARGEST_BYTES]):
        paths: defaultdict[str, list[str]] = defaultdict(list)
        for each in some:
            paths[each.blob].append(each.path)
        for blob, raw in repository.contents(paths):
            for path in paths[blob]:
                _put(into / path, len(raw), raw)
    links = {each.path: each.blob for each in entries if each.mode == _LINK and each.size <= _LARGEST_BYTES}
    targets = dict(repository.contents(links.values())) if links else {}
    for path, blob in links.items():
        steps = (into / path).relative_to(into).parents
        if not any((into / step).is_symlink() for step in steps):
            _link(into / path, targets[blob])


def _in_turns(files: Iterable[Entry]) -> Iterable[list[Entry]]:
    """So many at a time as memory easily holds."""
    some: list[Entry] = []
    room = _MOST_AT_ONCE_BYTES
    for each in files:
        if some and each.size > room:
            yield some
            some, room = [], _MOST_AT_ONCE_BYTES
        some.append(each)
        room -= each.size
    if some:
        yield some


def _put(path: Path, size: int, raw: bytes) -> None:
    """A file of that size. Of two names that are one on this system, or of a file and a folder of one name, the first stands."""
    with suppress(FileExistsError, NotADirectoryError):
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("xb") as stream:
            stream.write(raw)
            stream.truncate(size)


def _link(path: Path, target: bytes) -> None:
    """The link as it was: where it leads is judged by who reads (reading/disk.py). What cannot be one is left out."""
    with suppress(OSError, ValueError):
        path.parent.mkdir(parents=True, exist_ok=True)
        path.symlink_to(os.fsdecode(target))
