"""Which triangles does a 3MF package build, in which unit?"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from generator.geometry.facts import Defect, DefectKind
from generator.reading.meshes.errors import EXPORT_3MF, SAVE_AGAIN, shown, unusable
from generator.reading.meshes.limits import MAX_NESTING, check_face_count
from generator.reading.meshes.package import Package
from generator.reading.meshes.soup import Triangles, joined, placed
from generator.reading.meshes.threemf_model import Item, Model, ModelObject, model
from generator.records.mesh_units import MeshUnits

# Objects of these types are help for the printer, not the part (3MF Core Specification 1.4, 4.1).
_NOT_THE_PART: Final = frozenset({"support", "solidsupport", "other"})


def threemf(content: bytes) -> tuple[Triangles, MeshUnits]:
    """Read what the build list of a 3MF package places, and the unit that its model states.

    What is there to help the printer, such as a support, is left out and counted. Raises MeshError for a package that is broken, locked, out of proportion or points outside
    itself, for a required extension that is not known, for objects that are not made of triangles,
    for an empty build list and for one that holds nothing but help.
    """
    package = Package(content)
    start = package.start_part()
    assembly = _Assembly(package, start)
    root = assembly.model(start)
    if not root.build:
        raise unusable("3mf nothing to print", EXPORT_3MF)
    assembly.check_size(root.build)
    pieces = [piece for item in root.build for piece in assembly.placed(item, start, np.eye(4))]
    if not pieces and assembly.left_out:
        number, kind = assembly.left_out[0]
        raise unusable("3mf no part", number=number[:20], kind=shown(kind, 30))
    notes = (Defect(kind=DefectKind.LEFT_OUT, count=len(assembly.left_out)),) if assembly.left_out else ()
    return replace(joined(pieces), notes=notes), root.units


@dataclass(frozen=True, slots=True)
class _Key:
    part: str
    number: str


class _Assembly:
    """Models of one package, read once each, and the objects in them."""

    def __init__(self, package: Package, start: str) -> None:
        self._package = package
        self._models: dict[str, Model] = {}
        self._face_counts: dict[_Key, int] = {}
        self._start = start
        self.left_out: list[tuple[str, str]] = []
        """Number and kind of each object that was met and is not the part."""

    def model(self, part: str) -> Model:
        if part not in self._models:
            self._models[part] = model(self._package.pieces(part), part)
            if self._models[part].units is not self._models.get(self._start, self._models[part]).units:
                raise unusable("3mf other unit", EXPORT_3MF, part=part[:80])
        return self._models[part]

    def _found(self, item: Item, part: str) -> tuple[_Key, ModelObject]:
        """Look an object up, in another part of the package where the item names one (Production Extension)."""
        key = _Key(item.path or part, item.number)
        thing = self.model(key.part).objects.get(item.number)
        if thing is None:
            raise unusable("3mf object missing", SAVE_AGAIN, number=item.number[:20])
        return key, thing

    def check_size(self, build: tuple[Item, ...]) -> None:
        """Count before anything is copied: a few lines can ask for a million copies."""
        check_face_count(sum(self._faces(item, self._start, 0) for item in build))

    def _faces(self, item: Item, part: str, depth: int) -> int:
        if depth > MAX_NESTING:
            raise unusable("3mf too deep", EXPORT_3MF, most=MAX_NESTING)
        key, thing = self._found(item, part)
        if thing.kind in _NOT_THE_PART:
            return 1  # no triangle of the part, but met and counted each time
        if key not in self._face_counts:
            inner = sum(self._faces(component, key.part, depth + 1) for component in thing.components)
            self._face_counts[key] = len(thing.triangles.faces) + inner
        return self._face_counts[key]

    def placed(self, item: Item, part: str, outer: NDArray[np.float64]) -> list[Triangles]:
        """Place an object and all it is composed of; inner transforms come first (clause 3.3)."""
        key, thing = self._found(item, part)
        if thing.kind in _NOT_THE_PART:
            self.left_out.append((item.number, thing.kind))
            return []
        matrix = outer @ item.matrix
        pieces = [placed(thing.triangles, matrix)] if len(thing.triangles.faces) else []
        for component in thing.components:
            pieces += self.placed(component, key.part, matrix)
        return pieces
