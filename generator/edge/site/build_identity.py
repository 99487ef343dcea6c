"""Every page, data file and script of a site carries the site's own mark, so that two builds never mix unseen.

The mark is the SHA-256 of everything in the site: the same input gives the same mark, another byte another one.
"""

import hashlib
import json
from collections.abc import Iterator
from pathlib import Path

from generator.pages.outputs import NOT_YET

__all__ = ["NOT_YET", "marked"]

# The scripts that judge and what they judge from. A stamp stands behind the last line, so that a file that was cut off
# has none; assets/js/screen/copy.js looks for it.
_STAMPED = ("assets/js/*.js", "assets/js/*/*.js", "assets/data/*.js", "assets/data/*/*.js")


def marked(site: Path) -> str:
    """Write the mark into every page and script below `site`; returns it. Raises OSError.

    The folder is a new one that takes the place of the old site when all is written, so nothing is written twice for safety.
    """
    mark = _mark(site)
    for page in sorted(site.rglob("*.html")):
        content = page.read_bytes()
        if NOT_YET.encode() in content:
            page.write_bytes(content.replace(NOT_YET.encode(), mark.encode()))
    for script in _scripts(site):
        path = script.relative_to(site).as_posix()
        stamp = json.dumps([path, mark])
        line = f"(globalThis.sparesStamps=globalThis.sparesStamps||[]).push({stamp});\n"
        script.write_bytes(script.read_bytes().rstrip(b"\n") + b"\n" + line.encode("ascii"))
    return mark


def _mark(site: Path) -> str:
    whole = hashlib.sha256()
    for file in sorted(site.rglob("*")):
        if file.is_file():
            with file.open("rb") as stream:
                content = hashlib.file_digest(stream, "sha256").hexdigest()
            whole.update(f"{file.relative_to(site).as_posix()}\0{content}\n".encode())
    return whole.hexdigest()[:32]


def _scripts(site: Path) -> Iterator[Path]:
    for pattern in _STAMPED:
        yield from sorted(site.glob(pattern))
