"""Which objects does one model part of a 3MF package describe?"""

from __future__ import annotations

import re
from array import array
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Final

import numpy as np
from numpy.typing import NDArray

from generator.reading.meshes.errors import EXPORT_3MF, EXPORT_STL, SAVE_AGAIN, shown, unusable
from generator.reading.meshes.limits import MAX_FACES, MAX_VERTICES, check_face_count, check_vertex_count
from generator.reading.meshes.package import parse_xml, part_name
from generator.reading.meshes.soup import Triangles
from generator.records.mesh_units import MeshUnits

CORE: Final = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
PRODUCTION: Final = "http://schemas.microsoft.com/3dmanufacturing/production/2015/06"
MATERIALS: Final = "http://schemas.microsoft.com/3dmanufacturing/material/2015/02"
TRIANGLE_SETS: Final = "http://schemas.microsoft.com/3dmanufacturing/trianglesets/2021/07"

# Extensions that may be required: they add colours, names, or parts within the same package.
_READ: Final = frozenset({CORE, PRODUCTION, MATERIALS, TRIANGLE_SETS})

# What extensions are called in front of their own name, such as beamlattice/2017/02; the letters before an element
# are the file's own choice and name nothing.
_PUBLISHER: Final = re.compile(r"^http://schemas\.(?:microsoft\.com|3mf\.io)/3dmanufacturing/")

# A model as drafts of the format had it, before the core specification of 2015.
_DRAFT: Final = re.compile(r"http://schemas\.microsoft\.com/3dmanufacturing/\S* model$")

