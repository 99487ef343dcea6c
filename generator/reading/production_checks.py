"""Do the records of prints agree with everything else? Each disagreement is a problem at the line that makes it.

What a record says by itself is judged by rules/production; here is what it names: materials, makers, parts, roles, lots,
machines, batches and files.
"""

import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import replace
from typing import TypeVar

from pydantic import BaseModel

from generator.reading.papers import kept_file
from generator.reading.placing import Finding, must_exist, put
from generator.reading.production import ProductionSources
from generator.reading.roles import role
from generator.reading.yaml_places import YamlFile
from generator.records.batches import BATCH_NAME, Batch, Measured, Rejected
from generator.records.catalogue import Catalogue, KeptFile
from generator.records.lots import Lot, Unblocked
from generator.records.machines import Machine
from generator.records.problems import Path, Problem, doubt, wrong
from generator.records.recalls import Lifted, Recall
from generator.rules.canonical import from_record, lines_of, text_in
from generator.rules.production.checked import found
from generator.rules.production.faults import copies, event_faults, head_faults, lot_faults, overlaps
from generator.rules.production.naming import unnamed
from generator.rules.production.record_faults import (
    lot_record_faults,
    machine_faults,
    recall_faults,
    shared_documents,
)
from generator.rules.production.releasing import judged_releases
from generator.rules.production.same_delivery import delivery_problems
from generator.rules.production.saying_good import SAYS_GOOD, acts, role_in
from generator.rules.recorded import Printed
from generator.rules.reminding import self_reminders_of_release

R = TypeVar("R")


def production_problems(catalogue: Catalogue, sources: ProductionSources, numbers: set[str]) -> list[Problem]:
    """Of every lot, machine, batch and recall that has a source. numbers: of parts whose folders are there, whether they can be read or not."""
    problems: list[Problem] = []
    production = catalogue.production
    for name, lot in _told(production.lots, sources.lots):
        put(problems, sources.lots[name], [*_of_lot(lot, catalogue), *shared_documents(name, lot, production), *unnamed(name, lot, production), *delivery_problems(name, production)])
    for name, machine in _told(production.machines, sources.machines):
        put(problems, sources.machines[name], _of_machine(machine, catalogue))
    double: dict[str, list[Problem]] = {}
    for name, problem in (*overlaps(production), *copies(production)):
        double.setdefault(name, []).append(problem)
    for name, batch in _told(production.batches, sources.batches):
        put(problems, sources.batches[name], [*_of_batch(name, batch, catalogue, numbers), *double.get(name, ())])
    for name, recall in _told(production.recalls, sources.recalls):
        put(problems, sources.recalls[name], _of_recall(recall, catalogue, numbers))
    return problems


def faults_in(files: Collection[str], catalogue: Catalogue, numbers: set[str]) -> Iterator[tuple[str, BaseModel, list[Problem]]]:
    """The same of some of them, each file with its record and all that speaks against it, by its path there."""
    production = catalogue.production
    double: dict[str, list[Problem]] = {}
    for name, problem in copies(production) if any(file.startswith("batches/") for file in files) else ():
        double.setdefault(name, []).append(problem)
    for file in sorted(files):
        folder, _, name = file.removesuffix(".yml").rpartition("/")
        found: Iterable[Finding]
        record: BaseModel
        if folder == "materials/lots" and name in production.lots:
            record = production.lots[name]
            found = [*_of_lot(record, catalogue), *shared_documents(name, record, production)]
        elif folder == "machines" and name in production.machines:
            record = production.machines[name]
            found = _of_machine(record, catalogue)
        elif folder == "batches" and name in production.batches:
            record = production.batches[name]
            found = [*_of_batch(name, record, catalogue, numbers), *double.get(name, ())]
        elif folder == "recalls" and name in production.recalls:
            record = production.recalls[name]
            found = _of_recall(record, catalogue, numbers)
        else:
            continue
        yield file, record, [each if isinstance(each, Problem) else each.problem for each in found]


def _told(records: Mapping[str, R], sources: Mapping[str, YamlFile]) -> list[tuple[str, R]]:
    """Those whose files are to be looked through."""
    return [(name, each) for name, each in records.items() if name in sources]


def _of_lot(lot: Lot, catalogue: Catalogue) -> Iterable[Finding]:
    yield from _known("material", lot.material, catalogue.materials, catalogue, ("material",))
    files = _files_in("materials/lots", catalogue)
    for at, paper in enumerate(lot.inspection_documents):
        yield from kept_file(paper.file, paper.sha256, files, ("inspection_documents", at))
    for at, each in enumerate(lot.events):
        yield from role(catalogue.depot, each.by, ("events", at, "by"))
        if isinstance(each, Unblocked) and not _may_say_good(each.by, catalogue):
            yield wrong("LOT02", "may not unblock", path=("events", at, "by"), role=each.by)
    yield from lot_record_faults(lot)


def _of_machine(machine: Machine, catalogue: Catalogue) -> Iterable[Finding]:
    yield from _known("maker", machine.maker, catalogue.makers, catalogue, ("maker",))
    files = _files_in("machines", catalogue)
    for at, each in enumerate(machine.qualifications):
        path: Path = ("qualifications", at)
        yield from _known("material", each.material, catalogue.materials, catalogue, (*path, "material"))
        yield from role(catalogue.depot, each.by, (*path, "by"))
        if each.settings:
            yield from kept_file(each.settings.file, each.settings.sha256, files, (*path, "settings"))
        for nth, coupons in enumerate(each.coupons):
            here: Path = (*path, "coupons", nth)
            yield from role(catalogue.depot, coupons.by, (*here, "by"))
            if coupons.lot:
                yield from _known("lot", coupons.lot, catalogue.production.lots, catalogue, (*here, "lot"))
            if coupons.file and coupons.sha256:
                yield from kept_file(coupons.file, coupons.sha256, files, here)
    yield from machine_faults(machine, catalogue.makers, catalogue.materials)


