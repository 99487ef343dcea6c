"""What of a batch has to be asked about, whatever was released: its lots, its machine, its measurements."""

from collections.abc import Iterable

from generator.records.base import as_compared
from generator.records.batches import Batch
from generator.records.catalogue import Catalogue
from generator.records.inspection import InspectionDocument
from generator.records.lots import Lot, LotDocument

_TYPES = tuple(InspectionDocument)


def doubts_of(batch: Batch, catalogue: Catalogue) -> tuple[str, ...]:
    """Keys of `terms.piece_asked`, each once."""
    return tuple(dict.fromkeys((*_of_lots(batch, catalogue), *_of_machine(batch, catalogue))))


def _of_lots(batch: Batch, catalogue: Catalogue) -> Iterable[str]:
    folder = catalogue.folder(batch.part)
    least = catalogue.inspection_of(folder.approval.route).least if folder and folder.approval else InspectionDocument.CERTIFICATE_3_2
    printed = batch.started.date()
    for name in batch.lots:
        lot = catalogue.production.lots.get(name)
        if lot is None:
            yield "lot unknown"
            continue
        if not any(counts(each, lot, least, catalogue) for each in lot.inspection_documents):
            yield "lot document"
        if lot.use_by and lot.use_by < printed:
            yield "lot use by"


def counts(paper: LotDocument, lot: Lot, least: InspectionDocument, catalogue: Catalogue) -> bool:
    """Whether a document speaks of this lot, is of the least type that the route asks, and is kept as it was recorded."""
    kept = catalogue.production.files.get(f"materials/lots/{paper.file}")
    is_kept = kept is not None and kept.size_bytes > 0 and kept.sha256 == paper.sha256
    return is_kept and _TYPES.index(paper.type) >= _TYPES.index(least) and as_compared(paper.lot) == as_compared(lot.supplier_lot)


def _of_machine(batch: Batch, catalogue: Catalogue) -> Iterable[str]:
    machine = catalogue.production.machines.get(batch.machine)
    folder = catalogue.folder(batch.part)
    material = folder.part.material if folder and folder.part else None
    printed = batch.started.date()
    given = [each for each in machine.qualifications if each.material == material and each.qualified_on <= printed] if machine else []
    qualified = max(given, key=lambda each: each.qualified_on, default=None)
    if qualified is None or qualified.valid_until < printed:
        yield "machine not qualified"