# The units of the 3MF Core Specification 1.4, clause 3.4 (ST_Unit); millimetre when none is stated.
_UNITS: Final = {
    "micron": MeshUnits.MICRON,
    "millimeter": MeshUnits.MILLIMETRE,
    "centimeter": MeshUnits.CENTIMETRE,
    "inch": MeshUnits.INCH,
    "foot": MeshUnits.FOOT,
    "meter": MeshUnits.METRE,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """An object placed: an item of the build list or a component of an object."""

    number: str
    path: str | None  # another part of the package that holds the object
    matrix: NDArray[np.float64]  # (4, 4), for column vectors


@dataclass(frozen=True, slots=True, kw_only=True)
class ModelObject:
    """A mesh, or other objects put together."""

    kind: str
    triangles: Triangles
    components: tuple[Item, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Model:
    """One model part."""

    units: MeshUnits
    objects: Mapping[str, ModelObject]
    build: tuple[Item, ...]


@dataclass(slots=True)
class _Open:
    """The object that is being read."""

    number: str
    kind: str
    coordinates: array[float] = field(default_factory=lambda: array("d"))
    corners: array[int] = field(default_factory=lambda: array("q"))
    components: list[Item] = field(default_factory=list)


def model(pieces: Iterator[bytes], part: str) -> Model:
    """Read one model part, given in pieces; raises MeshError, with the line, for what is not understood."""
    reading = _Reading()
    parse_xml(pieces, part, start=reading.start, end=reading.end, namespace=reading.namespace)
    if reading.units is None:
        raise unusable("3mf no model", EXPORT_3MF, part=part[:80])
    return Model(units=reading.units, objects=reading.objects, build=tuple(reading.build))


class _Reading:
    """What was met so far in one model part."""

    def __init__(self) -> None:
        self.units: MeshUnits | None = None
        self.objects: dict[str, ModelObject] = {}
        self.build: list[Item] = []
        self._open: _Open | None = None
        self._namespaces: dict[str, str] = {}
        self._names = {
            f"{CORE} model": self._model,
            f"{CORE} object": self._object,
            f"{CORE} vertex": self._vertex,
            f"{CORE} triangle": self._triangle,
            f"{CORE} component": self._component,
            f"{CORE} item": self._item,
        }

    def namespace(self, prefix: str | None, uri: str) -> None:
        self._namespaces[prefix or ""] = uri

    def start(self, name: str, attributes: dict[str, str]) -> None:
        known = self._names.get(name)
        if known is not None:
            known(attributes)
        elif self.units is None and _DRAFT.match(name):
            raise unusable("3mf draft", EXPORT_3MF)
        elif self._open is not None and name.rpartition(" ")[2] in _OTHER_SHAPES:
            what = name.rpartition(" ")[2]
            raise unusable("3mf other shape", EXPORT_STL, number=self._open.number, what=what)

    def end(self, name: str) -> None:
        if name == f"{CORE} object" and self._open is not None:
            self.objects[self._open.number] = _closed(self._open)
            self._open = None

    def _model(self, attributes: dict[str, str]) -> None:
        stated = attributes.get("unit", "millimeter")
        if stated not in _UNITS:
            raise unusable("3mf unit", EXPORT_3MF, unit=stated[:30], units=_UNITS)
        self.units = _UNITS[stated]
        self._check_required(attributes)

    def _check_required(self, attributes: dict[str, str]) -> None:
        for prefix in attributes.get("requiredextensions", "").split():
            namespace = self._namespaces.get(prefix)
            if namespace not in _READ:
                raise unusable("3mf extension", name=shown(_PUBLISHER.sub("", namespace or prefix), 80))

    def _object(self, attributes: dict[str, str]) -> None:
        number = attributes.get("id", "")
        if number in self.objects:
            raise unusable("3mf object twice", EXPORT_3MF, number=number[:20])
        self._open = _Open(number, attributes.get("type", "model"))

    def _vertex(self, attributes: dict[str, str]) -> None:
        if self._open is None:
            raise unusable("3mf corner outside", EXPORT_3MF)
        try:
            corner = (float(attributes["x"]), float(attributes["y"]), float(attributes["z"]))
        except (KeyError, ValueError):
            raise unusable("3mf corner broken", EXPORT_3MF) from None
        self._open.coordinates.extend(corner)
        if len(self._open.coordinates) > 3 * MAX_VERTICES:
            check_vertex_count(len(self._open.coordinates) // 3)

    def _triangle(self, attributes: dict[str, str]) -> None:
        if self._open is None:
            raise unusable("3mf triangle outside", EXPORT_3MF)
        try:
            corners = (int(attributes["v1"]), int(attributes["v2"]), int(attributes["v3"]))
        except (KeyError, ValueError):
            raise unusable("3mf triangle broken", EXPORT_3MF) from None
        if min(corners) < 0 or max(corners) >= len(self._open.coordinates) // 3:
            held = len(self._open.coordinates) // 3
            raise unusable("3mf corner missing", SAVE_AGAIN, corner=max(corners), corners=held)
        self._open.corners.extend(corners)
        if len(self._open.corners) > 3 * MAX_FACES:
            check_face_count(len(self._open.corners) // 3)

    def _component(self, attributes: dict[str, str]) -> None:
        if self._open is not None:
            self._open.components.append(_placed(attributes))

    def _item(self, attributes: dict[str, str]) -> None:
        self.build.append(_placed(attributes))


# Elements of other extensions that give an object a shape which is not, or not only, its triangles.
_OTHER_SHAPES: Final = frozenset({
    "beamlattice", "booleanshape", "displacementmesh", "levelset", "volumetricstack", "alternatives",
})  # fmt: skip
"""Names of elements, whatever their namespace."""


def _placed(attributes: dict[str, str]) -> Item:
    path = attributes.get(f"{PRODUCTION} path")
    return Item(
        number=attributes.get("objectid", ""),
        path=None if path is None else part_name(path),
        matrix=_matrix(attributes.get("transform")),
    )


def _matrix(text: str | None) -> NDArray[np.float64]:
    """Give a transform as (4, 4) for column vectors; the text has 12 numbers for row vectors (clause 3.3)."""
    matrix = np.eye(4)
    if text is None:
        return matrix
    try:
        numbers = np.array([float(word) for word in text.split()]).reshape(4, 3)
    except ValueError:
        raise unusable("3mf transform", EXPORT_3MF, text=text[:60]) from None
    if not np.isfinite(numbers).all():
        raise unusable("3mf transform", EXPORT_3MF, text=text[:60])
    matrix[:3] = numbers.T
    return matrix


def _closed(reading: _Open) -> ModelObject:
    if not reading.corners and not reading.components:
        raise unusable("3mf object empty", EXPORT_3MF, number=reading.number[:20])
    return ModelObject(
        kind=reading.kind,
        triangles=Triangles(
            vertices=np.array(reading.coordinates, dtype=np.float64).reshape(-1, 3),
            faces=np.array(reading.corners, dtype=np.int64).reshape(-1, 3),
        ),
        components=tuple(reading.components),
    )
