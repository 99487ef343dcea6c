"""Does a name inside a mesh file lead out of the folder that the file lies in?"""

from __future__ import annotations

import re
from urllib.parse import unquote


def leads_outside(name: str) -> bool:
    """Tell whether a path or address written in a file points anywhere but at or below its own folder.

    YamlFile for every system at once: a drive letter, a network share, a home folder and an address
    are outside on all of them, whatever system reads the file.
    """
    plain = unquote(name).strip().strip('"').replace("\\", "/")
    if re.match(r"[A-Za-z][A-Za-z0-9+.-]*:", plain) or plain.startswith(("/", "~")):
        return True
    return ".." in plain.split("/")
