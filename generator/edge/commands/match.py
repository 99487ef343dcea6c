"""`spares match`: which parts might a model be? A scan of an old part, a piece of it, somebody else's drawing."""

import argparse
import hashlib
import math
from pathlib import Path
from typing import Any

from generator.edge.commands import options as asking
from generator.edge.commands.new_model import measured_model, measured_words
from generator.edge.commands.terminal import Terminal, tell_json
from generator.edge.disk.atomic import written_whole
from generator.edge.disk.paper_files import folder_is_there
from generator.edge.refusals import Ending, refused
from generator.geometry.likeness.kinds import Sameness
from generator.geometry.measured import Worked
from generator.measuring.all_meshes import orders_of, work_all
from generator.measuring.matching import Match, Shape, matched
from generator.measuring.one_mesh import Order
from generator.measuring.requests_matched import shapes_in
from generator.measuring.turned_picture import turned_picture
from generator.pages.addresses import addresses
from generator.pages.wording import Wording, wording
from generator.reading.catalogue import read_catalogue
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.materials import UNCOLOURED
from generator.records.mesh_units import MeshUnits

DESCRIPTION = """\
Compares a model with those of all parts, however it lies, however it was meshed, and whatever its size: a scan of an old
part, also an open, noisy or broken one, or a drawing from elsewhere. What is near is laid onto it and measured. Of a broken
part two thirds should be left: half of one is often laid where it broke off, but others may stand before its part, so ask for
more with --most. A likeness says nothing about fitting: compare, and look up the verdict of the part.
"""
EXAMPLE = """\
  spares match scan.ply
  spares match old-knob.stl --units inch --picture beside.png
"""
_SHOWN_BESIDE = 3


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", type=Path, metavar="FILE", help="the model or scan: as for spares new")
    parser.add_argument("--units", choices=[each.value for each in MeshUnits], help="of STL, OBJ or PLY (default: mm)")
    parser.add_argument("--most", type=asking.at_least_one, default=3, metavar="N", help="show at most N parts (default: 3)")
    parser.add_argument("--picture", type=Path, metavar="OUT.png", help="write it and the nearest parts beside each other, at one scale")
    asking.add_format(parser)
    asking.add_catalogue(parser)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    root = asking.catalogue_of(options.catalogue)
    if options.picture and options.picture.suffix.lower() != ".png":
        raise refused("no_png", Ending.MISUSE, file=str(options.picture))
    if options.picture:
        folder_is_there(options.picture)
    catalogue, store = read_catalogue(root), asking.store_in(options.store)
    w = wording(catalogue.language)
    read, model = measured_model(options.file, options.units, store, terminal, w)
    own = Order(path=options.file.resolve(), sha256=hashlib.sha256(read.content).hexdigest(), units=read.units, tint=UNCOLOURED)
    with terminal.progress() as report:
        worked = work_all(catalogue, root, store, report, workers=options.workers)
    known = shapes_in(worked, orders_of(catalogue, root))
    found = matched(Shape(likeness=model.likeness, file=own), known, store)[: options.most] if model.likeness else ()
    folders = {each.folder: each for each in catalogue.parts}
    if options.picture:
        drawn = _as_it_lies(own, model, found)
        _write_picture(options.picture, drawn, [(folders[each.name], worked[each.name]) for each in found[:_SHOWN_BESIDE]], w)
    unknown = [each.number for each in catalogue.parts if each.mesh and each.folder not in known]
    if options.format == "json":
        tell_json([_told(each, folders[each.name], catalogue) for each in found])
        return _ending(found)
    terminal.say(measured_words(model.facts, w))
    _print(found, folders, catalogue, terminal, w)
    if unknown:
        terminal.note(w("commands.match.unknown", numbers=unknown), "yellow")
    if options.picture:
        terminal.say(w("commands.match.picture", file=str(options.picture)))
    return _ending(found)


def _ending(found: tuple[Match, ...]) -> Ending:
    return Ending.CLEAN if any(each.compared.kind is not Sameness.OTHER for each in found) else Ending.PROBLEMS


def _print(found: tuple[Match, ...], folders: dict[str, PartFolder], catalogue: Catalogue, terminal: Terminal, w: Wording) -> None:
    is_like = _ending(found) is Ending.CLEAN
    terminal.say(w("commands.match.like" if is_like else "commands.match.none"), "bold")
    if found:
        heads = [w(f"commands.match.{key}") for key in ("part", "how", "distance", "size", "covered", "page")]
        terminal.table(heads, [_row(each, folders[each.name], catalogue, w) for each in found])
    terminal.say(w("commands.match.caution"))


def _row(match: Match, folder: PartFolder, catalogue: Catalogue, w: Wording) -> tuple[str, ...]:
    laid = match.compared
    covered = w.number(laid.covered * 100, 0)
    return (
        f"{folder.number} {folder.name}",
        w(f"commands.match.kind.{laid.kind.value}"),
        f"{w.number(laid.distance_mm, 2)} mm",
        f"× {_ratio_words(_ratio(match), w)}",
        f"{covered} %",
        _page(folder, catalogue),
    )


def _ratio(match: Match) -> float:
    """As it lies; what lies nowhere has only the ratio of its extents."""
    return match.size_ratio if match.compared.kind is Sameness.OTHER else match.compared.ratio


def _ratio_words(ratio: float, w: Wording) -> str:
    """To three digits."""
    return w.number(ratio, max(0, 2 - math.floor(math.log10(ratio))))


def _page(folder: PartFolder, catalogue: Catalogue) -> str:
    return f"parts/{addresses(catalogue.parts).by_folder[folder.folder]}.html"


def _told(match: Match, folder: PartFolder, catalogue: Catalogue) -> dict[str, Any]:
    laid = match.compared
    return {
        "number": folder.number,
        "name": folder.name,
        "kind": laid.kind.value,
        "distance_mm": round(laid.distance_mm, 4),
        "size_ratio": round(_ratio(match), 4),
        "covered": round(laid.covered, 3),
        "explained": round(laid.explained, 3),
        "page": _page(folder, catalogue),
    }


def _as_it_lies(own: Order, model: Worked, found: tuple[Match, ...]) -> tuple[bytes, float]:
    """The asked model turned onto the likeliest part, and how many mm one pixel shows; as it was modelled where it is like none."""
    like = found[0].compared if found and found[0].compared.kind is not Sameness.OTHER else None
    turned = turned_picture(own, like) if like else None
    if turned or model.pictures is None:  # measured_model gives none without
        return turned or (b"", 1.0)
    return model.pictures.front.read(), model.pictures.front_mm_per_px


def _write_picture(file: Path, asked: tuple[bytes, float], beside: list[tuple[PartFolder, Any]], w: Wording) -> None:
    from generator.geometry.render.side_by_side import Shown, side_by_side  # noqa: PLC0415  only where it is asked for

    known = [(f"{each.number} {each.name}", made.pictures) for each, made in beside if made.pictures]
    shown = [Shown(picture=asked[0], mm_per_px=asked[1], name=w("commands.match.asked"))]
    shown += [Shown(picture=each.front.read(), mm_per_px=each.front_mm_per_px, name=name) for name, each in known]
    written_whole(file, side_by_side(shown))
