"""The orthographic views of a mesh, as they are kept for who draws its sheet."""

from __future__ import annotations

import json

from generator.geometry.drawing import views
from generator.measuring.opened import Opened
from generator.measuring.products import VIEWS_FILE


def views_of(opened: Opened) -> dict[str, bytes]:
    """The views of a mesh; raises MeshError where it cannot be loaded."""
    told = views.views_of(opened.loaded.mesh).to_json()
    return {VIEWS_FILE: (json.dumps(told, separators=(",", ":"), sort_keys=True) + "\n").encode()}
