"""Every committed version of each approval.yml and record of production that HEAD knows, asked of git itself."""

import os
import subprocess
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from pathlib import Path

_PATIENCE_S = 120
# What a repository's own settings, or the shell around, could turn round.
_SETTINGS = (
    "--no-pager", "--no-replace-objects", "--literal-pathspecs", "-c", "log.showSignature=false", "-c", "log.showRoot=true",
    "-c", "core.quotePath=false",
)  # fmt: skip
_NOTHING = "0" * 40

PRODUCED = ("materials/lots", "machines", "batches", "recalls", "fitted")
"""Folders of the records of production."""
# What it does not have is not fetched: where from, and by which program, is the repository's own word.
_ENVIRONMENT = {"LC_ALL": "C", "GIT_OPTIONAL_LOCKS": "0", "GIT_NO_LAZY_FETCH": "1", "GIT_ALLOW_PROTOCOL": ""}


class GitError(Exception):
    """Git is not there, or does not answer; says why."""


@dataclass(frozen=True, slots=True)
class Version:
    """A state of a record as one commit holds it."""

    commit: str
    day: date
    folder: str
    """The part's folder in the catalogue, as it was called then; of a record of production its file."""
    blob: str


@dataclass(frozen=True, slots=True)
class Entry:
    """A file of the catalogue as one commit holds it."""

    mode: str
    """As git writes it: 100644 a file, 120000 a link, 160000 a repository in this one."""
    blob: str
    size: int
    path: str
    """In the catalogue."""


@dataclass(frozen=True, slots=True)
class Changed:
    """A commit of the line of first parents, and what it changed against the first of them."""

    commit: str
    day: date
    """The committer's, in UTC."""
    is_first: bool
    """Whether it has no parent: in a shallow copy its parents may only be missing."""
    files: tuple[tuple[str, str, str], ...]
    """Blob before, blob after (empty where there is none), path in the catalogue."""


@dataclass(slots=True)
class Log:
    """What git tells of the records, newest first."""

    versions: list[Version] = field(default_factory=list)
    forks: dict[str, list[tuple[str, ...]]] = field(default_factory=dict)
    """By folder: the blobs of a record that a merge brought together from its parents."""
    left: dict[tuple[str, str], date] = field(default_factory=dict)
    """By folder and blob: the newest day on which a commit made something else of it."""


