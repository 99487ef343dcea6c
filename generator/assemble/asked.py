"""The models of requests on their way: measured → laid onto those of all parts and other requests → what should be settled."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

from generator.geometry.measured import Worked
from generator.measuring.all_meshes import orders_of, request_orders_of
from generator.measuring.matching import Match
from generator.measuring.one_mesh import Order
from generator.measuring.requests_matched import Beside, beside, matched_among, shapes_in
from generator.reading.disk import Disk
from generator.records.catalogue import Catalogue
from generator.records.problems import Problem, Where
from generator.rules.answering import answer
from generator.rules.asked_alike import AskedShape, Resembled, asked_doubts
from generator.rules.left_out import left_out
from generator.systems.store import Store

__all__ = ["asked_problems", "asked_shapes", "open_orders", "resembled"]

_Worked = Mapping[str, Worked | Problem]


def asked_shapes(catalogue: Catalogue, worked: _Worked, root: Path, store: Store) -> dict[str, AskedShape]:
    """The model of each open request, by its id; one that cannot be read or drawn is left out.

    worked: of all parts and requests, as `work_all` gives it.
    """
    files, orders = _files(catalogue), open_orders(catalogue, root)
    shapes = shapes_in(worked, orders_of(catalogue, root) | orders)
    numbers = {each.folder: each.number for each in catalogue.parts} | files
    names = {each.folder: each.name for each in catalogue.parts} | {file: catalogue.requests[name].name for file, name in files.items()}

    def shown(file: str, made: Worked | Problem | None) -> Beside | None:
        pictures = made.pictures if isinstance(made, Worked) else None
        return Beside(pictures=pictures, name=f"{numbers[file]} {names[file]}") if pictures else None

    found = {}
    for file, like in matched_among(orders, shapes, store).items():
        own, first = worked[file], worked[like[0].name] if like else None
        if isinstance(own, Worked) and own.pictures:
            asked, known = shown(file, own), shown(like[0].name, first) if like else None
            found[files[file]] = AskedShape(
                pictures=own.pictures,
                size_mm=own.facts.oriented_size_mm,
                like=resembled(like, catalogue),
                beside=beside(asked, known, orders[file], like[0], store) if asked and known else None,
            )
    return found


def open_orders(catalogue: Catalogue, root: Path) -> dict[str, Order]:
    """The models of the requests that no part answers yet, as `request_orders_of` names them."""
    files = _files(catalogue)
    return {file: each for file, each in request_orders_of(catalogue, root).items() if file in files}


def resembled(like: tuple[Match, ...], catalogue: Catalogue) -> tuple[Resembled, ...]:
    """What was found among parts and open requests, by what a reader knows it."""
    files, folders = _files(catalogue), {each.folder: each.number for each in catalogue.parts}
    return tuple(
        Resembled(number=files.get(each.name) or folders[each.name], is_request=each.name in files, compared=each.compared) for each in like
    )


def _files(catalogue: Catalogue) -> dict[str, str]:
    """The ids of open requests, as `request_orders_of` names their models."""
    return {f"requests/{name}": name for name, request in catalogue.requests.items() if not answer(request, catalogue)}


def asked_problems(asked: Mapping[str, AskedShape], worked: _Worked, catalogue: Catalogue, disk: Disk) -> Iterator[Problem]:
    """What is wrong with a request's model, and what somebody should settle since there is such a shape already."""
    for name, request in catalogue.requests.items():
        made = worked.get(f"requests/{name}")
        if isinstance(made, Problem) and request.model:
            yield made.at(Where(f"requests/{request.model}", made.where.line))
        if isinstance(made, Worked) and request.model:
            yield from (each.at(Where(f"requests/{request.model}")) for each in left_out(made))
    for name, shape in asked.items():
        for problem in asked_doubts(name, shape.like):
            yield problem.at(disk.yaml(f"requests/{name}.yml").where(("model",)))
