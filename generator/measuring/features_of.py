"""What would a workshop name on a mesh, as it is kept: its features and its boxes?"""

from __future__ import annotations

import json

from generator.geometry.features import found
from generator.measuring.opened import Opened
from generator.measuring.products import FEATURES_FILE


def features_of(opened: Opened) -> dict[str, bytes]:
    """The features of a mesh; raises MeshError where it cannot be loaded."""
    told = found.features_of(opened.loaded.mesh).to_json()
    return {FEATURES_FILE: (json.dumps(told, indent=1, sort_keys=True) + "\n").encode()}
