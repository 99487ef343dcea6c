"""The model of a new part, or what stands in its place, as `spares new` is told it."""

import argparse
import hashlib
import re
from dataclasses import dataclass
from pathlib import Path

from generator.edge.commands.terminal import Terminal
from generator.edge.refusals import Ending, Refusal, refused
from generator.geometry.facts import MeshFacts
from generator.geometry.features.kinds import Features
from generator.geometry.measured import Worked
from generator.geometry.printing.pose import Poses
from generator.geometry.sections import Walls
from generator.measuring.all_meshes import worked_on
from generator.measuring.guarded import Guard
from generator.measuring.one_mesh import Order
from generator.pages.problems.said import said
from generator.pages.wording import Wording
from generator.reading.meshes.endings import MESH_ENDINGS, UNITLESS_ENDINGS
from generator.reading.meshes.errors import MeshError
from generator.reading.meshes.file import mesh_bytes
from generator.records.materials import UNCOLOURED
from generator.records.mesh_units import MeshUnits
from generator.records.parts import WithoutModel
from generator.records.problems import Problem
from generator.rules.left_out import left_out
from generator.systems.store import Store

_SIZE = re.compile(r"(\d{1,5}(?:\.\d{1,3})?)[x×](\d{1,5}(?:\.\d{1,3})?)[x×](\d{1,5}(?:\.\d{1,3})?)")


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredModel:
    """The mesh to be copied, as it was measured."""

    ending: str
    content: bytes
    units: MeshUnits | None
    facts: MeshFacts
    features: Features | None
    walls: Walls | None
    poses: Poses | None


def add_model(parser: argparse.ArgumentParser) -> None:
    which = parser.add_mutually_exclusive_group(required=True)
    which.add_argument("--mesh", type=Path, metavar="FILE", help=f"its model: {', '.join(MESH_ENDINGS)}")
    reasons = [each.value for each in WithoutModel]
    which.add_argument("--no-model", choices=reasons, metavar="BECAUSE", help=f"why it has none: {', '.join(reasons)}")
    parser.add_argument("--units", choices=[each.value for each in MeshUnits], help="of STL, OBJ or PLY (default: mm)")
    parser.add_argument("--size", type=by_hand, metavar="LxWxH", help="size by hand in mm of what has no model, such as 62x40x18")


def by_hand(text: str) -> tuple[float, float, float]:
    """'62x40x18' → (62, 40, 18); argparse shows the message of the error."""
    found = _SIZE.fullmatch(text.strip().lower().replace(" ", ""))
    sides = tuple(float(side) for side in found.groups()) if found else ()
    if len(sides) != 3 or not all(0 < side <= 20_000 for side in sides):
        raise argparse.ArgumentTypeError(f"'{text}' is no size; write three sides in mm as 62x40x18, with a point: 49.5x40x18")
    return (sides[0], sides[1], sides[2])


def refuse_mixed(options: argparse.Namespace) -> None:
    """What is said of a model is not said of none, nor the other way round."""
    if options.size and options.mesh:
        raise refused("size_known", Ending.MISUSE)
    if options.units and not options.mesh:
        raise refused("units_alone", Ending.MISUSE)


def model_from(file: Path, units: str | None, store: Store, terminal: Terminal, w: Wording) -> MeasuredModel:
    """The mesh to be copied, measured. Raises Refusal with its mend."""
    model, _ = measured_model(file, units, store, terminal, w)
    return model


def measured_model(file: Path, units: str | None, store: Store, terminal: Terminal, w: Wording) -> tuple[MeasuredModel, Worked]:
    """The mesh, read and measured in a guarded child process as a build would. Raises Refusal with its mend."""
    ending = file.suffix.lower().removeprefix(".")
    if ending not in MESH_ENDINGS:
        raise refused("no_model_kind", Ending.MISUSE, file=str(file), endings=", ".join(MESH_ENDINGS))
    own = MeshUnits(units) if units else MeshUnits.MILLIMETRE if ending in UNITLESS_ENDINGS else None
    try:
        content = mesh_bytes(file)
    except MeshError as error:
        raise _unusable(file, error.problem, w) from error
    order = Order(path=file.resolve(), sha256=hashlib.sha256(content).hexdigest(), units=own, tint=UNCOLOURED)
    with terminal.progress() as report, Guard() as children:
        worked = worked_on({"mesh": order}, store, report, children)["mesh"]
    if isinstance(worked, Problem):
        raise _unusable(file, worked, w)
    for problem in left_out(worked)[: len(worked.left_out)]:
        raise _unusable(file, problem, w)
    return MeasuredModel(ending=ending, content=content, units=own, facts=worked.facts, features=worked.features, walls=worked.walls, poses=worked.poses), worked


def _unusable(file: Path, problem: Problem, w: Wording) -> Refusal:
    line, told = problem.where.line, said(problem, w)
    return Refusal(f"{file}{f':{line}' if line else ''}: {told.says}", told.fix)


def measured_words(facts: MeshFacts, w: Wording) -> str:
    """One line, which stands in part.yml too."""
    sides = " × ".join(w.measure(side) for side in facts.size_mm)
    known = facts.volume_mm3 is not None
    volume = w("commands.new.volume", volume=w.number((facts.volume_mm3 or 0) / 1000, 2)) if known else w("commands.new.no_volume")
    faults = "; ".join(f"{w.term('defect', each.kind)}: {w.number(each.count)}" for each in facts.defects)
    return w("commands.new.measured", sides=sides, volume=volume, faults=faults)
