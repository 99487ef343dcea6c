"""Which triangles does a STEP file give when its exact surfaces are cut up, and which unit is it drawn in?"""

from __future__ import annotations

import re
from typing import Final

import numpy as np

from generator.reading.meshes.errors import EXPORT_STEP, EXPORT_STL, SAVE_AGAIN, shown, unusable
from generator.reading.meshes.gltf import opened, scene
from generator.reading.meshes.soup import Triangles
from generator.reading.meshes.units import MM_IN
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
_THING: Final = re.compile(rb"#(\d+)\s*=\s*([^;]*);")

# SI prefixes of ISO 10303-41 (si_unit), in millimetres.
_SI_MM: Final = {
    b".MILLI.": 1.0,
    b".CENTI.": 10.0,
    b".DECI.": 100.0,
    b"$": 1000.0,
    b".MICRO.": 0.001,
    b".NANO.": 1e-6,
}
_SAME_UNIT: Final = 1e-5  # the inch and foot of land surveyors are two parts in a million longer

# What may be defined in another file without any shape missing: how notes look, and what things are called.
_ELSEWHERE: Final = re.compile(
    rb"\b(?:DOCUMENT_FILE|EXTERNALLY_DEFINED_"
    rb"(?!(?:\w*FONT|\w*STYLE|\w*SYMBOL|COLOUR|CLASS|STRING|GENERAL_PROPERTY|TILE)\b)\w+)\s*\("
)


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
    if _ELSEWHERE.search(bare):
        raise unusable("step elsewhere", EXPORT_STEP)
    if not _SURFACES.search(bare):
        raise unusable("step no surface", EXPORT_STEP)


def _line_of(content: bytes, number: int) -> int:
    found = re.search(rb"#%d\b" % number, content)
    return content.count(b"\n", 0, found.start() if found else 0) + 1


def step_units(content: bytes) -> MeshUnits:
    """Name the one length unit of the file; raises MeshError when it has none, several, or a strange one.

    Only the units that a context of shapes is given count (ISO 10303-41, global_unit_assigned_context): others
    belong to properties, such as a density per cubic centimetre.
    """
    bare = _STRING_OR_COMMENT.sub(_as_name, content)
    contexts = [text for _, text in _THING.findall(bare) if b"GLOBAL_UNIT_ASSIGNED_CONTEXT" in text]
    of_shapes = [text for text in contexts if b"GEOMETRIC_REPRESENTATION_CONTEXT" in text] or contexts
    given = {number for text in of_shapes for number in _NAMED.findall(text)}
    lengths = [text for number, text in _THING.findall(bare) if number in given and b"LENGTH_UNIT" in text]
    units = {_unit(text, bare) for text in lengths}
    if len(units) > 1:
        raise unusable("step units mixed", EXPORT_STEP, units=sorted(units))
    if not units:
        raise unusable("step no unit", EXPORT_STEP)
    return units.pop()


def _as_name(found: re.Match[bytes]) -> bytes:
    """A string without what would end or name a thing; a comment is nothing."""
    return (found[1] or b"").translate(None, b";#")


def _unit(text: bytes, bare: bytes) -> MeshUnits:
    """The unit that is as long as what the text says; a name is no measure, and is only told."""
    named = re.search(rb"CONVERSION_BASED_UNIT\s*\(\s*'([^']*)'\s*,\s*#(\d+)", text)
    if named is None:
        return _named(_si_mm(text), "")
    # Of a measure that is written in pieces the kernel takes no notice and draws in millimetres, so it is no measure.
    measure = re.search(
        rb"(?:^|;)\s*#%s\s*=\s*LENGTH_MEASURE_WITH_UNIT\s*\(\s*LENGTH_MEASURE\s*\(\s*([-+0-9.Ee]+)\s*\)\s*,\s*#(\d+)"
        % named[2],
        bare,
    )
    base = measure and re.search(rb"(?:^|;)\s*#%s\s*=([^;]*);" % measure[2], bare)
    if not measure or not base:
        raise unusable("step unit unclear", EXPORT_STEP)
    try:
        factor = float(measure[1])
    except ValueError:
        raise unusable("step unit unclear", EXPORT_STEP) from None
    return _named(factor * _si_mm(base[1]), shown(named[1].decode("ascii", errors="replace"), 30))


def _si_mm(text: bytes) -> float:
    si = re.search(rb"SI_UNIT\s*\(\s*(\$|\.\w+\.)\s*,\s*\.METRE\.\s*\)", text)
    if si is None or si[1] not in _SI_MM:
        raise unusable("step unit unclear", EXPORT_STEP)
    return _SI_MM[si[1]]


def _named(length_mm: float, name: str) -> MeshUnits:
    for unit, mm in MM_IN.items():
        if abs(length_mm - mm) <= _SAME_UNIT * mm:
            return unit
    raise unusable("step unknown unit", EXPORT_STEP, unit=name or f"{length_mm:g} mm")


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
