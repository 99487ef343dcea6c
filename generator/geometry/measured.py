"""What was made of a mesh file: measured and drawn."""

from collections.abc import Callable
from dataclasses import dataclass, field

from generator.geometry.facts import MeshFacts
from generator.geometry.features.kinds import Features
from generator.geometry.printing.pose import Poses
from generator.geometry.sections import Walls


@dataclass(frozen=True, slots=True)
class Kept:
    """Something that was made and put away: who writes it somewhere reads its bytes, and nobody else.

    key: names what it was made from, so that equal keys mean equal bytes.
    """

    key: str
    read: Callable[[], bytes] = field(compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pictures:
    """WebP pictures: 640×480 from the front, from behind and with the walls marked where they are measured, and a thumbnail."""

    front: Kept
    behind: Kept
    thumb: Kept
    walls: Kept | None = None
    front_scale: Callable[[], float] = field(compare=False, repr=False)

    @property
    def front_mm_per_px(self) -> float:
        """How many millimetres of the part one pixel of `front` shows."""
        return self.front_scale()


@dataclass(frozen=True, slots=True, kw_only=True)
class Turnable:
    """What a tablet turns and measures, as geometry/model/packed.py packs it; empty where there is nothing to turn."""

    packed: Kept
    read_mark: Callable[[], str] = field(compare=False, repr=False)

    @property
    def mark(self) -> str:
        """The SHA-256 of the packed bytes in hex; empty where there are none."""
        return self.read_mark()


@dataclass(frozen=True, slots=True, kw_only=True)
class Likeness:
    """What a mesh is compared by: likeness.json holds its `Descriptor`, or null where it has no area; the surface its points."""

    descriptor: Kept
    surface: Kept


@dataclass(frozen=True, slots=True, kw_only=True)
class ModelSource:
    """In which form a mesh came and who said its unit: values of the mesh reader's `MeshFormat`, `MeshUnits` and `UnitSource`."""

    format: str
    units: str
    unit_source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """Products of a mesh that were not made, by name, and why: a sentence of MESH03 and what fills it."""

    products: tuple[str, ...]
    why: str
    facts: tuple[tuple[str, str | int | float | tuple[str, ...]], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Worked:
    """A mesh measured and drawn; of one that could not be there is a `Problem` in its place.

    left_out: why something of it is None that a more patient machine would make.
    """

    facts: MeshFacts
    walls: Walls | None = None
    """None where no walls could be measured: an open mesh, or one that is all corners."""
    features: Features | None = None
    """None where the volume is uncertain: of what is open nobody can tell a hole from a gap."""
    poses: Poses | None = None
    """None where what lies on which side cannot be told: the mesh is open, or faces look inwards."""
    pictures: Pictures | None
    turnable: Turnable | None = None
    source: ModelSource
    likeness: Likeness | None = None
    """None only where nobody has asked for it."""
    views: Kept | None = None
    """JSON as `Views.to_json` gives it; read by who draws the sheet alone."""
    left_out: tuple[LeftOut, ...] = ()
