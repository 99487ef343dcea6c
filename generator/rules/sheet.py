"""Everything known about one part on one day: what the pages, lists and packs are written from."""

from dataclasses import dataclass
from datetime import date
from typing import TypedDict

from generator.geometry.facts import MeshFacts
from generator.geometry.features.kinds import Features
from generator.geometry.mass import mass_g
from generator.geometry.measured import Kept, ModelSource, Pictures, Turnable, Worked
from generator.geometry.printing.pose import Poses
from generator.geometry.sections import Walls
from generator.records.approvals import Event, SentToTechnicalReview
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.parts import Part
from generator.records.problems import Problem, Severity, Where, in_order
from generator.rules.alike import LooksLike, alike_doubts
from generator.rules.binding import approved_text, bound_by, changes_since, part_text
from generator.rules.changes import Change
from generator.rules.consequences import voids
from generator.rules.facts.case import Copy
from generator.rules.grounds import Ground, grounds
from generator.rules.history import IN_REVIEW, History, Stage, event_of, history
from generator.rules.left_out import left_out
from generator.rules.mistake import mistake_in
from generator.rules.plausible import by_hand_doubts, mesh_doubts, twin_doubt
from generator.rules.printable import printable_doubts
from generator.rules.reminding import self_reminders
from generator.rules.verdicts import Judgement, Verdict
from generator.rules.walking import not_as_reviewed


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One part, judged."""

    folder: PartFolder
    problems: tuple[Problem, ...]
    """The folder's own, and what the rules find."""
    mistake: Problem | None
    """What keeps its record from being judged; see rules/fitness.py."""
    mesh: MeshFacts | None
    walls: Walls | None
    features: Features | None
    """What was recognised in the model; None where nothing is measured or its volume is uncertain."""
    poses: Poses | None = None
    """None where there is no certain volume, or no pose at all."""
    pictures: Pictures | None
    views: Kept | None
    source: ModelSource | None
    mass_g: float | None
    history: History
    stage: Stage
    grounds: tuple[Ground, ...]
    judgements: tuple[Judgement, ...]
    """One for each ground, on the day of the build."""
    changes: tuple[Change, ...]
    """What differs from what the newest approval binds."""
    turnable: Turnable | None = None
    """The model for the tablet."""
    unsubmitted: Problem | None = None
    """What lies here otherwise than it was submitted: an approval of it would be refused."""
    alike: tuple[LooksLike, ...] = ()
    """Other parts that are near in shape, the nearest first."""

    @property
    def number(self) -> str:
        return self.folder.number

    @property
    def part(self) -> Part | None:
        return self.folder.part

    @property
    def name(self) -> str:
        return self.folder.name

    @property
    def title(self) -> str:
        """Number and name, or the number alone where the name says no more."""
        return self.folder.title

    @property
    def size_mm(self) -> tuple[float, float, float] | None:
        """Its box, the longest side first: as measured of the model, else by hand."""
        return self.mesh.oriented_size_mm if self.mesh else self.size_by_hand_mm

    @property
    def size_by_hand_mm(self) -> tuple[float, float, float] | None:
        """None where a model tells it, or nobody has measured it."""
        without = self.part.no_model if self.part and not self.mesh else None
        if without is None or without.size_mm is None:
            return None
        longest, middle, shortest = sorted(without.size_mm, reverse=True)
        return longest, middle, shortest

    @property
    def is_broken(self) -> bool:
        return any(problem.severity is Severity.ERROR for problem in self.problems)

    @property
    def worst(self) -> Verdict:
        """The most careful verdict among the vehicles that the part fits; a broken record is never better."""
        return max((judgement.verdict for judgement in self.judgements), default=Verdict.DO_NOT_FIT)

    @property
    def best(self) -> Verdict:
        """The kindest verdict among the vehicles that the part fits."""
        return min((judgement.verdict for judgement in self.judgements), default=Verdict.DO_NOT_FIT)


def sheet(  # noqa: PLR0917  what only shows between parts comes last
    folder: PartFolder,
    worked: Worked | Problem | None,
    catalogue: Catalogue,
    copy: Copy,
    same_model: tuple[str, ...] = (),
    alike: tuple[LooksLike, ...] = (),
) -> Sheet:
    """Everything about one part on the copy's build day; what the rules find wrong stands beside the folder.

    same_model: numbers of other parts with the very same model. alike: those that are near in shape.
    """
    walked = history(folder.approval, copy.built_on)
    made = worked if isinstance(worked, Worked) else None
    problems = in_order([*folder.problems, *_found(folder, worked, walked, catalogue, same_model, copy.built_on), *_likenesses(folder, alike, same_model)])
    part, mesh = folder.part, made.facts if made else None
    mass = mass_of(part, mesh, catalogue) if part and mesh else None
    bound = bound_by(walked.permits, catalogue, folder)
    newest = walked.approval
    changed = changes_since(newest, bound[newest.index], catalogue, part) if newest and part else ()
    found = grounds(folder, catalogue, walked, bound, copy, problems=problems, walls=made.walls if made else None)
    return Sheet(
        folder=folder,
        problems=problems,
        mistake=mistake_in(problems, catalogue),
        **_of_model(made),
        mass_g=mass,
        history=walked,
        stage=_stage(walked, any(map(voids, changed)), copy.built_on) if not folder.is_way_unread else Stage.UNREAD,
        grounds=found,
        judgements=tuple(ground.on(copy.built_on) for ground in found),
        changes=changed,
        unsubmitted=_unsubmitted(walked, folder, catalogue),
        alike=alike,
    )


