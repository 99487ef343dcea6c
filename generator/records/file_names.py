"""Which names of files may a depot use, so that its folder is the same on Windows, macOS and Linux?"""

import re
import unicodedata
from collections import defaultdict
from collections.abc import Iterable

# "Naming Files, Paths, and Namespaces" of Microsoft's documentation of Windows, from memory: these mean devices, with any
# ending too, and these signs and ends are taken by none of its file systems.
_DEVICE = re.compile(r"(?:CON|PRN|AUX|NUL|CONIN\$|CONOUT\$|(?:COM|LPT)[0-9¹²³]) *(?:\..*)?", re.IGNORECASE | re.DOTALL)
_SIGN = re.compile(r'[<>:"/\\|?*\x00-\x1f]')
# A path of Windows has 260 letters at most where nobody has turned long paths on; the rest is for the folders around.
LONGEST_PATH = 180
# Common practice, no source. "Kennzeichnung", "Bezeichnung" and their like hold the German word and are no drawing.
_DRAWING = re.compile(r"drawing|(?<!be)(?<!kenn)(?<!unter)(?<!auf)(?<!aus)(?<!ver)zeichnung|tegning", re.IGNORECASE)


def unfit(name: str) -> tuple[str, str] | None:
    """Why Windows cannot hold a file of that name: a key of the words of DISK07 and the sign or device; None where it can."""
    if _DEVICE.fullmatch(name):
        return "device", name.split(".", maxsplit=1)[0].strip().upper()
    if found := _SIGN.search(name):
        return "sign", found[0]
    if name.endswith((" ", ".")):
        return "end", name[-1]
    return None


def is_device(name: str) -> bool:
    """Whether Windows takes the name for a device, with any ending."""
    return _DEVICE.fullmatch(name) is not None


def is_drawing(name: str) -> bool:
    """Whether a document calls itself a drawing, in any language of a depot."""
    return _DRAWING.search(name) is not None


def twins(names: Iterable[str]) -> list[tuple[str, ...]]:
    """Names that are one on Windows and macOS: they differ in case, or in how Unicode writes a letter, alone."""
    alike: defaultdict[str, list[str]] = defaultdict(list)
    for name in names:
        alike[unicodedata.normalize("NFC", unicodedata.normalize("NFC", name).lower())].append(name)
    return [tuple(sorted(each)) for each in alike.values() if len(each) > 1]
