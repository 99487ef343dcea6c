"""From where is a command given: which catalogue is around it?"""

import os
from pathlib import Path

from generator.systems.folders import user_home

USUAL_CATALOGUE = Path("catalogue")


def catalogue_around() -> Path:
    """The usual folder beside which one stands, else the nearest around one, never above one's own home."""
    here = Path.cwd()
    for above in () if USUAL_CATALOGUE.is_dir() else (here, *here.parents):
        found = next((each for each in (above, above / USUAL_CATALOGUE) if (each / "depot.yml").is_file()), None)
        if found:
            return Path(os.path.relpath(found, here))
        if above == user_home():
            break
    return USUAL_CATALOGUE


def beside_catalogue(catalogue: Path, name: str) -> Path:
    """Something that lies beside the catalogue, or in it where the whole depot is one folder."""
    if catalogue == USUAL_CATALOGUE:
        return Path(name)
    is_inside = catalogue.resolve().name == USUAL_CATALOGUE.name
    return Path(os.path.normpath((catalogue / ".." if is_inside else catalogue) / name))
