"""Does the mesh make sense for the part: its size at its place, its soundness, room on a maker's plate?"""

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping

from generator.geometry.facts import MeshFacts
from generator.geometry.features.kinds import Features
from generator.geometry.plate import fits_plate
from generator.geometry.sections import Walls
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.parts import Part
from generator.records.problems import Problem, doubt
from generator.rules.by_features import asked, feature_doubts

Size = tuple[float, float, float]
# Facets and rounding: what is larger by less than this is not said to be larger.
_SLACK_SHARE, _SLACK_MM = 0.02, 0.05
# A wall is measured to 0.05 mm and typed to a tenth: what differs by less than this is the same wall (common practice,
# no source). A typed wall that is thinner is the safe side: it asks for evidence of a thinner specimen.
_WALL_SHARE, _WALL_MM = 0.05, 0.1
_ROUNDING_MM = 1e-9  # 2.1 − 2.0 is more than 0.1 in binary


def mesh_doubts(
    part: Part, facts: MeshFacts, catalogue: Catalogue, walls: Walls | None = None, features: Features | None = None
) -> tuple[Problem, ...]:
    """Everything about a readable mesh that a person should look at; never a reason to change it silently.

    walls: None where they could not be measured; typed walls are then held against the part's box alone.
    features: None where nothing was recognised; no check is then held against the model's holes.
    """
    sizes = _size_doubts(part, facts.size_mm, catalogue)
    # Of a model in wrong units nothing fits: its size is told first, and once.
    lengths = () if sizes else (*_wall_doubts(part, facts, walls), *_section_doubts(part, walls), *_checks_doubted(part, facts, features))
    return (
        *sizes,
        *_soundness_doubts(facts),
        *_room_doubts(part, facts, catalogue),
        *lengths,
    )


def by_hand_doubts(part: Part, catalogue: Catalogue) -> tuple[Problem, ...]:
    """The same of a part without a model whose size somebody has measured by hand."""
    size_mm = part.no_model.size_mm if part.no_model else None
    if size_mm is None:
        return ()
    sizes = [each.mended("measure again") for each in _size_doubts(part, size_mm, catalogue)]
    return tuple(sizes or _check_doubts(part, size_mm))


def without_models(folders: Iterable[PartFolder]) -> tuple[Problem, ...]:
    """One note on all parts that say why they have no model, and on what of it could be known all the same."""
    every = [(each, each.part.no_model) for each in folders if each.part and each.part.no_model]
    if not every:
        return ()
    unmeasured = [each.number for each, without in every if without.size_mm is None]
    unseen = [each.number for each, _ in every if not any(photo.kind.is_picture for photo in each.photos)]
    numbers = [each.number for each, _ in every]
    return (doubt("MESH06", "without", "later", parts=numbers, unmeasured=unmeasured or None, unseen=unseen or None),)


def twins(folders: Iterable[PartFolder], shapes: Mapping[str, str]) -> dict[str, tuple[str, ...]]:
    """Other parts with the very same model, by the part's folder: a copy left by mistake.

    shapes: the names of the measured shapes by folder; where one is missing, the file's own bytes tell. Parts that
    name each other as look-alikes are meant to be alike.
    """
    by_model: dict[str, list[PartFolder]] = defaultdict(list)
    for folder in folders:
        if folder.mesh:
            by_model[shapes.get(folder.folder) or folder.mesh.sha256].append(folder)
    return {
        folder.folder: strange
        for same in by_model.values()
        for folder in same
        if (strange := tuple(each.number for each in same if not _are_told(folder, each)))
    }


def _are_told(one: PartFolder, other: PartFolder) -> bool:
    """Whether it is said that they are alike; two under one number have been told of already."""
    if one.part is None or other.part is None or one.number.casefold() == other.number.casefold():
        return True
    return other.number in one.part.look_alikes and one.number in other.part.look_alikes


def twin_doubt(numbers: tuple[str, ...]) -> Problem:
    return doubt("MESH04", "twin", numbers=numbers)


