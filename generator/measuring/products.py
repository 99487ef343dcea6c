"""What is made of a mesh, and in which files is each product kept?"""

from typing import Final

FACTS: Final = "facts"
WALLS: Final = "walls"
FEATURES: Final = "features"
POSES: Final = "poses"
LIKENESS: Final = "likeness"
MODEL: Final = "model"
VIEWS: Final = "views"
PICTURES: Final = ("front", "behind", "thumb")
WALLS_PICTURE: Final = "walls_picture"
OF_MESH: Final = {
    WALLS: "generator.measuring.walls_of",
    FEATURES: "generator.measuring.features_of",
    POSES: "generator.measuring.poses_of",
    LIKENESS: "generator.measuring.likeness_of",
    MODEL: "generator.measuring.model_of",
    VIEWS: "generator.measuring.views_of",
}
"""What is made of the mesh alone, beside its facts, and the module that makes it; makers.py has its functions."""
GROUPS: Final = {**dict.fromkeys(PICTURES, "pictures")}
"""What is one thing to a reader, by the product's name."""
TOLD: Final = (FACTS, WALLS, FEATURES, POSES)
"""What is read at once: figures. The others are read by whoever writes them somewhere."""
PRODUCTS: Final = (FACTS, *OF_MESH, *PICTURES, WALLS_PICTURE)
"""In the order in which they are made."""

FACTS_FILE: Final = "facts.json"
ERROR_FILE: Final = "error.json"
"""Instead of the facts, where the mesh cannot be used."""
WALLS_FILE: Final = "walls.json"
FEATURES_FILE: Final = "features.json"
POSES_FILE: Final = "poses.json"
MODEL_FILE: Final = "model.bin"
"""See geometry/model/packed.py; empty where there is nothing to turn."""
MARK_FILE: Final = "mark.txt"
"""Beside the model: the SHA-256 of its bytes, for who only asks which one it is."""
LIKENESS_FILE: Final = "likeness.json"
SURFACE_FILE: Final = "surface.bin"
"""Beside the likeness: the points by which two parts are laid onto each other."""
VIEWS_FILE: Final = "views.json"
PICTURE_FILE: Final = "picture.webp"
SCALE_FILE: Final = "scale.json"
"""Beside the front picture: how many millimetres one pixel of it shows."""
