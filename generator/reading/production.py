"""The records of what was printed: lots, machines, batches and recalls, the files beside them, and what is fitted."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from pydantic import BaseModel

from generator.reading.disk import Disk
from generator.reading.fitted import FittedFile, read_fitted
from generator.reading.validating import record
from generator.reading.yaml_places import YamlFile
from generator.records.batches import Batch
from generator.records.catalogue import KeptFile
from generator.records.lots import Lot
from generator.records.machines import Machine
from generator.records.production import Production
from generator.records.recalls import Recall

R = TypeVar("R", bound=BaseModel)
DOCUMENTS = ("materials/lots/documents", "machines/documents", "batches/documents")


@dataclass(slots=True)
class ProductionSources:
    """The same as written, so that later checks can point into them; by the names of the records."""

    lots: dict[str, YamlFile] = field(default_factory=dict)
    machines: dict[str, YamlFile] = field(default_factory=dict)
    batches: dict[str, YamlFile] = field(default_factory=dict)
    recalls: dict[str, YamlFile] = field(default_factory=dict)
    fitted: tuple[FittedFile, ...] = ()

    @property
    def every(self) -> list[YamlFile]:
        return [each for listed in (self.lots, self.machines, self.batches, self.recalls) for each in listed.values()]


def read_production(disk: Disk, sources: ProductionSources) -> Production:
    """All of it; problems go into the sources and the disk."""
    sources.fitted = read_fitted(disk)
    unread: dict[str, str | None] = {}
    return Production(
        lots=_each(Lot, sources.lots, unread, None),
        machines=_each(Machine, sources.machines, {}, None),
        batches=_each(Batch, sources.batches, unread, "part"),
        recalls=_each(Recall, sources.recalls, unread, "part"),
        fitted=tuple(row for file in sources.fitted for row in file.rows),
        files=_files(disk),
        unread=unread,
    )


def _each(kind: type[R], sources: Mapping[str, YamlFile], unread: dict[str, str | None], names_part: str | None) -> dict[str, R]:
    found: dict[str, R] = {}
    for name, source in sources.items():
        one = record(kind, source)
        if one:
            found[name] = one
            continue
        content = source.content if isinstance(source.content, dict) else {}
        named = content.get(names_part) if names_part else None
        unread[source.file] = named if isinstance(named, str) and named else None
    return found


def _files(disk: Disk) -> dict[str, KeptFile]:
    found = {}
    for folder in DOCUMENTS:
        for name in disk.names(folder):
            kept = disk.kept(f"{folder}/{name}")
            if kept:
                found[f"{folder}/{name}"] = kept
    return found
