"""What was printed, and what became of it: lots, machines, batches, recalls, and what sits on the vehicles."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from generator.records.batches import Batch
from generator.records.fitted import FittedRow, Gap
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
    unread: dict[str, str | None] = field(default_factory=dict)
    """Files of these records that are there and cannot be read, each with the number of the part that it names all the same."""
    gaps: tuple[Gap, ...] = ()
    """What of the files of fitted/ could not be read."""
    rewritten: frozenset[str] = frozenset()
    """Batches whose record, lot or recall says less than it did: what was taken out of it cannot be told."""
    shortened: frozenset[str] = frozenset()
    """Files of fitted/ that say less than they did, or are gone."""

    @property
    def keeps_batches(self) -> bool:
        return bool(self.batches) or any(file.startswith("batches/") for file in self.unread)

    @property
    def keeps_fitted(self) -> bool:
        """Whether the depot writes down what is fitted, as far as anybody can tell."""
        return bool(self.fitted or self.fitted_years or self.has_fitted_folder)

    def is_unsaid(self, number: str) -> bool:
        """Whether a file that cannot be read may speak of this part."""
        return any(named in (None, number) for named in self.unread.values())

    def of_part(self, number: str) -> Mapping[str, Batch]:
        """Its batches, the oldest first."""
        return self._by_part.get(number, {})

    @cached_property
    def _by_part(self) -> dict[str, dict[str, Batch]]:
        found: dict[str, dict[str, Batch]] = {}
        for name, each in sorted(self.batches.items(), key=lambda pair: (pair[1].started, pair[0])):
            found.setdefault(each.part, {})[name] = each
        return found
