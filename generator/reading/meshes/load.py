"""What shape does a mesh file hold, in millimetres, and who said which unit it is in?"""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Final, Literal, assert_never

from generator.geometry.facts import Defect
from generator.geometry.mesh import Mesh
from generator.reading.meshes import obj, ply, stl
from generator.reading.meshes.errors import unusable
from generator.reading.meshes.file import mesh_bytes
from generator.reading.meshes.sniff import MeshFormat, check_suffix, sniffed
from generator.reading.meshes.soup import Triangles, mesh_in_mm
from generator.reading.meshes.units import MM_IN, UnitSource
from generator.records.mesh_units import MeshUnits


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadedMesh:
    """A mesh with where it came from."""

    mesh: Mesh
    format: MeshFormat
    units: MeshUnits
    unit_source: UnitSource
    sha256: str  # of the bytes that were really read
    notes: tuple[Defect, ...] = ()
    """What else the file holds and was left out."""


def load_mesh(path: Path, units: MeshUnits | None) -> LoadedMesh:
    """Read one mesh file.

    units: what the part says about formats that carry no unit (STL, OBJ, PLY); None means millimetres.
    Raises MeshError for anything but a whole, finite mesh. Meant for a guarded child process: the
    caps keep memory and time within bounds, but a CAD kernel may still crash.
    """
    return mesh_from_bytes(mesh_bytes(path), path.suffix, units)


def mesh_from_bytes(content: bytes, suffix: str, units: MeshUnits | None) -> LoadedMesh:
    """Read a mesh from its bytes and the ending of its name; see `load_mesh`."""
    found = sniffed(content, suffix)
    check_suffix(suffix, found)
    match found:
        case MeshFormat.STL_BINARY | MeshFormat.STL_ASCII | MeshFormat.OBJ | MeshFormat.PLY:
            own, source = units or MeshUnits.MILLIMETRE, UnitSource.GIVEN if units else UnitSource.ASSUMED
            triangles, unit_mm = _UNITLESS[found](content), MM_IN[own]
        case MeshFormat.THREEMF | MeshFormat.GLB | MeshFormat.STEP:
            triangles, own, source, unit_mm = _with_own_units(content, found)
            if units not in (None, own):
                raise unusable("other unit", given=units, format=found, own=own)
        case _:
            assert_never(found)
    return LoadedMesh(
        mesh=mesh_in_mm(triangles, unit_mm),
        format=found,
        units=own,
        unit_source=source,
        sha256=hashlib.sha256(content).hexdigest(),
        notes=triangles.notes,
    )


_Unitless = Literal[MeshFormat.STL_BINARY, MeshFormat.STL_ASCII, MeshFormat.OBJ, MeshFormat.PLY]
_WithOwnUnits = Literal[MeshFormat.THREEMF, MeshFormat.GLB, MeshFormat.STEP]

_UNITLESS: Final[dict[_Unitless, Callable[[bytes], Triangles]]] = {
    MeshFormat.STL_BINARY: stl.binary_stl,
    MeshFormat.STL_ASCII: stl.ascii_stl,
    MeshFormat.OBJ: obj.obj,
    MeshFormat.PLY: ply.ply,
}


def _with_own_units(content: bytes, found: _WithOwnUnits) -> tuple[Triangles, MeshUnits, UnitSource, float]:
    """Give triangles, the unit the file was drawn in, who said so, and mm in one unit of the triangles."""
    # Imported when met: each brings a library that the usual STL does not need.
    match found:
        case MeshFormat.THREEMF:
            from generator.reading.meshes.threemf import threemf  # noqa: PLC0415

            triangles, own = threemf(content)
            return triangles, own, UnitSource.FILE, MM_IN[own]
        case MeshFormat.GLB:
            from generator.reading.meshes.gltf import glb  # noqa: PLC0415

            return glb(content), MeshUnits.METRE, UnitSource.STANDARD, MM_IN[MeshUnits.METRE]
        case MeshFormat.STEP:
            from generator.reading.meshes.step import step  # noqa: PLC0415

            triangles, own = step(content)
            return triangles, own, UnitSource.FILE, MM_IN[MeshUnits.METRE]  # the kernel gives metres whatever the file's unit
        case _:
            assert_never(found)
