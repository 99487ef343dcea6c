"""What do the endings of models say before any is read? From the one list of formats; what is measured hangs on none of this."""

from collections.abc import Callable
from typing import Final, assert_never

from generator.reading.meshes.sniff import SUFFIXES, MeshFormat


def carries_unit(kind: MeshFormat) -> bool:
    """Whether a file of this format, or the format itself, says in which unit it is."""
    match kind:
        case MeshFormat.STL_BINARY | MeshFormat.STL_ASCII | MeshFormat.OBJ | MeshFormat.PLY:
            return False
        case MeshFormat.THREEMF | MeshFormat.GLB | MeshFormat.STEP:
            return True
        case _:
            assert_never(kind)


def is_packed(kind: MeshFormat) -> bool:
    """Whether a file of this format is compressed already."""
    match kind:
        case MeshFormat.THREEMF:
            return True
        case MeshFormat.STL_BINARY | MeshFormat.STL_ASCII | MeshFormat.OBJ | MeshFormat.PLY | MeshFormat.GLB | MeshFormat.STEP:
            return False
        case _:
            assert_never(kind)


def _endings(of: Callable[[MeshFormat], bool]) -> tuple[str, ...]:
    return tuple(suffix.removeprefix(".") for suffix, kinds in SUFFIXES.items() if all(map(of, kinds)))


MESH_ENDINGS: Final = _endings(lambda _: True)
UNITLESS_ENDINGS: Final = _endings(lambda kind: not carries_unit(kind))
"""Of models whose files do not say in which unit they are."""
PACKED_ENDINGS: Final = _endings(is_packed)
