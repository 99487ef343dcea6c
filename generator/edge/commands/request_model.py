"""The model of a request, as `spares request add --model` is given it: what is it like? It advises, and refuses nothing."""

import argparse
import hashlib
from pathlib import Path

from generator.assemble.asked import open_orders, resembled
from generator.edge.commands import options as asking
from generator.edge.commands.new_model import measured_model, measured_words
from generator.edge.commands.terminal import Terminal
from generator.edge.disk.request_writing import GivenModel
from generator.measuring.all_meshes import orders_of, work_all
from generator.measuring.matching import Match, Shape, matched
from generator.measuring.one_mesh import Order
from generator.measuring.requests_matched import like, shapes_in
from generator.pages.wording import Wording, wording
from generator.reading.catalogue import read_catalogue
from generator.records.catalogue import Catalogue
from generator.records.materials import UNCOLOURED
from generator.rules.asked_alike import Resembled


def told_model(file: Path, units: str | None, options: argparse.Namespace, root: Path, terminal: Terminal) -> GivenModel:
    """The model, measured as a build would, once its likenesses among parts and other requests are told. Raises Refusal with its mend."""
    catalogue, store = read_catalogue(root), asking.store_in(options.store)
    w = wording(catalogue.language)
    model, made = measured_model(file, units, store, terminal, w)
    own = Order(path=file.resolve(), sha256=hashlib.sha256(model.content).hexdigest(), units=model.units, tint=UNCOLOURED)
    with terminal.progress() as report:
        worked = work_all(catalogue, root, store, report, workers=options.workers)
    orders = {**orders_of(catalogue, root), **open_orders(catalogue, root)}
    inside = {name for name, each in orders.items() if each.path.resolve() == own.path}
    known = {name: each for name, each in shapes_in(worked, orders).items() if name not in inside}
    found = like(matched(Shape(likeness=made.likeness, file=own), known, store)) if made.likeness else ()
    terminal.say(measured_words(model.facts, w))
    _tell(found, catalogue, w, terminal)
    return GivenModel(ending=model.ending, content=model.content, units=model.units if units else None)


def _tell(found: tuple[Match, ...], catalogue: Catalogue, w: Wording, terminal: Terminal) -> None:
    known = resembled(found, catalogue)
    if not known:
        terminal.say(w("commands.request.like_none"))
        return
    terminal.say(w("commands.request.like"), "bold")
    for each in known:
        terminal.say(f"  {_line(each, catalogue, w)}")
    terminal.say(w("commands.match.caution"))


def _line(each: Resembled, catalogue: Catalogue, w: Wording) -> str:
    lies, folder = each.compared, catalogue.folder(each.number)
    name = catalogue.requests[each.number].name if each.is_request else folder.name if folder else ""
    how = w(f"commands.match.kind.{lies.kind.value}")
    return w("commands.request.is_like", number=each.number, name=name, how=how, distance=w.number(lies.distance_mm, 2), ratio=w.measure(lies.ratio))
