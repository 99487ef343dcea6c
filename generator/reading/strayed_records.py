"""Which files may be records of what was printed or fitted, and are not read where they lie or by their name?

What such a file tells is missing everywhere: a batch that nobody has released, a block, a recall. So each is an error, and the
parts that it may speak of ask. A paper or picture is none, be its name what it may, nor is a text that neither says what a record
says nor is named like one.
"""

import os
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final, Literal

from generator.reading.disk import Disk, is_ours, legible
from generator.reading.lying_files import all_below, beginning, files_below, is_paper, keys_of_record, says
from generator.reading.yaml_places import YamlFile, read_yaml
from generator.records.fitted import COLUMNS
from generator.records.problems import Problem, wrong

Kind = Literal["recall", "batch", "lot", "machine", "lines"]
FOLDERS: Final[dict[str, Kind]] = {"batches": "batch", "materials/lots": "lot", "machines": "machine", "fitted": "lines", "recalls": "recall"}
PAPERS_OF_RECALLS: Final = "recalls/documents"
"""What was written about a recall, such as a supplier's letter."""
# Folders of other records: whatever a record of prints says, it is none there.
_OTHERS: Final = ("materials", "machines", "requests", "queries", "standards", "parts")
_KEYS: Final[dict[Kind, tuple[str, ...]]] = {
    "batch": ("part", "printed_as", "machine"), "lot": ("material", "supplier_lot"), "machine": ("name", "maker", "qualifications"),
}  # fmt: skip
_SAYS: Final = {kind: keys_of_record(*keys) for kind, keys in _KEYS.items()}
_CALLS_BACK: Final = re.compile(rb"\bwhat[\"']?[ \t]*:[ \t]*[\"']?called back\b")
_HEAD: Final = re.compile(r"[,;\t]".join(COLUMNS[:4]).encode())
_LETTERS: Final[dict[Kind, str]] = {"recall": "RC", "batch": "B", "lot": "L"}
_NUMBERED: Final = {kind: re.compile(rf"(?<![A-Za-z0-9]){letters}-[0-9]{{1,8}}(?![0-9])", re.IGNORECASE) for kind, letters in _LETTERS.items()}
_YAML: Final = re.compile(r"\.ya?ml(?![a-z0-9])", re.IGNORECASE)
_LINES: Final = re.compile(r"\.csv(?![a-z0-9])|(?<![0-9])(?:19|20)[0-9]{2}(?![0-9])", re.IGNORECASE)
_TOLD: Final[dict[Kind, Problem]] = {
    "recall": wrong("RECALL02", "not read"), "batch": wrong("FOLD06", "batch"), "lot": wrong("FOLD06", "lot"),
    "machine": wrong("FOLD06", "machine"), "lines": wrong("FOLD06", "lines"),
}  # fmt: skip
_EXPLAINS: Final = ("readme", "readme.md", "readme.txt")  # shows by example what belongs here


@dataclass(frozen=True, slots=True)
class Strayed:
    """One such file, by its path in the catalogue; `part` is the number that it names, where it can be read."""

    file: str
    kind: Kind
    part: str | None = None

    @property
    def belongs(self) -> str:
        """The folder in which such a record is read."""
        return next(folder for folder, kind in FOLDERS.items() if kind == self.kind)

    def lies_in(self, path: str) -> bool:
        """Whether it is that file, or below that folder."""
        return self.file == path or self.file.startswith(f"{path}/")


def strayed_records(disk: Disk, elsewhere: Iterable[str], misread: Iterable[YamlFile]) -> list[Strayed]:
    """All of them but those right in recalls/, each an error of the disk's.

    elsewhere: what lies at the top and is no part of a catalogue. misread: what was read as a record of another kind.
    """
    found = [each for folder, kind in FOLDERS.items() if kind != "recall" for each in _in_folder(disk, folder, kind)]
    if os.path.lexists(disk.path("depot.yml")):  # else it is no catalogue, and around it lies anything
        found += [each for path in elsewhere for each in _below(disk, path, None)]
    found += [each for folder in _OTHERS for name in _files(disk, folder) for each in _below(disk, f"{folder}/{name}", None)]
    found += _among_papers_of_recalls(disk)
    found += [each for path in _among_papers(disk) for each in _below(disk, path, None)]
    found += [Strayed(each.file, kind, _part(each) if kind == "batch" else None) for each in misread if (kind := _told_by(each))]
    unique = list({each.file: each for each in found}.values())
    for each in unique:
        disk.add(each.file, _TOLD[each.kind])
    return unique


