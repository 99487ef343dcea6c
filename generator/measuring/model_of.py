"""What does a tablet turn and measure of a mesh, as it is kept: the packed model, or nothing where there is nothing to turn?"""

from __future__ import annotations

import hashlib

from generator.geometry.model.made import model_of
from generator.geometry.model.packed import packed
from generator.measuring.opened import Opened
from generator.measuring.products import MARK_FILE, MODEL_FILE


def model_of_file(opened: Opened) -> dict[str, bytes]:
    """The model of a mesh and its mark; raises MeshError where it cannot be loaded."""
    model = model_of(opened.loaded.mesh)
    content = packed(model) if model else b""
    mark = hashlib.sha256(content).hexdigest() if content else ""
    return {MODEL_FILE: content, MARK_FILE: mark.encode()}
