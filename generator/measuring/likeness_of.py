"""By what is a mesh compared with others, as it is kept: its descriptor, or null where it has no area, and points of its surface?"""

from __future__ import annotations

import json

from generator.geometry.likeness.descriptor import described
from generator.geometry.likeness.surface import surface_of
from generator.measuring.opened import Opened
from generator.measuring.products import LIKENESS_FILE, SURFACE_FILE


def likeness_of(opened: Opened) -> dict[str, bytes]:
    """The likeness of a mesh; raises MeshError where it cannot be loaded."""
    surface = surface_of(opened.loaded.mesh)
    found = described(surface) if surface else None
    told = found.to_json() if found else None
    return {
        LIKENESS_FILE: (json.dumps(told, sort_keys=True) + "\n").encode(),
        SURFACE_FILE: surface.to_bytes() if surface and found else b"",
    }
