"""What was printed, and what became of it: lots, machines, batches, recalls, and what sits on the vehicles."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Literal

from generator.records.batches import Batch
from generator.records.fitted import FileGap, FittedRow
from generator.records.lots import Lot
from generator.records.machines import Machine
from generator.records.recalls import Recall

if TYPE_CHECKING:
    from generator.records.catalogue import KeptFile


@dataclass(frozen=True, kw_only=True)
class Production:
    """All that a depot wrote down of its prints, by the names of the files; empty where it keeps none of it.

    What is worked out of it can be kept by it: its hash is that of itself.
    """

    __hash__ = object.__hash__

    lots: dict[str, Lot] = field(default_factory=dict)
    machines: dict[str, Machine] = field(default_factory=dict)
    batches: dict[str, Batch] = field(default_factory=dict)
    recalls: dict[str, Recall] = field(default_factory=dict)
    fitted: tuple[FittedRow, ...] = ()
    """In the order of the files' years and lines."""
    fitted_years: frozenset[int] = frozenset()
    """Of which years there is a file of such lines, be it empty."""
    has_fitted_folder: bool = False
    """Whether anything lies in fitted/, be it under a name that is none of a year."""
    files: dict[str, KeptFile] = field(default_factory=dict)
    """What lies in the documents/ beside these records, by its path in the catalogue."""
    named: Mapping[tuple[str, str], bool] = field(default_factory=dict)
    """Whether the text of a lot's document names the lot, by its path and the number; without those that no program reads."""
    unread: dict[str, str | None] = field(default_factory=dict)
    """Files of these records that are there and cannot be read, each with the number of the part that it names all the same."""
    belongs: Mapping[str, str] = field(default_factory=dict)
    """Of `unread` what lies where such a record is not read: the folder of the record that it is, by what it says or else by its name."""
    apart: Mapping[str, Literal["less", "astray"]] = field(default_factory=dict)
    """Of `unread` what can be read, and why nobody relies on it. less: it says less or something else than it did, or is gone; astray: it calls back
    what there is not."""
    going_to: Mapping[tuple[str, str], frozenset[str]] = field(default_factory=dict)
    """Which parts fit at a place of a fleet, by their records and by those that cannot be read; empty where nobody asked them."""
    gaps: tuple[FileGap, ...] = ()
    """What of the files of fitted/ could not be read."""
    rewritten: frozenset[str] = frozenset()
    """Batches whose record, lot or recall says less than it did: what was taken out of it cannot be told."""
    rewritten_in: Mapping[str, frozenset[str]] = field(default_factory=dict)
    """Which files say less or something else, by the batch; of one that is not here it is the batch's own."""
    shortened: frozenset[str] = frozenset()
    """Files of fitted/ that say less than they did, or are gone."""

    @property
    def keeps_batches(self) -> bool:
        """Also where they lie elsewhere, or the folder is gone and lines name what lay in it."""
        return bool(self.batches or self.unread_in("batches")) or any(row.batch or row.removed_batch for row in self.fitted)

    @property
    def keeps_fitted(self) -> bool:
        """Whether the depot writes down what is fitted, as far as anybody can tell."""
        return bool(self.fitted or self.fitted_years or self.has_fitted_folder)

    def may_be_unread(self, folder: str, name: str) -> bool:
        """Whether a file that cannot be read, or is not read where it lies, may be this record."""
        return self.unread_file(folder, name) is not None

    def unread_file(self, folder: str, name: str) -> str | None:
        """Where that file lies."""
        return self._unread_files.get((folder, name.casefold()))

    def unread_in(self, folder: str) -> list[str]:
        """Files that may be records of this folder and cannot be read, or are not read where they lie."""
        return [file for file in self.unread if self.folder_of(file) == folder]

    def folder_of(self, file: str) -> str:
        """Where the record belongs that a file is which cannot be read; empty where nothing tells."""
        return self.belongs.get(file) or _folder_by_name(file)

    @cached_property
    def _unread_files(self) -> Mapping[tuple[str, str], str]:
        """The first of each, by folder and number."""
        files = sorted(self.unread, reverse=True)
        return {(folder, number.casefold()): file for file in files if (folder := self.folder_of(file)) and (number := number_in(file))}

    def is_unsaid(self, number: str) -> bool:
        """Whether a file that cannot be read may speak of this part."""
        return any(named in (None, number) for named in self.unread.values())

    def unsaid(self, number: str) -> Mapping[str, Literal["unread", "less", "astray"]]:
        """Files that may speak of this part and that nobody relies on, and why."""
        return {file.partition("#")[0]: self.apart.get(file, "unread") for file, named in sorted(self.unread.items()) if named in (None, number)}

    def files_rewritten(self, batch: str) -> tuple[str, ...]:
        """The records of a rewritten batch that say less or something else than they did: its own, a lot's, a recall's."""
        return tuple(sorted(self.rewritten_in.get(batch, {f"batches/{batch}.yml"})))

    def of_part(self, number: str) -> Mapping[str, Batch]:
        """Its batches, the oldest first."""
        return self._by_part.get(number, {})

    @cached_property
    def _by_part(self) -> dict[str, dict[str, Batch]]:
        found: dict[str, dict[str, Batch]] = {}
        for name, each in sorted(self.batches.items(), key=lambda pair: (pair[1].started, pair[0])):
            found.setdefault(each.part, {})[name] = each
        return found


_FOLDERS = {"RC": "recalls", "B": "batches", "L": "materials/lots"}
_NUMBER = re.compile(r"(?<![A-Za-z0-9])([A-Za-z]{1,4})-[0-9]{1,8}(?![0-9])")


def _folder_by_name(file: str) -> str:
    """To the folder around it, else to that of its number; empty where neither tells."""
    around = next((folder for folder in _FOLDERS.values() if file.startswith(f"{folder}/")), "")
    found = _NUMBER.search(file.rpartition("/")[2])
    return around or (_FOLDERS.get(found[1].upper(), "") if found else "")


def number_in(file: str) -> str:
    """The number that a file's name bears, be it a copy's or one with another ending; else its name before the ending."""
    name = file.partition("#")[0].rpartition("/")[2]
    if name.endswith(".yml"):
        return name.removesuffix(".yml")
    found = _NUMBER.search(name)
    return found[0] if found else name.lstrip(".").partition(".")[0]
