"""From where is a command given: which catalogue is around it?"""

import os
from pathlib import Path

from generator.systems.folders import user_home

USUAL_CATALOGUE = Path("catalogue")


def standing_in() -> Path | None:
    """The folder in which one stands; None where it is gone, or this account may not go into it."""
    try:
        here = Path.cwd()
        Path().stat()  # of the folder itself, not of what bears its name now
    except OSError:
        return None
    return here


def catalogue_around() -> Path:
    """The usual folder beside which one stands, else the nearest around one, never above one's own home."""
    here = standing_in()
    if here is None or USUAL_CATALOGUE.is_dir():
        return USUAL_CATALOGUE
    for above in (here, *here.parents):
        found = next((each for each in (above, above / USUAL_CATALOGUE) if _has_depot(each)), None)
        if found:
            return Path(os.path.relpath(found, here))
        if above == user_home():
            break
    return USUAL_CATALOGUE


def _has_depot(folder: Path) -> bool:
    try:
        return (folder / "depot.yml").is_file()
    except OSError:  # a folder above that this account may not look into
        return False


def beside_catalogue(catalogue: Path, name: str) -> Path:
    """Something that lies beside the catalogue, or in it where the whole depot is one folder."""
    if catalogue == USUAL_CATALOGUE:
        return Path(name)
    is_inside = catalogue.resolve().name == USUAL_CATALOGUE.name
    return Path(os.path.normpath((catalogue / ".." if is_inside else catalogue) / name))
