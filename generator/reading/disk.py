"""What lies in the catalogue's folders: files are listed, hashed and opened only inside the catalogue."""

import hashlib
import math
import os
import re
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeVar

from generator.reading.kinds import kind_of, shown_text
from generator.reading.yaml_places import YamlFile, read_yaml
from generator.records.catalogue import FileKind, KeptFile
from generator.records.file_names import LONGEST_PATH, twins, unfit
from generator.records.problems import Problem, Where, doubt, wrong

# Larger evidence makes the catalogue too heavy for a tablet; scans belong in a few hundred kB.
LARGEST_DOCUMENT_BYTES = 30_000_000
# Records and fitting notes are typed by people.
LARGEST_TEXT_BYTES = 2_000_000
# A year of what was fitted: some 160,000 lines.
LARGEST_LINES_BYTES = 16_000_000


UNFINISHED = re.compile(r"\._|\.new-[0-9]+-")  # the second: a command of spares that writes, or was killed then
# What file managers and git leave in a folder.
LITTER = frozenset({".DS_Store", ".directory", ".gitkeep", ".gitignore", ".gitattributes"})

# The same without a dot: pictures, settings and icons of folders, and marks of documents that are open in an office program.
_LITTER_SEEN = re.compile(r"thumbs\.db|ehthumbs\.db|desktop\.ini|icon\r|~\$.*", re.IGNORECASE)

R = TypeVar("R")


def megabytes(size_bytes: int) -> float:
    """As people are told it: up to the next tenth, so that what is above a limit never reads as the limit itself."""
    return math.ceil(size_bytes / 1e5) / 10