class _OfModel(TypedDict):
    mesh: MeshFacts | None
    walls: Walls | None
    features: Features | None
    poses: Poses | None
    pictures: Pictures | None
    turnable: Turnable | None
    views: Kept | None
    source: ModelSource | None


def _of_model(made: Worked | None) -> _OfModel:
    """What was measured and drawn of the model; poses without a single one are none."""
    return _OfModel(
        mesh=made.facts if made else None,
        walls=made.walls if made else None,
        features=made.features if made else None,
        poses=made.poses if made and made.poses and made.poses.candidates else None,
        pictures=made.pictures if made else None,
        turnable=made.turnable if made else None,
        views=made.views if made else None,
        source=made.source if made else None,
    )


def _unsubmitted(walked: History, folder: PartFolder, catalogue: Catalogue) -> Problem | None:
    """Judged as an approval of every place that it fits would be, by the same rule."""
    seen: dict[type[Event], str | None] = {SentToTechnicalReview: walked.submitted} if walked.stage is Stage.DOCUMENTS else walked.reviewed
    is_submitted = walked.stage in IN_REVIEW or (walked.stage is Stage.DOCUMENTS and walked.documents_complete)
    part = folder.part
    text = part_text(part, catalogue, folder) if part and is_submitted else None
    if part is None or text is None:
        return None
    sites = [(fit.fleet, fit.place) for fit in part.fits]
    return not_as_reviewed(seen, approved_text(text, sites, catalogue, part), sites, walked.route)


def _stage(walked: History, changed: bool, day: date) -> Stage:  # noqa: FBT001
    approval = walked.approval
    if walked.stage not in (Stage.APPROVED, Stage.TAKEN_OVER) or approval is None:
        return walked.stage
    if approval.valid_until and approval.valid_until < day:
        return Stage.LAPSED
    return Stage.CHANGED if changed else walked.stage


def mass_of(part: Part, mesh: MeshFacts, catalogue: Catalogue) -> float | None:
    """What a piece weighs in the part's material; None where the material, the volume or the walls are not known."""
    material = catalogue.materials.get(part.material)
    settings = part.settings
    infill, wall = (settings.infill_percent, settings.wall_mm) if settings else (None, None)
    if settings is None or material is None or mesh.volume_mm3 is None or (infill is not None and infill < 100 and wall is None):
        return None
    return mass_g(
        volume_mm3=mesh.volume_mm3,
        area_mm2=mesh.area_mm2,
        density_g_cm3=material.density_g_cm3,
        infill_share=infill / 100 if infill is not None else None,
        wall_mm=wall,
    )


def _found(  # noqa: PLR0917
    folder: PartFolder,
    worked: Worked | Problem | None,
    walked: History,
    catalogue: Catalogue,
    same_model: tuple[str, ...],
    day: date,
) -> list[Problem]:
    """What only shows once the mesh is measured and the events are walked through."""
    found = [_of_event(each, folder) for each in (*walked.problems, *self_reminders(folder.approval, catalogue.depot, day))]
    mesh_file = folder.mesh.path if folder.mesh else folder.folder
    if isinstance(worked, Problem):
        found.append(worked.at(Where(mesh_file, worked.where.line)))
    measured = worked if isinstance(worked, Worked) else None
    found += [each.at(Where(mesh_file)) for each in left_out(measured)] if measured else []
    doubts = mesh_doubts(folder.part, measured.facts, catalogue, measured.walls, measured.features) if folder.part and measured else ()
    doubts += by_hand_doubts(folder.part, catalogue) if folder.part else ()
    doubts += (twin_doubt(same_model),) if same_model else ()
    if folder.part and measured:
        doubts += printable_doubts(folder.part, catalogue, measured.walls, measured.poses, measured.features)
    return found + [each.at(Where(mesh_file)) for each in doubts]


def _likenesses(folder: PartFolder, alike: tuple[LooksLike, ...], same_model: tuple[str, ...]) -> list[Problem]:
    mesh_file = folder.mesh.path if folder.mesh else folder.folder
    return [each.at(Where(mesh_file)) for each in alike_doubts(alike, same_model)]


def _of_event(problem: Problem, folder: PartFolder) -> Problem:
    """In its place, and with the number of its event, counted from 1."""
    index = event_of(problem)
    return problem.at(folder.event_places[index]).telling(event=index + 1)
