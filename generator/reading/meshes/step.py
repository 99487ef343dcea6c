"""Which triangles does a STEP file give when its exact surfaces are cut up, and which unit is it drawn in?"""

from __future__ import annotations

import re
from typing import Final

import numpy as np

from generator.reading.meshes.errors import EXPORT_STEP, EXPORT_STL, SAVE_AGAIN, unusable
from generator.reading.meshes.gltf import opened, scene
from generator.reading.meshes.soup import Triangles
from generator.records.mesh_units import MeshUnits

# How far the triangles may lie from the exact surface, and how far two neighbours may differ in
# direction: fine enough for pictures and for a volume within 0.5 %, and some 10,000 triangles a part.
MAX_SAG_MM: Final = 0.02
MAX_TURN_RAD: Final = 0.2
_DIGITS_OF_METRE: Final = 7

_END: Final = re.compile(rb"END-ISO-10303-21\s*;['\s]*$")
_STRING_OR_COMMENT: Final = re.compile(rb"('[^']*')|/\*.*?\*/", re.DOTALL)
_DEFINED: Final = re.compile(rb"(?:^|;)\s*#(\d+)\s*=")
_NAMED: Final = re.compile(rb"#(\d+)")
_SURFACES: Final = re.compile(
    rb"\b(MANIFOLD_SOLID_BREP|BREP_WITH_VOIDS|FACETED_BREP|SHELL_BASED_SURFACE_MODEL|"
    rb"TRIANGULATED_FACE_SET|COMPLEX_TRIANGULATED_FACE_SET|TESSELLATED_SOLID|TESSELLATED_SHELL)\s*\("
)
_FACE: Final = re.compile(rb"=\s*(?:ADVANCED_FACE|FACE_SURFACE)\s*\(")
_LENGTH_UNIT: Final = re.compile(rb"=\s*\(([^;]*\bLENGTH_UNIT\s*\(\s*\)[^;]*);")

# SI prefixes of ISO 10303-41 (si_unit) that lengths of parts are drawn in.
_SI: Final = {
    b".MILLI.": MeshUnits.MILLIMETRE,
    b".CENTI.": MeshUnits.CENTIMETRE,
    b"$": MeshUnits.METRE,
    b".MICRO.": MeshUnits.MICRON,
}
_CONVERSIONS: Final = {"INCH": MeshUnits.INCH, "FOOT": MeshUnits.FOOT}


def step(content: bytes) -> tuple[Triangles, MeshUnits]:
    """Cut the surfaces of a STEP file into triangles, in **metres**, and name the unit it is drawn in.

    The kernel converts the stated unit itself and places the parts of an assembly. It is silent about
    what it cannot read, so the file is checked first: its end mark, that no entity is missing, that it
    has surfaces, and that none of them lies in another file. Raises MeshError.
    """
    bare = _STRING_OR_COMMENT.sub(b"''", content)
    _check_whole(content, bare)
    units = step_units(content)
    return _cut_up(content, len(_FACE.findall(bare))), units


def _check_whole(content: bytes, bare: bytes) -> None:
    if not _END.search(bare):
        raise unusable("step cut off", SAVE_AGAIN)
    defined = {int(number) for number in _DEFINED.findall(bare)}
    missing = sorted({int(number) for number in _NAMED.findall(bare)} - defined)
    if missing:
        line = _line_of(content, missing[0])
        raise unusable("step thing missing", SAVE_AGAIN, line=line, number=missing[0], count=len(missing))
    if b"DOCUMENT_FILE" in bare or b"EXTERNALLY_DEFINED_" in bare:
        raise unusable("step elsewhere", EXPORT_STEP)
    if not _SURFACES.search(bare):
        raise unusable("step no surface", EXPORT_STEP)


def _line_of(content: bytes, number: int) -> int:
    found = re.search(rb"#%d\b" % number, content)
    return content.count(b"\n", 0, found.start() if found else 0) + 1


def step_units(content: bytes) -> MeshUnits:
    """Name the one length unit of the file; raises MeshError when it has none, several, or a strange one."""
    bare = _STRING_OR_COMMENT.sub(rb"\1", content)  # the name of an inch is a string, so these stay
    units = {_unit(text) for text in _LENGTH_UNIT.findall(bare) if not _is_base_of_another(text, bare)}
    if len(units) > 1:
        raise unusable("step units mixed", EXPORT_STEP, units=sorted(units))
    if not units:
        raise unusable("step no unit", EXPORT_STEP)
    return units.pop()


def _is_base_of_another(text: bytes, bare: bytes) -> bool:
    """Tell whether a unit only serves to define another: an inch is defined as 25.4 of a millimetre."""
    if b"CONVERSION_BASED_UNIT" in text:
        return False
    place = bare.find(text)
    number = re.search(rb"#(\d+)\s*=\s*\($", bare[max(0, place - 40) : place])
    if number is None:
        return False
    name = number.group(1)
    measures = re.findall(rb"#(\d+)\s*=\s*LENGTH_MEASURE_WITH_UNIT\s*\([^;]*#%s\s*\)" % name, bare)
    contexts = re.findall(rb"GLOBAL_UNIT_ASSIGNED_CONTEXT\s*\(\s*\(([^)]*)\)", bare)
    is_assigned = any(b"#" + name in re.split(rb"\s*,\s*", context.strip()) for context in contexts)
    return bool(measures) and not is_assigned


def _unit(text: bytes) -> MeshUnits:
    named = re.search(rb"CONVERSION_BASED_UNIT\s*\(\s*'([^']*)'", text)
    if named is not None:
        name = named.group(1).decode("ascii", errors="replace").upper()
        if name in _CONVERSIONS:
            return _CONVERSIONS[name]
        raise unusable("step unknown unit", EXPORT_STEP, unit=name[:30])
    si = re.search(rb"SI_UNIT\s*\(\s*(\$|\.\w+\.)\s*,\s*\.METRE\.\s*\)", text)
    if si is None or si.group(1) not in _SI:
        raise unusable("step unit unclear", EXPORT_STEP)
    return _SI[si.group(1)]


def _cut_up(content: bytes, faces: int) -> Triangles:
    import cascadio  # noqa: PLC0415  half a second and 100 MB, for STEP files alone

    made = cascadio.load(
        content,
        file_type="step",
        tol_linear=MAX_SAG_MM,
        tol_angular=MAX_TURN_RAD,
        use_parallel=False,  # one worker is one processor
        merge_primitives=False,  # one surface for each face of the file, so that they can be counted
    )
    if not made:
        raise unusable("step no surface made", EXPORT_STL)
    file = opened(made)
    held = sum(len(mesh.primitives) for mesh in file.tree.meshes)
    if held < faces:
        raise unusable("step faces lost", EXPORT_STEP, held=held, faces=faces)
    return _without_noise(scene(file))


def _without_noise(triangles: Triangles) -> Triangles:
    """Round to a tenth of a micrometre and drop triangles with two corners in one place.

    The kernel hands over single precision, whose further digits mean nothing, and cuts the pole of a
    sphere into triangles that are lines: neither is in the file, so neither is a fault of the part.
    """
    vertices = np.round(triangles.vertices, _DIGITS_OF_METRE)
    a, b, c = (vertices[triangles.faces[:, corner]] for corner in range(3))
    whole = (a != b).any(axis=1) & (b != c).any(axis=1) & (c != a).any(axis=1)
    return Triangles(vertices=vertices, faces=triangles.faces[whole])
