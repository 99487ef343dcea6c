"""The records of what was printed: lots, machines, batches and recalls, the files beside them, and what is fitted."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import TypeVar

from pydantic import BaseModel

from generator.reading.disk import Disk
from generator.reading.fitted import FittedFile, read_fitted
from generator.reading.lot_papers import named_in
from generator.reading.strayed_records import Strayed
from generator.reading.validating import record
from generator.reading.yaml_places import YamlFile
from generator.records.batches import Batch
from generator.records.catalogue import KeptFile
from generator.records.lots import Lot
from generator.records.machines import Machine
from generator.records.problems import Problem, Severity
from generator.records.production import Production
from generator.records.recalls import CalledBack, Recall

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
    strays: tuple[Strayed, ...] = ()
    """What may be such a record and is not read, where it lies or by its name."""

    @property
    def every(self) -> list[YamlFile]:
        return [each for listed in (self.lots, self.machines, self.batches, self.recalls) for each in listed.values()]


def read_production(disk: Disk, sources: ProductionSources) -> Production:
    """All of it; problems go into the sources and the disk."""
    sources.fitted = read_fitted(disk, sources.strays)
    unread: dict[str, str | None] = {}
    lots, files = _each(Lot, sources.lots, unread, None), _files(disk)
    strays = [each for each in sources.strays if each.kind not in {"lines", "machine"}]
    return Production(
        lots=lots,
        machines=_each(Machine, sources.machines, {}, None),
        batches=_each(Batch, sources.batches, unread, "part"),
        recalls=_each(Recall, sources.recalls, unread, "part"),
        fitted=tuple(row for file in sources.fitted for row in file.rows),
        fitted_years=frozenset(file.year for file in sources.fitted if file.year),
        has_fitted_folder=any(not name.lower().startswith("readme") for name in disk.names("fitted")),
        files=files,
        named=named_in(lots.values(), lambda path: disk.letter(path) if path in files else None),
        unread=unread | {each.file: each.part for each in strays},
        belongs={each.file: each.belongs for each in strays},
        gaps=tuple(gap for file in sources.fitted if (gap := file.gap)),
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


def careful(production: Production, problems: Iterable[Problem], numbers: Collection[str]) -> Production:
    """What cannot be right lets nothing be fitted: a recall with a mistake stands, and what it may mean asks.

    problems: all that is wrong with these records. numbers: those of the parts that there are.
    """
    wrong_in = {each.where.file for each in problems if each.severity is Severity.ERROR}
    unsure = {each.where.file for each in problems if (each.code, each.key) == ("RECALL01", "no revision")}
    recalls, unread = dict(production.recalls), {file: part if part in numbers else None for file, part in production.unread.items()}
    apart = dict(production.apart)
    for name, recall in production.recalls.items():
        file = f"recalls/{name}.yml"
        if file in wrong_in:
            recalls[name] = recall.model_copy(update={"events": tuple(each for each in recall.events if isinstance(each, CalledBack))})
        if file in unsure or not _is_known(recall, production, numbers):
            unread[file] = recall.part if recall.part in numbers else None
            apart[file] = "astray"
    # What was worked out of it is kept by its identity: it is another one only where something is.
    is_same = recalls == production.recalls and unread == production.unread
    return production if is_same else replace(production, recalls=recalls, unread=unread, apart=apart)


def _is_known(recall: Recall, production: Production, numbers: Collection[str]) -> bool:
    if recall.lot:
        return recall.lot in production.lots
    return recall.batch in production.batches if recall.batch else recall.part in numbers


def _files(disk: Disk) -> dict[str, KeptFile]:
    found = {}
    for folder in DOCUMENTS:
        for name in disk.names(folder):
            kept = disk.kept(f"{folder}/{name}")
            if kept:
                found[f"{folder}/{name}"] = kept
    return found
