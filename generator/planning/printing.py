"""How is a part printed: in which pose, on whose plate, in what time, of how much, and what is finer than its makers print?"""

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from operator import itemgetter
from typing import Literal, NamedTuple

from generator.geometry.facts import MeshFacts
from generator.geometry.features.kinds import Void
from generator.geometry.measured import Worked
from generator.geometry.plate import Turned, turned_on_plate
from generator.geometry.printing.pose import Pose, Poses
from generator.geometry.printing.score import Reason, best_pose, is_as_good, reason
from generator.planning.print_time import (
    PrintWork,
    ProcessModel,
    Range,
    Run,
    Slip,
    grams_for,
    minutes_for,
    model_of,
    work_of,
)
from generator.records.catalogue import Catalogue
from generator.records.makers import Maker, Process
from generator.records.parts import Part
from generator.records.print_rules import Up
from generator.records.problems import Path, Problem, Severity, doubt
from generator.records.production import Production
from generator.rules.printable import Finer, angle_for, angle_of, finer, largest_void
from generator.rules.recorded import Printed, batch_runs, left_out, run_doubts, unwalled_percent
from generator.rules.sheet import Sheet

_ROUNDING = 1e-6  # of pieces


class PrintedShape(NamedTuple):
    """What a part's time and material come of."""

    part: Part
    mesh: MeshFacts
    poses: Poses


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """Whether the part finds room with a maker, in the pose that it is printed in; None where it finds none."""

    maker: Maker
    turned: Turned | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintEstimate:
    """Time and material of one piece with a process."""

    process: Process
    minutes: Range | None
    grams: Range
    is_unread: bool = False
    """Whether nothing was learned since prints.yml itself cannot be read: what it records is then not known."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Printing:
    """All of it for one part."""

    angle_deg: int | None
    """How far a surface may lean; None where powder carries it."""
    best: Pose
    why: Reason
    approved: Pose | None
    """That of the part's settings, where they name an axis."""
    is_as_good: bool
    """Whether the pose of the settings is as good as the best one, or none is named."""
    rooms: tuple[Room, ...]
    finer: tuple[Finer, ...]
    told: tuple[PrintEstimate, ...]
    void: Void | None
    """The largest hollow that nothing opens."""
    other_voids: int
    unwalled_percent: float | None
    """The infill of settings that name no wall; time and material are then those of a solid piece."""

    @property
    def pose(self) -> Pose:
        """In which it is printed, as far as known: that of the settings, else the best."""
        return self.approved or self.best


def printing_of(sheet: Sheet, catalogue: Catalogue, models: Mapping[Process, ProcessModel]) -> Printing | None:
    """None of a part whose model tells no pose, or that has no makers."""
    part = sheet.part
    makers = _makers(part, catalogue) if part else ()
    if part is None or sheet.mesh is None or sheet.poses is None or not makers:
        return None
    angle = angle_for(makers)
    best, why = best_pose(sheet.poses, angle), reason(sheet.poses, angle)
    if best is None or why is None:
        return None
    approved = _said(part, sheet.poses)
    pose = approved or best
    material = catalogue.materials.get(part.material)
    return Printing(
        angle_deg=angle,
        best=best,
        why=why,
        approved=approved,
        is_as_good=approved is None or is_as_good(approved, best, angle),
        rooms=tuple(Room(maker=maker, turned=turned_on_plate(pose.size_mm, maker.build_volume_mm)) for maker in makers),
        finer=tuple(each for maker in makers for each in finer(maker, material, sheet.walls, sheet.features)),
        told=_told(PrintedShape(part, sheet.mesh, sheet.poses), makers, pose, catalogue, models),
        void=largest_void(sheet.features),
        other_voids=max(len(sheet.features.voids) - 1, 0) if sheet.features else 0,
        unwalled_percent=unwalled_percent(part),
    )


