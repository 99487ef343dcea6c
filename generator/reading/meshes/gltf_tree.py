"""What does the description (JSON) inside a GLB file say?"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, TypeVar

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from generator.reading.meshes.errors import SAVE_AGAIN, unusable

# Names and defaults are those of the Khronos glTF 2.0 specification (2021), clause 5; what bears no
# shape (materials, cameras, animations) is not named and not read.
Index = Annotated[int, Field(ge=0, strict=True)]
Vector = tuple[float, float, float]
Quaternion = tuple[float, float, float, float]
Matrix = Annotated[list[float], Field(min_length=16, max_length=16)]


class _Told(BaseModel):
    model_config = ConfigDict(extra="ignore", frozen=True, allow_inf_nan=False)


class Accessor(_Told):
    """A run of numbers of one kind."""

    bufferView: Index | None = None  # noqa: N815  the specification's own name
    byteOffset: Index = 0  # noqa: N815
    componentType: int  # noqa: N815
    normalized: bool = False
    count: Annotated[int, Field(ge=1, strict=True)]
    type: str
    sparse: dict[str, object] | None = None


class BufferView(_Told):
    """A stretch of a buffer."""

    buffer: Index
    byteOffset: Index = 0  # noqa: N815
    byteLength: Index  # noqa: N815
    byteStride: Index | None = None  # noqa: N815


class Outside(_Told):
    """A buffer or an image: the only things that may name another file."""

    uri: str | None = None


class Primitive(_Told):
    """One surface of a mesh."""

    attributes: dict[str, Index]
    indices: Index | None = None
    mode: int = 4


class GltfMesh(_Told):
    """Surfaces that belong together."""

    primitives: list[Primitive]
    weights: list[float] = []


class Node(_Told):
    """A place in the scene."""

    children: list[Index] = []
    mesh: Index | None = None
    skin: Index | None = None
    weights: list[float] | None = None
    matrix: Matrix | None = None
    rotation: Quaternion = (0.0, 0.0, 0.0, 1.0)
    scale: Vector = (1.0, 1.0, 1.0)
    translation: Vector = (0.0, 0.0, 0.0)


class Scene(_Told):
    """Where a walk through the nodes begins."""

    nodes: list[Index] = []


class GltfTree(_Told):
    """The whole description, as far as it bears the shape."""

    accessors: list[Accessor] = []
    bufferViews: list[BufferView] = []  # noqa: N815
    buffers: list[Outside] = []
    images: list[Outside] = []
    meshes: list[GltfMesh] = []
    nodes: list[Node] = []
    scenes: list[Scene] = []
    scene: Index = 0
    extensionsRequired: list[str] = []  # noqa: N815
    extensionsUsed: list[str] = []  # noqa: N815


def gltf_tree(text: bytes) -> GltfTree:
    """Read the description; raises MeshError where it does not follow the specification."""
    try:
        return GltfTree.model_validate_json(text)
    except ValidationError as error:
        first = error.errors()[0]
        place = ".".join(str(key) for key in first["loc"]) or "the text"
        raise unusable("glb description broken", SAVE_AGAIN, place=place[:80], reason=first["msg"][:120]) from None


T = TypeVar("T")


def numbered(things: Sequence[T], number: int, kind: str) -> T:
    """Give one thing by its number; raises MeshError when the file does not hold it."""
    if number >= len(things):
        raise unusable("glb thing missing", SAVE_AGAIN, kind=kind, number=number, held=len(things))
    return things[number]
