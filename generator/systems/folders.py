"""Where does a user's own settings lie on each system?"""

import os
from pathlib import Path

from generator import systems
from generator.systems import System


def settings_folder() -> Path | None:
    """Where the system keeps a user's settings; None where nobody has a home."""
    home = user_home()
    if systems.SYSTEM is System.WINDOWS:
        said = os.environ.get("APPDATA", "")
        return Path(said) if said else None
    if systems.SYSTEM is System.MACOS:
        return home / "Library" / "Application Support" if home else None
    said = os.environ.get("XDG_CONFIG_HOME", "")
    # XDG Base Directory Specification 0.8: a path that is not absolute is to be ignored.
    return Path(said) if Path(said).is_absolute() else home / ".config" if home else None


def user_home() -> Path | None:
    try:
        return Path.home()
    except RuntimeError:
        return None
