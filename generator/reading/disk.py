"""What lies in the catalogue's folders: files are listed, hashed and opened only inside the catalogue."""

import hashlib
import math
import os
import re
import stat
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeVar

from generator.reading.kinds import is_acting_pdf, is_called_pdf, kind_told, pdf_fault_told, text_told
from generator.reading.pictures import KeptFiles
from generator.reading.plain_files import NotPlainError, opened_plain
from generator.reading.yaml_places import YamlFile, read_yaml
from generator.records.catalogue import Fault, FileKind, KeptFile
from generator.records.file_names import LONGEST_PATH, twins, unfit
from generator.records.problems import Problem, Where, doubt, wrong

# Larger evidence makes the catalogue too heavy for a tablet; scans belong in a few hundred kB.
LARGEST_DOCUMENT_BYTES = 30_000_000
# Records and fitting notes are typed by people.
LARGEST_TEXT_BYTES = 2_000_000
# What is read whole to be hashed; of larger files a piece after the other.
LARGEST_AT_ONCE = 4_000_000
_PIECE = 1 << 20
# A year of what was fitted: some 160,000 lines.
LARGEST_LINES_BYTES = 16_000_000


UNFINISHED = re.compile(r"\._|\.new-[0-9]+-")  # the second: a command of spares that writes, or was killed then
# What file managers and git leave in a folder.
LITTER = frozenset({".DS_Store", ".directory", ".gitkeep", ".gitignore", ".gitattributes"})

# The same without a dot: pictures, settings and icons of folders, and marks of documents that are open in an office program.
_LITTER_SEEN = re.compile(r"thumbs\.db|ehthumbs\.db|desktop\.ini|icon\r|~\$.*", re.IGNORECASE)

R = TypeVar("R")


def is_ours(name: str) -> bool:
    """Whether somebody put a file there, and not a system or a command of ours that writes at this moment."""
    return name not in LITTER and not UNFINISHED.match(name)


def legible(path: str) -> str:
    """As it can be shown, with a sign in place of each that cannot."""
    return "".join(letter if letter.isprintable() else "\ufffd" for letter in path)


def megabytes(size_bytes: int) -> float:
    """As people are told it: up to the next tenth, so that what is above a limit never reads as the limit itself."""
    return math.ceil(size_bytes / 1e5) / 10


