"""How thick are the walls of a mesh, as they are kept: figures and places, or null where there is nothing to measure?"""

from __future__ import annotations

import json
from dataclasses import replace

from generator.geometry.gaps import measured_gap
from generator.geometry.walls import measured_walls
from generator.measuring.measured_of import measured_of
from generator.measuring.opened import Opened
from generator.measuring.products import WALLS_FILE


def walls_of(opened: Opened) -> dict[str, bytes]:
    """The walls of a mesh; raises MeshError where it cannot be loaded.

    They are those of the solid whose volume is told: of two bodies that cross, a ray in the one would meet the other.
    """
    solid = measured_of(opened).solid or opened.loaded.mesh
    walls = measured_walls(solid)
    gap = measured_gap(solid) if walls else None
    if walls and gap:
        walls = replace(walls, gap_mm=gap.width_mm, gap_at=gap.at)
    return {WALLS_FILE: (json.dumps(walls.to_json() if walls else None, indent=1, sort_keys=True) + "\n").encode()}