def _of_batch(name: str, batch: Batch, catalogue: Catalogue, numbers: set[str]) -> Iterable[Finding]:
    production = catalogue.production
    if not re.fullmatch(BATCH_NAME, name):
        yield wrong("BATCH01", "file name", path=(), name=name)
    yield from must_exist("part", batch.part, numbers, ("part",))
    yield from _known("machine", batch.machine, production.machines, catalogue, ("machine",))
    for at, lot in enumerate(batch.lots):
        yield from _known("lot", lot, production.lots, catalogue, ("lots", at))
    yield from role(catalogue.depot, batch.printed_by, ("printed_by",))
    yield from _files_of(batch, catalogue)
    for at, each in enumerate(batch.events):
        yield from role(catalogue.depot, each.by, ("events", at, "by"))
    yield from self_reminders_of_release(batch, catalogue.depot)
    own = [*head_faults(batch, production), *lot_faults(batch, production), *event_faults(batch), *_of_maker(batch, catalogue)]
    yield from own
    # What speaks against a release besides those that have been told already.
    told = {(each.what, each.path) for each in own}
    for against in judged_releases(name, batch, catalogue).values() if _is_judgeable(batch, catalogue) else ():
        yield from (each for each in against if (each.what, each.path) not in told)
        told |= {(each.what, each.path) for each in against}
    yield from _out_of_limits(batch, {what for what, _ in told})


def _is_judgeable(batch: Batch, catalogue: Catalogue) -> bool:
    """Not while the depot's, the part's or the approval's record cannot be read: what speaks against a release then follows from that, which is told there, once."""
    folder = catalogue.folder(batch.part)
    is_there = folder is None or (folder.part is not None and (folder.approval is not None or not folder.problems))
    return catalogue.depot is not None and is_there


def _out_of_limits(batch: Batch, told: Collection[object]) -> Iterable[Problem]:
    """What was measured so and lies there still, before a release or after it; of a rejected batch nothing is fitted anyway."""
    at = max((at for at, each in enumerate(batch.events) if isinstance(each, Measured)), default=0)
    if not any(isinstance(each, Rejected) for each in batch.events):
        every = (doubt("BATCH04", "out of limits", path=("events", at), check=name) for name in found(batch).out)
        yield from (each for each in every if each.what not in told)


def _of_maker(batch: Batch, catalogue: Catalogue) -> Iterable[Problem]:
    """Of a batch that waits for a word: whether its maker runs the material at all. It may have run it once, so later this is no matter."""
    machine = catalogue.production.machines.get(batch.machine)
    maker = catalogue.makers.get(machine.maker) if machine else None
    material = text_in(lines_of(from_record(batch.printed_as)).get("material"))
    is_judged = any(isinstance(each, Rejected) or each.what == "released" for each in batch.events)
    if maker and material and material not in maker.materials and not is_judged:
        yield doubt("BATCH01", "other material", path=("machine",), maker=maker.id, material=material)


def _files_of(batch: Batch, catalogue: Catalogue) -> Iterable[Finding]:
    files = _files_in("batches", catalogue)
    if batch.settings_file:
        yield from kept_file(batch.settings_file.file, batch.settings_file.sha256, files, ("settings_file",))
    for at, each in enumerate(batch.events):
        if isinstance(each, Measured) and each.sheet and each.sha256:
            for found in kept_file(each.sheet, each.sha256, files, ()):
                if isinstance(found, Problem):  # the event calls the file its sheet
                    yield replace(found, path=("events", at, "sheet"))


def _of_recall(recall: Recall, catalogue: Catalogue, numbers: set[str]) -> Iterable[Finding]:
    production = catalogue.production
    if recall.lot:
        yield from _known("lot", recall.lot, production.lots, catalogue, ("lot",))
    if recall.batch:
        yield from _known("batch", recall.batch, production.batches, catalogue, ("batch",))
    if recall.part:
        yield from must_exist("part", recall.part, numbers, ("part",))
        folder = catalogue.folder(recall.part)
        known = Printed(folder.part, folder.approval, has_model=True).revisions if folder and folder.part else None
        printed = {each.revision for each in production.of_part(recall.part).values()}
        if known is not None and recall.revision not in known | printed:
            yield doubt("RECALL01", "no revision", path=("revision",), number=recall.part, known=sorted(known | printed))
    for at, each in enumerate(recall.events):
        yield from role(catalogue.depot, each.by, ("events", at, "by"))
        if isinstance(each, Lifted) and not _may_say_good(each.by, catalogue):
            yield wrong("RECALL01", "may not lift", path=("events", at, "by"), role=each.by)
    yield from recall_faults(recall)


def _may_say_good(name: str, catalogue: Catalogue) -> bool:
    """Whether a role may say that pieces are good again; one that there is not is told as that."""
    who = role_in(catalogue.depot, name)
    return who is None or acts(who, *SAYS_GOOD)


def _known(kind: str, name: str, names: Iterable[str], catalogue: Catalogue, path: Path) -> Iterable[Finding]:
    """One whose own file is there and cannot be read is told there."""
    listed = {"material": "materials/{}.yml", "lot": "materials/lots/{}.yml", "machine": "machines/{}.yml", "batch": "batches/{}.yml"}
    if not catalogue.is_mistaken(listed.get(kind, "makers.yml").format(name)):
        yield from must_exist(kind, name, names, path)


def _files_in(folder: str, catalogue: Catalogue) -> dict[str, KeptFile]:
    inside = f"{folder}/"
    return {path.removeprefix(inside): kept for path, kept in catalogue.production.files.items() if path.startswith(inside)}