def _told(shape: PrintedShape, makers: Iterable[Maker], pose: Pose, catalogue: Catalogue, models: Mapping[Process, ProcessModel]) -> tuple[PrintEstimate, ...]:
    """Of each process one figure, at its most careful angle."""
    found = []
    listed, is_unread = list(makers), bool(unread_prints(catalogue))
    for process in dict.fromkeys(maker.process for maker in listed):
        work = _work(shape, pose, angle_for(maker for maker in listed if maker.process is process), catalogue)
        model = models.get(process) or model_of((), process)
        if work:
            found.append(PrintEstimate(process=process, minutes=minutes_for(model, work), grams=grams_for(model, work), is_unread=is_unread))
    return tuple(found)


def models_of(catalogue: Catalogue, shapes: Mapping[str, PrintedShape], day: date) -> dict[Process, ProcessModel]:
    """A model of each process that something was printed by, from prints.yml and from the batches; a run that both tell counts once.

    Runs of another revision than the model's teach nothing, nor do those of days to come, and those of which rules/recorded.py tells.
    """
    runs: dict[Process, list[tuple[date, Run]]] = {}
    for process, on, run in (*_runs(catalogue, shapes, day, range(len(catalogue.prints))), *_of_batches(catalogue, shapes, day)):
        runs.setdefault(process, []).append((on, run))
    # By day; of one day in the order of prints.yml, then of the batches.
    return {process: model_of([run for _, run in sorted(of_it, key=itemgetter(0))], process) for process, of_it in runs.items()}


def _of_batches(catalogue: Catalogue, shapes: Mapping[str, PrintedShape], day: date) -> Iterator[tuple[Process, date, Run]]:
    """Their places count down from -1, in the order of their numbers."""
    told = batch_runs(catalogue)
    alone = replace(catalogue, prints=tuple(told[name] for name in sorted(told)), production=Production())
    yield from _runs(alone, shapes, day, range(-1, -len(told) - 1, -1))


def _runs(catalogue: Catalogue, shapes: Mapping[str, PrintedShape], day: date, places: range) -> Iterator[tuple[Process, date, Run]]:
    printed = {each.number: Printed(each.part, each.approval, each.number in shapes) for each in catalogue.parts if each.part}
    strange = left_out((*run_doubts(catalogue, printed), *crowded_doubts(catalogue, shapes))) if catalogue.prints else frozenset[int]()
    for at, each in enumerate(catalogue.prints):
        maker, shape = catalogue.makers.get(each.maker), shapes.get(each.part)
        if at in strange or each.on > day or maker is None or shape is None or shape.part.revision != each.revision:
            continue
        pose = _stood(shape, each.up, angle_of(maker))
        work = _work(shape, pose, angle_of(maker), catalogue) if pose else None
        if work:
            yield maker.process, each.on, Run(work=work, count=each.count, minutes=each.minutes, grams=each.grams, at=places[at])


def crowded_doubts(catalogue: Catalogue, shapes: Mapping[str, PrintedShape]) -> Iterator[Problem]:
    """Runs of more pieces than there is room for, however they lie: more material than the room that they stand in.

    Beside each other they fill the plate up to their own height, so that count × volume is at most plate × height; in powder
    they lie above each other too, and fill the build volume at most. Plain geometry; how much room is lost between them is not asked.
    """
    for at, run in enumerate(catalogue.prints):
        maker, shape = catalogue.makers.get(run.maker), shapes.get(run.part)
        if maker is None or shape is None or shape.part.revision != run.revision:
            continue
        if not shape.mesh.volume_mm3 or not shape.poses.candidates:
            continue
        wide, deep, high = maker.build_volume_mm
        pose = (shape.poses.standing(run.up) if run.up else None) or _said(shape.part, shape.poses)
        own = pose.height_mm if pose else math.hypot(*shape.poses.candidates[0].size_mm)  # no pose is taller
        tall = min(high, own) if maker.process is Process.MATERIAL_EXTRUSION else high
        most = math.floor(wide * deep * tall / shape.mesh.volume_mm3 + _ROUNDING)
        if run.count > most >= 1:
            yield doubt("PRINT05", "count", "count again", path=("prints", at, "count"), count=run.count, maker=maker.id, most=most)


