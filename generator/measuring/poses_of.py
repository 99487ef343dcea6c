"""In which poses could a mesh be printed, as they are kept?"""

from __future__ import annotations

import json

from generator.geometry.printing.poses import poses_of
from generator.measuring.opened import Opened
from generator.measuring.products import POSES_FILE


def poses_kept(opened: Opened) -> dict[str, bytes]:
    """The poses of a mesh, the best first; raises MeshError where it cannot be loaded."""
    return {POSES_FILE: (json.dumps(poses_of(opened.loaded.mesh).to_json(), sort_keys=True) + "\n").encode()}
