"""Where is a part thinnest and thickest, as the picture of it is kept?"""

from __future__ import annotations

import json
from collections.abc import Mapping

from generator.geometry.render.encoded import encoded
from generator.geometry.render.marked import marked_picture
from generator.geometry.sections import Walls
from generator.measuring.opened import Opened
from generator.measuring.pictures_of import colour_of
from generator.measuring.products import PICTURE_FILE, WALLS_FILE
from generator.measuring.walls_of import walls_of

SIZE_PX = (640, 480)


def walls_picture_of(opened: Opened, tint: str, walls: Mapping[str, bytes] | None) -> dict[str, bytes]:
    """A picture with 1 at the thinnest and 2 at the thickest section; empty where no walls could be measured.

    tint: '#rrggbb'. walls: as `walls_of` gives them, where they have just been measured. Raises MeshError where the
    mesh cannot be loaded.
    """
    told = json.loads((walls or walls_of(opened))[WALLS_FILE])
    if told is None:
        return {PICTURE_FILE: b""}
    found = Walls.from_json(told)
    spots = ((found.thinnest_at, found.thinnest_mm), (found.thickest_at, found.thickest_mm))
    drawn = marked_picture(opened.loaded.mesh, spots, size_px=SIZE_PX, tint=colour_of(tint))
    return {PICTURE_FILE: encoded(drawn)}