@dataclass(slots=True)
class Disk:
    """The catalogue's folder, read only, with the problems met on the way."""

    root: Path
    problems: list[Problem] = field(default_factory=list)
    real_root: Path = field(init=False, repr=False)
    _real_folders: dict[Path, Path] = field(default_factory=dict, init=False, repr=False)

    def __post_init__(self) -> None:
        self.real_root = self.root.resolve()

    def add(self, file: str, problem: Problem) -> None:
        self.problems.append(problem.at(Where(file)))

    def taken(self) -> list[Problem]:
        """The problems met since the last call."""
        met, self.problems = self.problems, []
        return met

    def names(self, folder: str) -> list[str]:
        """Sorted names in a folder without hidden ones; none when it does not exist or leads outside."""
        path = self.root / folder
        try:
            if not path.is_dir() or not self._stays_inside(folder):
                return []
            found = sorted(
                entry.name
                for entry in path.iterdir()
                if not entry.name.startswith(".") and not _LITTER_SEEN.fullmatch(entry.name)
            )
        except OSError as error:
            self.add(folder, wrong("DISK01", "unlisted", reason=_reason(error)))
            return []
        self._add_unfit(folder, found)
        return [name for name in found if self._is_legible(folder, name)]

    def _add_unfit(self, folder: str, names: list[str]) -> None:
        """Names that another system cannot hold, or takes for one: a depot must be the same wherever it is copied to."""
        for name in filter(str.isprintable, names):
            path = name if folder == "." else f"{folder}/{name}"
            if found := unfit(name):
                why, sign = found
                self.add(path, wrong("DISK07", why, "rename", sign=sign))
            elif len(path) > LONGEST_PATH:
                self.add(path, doubt("DISK07", "long", "shorten", length=len(path), most=LONGEST_PATH))
        for first, *others in twins(filter(str.isprintable, names)):
            for name in others:
                self.add(f"{folder}/{name}", wrong("DISK07", "twin", "rename", first=first))

    def _is_legible(self, folder: str, name: str) -> bool:
        """Whether a name can be written into a page: no control, unseen turn of direction or broken letter."""
        if all(letter.isprintable() or letter in "\u200c\u200d" for letter in name):
            return True
        seen = "".join(letter if letter.isprintable() else "�" for letter in name)
        self.add(f"{folder}/{seen}", wrong("DISK05", "unprintable name"))
        return False

    def hidden(self, folder: str) -> list[str]:
        """Sorted names in a folder that begin with a dot, without what systems leave there by themselves."""
        path = self.root / folder
        try:
            if not path.is_dir() or not self._is_inside(folder):
                return []
            names = sorted(entry.name for entry in path.iterdir() if entry.name.startswith("."))
        except OSError:  # it is told where the folder is listed
            return []
        seen = ("".join(letter if letter.isprintable() else "�" for letter in name) for name in names)
        return [name for name in seen if name not in LITTER and not UNFINISHED.match(name)]

    def is_there(self, name: str) -> bool:
        """Whether anything lies there, be it a link that leads nowhere."""
        return os.path.lexists(self.root / name)

    def is_folder(self, name: str) -> bool:
        try:
            return (self.root / name).is_dir() and self._stays_inside(name)
        except OSError:  # it is told where the folder around it is listed
            return False

    def raw(self, file: str) -> bytes | None:
        """The bytes of a file, or None with a problem."""
        return self._read(file, Path.read_bytes, LARGEST_TEXT_BYTES, "below 2 MB")

    def lines(self, file: str) -> bytes | None:
        """The bytes of a file of lines, which commands write and which may be larger, or None with a problem."""
        return self._read(file, Path.read_bytes, LARGEST_LINES_BYTES, "below 16 MB")

    def yaml(self, file: str) -> YamlFile:
        """A YAML file; a missing or unreadable one is a problem of the result."""
        before = len(self.problems)
        raw = self.raw(file)
        if raw is not None:
            return read_yaml(file, raw)
        found = YamlFile(file)
        found.problems, self.problems = self.problems[before:], self.problems[:before]
        return found

    def kept(self, file: str) -> KeptFile | None:
        """A file's size and SHA-256, or None with a problem."""

        def hashed(path: Path) -> KeptFile:
            size = path.stat().st_size
            with path.open("rb") as stream:
                digest = hashlib.file_digest(stream, "sha256").hexdigest()
            kind = kind_of(path)
            text = shown_text(path) if kind is FileKind.TEXT else None
            return KeptFile(path=file, size_bytes=size, sha256=digest, kind=kind, text=text)

        return self._read(file, hashed, LARGEST_DOCUMENT_BYTES * 3, "below 90 MB")

    def letter(self, file: str) -> bytes | None:
        """The bytes of a document, or None with a problem."""
        return self._read(file, Path.read_bytes, LARGEST_DOCUMENT_BYTES * 3, "below 90 MB")

    def _read(self, file: str, take: Callable[[Path], R], largest_bytes: int, mend: str) -> R | None:
        """What `take` makes of a plain file inside the catalogue that is not too large, or None with a problem."""
        if not self._stays_inside(file):
            return None
        path = self.root / file
        try:
            if path.exists() and not path.is_file():
                self.add(file, wrong("DISK06", "no plain file"))
                return None
            size = path.stat().st_size
            if size > largest_bytes:
                self.add(file, wrong("DISK03", "too large", mend, megabytes=megabytes(size)))
                return None
            return take(path)
        except OSError as error:
            self.add(file, wrong("DISK02", "unreadable", reason=_reason(error)))
            return None

    def _stays_inside(self, file: str) -> bool:
        """Whether every step to the file stays in the catalogue; a link that leads out is never followed."""
        if self._is_inside(file):
            return True
        self.add(file, wrong("DISK04", "leads out"))
        return False

    def _is_inside(self, file: str) -> bool:
        root = self.real_root
        try:
            target = self._real(self.root / file)
        except (OSError, RuntimeError):
            return False
        return target == root or root in target.parents

    def _real(self, path: Path) -> Path:
        """Where a path really leads; of a folder it is asked once."""
        if path.name in ("", "..") or path.is_symlink():
            return path.resolve()
        if path.parent not in self._real_folders:
            self._real_folders[path.parent] = path.parent.resolve()
        return self._real_folders[path.parent] / path.name


def _reason(error: OSError) -> str:
    return (error.strerror or type(error).__name__).lower()
