"""What do the facts of all parts say together that those of one do not say alone?"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from generator.geometry.measured import Worked
from generator.records.catalogue import PartFolder
from generator.records.problems import Problem
from generator.rules.alike import LooksLike, Pair, looks_like
from generator.rules.plausible import twins


@dataclass(frozen=True, slots=True, kw_only=True)
class Between:
    """Each by the part's folder; a part of which nothing is to be said is left out."""

    same_model: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """The numbers of other parts with the very same model, see rules/plausible.py."""
    alike: Mapping[str, tuple[LooksLike, ...]] = field(default_factory=dict)
    """Other parts that are near in shape, see rules/alike.py."""


def between_parts(folders: Iterable[PartFolder], worked: Mapping[str, Worked | Problem], pairs: Iterable[Pair] = ()) -> Between:
    """Compare each part with all others; `worked` by folder; `pairs` whose shapes were laid onto each other."""
    folders = tuple(folders)
    shapes = {name: each.facts.shape_sha256 for name, each in worked.items() if isinstance(each, Worked)}
    return Between(same_model=twins(folders, shapes), alike=looks_like(folders, pairs))