def _among_papers(disk: Disk) -> Iterator[str]:
    """Files named as records are that lie beside a part's own, among its papers or those of materials."""
    parts = [f"parts/{name}" for name in _entries(disk, "parts")]
    for folder in (*parts, *(f"{part}/documents" for part in parts), "materials/documents"):
        yield from (f"{folder}/{name}" for name in _entries(disk, folder) if _YAML.search(name) or _LINES.search(name))


def _among_papers_of_recalls(disk: Disk) -> Iterator[Strayed]:
    """Whatever is called as a record is one of a recall that says nothing any more."""
    for file, name in all_below(disk, PAPERS_OF_RECALLS) or ():
        if found := _looked_into(disk, file, name, None):
            yield found
        elif _YAML.search(name):
            yield Strayed(legible(file), "recall")


def _told_by(source: YamlFile) -> Kind | None:
    """Of a file in a folder of other records, what it is by its keys; it has to be of prints and of another folder."""
    told = source.content if isinstance(source.content, dict) else {}
    events = told.get("events")
    if isinstance(events, list) and any(isinstance(each, dict) and each.get("what") == "called back" for each in events):
        return "recall"
    own = FOLDERS.get(source.file.rpartition("/")[0])
    return next((kind for kind in ("batch", "lot") if kind != own and all(key in told for key in _KEYS[kind])), None)


def _in_folder(disk: Disk, folder: str, kind: Kind) -> Iterator[Strayed]:
    right = re.compile(r"[0-9]{4}\.csv" if kind == "lines" else r".*\.yml", re.DOTALL)
    for name in _entries(disk, folder):
        is_read = right.fullmatch(name) and not name.startswith(".") and name.isprintable() and not os.path.isdir(disk.path(f"{folder}/{name}"))
        if not is_read and not name.lower().startswith("readme"):
            yield from _below(disk, f"{folder}/{name}", None if name == "documents" and kind != "lines" else kind)


def _entries(disk: Disk, folder: str) -> list[str]:
    """Names in a folder, the hidden ones too; none where it cannot be listed, which is told there."""
    try:
        return sorted(filter(is_ours, os.listdir(disk.path(folder))))
    except OSError:
        return []


def _files(disk: Disk, folder: str) -> list[str]:
    """Files of a folder of other records that are not read as theirs."""
    names = _entries(disk, folder)
    return [name for name in names if (folder == "parts" or not name.endswith(".yml")) and not os.path.isdir(disk.path(f"{folder}/{name}"))]


def _below(disk: Disk, path: str, kind: Kind | None) -> Iterator[Strayed]:
    """What of a file, or of all files below a folder, may be a record; kind: of the folder of records around it."""
    real = disk.path(path)
    is_folder = os.path.isdir(real) and not os.path.islink(real)
    for file, name in files_below(disk, path) if is_folder else [(path, os.path.basename(path))]:
        if found := _looked_into(disk, file, name, kind):
            yield found


def _looked_into(disk: Disk, file: str, name: str, around: Kind | None) -> Strayed | None:
    raw = beginning(disk, file)
    if name.lower() in _EXPLAINS or (raw is not None and is_paper(raw)):
        return None
    kind = _says(raw) if raw else None
    kind = kind or _named(name, around)
    if kind is None or (name.startswith(".") and not name.lower().endswith((".yml", ".yaml", ".csv"))):  # what an editor keeps while it is open
        return None
    seen = legible(file)
    return Strayed(seen, kind, _part(read_yaml(seen, raw)) if raw and kind == "batch" else None)


def _says(raw: bytes) -> Kind | None:
    """Which record a text is by what it says; a batch tells of lots and machines too."""
    if b"called back" in raw and _CALLS_BACK.search(raw):
        return "recall"
    if _HEAD.search(raw[:300]):
        return "lines"
    return next((kind for kind, keys in _SAYS.items() if says(raw, keys)), None)


def _named(name: str, around: Kind | None) -> Kind | None:
    """Which record a file is by its name; outside of their folders only with a number and an ending of theirs."""
    if around == "lines":
        return "lines" if _LINES.search(name) else None
    numbered = next((kind for kind, number in _NUMBERED.items() if number.search(name)), None)
    if around:
        return numbered or (around if _YAML.search(name) else None)
    return numbered if _YAML.search(name) else None


def _part(source: YamlFile) -> str | None:
    told = source.content if isinstance(source.content, dict) else {}
    part = told.get("part")
    return part if isinstance(part, str) and part else None