@dataclass(slots=True)
class Disk:
    """The catalogue's folder, read only, with the problems met on the way.

    Inside it paths are texts: a catalogue has tens of thousands of them, and objects of paths would cost more than their files.
    """

    root: Path
    problems: list[Problem] = field(default_factory=list)
    known: KeptFiles | None = None
    """Where it is known which pictures can be shown."""
    real_root: Path = field(init=False, repr=False)
    _root: str = field(init=False, repr=False)
    _real_inside: str = field(init=False, repr=False)
    _real_folders: dict[str, str] = field(default_factory=dict, init=False, repr=False)

    def __post_init__(self) -> None:
        self.real_root = self.root.resolve()
        self._root = os.path.join(self.root, "")
        self._real_folders[os.path.dirname(self._root)] = str(self.real_root)
        self._real_inside = os.path.join(os.path.normcase(self.real_root), "")

    def path(self, name: str) -> str:
        """Where a file or folder of the catalogue is, for the system."""
        return os.path.join(self._root, name)

    def add(self, file: str, problem: Problem) -> None:
        self.problems.append(problem.at(Where(file)))

    def taken(self) -> list[Problem]:
        """The problems met since the last call."""
        met, self.problems = self.problems, []
        return met

    def names(self, folder: str) -> list[str]:
        """Sorted names in a folder without hidden ones; none when it does not exist or leads outside."""
        path = self.path(folder)
        try:
            if not _is_folder(path) or not self._stays_inside(folder):
                return []
            found = sorted(name for name in os.listdir(path) if not name.startswith(".") and not _LITTER_SEEN.fullmatch(name))
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
        if name.isprintable() or all(letter.isprintable() or letter in "\u200c\u200d" for letter in name):
            return True
        seen = legible(name)
        self.add(f"{folder}/{seen}", wrong("DISK05", "unprintable name"))
        return False

    def hidden(self, folder: str) -> list[str]:
        """Sorted names in a folder that begin with a dot, without what systems leave there by themselves."""
        path = self.path(folder)
        try:
            if not _is_folder(path) or not self._is_inside(folder):
                return []
            names = sorted(name for name in os.listdir(path) if name.startswith("."))
        except OSError:  # it is told where the folder is listed
            return []
        return list(filter(is_ours, map(legible, names)))

    def is_there(self, name: str) -> bool:
        """Whether anything lies there, be it a link that leads nowhere."""
        return os.path.lexists(self.path(name))

    def is_folder(self, name: str) -> bool:
        try:
            return _is_folder(self.path(name)) and self._stays_inside(name)
        except OSError:  # it is told where the folder around it is listed
            return False

    def raw(self, file: str) -> bytes | None:
        """The bytes of a file, or None with a problem."""
        return self._read(file, _content, LARGEST_TEXT_BYTES, "below 2 MB")

    def lines(self, file: str) -> bytes | None:
        """The bytes of a file of lines, which commands write and which may be larger, or None with a problem."""
        return self._read(file, _content, LARGEST_LINES_BYTES, "below 16 MB")

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

        def hashed(path: str, size: int) -> KeptFile:
            if size > LARGEST_AT_ONCE and not is_called_pdf(path):  # a PDF is looked through to its end
                with opened_plain(path) as stream:
                    digest, content = hashlib.file_digest(stream, "sha256").hexdigest(), None
            else:
                content = _content(path, size)
                digest = hashlib.sha256(content).hexdigest()
            kind, fault = kind_told(path, content, digest, self.known), pdf_fault_told(path, content)
            if fault in (Fault.LOCKED, Fault.SEALED):
                self.add(file, doubt("DISK09", "locked" if fault is Fault.LOCKED else "sealed"))
            elif kind is FileKind.OTHER and is_acting_pdf(path, content):
                self.add(file, doubt("DISK09", "acts"))
                fault = fault or Fault.ACTS
            text = text_told(content) if kind is FileKind.TEXT and content is not None else None
            return KeptFile(path=file, size_bytes=size, sha256=digest, kind=kind, text=text, fault=fault)

        return self._read(file, hashed, LARGEST_DOCUMENT_BYTES * 3, "below 90 MB")

    def letter(self, file: str) -> bytes | None:
        """The bytes of a document, or None with a problem."""
        return self._read(file, _content, LARGEST_DOCUMENT_BYTES * 3, "below 90 MB")

    def summed(self, file: str) -> KeptFile | None:
        """Size and SHA-256 of a plain file of any size, a piece in memory after the other; None of what is gone, is none, grows meanwhile or leads out.

        Whoever put a pipe in its place keeps nobody waiting. What is wrong was told when the file was read.
        """
        if not self._is_inside(file):
            return None
        try:
            with opened_plain(self.path(file)) as stream:
                found = os.fstat(stream.fileno())
                digest, left, piece = hashlib.sha256(), found.st_size + 1, bytearray(_PIECE)
                while left > 0 and (count := stream.readinto(piece)):
                    digest.update(memoryview(piece)[:count])
                    left -= count
        except OSError:
            return None
        return KeptFile(path=file, size_bytes=found.st_size, sha256=digest.hexdigest()) if left == 1 else None

    def _read(self, file: str, take: Callable[[str, int], R], largest_bytes: int, mend: str) -> R | None:
        """What `take` makes of a plain file inside the catalogue that is not too large, or None with a problem. It opens it by `opened_plain`."""
        if not self._stays_inside(file):
            return None
        path = self.path(file)
        try:
            found = os.stat(path)
            if not stat.S_ISREG(found.st_mode):
                self.add(file, wrong("DISK06", "no plain file"))
                return None
            if found.st_size > largest_bytes:
                self.add(file, wrong("DISK03", "too large", mend, megabytes=megabytes(found.st_size)))
                return None
            return take(path, found.st_size)
        except NotPlainError:  # it was one a moment ago
            self.add(file, wrong("DISK06", "no plain file"))
            return None
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
        try:
            target = self._real(self.path(file))
        except (OSError, RuntimeError):
            return False
        return os.path.join(os.path.normcase(target), "").startswith(self._real_inside)

    def _real(self, path: str) -> str:
        """Where a path really leads; of a folder it is asked once."""
        folder, name = os.path.split(path)
        if name in ("", ".", "..") or os.path.islink(path):
            return str(Path(path).resolve())
        if folder not in self._real_folders:
            self._real_folders[folder] = self._real(folder)
        return os.path.join(self._real_folders[folder], name)


def _content(path: str, _: int) -> bytes:
    with opened_plain(path) as stream:
        return stream.read()


def _is_folder(path: str) -> bool:
    """Raises OSError where it cannot be told."""
    try:
        return stat.S_ISDIR(os.stat(path).st_mode)
    except (OSError, ValueError):
        return Path(path).is_dir()  # which knows what of this only says that there is nothing


def _reason(error: OSError) -> str:
    return (error.strerror or type(error).__name__).lower()