@dataclass(frozen=True, slots=True)
class Repository:
    """The catalogue's place in a git work tree."""

    root: Path
    head: str
    prefix: str
    is_shallow: bool

    @classmethod
    def around(cls, root: Path) -> "Repository | None":
        """The repository that the catalogue lies in; None where it lies in none, or none with a commit. Raises GitError."""
        place = root.resolve()
        if not any(os.path.lexists(each / ".git") for each in (place, *place.parents)):
            return None
        # rev-parse works in a folder that git ignores too: then no record is committed, and it is as without git.
        told = _asked(root, "rev-parse", "--is-inside-work-tree", "--is-shallow-repository", "--show-prefix").splitlines()
        if told[:1] != ["true"]:
            return None
        try:
            head = _asked(root, "rev-parse", "--verify", "--quiet", "HEAD^{commit}").strip()
        except GitError:
            return None  # nothing is committed yet
        return cls(root, head, told[2] if len(told) > 2 else "", told[1] == "true")

    def newest(self) -> date:
        """The day of the commit that HEAD names. Raises GitError."""
        return _day(_asked(self.root, "log", "-1", "--format=%ct", self.head))

    def named(self, name: str) -> str | None:
        """The whole name of the commit that is called so, by its beginning, a branch or a tag; None where there is none."""
        try:
            return _asked(self.root, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{name}^{{commit}}").strip() or None
        except GitError:
            return None

    def branches(self) -> list[str]:
        """The whole names of its branches. Raises GitError."""
        return _asked(self.root, "for-each-ref", "--format=%(refname)", "refs/heads").split()

    def staged(self) -> str:
        """The tree that a commit would hold now, by the index that git names to its hooks; the name of that tree. Raises GitError."""
        around, index = {}, os.environ.get("GIT_INDEX_FILE")
        if index:  # git says it from the top of the work tree
            around["GIT_INDEX_FILE"] = str(Path(_asked(self.root, "rev-parse", "--show-toplevel").rstrip("\n")) / index)
        return _asked_raw(self.root, ("write-tree",), around=around).decode().strip()

    def differing(self, tree: str) -> list[str]:
        """The files of the catalogue that differ between a tree and the commit that HEAD names. Raises GitError."""
        raw = _asked(self.root, "diff-tree", "-r", "-z", "--name-only", "--no-renames", self.head, tree, "--", ".")
        return [path.removeprefix(self.prefix) for path in raw.split("\0") if path and path.startswith(self.prefix)]

    def line(self) -> list[tuple[str, date]]:
        """The commits that lead to HEAD by first parents, newest first, each with its day. Raises GitError."""
        told = _asked(self.root, "rev-list", "--first-parent", "--timestamp", self.head).splitlines()
        pairs = (each.split() for each in told)
        return [(commit, _day(second)) for second, commit in pairs]

    def entries(self, most: int) -> list[Entry]:
        """What lies in the catalogue's folder in the commit that HEAD names. Raises GitError, of more than `most` files too."""
        where = (self.prefix,) if self.prefix else ()
        raw = _asked(self.root, "ls-tree", "-r", "-z", "--long", "--full-tree", self.head, "--", *where)
        found = []
        for line in filter(None, raw.split("\0")):
            head, _, path = line.partition("\t")
            mode, _, blob, size = head.split()
            if path.startswith(self.prefix):
                found.append(Entry(mode, blob, int(size) if size.isdigit() else 0, path.removeprefix(self.prefix)))
        if len(found) > most:
            raise GitError(f"it holds more than {most} files")
        return found

    def blob(self, commit: str, file: str) -> str | None:
        """The blob of a file of the catalogue in a commit; None where it has none."""
        try:
            name = f"{commit}:{self.prefix}{file}"
            return _asked(self.root, "rev-parse", "--verify", "--quiet", "--end-of-options", name).strip() or None
        except GitError:
            return None

    def log(self, since: date | None, *, beside: tuple[str, ...] = ()) -> Log:
        """Every version of every record that HEAD reaches, of commits after the day `since`; beside: of these files too. Raises GitError."""
        form = "--format=%x02%H %ct %P"
        raw = _asked(
            self.root, "log", "-z", "--raw", "--no-abbrev", "--no-renames", "--no-ext-diff", "--full-history",
            "-m", form, self.head, "--", "parts", *PRODUCED, *beside,
        )  # fmt: skip
        return _parsed(raw, self.prefix, since, beside)

    def changes(self, paths: Iterable[str], most: int) -> list[Changed]:
        """The newest commits that changed something below these paths of the catalogue, newest first. Raises GitError."""
        raw = _asked(
            self.root, "log", "-z", "--raw", "--no-abbrev", "--no-renames", "--no-ext-diff", "--first-parent", "--diff-merges=first-parent",
            f"--max-count={most}", "--format=%x02%H %ct %P", self.head, "--", *paths,
        )  # fmt: skip
        return list(_changes(raw, self.prefix))

    def sizes(self, blobs: Iterable[str]) -> dict[str, int]:
        """The bytes of each blob that is here; what a partial copy lacks is left out. Raises GitError."""
        wanted = list(dict.fromkeys(blobs))
        told = _asked_raw(self.root, ("cat-file", "--batch-check"), "".join(f"{blob}\n" for blob in wanted).encode()) if wanted else b""
        lines = (line.split() for line in told.decode("ascii", "replace").splitlines())
        return {words[0]: int(words[2]) for words in lines if len(words) == 3 and words[1] == "blob"}

    def contents(self, blobs: Iterable[str]) -> Iterator[tuple[str, bytes]]:
        """The bytes of each blob. Raises GitError."""
        wanted = list(dict.fromkeys(blobs))
        raw = _asked_raw(self.root, ("cat-file", "--batch"), "".join(f"{blob}\n" for blob in wanted).encode())
        at = 0
        for blob in wanted:
            end = raw.index(b"\n", at)
            words = raw[at:end].split()
            if len(words) != 3:
                raise GitError(f"{blob} is missing")
            at = end + 1 + int(words[2]) + 1
            yield blob, raw[end + 1 : at - 1]


def _parsed(raw: str, place: str, since: date | None, beside: Iterable[str] = ()) -> Log:
    """The answer of `git log -z --raw -m`: a header a commit, once for each parent of a merge, and what differs from it."""
    found = Log()
    merged: defaultdict[tuple[str, str], list[str]] = defaultdict(list)
    tokens = iter(raw.split("\0"))
    commit, day, parents = "", date.min, 0
    for token in tokens:
        text = token.lstrip("\n")
        if text.startswith("\x02"):
            head, _, text = text[1:].partition("\n")
            commit, second, *ancestors = head.split()
            day, parents = _day(second), len(ancestors)
            text = text.lstrip("\n")
        if not text.startswith(":"):
            continue
        _, _, old, new, _ = text[1:].split()
        path = next(tokens)
        inside = path.removeprefix(place)
        name = (inside if inside in beside else _record(inside)) if path.startswith(place) else None
        if name is None or (since and day <= since):
            continue
        if old != _NOTHING:
            found.left[name, old] = max(day, found.left.get((name, old), day))
        if new != _NOTHING:
            found.versions.append(Version(commit, day, name, new))
        if parents > 1:
            merged[commit, name] += [old, new]
    for (_, folder), blobs in merged.items():
        # Of a parent that the merge took over there is no line: its state is the merge's own.
        states = blobs[::2] if len(blobs) // 2 > 1 else blobs
        if len(apart := tuple(dict.fromkeys(blob for blob in states if blob != _NOTHING))) > 1:
            found.forks.setdefault(folder, []).append(apart)
    return found


def _changes(raw: str, place: str) -> Iterator[Changed]:
    """The answer of `git log -z --raw --first-parent`: a header a commit, and what differs from its first parent."""
    head: tuple[str, date, bool] | None = None
    files: list[tuple[str, str, str]] = []
    tokens = iter(raw.split("\0"))
    for token in tokens:
        text = token.lstrip("\n")
        if text.startswith("\x02"):
            if head:
                yield Changed(*head, tuple(files))
            line, _, text = text[1:].partition("\n")
            commit, second, *parents = line.split()
            head, files, text = (commit, _day(second), not parents), [], text.lstrip("\n")
        if text.startswith(":"):
            _, _, old, new, _ = text[1:].split()
            path = next(tokens)
            if path.startswith(place):
                files.append((old.strip("0") and old, new.strip("0") and new, path.removeprefix(place)))
    if head:
        yield Changed(*head, tuple(files))


def _record(path: str) -> str | None:
    """What a record is remembered by: the folder of an approval.yml, or the file of a record of production."""
    folder, _, file = path.rpartition("/")
    if file == "approval.yml" and folder.startswith("parts/") and folder.count("/") == 1:
        return folder
    return path if folder in PRODUCED and file.endswith(".csv" if folder == "fitted" else ".yml") else None


def _day(second: str) -> date:
    """That day in UTC; of a clock that no calendar follows, the last or the first."""
    try:
        return datetime.fromtimestamp(int(second), UTC).date()
    except (OverflowError, OSError, ValueError):
        return date.min if second.startswith("-") else date.max


def _asked(root: Path, *words: str) -> str:
    return _asked_raw(root, words).decode("utf-8", "surrogateescape")


def _asked_raw(root: Path, words: tuple[str, ...], given: bytes = b"", around: Mapping[str, str] | None = None) -> bytes:
    """around: what the program is told besides by its surroundings."""
    usual = {name: value for name, value in os.environ.items() if not name.startswith("GIT_") or name.startswith("GIT_CONFIG")}
    try:
        ran = subprocess.run(
            ["git", *_SETTINGS, *words], cwd=root, input=given, capture_output=True, check=False, timeout=_PATIENCE_S,
            env=usual | _ENVIRONMENT | dict(around or {}),
        )  # fmt: skip
    except FileNotFoundError as error:
        raise GitError("there is no git on this machine") from error
    except (OSError, subprocess.SubprocessError) as error:
        raise GitError(type(error).__name__) from error
    if ran.returncode:
        said = ran.stderr.decode("utf-8", "replace").strip().splitlines()
        raise GitError((said or ["it ended with an error"])[0][:200])
    return ran.stdout
