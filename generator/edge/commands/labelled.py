"""Which revision does the label of a batch tell, and may its pieces have a label at all?"""

import difflib
from datetime import date

from generator.edge.commands.terminal import Terminal
from generator.edge.refusals import Ending, refused
from generator.pages.wording import Wording
from generator.records.batches import Batch, Rejected
from generator.records.catalogue import Catalogue
from generator.records.parts import Part
from generator.rules.production.releasing import Standing, standing
from generator.rules.production.states import recalled_revision, stops_of


def revision_of(
    name: str | None, part: Part, given: str | None, *, catalogue: Catalogue, day: date, terminal: Terminal, w: Wording
) -> str:
    """That of the batch, where the catalogue keeps batches; else the given one, else the part's own.

    Another one than the part's own is told, and so is a batch that nobody has released yet, or whose release does not hold. Raises Refusal for a batch that is not
    there, cannot be read, is of another part or revision, or whose pieces are not fitted: a label would make them look good.
    """
    batch = _looked_up(name, part, given, catalogue) if name and catalogue.production.keeps_batches else None
    if name and batch:
        word = _may_be_labelled(name, batch, catalogue, day)
        if not word.is_released:
            terminal.note(w("papers.labels.not_released", batch=name), "yellow")
    revision = batch.revision if batch else given or part.revision
    if recall := recalled_revision(part.number, revision, catalogue.production.recalls, day):
        raise refused("batch_stopped", batch=f"{part.number} {revision}", why=recall.why)
    if revision != part.revision:
        terminal.note(w("papers.labels.other_revision", number=part.number, revision=part.revision, given=revision), "yellow")
    return revision


def _looked_up(name: str, part: Part, given: str | None, catalogue: Catalogue) -> Batch:
    production = catalogue.production
    batch = production.batches.get(name)
    if batch is None and f"batches/{name}.yml" in production.unread:
        raise refused("batch_unread", batch=name)
    if batch is None:
        near = difflib.get_close_matches(name, production.of_part(part.number), n=3, cutoff=0.6)
        raise refused("no_batch", Ending.MISUSE, near=near, batch=name)
    if batch.part != part.number:
        raise refused("batch_of_other_part", Ending.MISUSE, batch=name, part=batch.part, number=part.number)
    if given and given != batch.revision:
        raise refused("batch_other_revision", Ending.MISUSE, batch=name, revision=batch.revision, given=given)
    return batch


def _may_be_labelled(name: str, batch: Batch, catalogue: Catalogue, day: date) -> Standing:
    """The last word on the batch. Raises Refusal."""
    word = standing(name, batch, catalogue, day)
    if isinstance(word.event, Rejected):
        raise refused("batch_rejected", batch=name)
    if stops := stops_of(name, batch, catalogue.production, day):
        raise refused("batch_stopped", batch=name, why=stops[0].why)
    return word
