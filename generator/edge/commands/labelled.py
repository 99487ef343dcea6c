"""Which revision does the label of a batch tell, does it have to say that its pieces are not fitted, and how many may there be?"""

import difflib
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from generator.edge.commands.terminal import Terminal
from generator.edge.refusals import Ending, refused
from generator.pages.wording import Wording
from generator.papers.kinds import LabelCount
from generator.records.batches import Batch
from generator.records.catalogue import Catalogue
from generator.records.parts import Part
from generator.records.production import Production
from generator.rules.production.ledger import ledger
from generator.rules.production.piece import first_mistake
from generator.rules.production.releasing import standing
from generator.rules.production.states import recalled_revision, stops_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Labelled:
    revision: str
    stop: str
    """Why nothing of it is fitted; empty where its pieces get an ordinary label."""


def labelled(  # noqa: PLR0917
    name: str | None, part: Part, given: str | None, catalogue: Catalogue, day: date, terminal: Terminal, w: Wording, *, quarantine: bool = False
) -> Labelled:
    """The revision of the batch, where the catalogue keeps batches; else the given one, else the part's own; another than the part's own is told.

    quarantine: pieces are put aside, whatever is known of them. Without it, raises Refusal for a batch that is called back, blocked,
    rejected, or not released, for an ordinary label would make its pieces look good; in any case for a batch that is
    not there, cannot be read, or is of another part or revision.
    """
    batch = _looked_up(name, part, given, catalogue) if name and catalogue.production.keeps_batches else None
    revision = batch.revision if batch else given or part.revision
    stop = why_stopped(name, batch, catalogue, day, w) if name and batch else ""
    if not stop and (recall := recalled_revision(part.number, revision, catalogue.production.recalls, day)):
        stop = w("papers.label.called_back", recall=recall.recall)
    if stop and not quarantine:
        raise refused("label_stopped", batch=name or f"{part.number} {revision}", why=stop)
    if revision != part.revision:
        terminal.note(w("papers.labels.other_revision", number=part.number, revision=part.revision, given=revision), "yellow")
    return Labelled(revision=revision, stop=(stop or w("papers.label.put_aside")) if quarantine else "")


def check_counts(wanted: Iterable[LabelCount], production: Production, terminal: Terminal, w: Wording) -> None:
    """Of each batch with a record no more than its pieces that are about, for a label too many makes a strange piece look good; of labels
    that say DO NOT FIT more are told, and printed. Raises Refusal.
    """
    asked: Counter[tuple[str, bool]] = Counter()
    for each in wanted:
        if each.label.batch in production.batches:
            asked[each.label.batch, bool(each.label.stop)] += each.count
    balances = ledger(production).balances if asked else {}
    for (name, is_stopped), count in asked.items():
        own = balances[name]
        most = own.in_use + max(own.removed, 0) if is_stopped else own.in_use
        shelf, out, sits, removed = (max(each, 0) for each in (own.lies, own.out, own.on_vehicles, own.removed))
        if count > most and is_stopped:
            terminal.note(w("papers.labels.more_than_about", batch=name, asked=count, most=most, shelf=shelf, out=out, sits=sits, removed=removed), "yellow")
        elif count > most:
            raise refused("labels_too_many", batch=name, asked=count, most=most, shelf=shelf, out=out, sits=sits)


def why_stopped(name: str, batch: Batch, catalogue: Catalogue, day: date, w: Wording) -> str:
    """In a few words, as they stand on the label; empty where pieces of the batch may be fitted."""
    if stops := stops_of(name, batch, catalogue.production, day):
        first = stops[0]
        return w("papers.label.called_back", recall=first.recall) if first.recall else w("papers.label.lot_blocked", lot=first.lot)
    word = standing(name, batch, catalogue, day)
    return "" if word.is_released else w(f"papers.label.{word.word}")


def _looked_up(name: str, part: Part, given: str | None, catalogue: Catalogue) -> Batch:
    production = catalogue.production
    batch = production.batches.get(name)
    if batch is None and (file := production.unread_file("batches", name)):
        raise refused("batch_unread", batch=name, where=first_mistake(file.partition("#")[0], catalogue))
    if batch is None:
        near = difflib.get_close_matches(name, production.of_part(part.number), n=3, cutoff=0.6)
        raise refused("no_batch", Ending.MISUSE, near=near, batch=name)
    if batch.part != part.number:
        raise refused("batch_of_other_part", Ending.MISUSE, batch=name, part=batch.part, number=part.number)
    if given and given != batch.revision:
        raise refused("batch_other_revision", Ending.MISUSE, batch=name, revision=batch.revision, given=given)
    return batch
