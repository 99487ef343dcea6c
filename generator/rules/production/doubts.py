"""What of a batch has to be asked about, whatever was released: its lots, its machine, its measurements."""

from collections.abc import Iterable

from generator.records.base import as_compared
from generator.records.batches import Batch, Released
from generator.records.catalogue import Catalogue
from generator.records.free_texts import is_void
from generator.records.inspection import InspectionDocument
from generator.records.lots import Lot, LotDocument
from generator.rules.canonical import from_record, lines_of, text_in
from generator.rules.production.checked import found
from generator.rules.production.naming import is_locked, naming
from generator.rules.production.qualifying import MachineStanding, Qualified, qualified
from generator.rules.production.same_delivery import ASKED, stopped_elsewhere
from generator.rules.production.unsaid import unsaid_years

_TYPES = tuple(InspectionDocument)


def doubts_of(name: str, batch: Batch, catalogue: Catalogue) -> tuple[str, ...]:
    """Keys of `terms.piece_asked`, each once."""
    return tuple(dict.fromkeys((*_of_records(name, batch, catalogue), *_of_lots(batch, catalogue), *_of_machine(batch, catalogue))))


def _of_records(name: str, batch: Batch, catalogue: Catalogue) -> Iterable[str]:
    """A mistake that `check` names in what it rests on: nobody knows what else would have been told without it."""
    files = (f"batches/{name}.yml", f"machines/{batch.machine}.yml", *(f"materials/lots/{lot}.yml" for lot in batch.lots))
    if any(map(catalogue.is_mistaken, files)):
        yield "mistake"
    if any(isinstance(each, Released) for each in batch.events) and found(batch).out:
        yield "measured out"
    if catalogue.production.keeps_fitted and name in unsaid_years(catalogue.production):
        yield "lines missing"


def _of_lots(batch: Batch, catalogue: Catalogue) -> Iterable[str]:
    least, printed = _least(batch, catalogue), batch.started.date()
    for name in batch.lots:
        lot = catalogue.production.lots.get(name)
        if lot is None:
            yield "lot unknown"
            continue
        if not any(counts(each, lot, least, catalogue) for each in lot.inspection_documents):
            would = [each for each in lot.inspection_documents if would_count(each, lot, least, catalogue)]
            is_shut = bool(would) and all(is_locked(each, catalogue.production) for each in would)
            yield "lot document locked" if is_shut else "lot document not compared" if would else "lot document"
        if lot.use_by and lot.use_by < printed:
            yield "lot use by"
        for each in stopped_elsewhere(name, catalogue.production):
            yield ASKED[each.is_near]


def _least(batch: Batch, catalogue: Catalogue) -> InspectionDocument:
    """The type that the part's route asks for."""
    folder = catalogue.folder(batch.part)
    return catalogue.inspection_of(folder.approval.route).least if folder and folder.approval else InspectionDocument.CERTIFICATE_3_2


def counting_papers(batch: Batch, catalogue: Catalogue) -> tuple[LotDocument, ...]:
    """The inspection documents of its lots that count, each once."""
    lots = (lot for name in batch.lots if (lot := catalogue.production.lots.get(name)))
    least = _least(batch, catalogue)
    return tuple(dict.fromkeys(each for lot in lots for each in lot.inspection_documents if counts(each, lot, least, catalogue)))


def counts(paper: LotDocument, lot: Lot, least: InspectionDocument, catalogue: Catalogue) -> bool:
    """Whether a document speaks of this lot, is of the least type that the route asks, is kept as it was recorded, and somebody or its text says whose it is."""
    return would_count(paper, lot, least, catalogue) and naming(paper, lot, catalogue.production).is_said


def would_count(paper: LotDocument, lot: Lot, least: InspectionDocument, catalogue: Catalogue) -> bool:
    """The same as far as the record says it."""
    kept = catalogue.production.files.get(f"materials/lots/{paper.file}")
    is_kept = kept is not None and not kept.proves_nothing and kept.sha256 == paper.sha256
    is_kept = is_kept and not (is_void(paper) or is_void(lot))
    return is_kept and _TYPES.index(paper.type) >= _TYPES.index(least) and as_compared(paper.lot) == as_compared(lot.supplier_lot)


def machine_on(batch: Batch, catalogue: Catalogue) -> Qualified:
    """How its machine stood with the material when the batch was begun."""
    material = material_of(batch)
    found = catalogue.materials.get(material) if material else None
    machine = catalogue.production.machines.get(batch.machine)
    return qualified(machine, material, found.required if found else (), batch.started.date())


def material_of(batch: Batch) -> str | None:
    """What it was printed from."""
    return text_in(lines_of(from_record(batch.printed_as)).get("material"))


def _of_machine(batch: Batch, catalogue: Catalogue) -> Iterable[str]:
    found = machine_on(batch, catalogue)
    if found.standing is MachineStanding.OUT_OF_CONTROL:
        yield "machine out of control"
    elif not found.is_qualified:
        yield "machine not qualified"
    of_settings = found.qualification.settings if found.qualification else None
    if of_settings and (batch.settings_file is None or of_settings.sha256 != batch.settings_file.sha256):
        yield "other settings"
