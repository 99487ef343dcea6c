"""Work with what is called back, blocked or not released: refused, unless somebody says that it was done all the same.

Nothing is printed from such a lot and nothing of such a batch is handed out, so what says so is most likely a slip, or news to
whoever did it. What was really done has to be written down all the same, for these pieces have to be found: --as-found. It stays
stopped. What helps to find out or to find (measured, counted, returned, scrapped) is written down at once, and told.
"""

import argparse
from collections.abc import Iterator, Sequence
from datetime import date

from generator.edge.commands.terminal import Terminal
from generator.edge.disk.print_records import DepotNow
from generator.edge.refusals import refused
from generator.edge.spoken import words
from generator.pages.on_vehicles.alike import doubt_words
from generator.records.batches import Batch
from generator.records.catalogue import Catalogue
from generator.records.lots import Lot, Unblocked
from generator.rules.production.releasing import BatchStanding, standing
from generator.rules.production.same_delivery import (
    StoppedDelivery,
    asks_after_end,
    same_number,
    stopped_alike,
    stopped_elsewhere,
)
from generator.rules.production.states import Stopped, stops_of, stops_of_lot

WORK = ("open", "dry")
"""What is done with a lot in order to print from it."""
ASIDE = ("measure", "count", "return")
"""What may be done with a batch that is stopped, and frees none of its pieces."""


def may_work_with(name: str, options: argparse.Namespace, depot: DepotNow, terminal: Terminal) -> None:
    """A lot is opened or dried. Raises Refusal where it was stopped by that day."""
    production, day = depot.catalogue.production, options.on or depot.today
    stops = stops_of_lot(name, production, day)
    _refuse_or_tell("lot_stopped", name, stops, day, options, terminal)
    _tell_alike(stopped_elsewhere(name, production), terminal)
    _tell_unread(None, depot.catalogue, terminal)


def still_stopped(name: str, end: Unblocked, depot: DepotNow, terminal: Terminal) -> None:
    """A block of a lot ends: what stops it besides, and what its pieces still ask about, which these words do not name."""
    recalls = [each for each in stops_of_lot(name, depot.catalogue.production, depot.today) if each.recall]
    _tell("is_stopped", recalls, terminal)
    if not recalls:
        for sentence in still_asking(name, asks_after_end(name, depot.catalogue.production, end=end)):
            terminal.note(sentence, "yellow")


def still_asking(name: str, found: Sequence[StoppedDelivery]) -> Iterator[str]:
    """Because of what the lot asks on, and how that ends."""
    w = words()
    for each in found:
        yield w("commands.printed.still_asks", own=name, name=each.name, why=_words(each.stop), recall=each.stop.recall)


def of_same_delivery(lot: Lot, options: argparse.Namespace, depot: DepotNow, terminal: Terminal) -> None:
    """More of a supplier's lot has come in: a recall speaks of one number here, so that it does not reach the other. Raises Refusal where that one is stopped."""
    found = stopped_alike(lot, depot.catalogue.production)
    for each in found:
        if not each.is_near and not options.as_found:
            raise refused("lot_stopped_elsewhere", name=each.name, why=_words(each.stop))
    _tell_alike(found, terminal)
    for each in same_number(lot, depot.catalogue.production):
        material = depot.catalogue.production.lots[each.name].material
        terminal.note(words()("commands.printed.same_number", name=each.name, material=material, why=_words(each.stop)), "yellow")


def _tell_alike(found: Sequence[StoppedDelivery], terminal: Terminal) -> None:
    """What its pieces will ask about, and how that ends."""
    w = words()
    for each in found:
        terminal.note(w(f"commands.printed.{'near_lot' if each.is_near else 'same_lot'}", name=each.name, why=_words(each.stop), recall=each.stop.recall), "yellow")


def may_be_printed(name: str, batch: Batch, options: argparse.Namespace, depot: DepotNow, terminal: Terminal) -> None:
    """A batch from lots, or of a revision, that are stopped. Raises Refusal where they were on the day of the print."""
    stops = stops_of(name, batch, depot.catalogue.production, depot.today)
    _refuse_or_tell("print_stopped", name, stops, batch.started.date(), options, terminal)
    _tell_unread(batch.part, depot.catalogue, terminal)


def may_be_issued(name: str, batch: Batch, options: argparse.Namespace, depot: DepotNow, terminal: Terminal) -> None:
    """Pieces are handed out. Raises Refusal where nothing of the batch was to be fitted on that day."""
    catalogue, day, w = depot.catalogue, options.on or depot.today, words()
    said = standing(name, batch, catalogue, day)
    if _was_not_good(said, day) and not options.as_found:
        raise refused("issue_unreleased", name=name, state=w.term("piece_released", said.word))
    if not said.is_released:
        terminal.note(w("commands.printed.not_good", name=name, state=w.term("piece_released", said.word)), "yellow")
    _refuse_or_tell("issue_stopped", name, stops_of(name, batch, catalogue.production, depot.today), day, options, terminal)
    if said.is_released and (doubts := tuple(doubt_words(name, batch, catalogue, w))):
        terminal.note(w("commands.printed.asks_first", reasons="; ".join(doubts)), "yellow")
    _tell_unread(batch.part, catalogue, terminal)


def _was_not_good(said: BatchStanding, day: date) -> bool:
    """A rejection counts on any day; what was handed out before it was nobody's mistake."""
    return not said.is_released and not (said.word == "rejected" and said.event is not None and said.event.on > day)


def put_aside(action: str, name: str, batch: Batch, depot: DepotNow, terminal: Terminal) -> None:
    """What is measured, counted or comes back of a batch that is stopped stays apart."""
    stops = stops_of(name, batch, depot.catalogue.production, depot.today)
    _tell("put_apart" if action == "return" else "is_stopped", stops, terminal)
    said = standing(name, batch, depot.catalogue, depot.today)
    if action == "return" and not stops and not said.is_released:
        terminal.note(words()("commands.printed.not_good", name=name, state=words().term("piece_released", said.word)), "yellow")


def _refuse_or_tell(key: str, name: str, stops: Sequence[Stopped], day: date, options: argparse.Namespace, terminal: Terminal) -> None:  # noqa: PLR0917
    """Of the same day, too, for whoever writes now can read what stands there now."""
    before = [each for each in stops if each.on <= day]
    if before and not options.as_found:
        raise refused(key, name=name, why="; ".join(map(_words, before)))
    _tell("is_stopped", stops, terminal)


def _tell(key: str, stops: Sequence[Stopped], terminal: Terminal) -> None:
    if stops:
        terminal.note(words()(f"commands.printed.{key}", why="; ".join(map(_words, stops))), "yellow")


def _words(stop: Stopped) -> str:
    w = words()
    return w(f"commands.printed.stop_{'called_back' if stop.recall else 'blocked'}", on=w.day(stop.on), why=stop.why.rstrip("."), recall=stop.recall, lot=stop.lot)


def _tell_unread(part: str | None, catalogue: Catalogue, terminal: Terminal) -> None:
    """Recalls of which nobody knows what they speak of; of a part: those that may speak of it."""
    production = catalogue.production
    files = [each for each in (production.unsaid(part) if part else production.unread) if production.folder_of(each) == "recalls"]
    if files:
        terminal.note(words()("commands.printed.unsaid", files="; ".join(files)), "yellow")
