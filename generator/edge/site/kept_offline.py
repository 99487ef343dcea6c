"""What a tablet keeps: the last touch on a written site, when every file of it lies there."""

import hashlib
import shutil
from collections.abc import Iterator
from pathlib import Path

from generator.edge.disk.atomic import written_whole
from generator.edge.site.build_identity import marked
from generator.pages.offline.service_worker import BuiltFile, service_worker
from generator.pages.wording import Wording

WORKER = "sw.js"
# The theme brings the scripts of its own search, some 3 MB. Our pages ask for none of them.
_THEME_SCRIPTS = "assets/javascripts"


def finish_for_tablets(site: Path, words: Wording) -> None:
    """Take away what no page asks for, mark what is left, and write sw.js for exactly these files. Raises OSError."""
    _drop_unused(site)
    said = words("offline.not_kept") + "\n" + words("offline.back")
    mark = marked(site)
    worker = service_worker(_built_files(site), said, mark)
    written_whole(site / WORKER, worker.encode("utf-8"))


def _drop_unused(site: Path) -> None:
    """Source maps, and the theme's scripts where the first page names none of them."""
    for source_map in sorted((site / "assets").rglob("*.map")):
        source_map.unlink()
    first = site / "index.html"
    if first.is_file() and _THEME_SCRIPTS not in first.read_text(encoding="utf-8"):
        shutil.rmtree(site / _THEME_SCRIPTS, ignore_errors=True)
    for name in ("sitemap.xml", "sitemap.xml.gz"):  # the one holds the day, the other the second of the build
        (site / name).unlink(missing_ok=True)


def _built_files(site: Path) -> Iterator[BuiltFile]:
    for file in sorted(site.rglob("*")):
        path = file.relative_to(site).as_posix()
        if file.is_file() and path != WORKER and not path.startswith("."):
            content = file.read_bytes()
            yield BuiltFile(path=path, sha256=hashlib.sha256(content).hexdigest(), size_bytes=len(content))
