"""Which function makes each product of `OF_MESH`? What loads and measures is imported by whoever imports this."""

from collections.abc import Callable
from typing import Final

from generator.measuring.features_of import features_of
from generator.measuring.likeness_of import likeness_of
from generator.measuring.model_of import model_of_file
from generator.measuring.opened import Opened
from generator.measuring.poses_of import poses_kept
from generator.measuring.products import FEATURES, LIKENESS, MODEL, POSES, VIEWS, WALLS
from generator.measuring.views_of import views_of
from generator.measuring.walls_of import walls_of
from generator.systems.store import Blobs

MAKERS: Final[dict[str, Callable[[Opened], Blobs]]] = {
    WALLS: walls_of,
    FEATURES: features_of,
    POSES: poses_kept,
    LIKENESS: likeness_of,
    MODEL: model_of_file,
    VIEWS: views_of,
}
"""Each raises MeshError where the mesh cannot be loaded."""