def _size_doubts(part: Part, size_mm: Size, catalogue: Catalogue) -> list[Problem]:
    longest = max(size_mm)
    size = " × ".join(f"{side:.4g}" for side in size_mm) + " mm"
    doubts = []
    for fit in part.fits:
        place = catalogue.place(fit.fleet, fit.place)
        if place and longest > place.largest_mm:
            in_micron = place.smallest_mm <= longest / 1000 <= place.largest_mm
            mend = "micron" if in_micron else "check units"
            most = place.largest_mm
            doubts.append(doubt("SIZE01", "too large", mend, size=size, place=place.name, most=most))
        elif place and longest < place.smallest_mm:
            least = place.smallest_mm
            doubts.append(doubt("SIZE02", "too small", size=size, place=place.name, least=least))
    return doubts[:1]


def _soundness_doubts(facts: MeshFacts) -> list[Problem]:
    if not facts.defects:
        return []
    listed = [f"{defect.kind}={defect.count}" for defect in facts.defects]
    return [doubt("SOUND01", "unsound" if facts.volume_mm3 is not None else "no volume", "repair", defects=listed)]


def _room_doubts(part: Part, facts: MeshFacts, catalogue: Catalogue) -> list[Problem]:
    makers = [catalogue.makers[name] for name in part.makers if name in catalogue.makers]
    if not makers or any(fits_plate(facts.oriented_size_mm, maker.build_volume_mm) for maker in makers):
        return []
    return [doubt("ROOM01", "no plate", makers=[maker.id for maker in makers])]


def _wall_doubts(part: Part, facts: MeshFacts, measured: Walls | None) -> Iterator[Problem]:
    """No wall is thicker than the thickest section; where nobody could measure it, than the smallest side of the tightest box.

    The thinnest wall of the fire evidence is then held against the measured one, which says more.
    """
    thinnest_side = min(facts.oriented_size_mm)
    most = min(thinnest_side, measured.thickest_mm) if measured else thinnest_side
    walls = {
        "fire.thinnest_wall_mm": part.fire.thinnest_wall_mm if part.fire and not measured else None,
        "settings.wall_mm": part.settings.wall_mm if part.settings else None,
        "settings.layer_mm": part.settings.layer_mm if part.settings else None,
    }
    for key, wall_mm in walls.items():
        if wall_mm is not None and _is_larger(wall_mm, most):
            if measured:
                yield doubt("WALL01", "thicker than measured", key=key, wall=wall_mm, side=_three(most), at=_told(measured.thickest_at))
            else:
                yield doubt("WALL01", "thicker than the part", side=_four(most), key=key, wall=wall_mm)


def _section_doubts(part: Part, walls: Walls | None) -> Iterator[Problem]:
    """The wall that fire evidence is held against is the one that the model has."""
    every = [part.fire, *(fit.fire for fit in part.fits)]
    typed = max((each.thinnest_wall_mm for each in every if each and each.thinnest_wall_mm is not None), default=None)
    if walls is None or typed is None:
        return
    measured = walls.thinnest_mm
    if typed - measured > max(_WALL_MM, _WALL_SHARE * measured) + _ROUNDING_MM:
        at = _told(walls.thinnest_at)
        measure = "measure the wall"
        yield doubt("WALL02", "thinner than typed", measure, typed=typed, measured=_three(measured), at=at)


def _told(place: Size) -> str:
    return "(" + ", ".join(f"{each:.1f}" for each in place) + ")"


def _three(number: float) -> float:
    """To three digits, as a caliper tells it."""
    return float(f"{number:.3g}")


def _checks_doubted(part: Part, facts: MeshFacts, features: Features | None) -> tuple[Problem, ...]:
    """Of a check that is longer than the part that is told, and not that no hole is so large."""
    long = tuple(_check_doubts(part, facts.size_mm, facts.oriented_size_mm))
    told = {fact for each in long for fact in each.facts if fact[0] == "check"}
    return (*long, *(each for each in feature_doubts(part, features) if not told & set(each.facts)))


def _check_doubts(part: Part, *sizes_mm: Size) -> Iterator[Problem]:
    """No measure is longer than the part from corner to corner, nor a tolerance."""
    longest = max(math.hypot(*each) for each in sizes_mm)
    for check in part.checks:
        if _is_larger(max(check.nominal_mm - check.minus_mm, check.plus_mm), longest):
            yield doubt("CHECK01", "longer than the part", longest=_four(longest), check=check.name, asked=asked(check))


def _four(number: float) -> float:
    """To four digits, as it is told."""
    return float(f"{number:.4g}")


def _is_larger(one_mm: float, other_mm: float) -> bool:
    return one_mm > other_mm * (1 + _SLACK_SHARE) + _SLACK_MM
