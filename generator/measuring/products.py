"""What is made of a mesh, and in which files is each product kept?"""

from typing import Final

FACTS: Final = "facts"
PICTURES: Final = ("front", "behind", "thumb")
PRODUCTS: Final = (FACTS, *PICTURES)

FACTS_FILE: Final = "facts.json"
ERROR_FILE: Final = "error.json"
"""Instead of the facts, where the mesh cannot be used."""
PICTURE_FILE: Final = "picture.webp"
SCALE_FILE: Final = "scale.json"
"""Beside the front picture: how many millimetres one pixel of it shows."""
