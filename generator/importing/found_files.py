"""The folder with models and papers that belong to a list: what lies in it, by name; nothing outside of it is ever read."""

import os
from collections import defaultdict
from dataclasses import dataclass, field
from pathlib import Path

from generator.importing.cells import CellError
from generator.importing.headings import as_compared
from generator.reading.disk import LARGEST_DOCUMENT_BYTES, LITTER
from generator.reading.meshes.endings import MESH_ENDINGS
from generator.records.problems import wrong

PICTURES = ("jpg", "jpeg", "png", "webp")
_MOST_FILES = 50_000
# Room for the folders around it in the 260 letters that some systems allow.
LONGEST_NAME = 100
_UNFIT = frozenset('<>:"|?*\\')
_SYSTEM = frozenset({"desktop.ini", "thumbs.db"})


@dataclass(frozen=True, slots=True)
class FoundFiles:
    """Files below the folder by their path in it, with forward slashes; without a folder there are none."""

    root: Path | None = None
    names: tuple[str, ...] = ()
    outside: tuple[str, ...] = ()
    """Links that lead out of the folder; they are not followed."""
    _stems: dict[str, list[str]] = field(default_factory=dict)
    _called: dict[str, list[str]] = field(default_factory=dict)

    def with_stem(self, text: str) -> list[str]:
        """Files whose name without its ending is this text, with no regard to letters' case."""
        return self._stems.get(as_compared(text), [])

    def named(self, text: str) -> str:
        """The one file of this name or path. Raises CellError where there is none or several, or the path leads out."""
        wanted = text.replace("\\", "/")
        if wanted.startswith(("/", "~")) or ":" in wanted or ".." in wanted.split("/"):
            raise CellError(wrong("LIST09", "leads out", file=text))
        if self.root is None:
            raise CellError(wrong("LIST09", "no folder", file=text))
        key = as_compared(wanted.removeprefix("./"))
        exact = [name for name in self.names if as_compared(name) == key]
        found = exact or self._called.get(key, [])
        if not found:
            outside = any(as_compared(name).endswith(key) for name in self.outside)
            raise CellError(wrong("LIST09", "link leads out" if outside else "not there", file=text))
        if len(found) > 1:
            raise CellError(wrong("LIST09", "several", file=text, found=found[:5]))
        return found[0]

    def path(self, name: str) -> Path:
        return (self.root or Path()) / name


def ending(name: str) -> str:
    return name.rpartition(".")[2].lower()


def is_mesh(name: str) -> bool:
    return ending(name) in MESH_ENDINGS


def unfit_name(name: str) -> bool:
    """Whether a file of that name could not be kept on every system."""
    last = name.rpartition("/")[2]
    return len(last) > LONGEST_NAME or not last.isprintable() or bool(_UNFIT & set(last)) or last[-1] in ". "


def content_of(file: Path) -> bytes:
    """The bytes of a file that may become a document. Raises CellError."""
    try:
        size = file.stat().st_size
        if size > LARGEST_DOCUMENT_BYTES:
            raise CellError(wrong("LIST09", "too large", file=file.name, megabytes=round(size / 1e6)))
        content = file.read_bytes()
    except OSError as error:
        raise CellError(wrong("LIST09", "unreadable", file=file.name, reason=(error.strerror or "").lower())) from error
    if not content.strip():
        raise CellError(wrong("LIST09", "empty", file=file.name))
    return content


def found_files(folder: Path | None) -> FoundFiles:
    """What lies below the folder, without hidden files; links are taken only where they stay inside. Raises OSError."""
    if folder is None:
        return FoundFiles()
    root = folder.resolve(strict=True)
    names: list[str] = []
    outside: list[str] = []
    for here, folders, files in os.walk(root):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in sorted(files):
            path = (Path(here) / name).relative_to(root).as_posix()
            if name.startswith(".") or name in LITTER or name.lower() in _SYSTEM:
                continue
            (names if _is_inside(Path(here) / name, root) else outside).append(path)
            if len(names) > _MOST_FILES:
                raise OSError(f"more than {_MOST_FILES} files lie in {folder}")
    stems, called = defaultdict(list), defaultdict(list)
    for path in names:
        last = path.rpartition("/")[2]
        stems[as_compared(last.rpartition(".")[0] or last)].append(path)
        called[as_compared(last)].append(path)
    return FoundFiles(root, tuple(names), tuple(outside), dict(stems), dict(called))


def _is_inside(file: Path, root: Path) -> bool:
    try:
        return root in file.resolve(strict=True).parents and file.is_file()
    except (OSError, RuntimeError):
        return False