def unread_prints(catalogue: Catalogue) -> tuple[Problem, ...]:
    """The mistakes for which no run of prints.yml could be read; one mistake in it keeps all of them from counting."""
    if catalogue.prints:
        return ()
    return tuple(each for each in catalogue.problems if each.where.file == "prints.yml" and each.severity is Severity.ERROR)


def slip_doubts(models: Iterable[ProcessModel]) -> tuple[Problem, ...]:
    """Each recorded figure of prints.yml that was left out, by its place there."""
    return tuple(_slip(slip, key, ("prints", slip.at, key)) for key, slip in _slips(models) if slip.at >= 0)


def batch_slips(models: Iterable[ProcessModel], catalogue: Catalogue) -> Iterator[tuple[str, Problem]]:
    """The same of the batches, each with its number."""
    names = sorted(batch_runs(catalogue))
    for key, slip in _slips(models):
        if slip.at < 0:
            yield names[-slip.at - 1], _slip(slip, key, ("ended" if key == "minutes" else "grams",))


def _slips(models: Iterable[ProcessModel]) -> Iterator[tuple[Literal["minutes", "grams"], Slip]]:
    for model in models:
        yield from (("minutes", slip) for slip in (model.minutes.slips if model.minutes else ()))
        yield from (("grams", slip) for slip in (model.grams.slips if model.grams else ()))


def _slip(slip: Slip, key: Literal["minutes", "grams"], path: Path) -> Problem:
    return doubt("PRINT05", key, "slip", path=path, recorded=slip.recorded, foretold=float(f"{slip.foretold:.2g}"))


def shapes_in(sheets: Iterable[Sheet]) -> dict[str, PrintedShape]:
    return {each.number: PrintedShape(each.part, each.mesh, each.poses) for each in sheets if each.part and each.mesh and each.poses}


def shapes_of(catalogue: Catalogue, worked: Mapping[str, Worked | Problem]) -> dict[str, PrintedShape]:
    """The same of what was measured, by the part's folder."""
    found = {}
    for folder in catalogue.parts:
        made = worked.get(folder.folder)
        if folder.part and isinstance(made, Worked) and made.poses and made.poses.candidates:
            found[folder.number] = PrintedShape(folder.part, made.facts, made.poses)
    return found


def _makers(part: Part, catalogue: Catalogue) -> tuple[Maker, ...]:
    return tuple(catalogue.makers[name] for name in part.makers if name in catalogue.makers)


def _said(part: Part, poses: Poses) -> Pose | None:
    up = part.settings.up if part.settings else None
    return poses.standing(up) if up else None


def _stood(shape: PrintedShape, up: Up | None, angle_deg: int | None) -> Pose | None:
    """How it stood: as the run says, else as the settings say, else as it stands best."""
    said = shape.poses.standing(up) if up else _said(shape.part, shape.poses)
    return said or best_pose(shape.poses, angle_deg)


def work_with(sheet: Sheet, maker: Maker, pose: Pose, catalogue: Catalogue) -> PrintWork | None:
    """What a piece asks of this maker's printer in a pose; None where volume or material are not known."""
    if sheet.part is None or sheet.mesh is None or sheet.poses is None:
        return None
    return _work(PrintedShape(sheet.part, sheet.mesh, sheet.poses), pose, angle_for([maker]), catalogue)


def _work(shape: PrintedShape, pose: Pose, angle_deg: int | None, catalogue: Catalogue) -> PrintWork | None:
    """None where volume or material are not known."""
    material, settings = catalogue.materials.get(shape.part.material), shape.part.settings
    if material is None or settings is None or shape.mesh.volume_mm3 is None:
        return None
    return work_of(
        volume_mm3=shape.mesh.volume_mm3,
        area_mm2=shape.mesh.area_mm2,
        wall_mm=settings.wall_mm,
        infill_percent=settings.infill_percent,
        layer_mm=settings.layer_mm,
        height_mm=pose.height_mm,
        support_mm3=0.0 if angle_deg is None else pose.leaning_at(angle_deg).support_mm3,
        density_g_cm3=material.density_g_cm3,
    )
