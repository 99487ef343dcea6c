"""What was made of a mesh file: measured and drawn."""

from dataclasses import dataclass

from generator.geometry.facts import MeshFacts


@dataclass(frozen=True, slots=True, kw_only=True)
class Pictures:
    """WebP bytes: 640×480 from the front and from behind, and a thumbnail."""

    front: bytes
    behind: bytes
    thumb: bytes
    front_mm_per_px: float
    """How many millimetres of the part one pixel of `front` shows."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ModelSource:
    """In which form a mesh came and who said its unit: values of the mesh reader's `MeshFormat`, `MeshUnits` and `UnitSource`."""

    format: str
    units: str
    unit_source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Worked:
    """A mesh measured and drawn; of one that could not be there is a `Problem` in its place."""

    facts: MeshFacts
    pictures: Pictures
    source: ModelSource
