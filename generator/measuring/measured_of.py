"""What does a mesh measure, and of which closed mesh are its volume and walls? Asked once for all products of one job."""

from __future__ import annotations

from typing import Final
from weakref import WeakKeyDictionary

from generator.geometry.measure import Measured, measured
from generator.measuring.opened import Opened

_FOUND: Final[WeakKeyDictionary[Opened, Measured]] = WeakKeyDictionary()


def measured_of(opened: Opened) -> Measured:
    """Raises MeshError where the mesh cannot be loaded."""
    if opened not in _FOUND:
        _FOUND[opened] = measured(opened.loaded.mesh)
    return _FOUND[opened]
