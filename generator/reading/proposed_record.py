"""A record of prints as it would be, judged as if it stood in the catalogue already."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from generator.reading.kinds import kept_as_handed
from generator.reading.lot_papers import named_in
from generator.reading.placing import put
from generator.reading.production import ProductionSources
from generator.reading.production_checks import production_problems
from generator.reading.production_days import days_of_production
from generator.reading.validating import record
from generator.reading.yaml_places import YamlFile, read_yaml
from generator.records.batches import Batch
from generator.records.catalogue import Catalogue
from generator.records.lots import Lot
from generator.records.problems import Problem, Severity, in_order
from generator.records.production import Production


@dataclass(frozen=True, slots=True, kw_only=True)
class ProposedRecord:
    """A catalogue with the record in it, and everything that is wrong with the record."""

    catalogue: Catalogue
    problems: tuple[Problem, ...]

    @property
    def errors(self) -> tuple[Problem, ...]:
        return tuple(each for each in self.problems if each.severity is Severity.ERROR)


def proposed_lot(catalogue: Catalogue, name: str, raw: bytes, files: Mapping[str, bytes], day: date) -> ProposedRecord:
    """materials/lots/<name>.yml with the bytes `raw`; files: those that would come with it, by their paths in the catalogue."""
    source = read_yaml(f"materials/lots/{name}.yml", raw)
    lot = record(Lot, source)
    lots = catalogue.production.lots | ({name: lot} if lot else {})
    return _judged(catalogue, _with(catalogue.production, files, lots=lots), ProductionSources(lots={name: source}), source, day)


def proposed_batch(catalogue: Catalogue, name: str, raw: bytes, files: Mapping[str, bytes], day: date) -> ProposedRecord:
    """The same of batches/<name>.yml."""
    source = read_yaml(f"batches/{name}.yml", raw)
    batch = record(Batch, source)
    batches = catalogue.production.batches | ({name: batch} if batch else {})
    return _judged(catalogue, _with(catalogue.production, files, batches=batches), ProductionSources(batches={name: source}), source, day)


def _judged(catalogue: Catalogue, production: Production, sources: ProductionSources, source: YamlFile, day: date) -> ProposedRecord:
    numbers = {each.number for each in catalogue.parts}
    # What stands of the file itself is judged anew; what is wrong elsewhere stays known.
    others = tuple(each for each in catalogue.problems if each.where.file != source.file)
    whole = replace(catalogue, production=production, problems=others)
    found = [*source.problems, *production_problems(whole, sources, numbers)]
    for file, late in days_of_production(production, day):
        if file == source.file:
            put(found, source, late)
    return ProposedRecord(catalogue=replace(whole, problems=(*others, *found)), problems=in_order(found))


def _with(production: Production, files: Mapping[str, bytes], *, lots: dict[str, Lot] | None = None, batches: dict[str, Batch] | None = None) -> Production:
    kept = {path: kept_as_handed(path, content) for path, content in files.items()}
    return replace(
        production,
        lots=production.lots if lots is None else lots,
        batches=production.batches if batches is None else batches,
        files=production.files | kept,
        named={**production.named, **named_in(lots.values() if lots else (), files.get)},
    )
