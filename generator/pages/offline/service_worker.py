"""The script that keeps the whole catalogue on the tablet: this build's files by path and content hash."""

import hashlib
import json
from collections.abc import Iterable
from dataclasses import dataclass
from importlib import resources

from generator.reading.meshes.sniff import SUFFIXES

# What a tablet fetches when it is opened, or all at once by "keep everything": models, and papers that are large.
# Drawings are papers too, some 10 to 100 kB each; a scan of many sheets is not.
MODELS = tuple(SUFFIXES)
TO_TURN = "assets/models/"
"""Models to turn on the tablet: some 100 kB each, read on a tap."""
PAPERS = (".pdf", ".doc", ".docx", ".odt", ".xls", ".xlsx", ".ods", ".tif", ".tiff", ".zip")
LARGE_PAPER_BYTES = 300_000


@dataclass(frozen=True, slots=True)
class BuiltFile:
    """A file of the built site: its path with forward slashes, the SHA-256 of its bytes in hex, and how many."""

    path: str
    sha256: str
    size_bytes: int

    @property
    def is_kept_at_once(self) -> bool:
        path = self.path.lower()
        is_large = self.size_bytes > LARGE_PAPER_BYTES
        return not path.endswith(MODELS) and not path.startswith(TO_TURN) and not (path.endswith(PAPERS) and is_large)


def service_worker(files: Iterable[BuiltFile], not_kept: str, mark: str) -> str:
    """The text of sw.js for exactly these files; the same files give the same text, another byte another version.

    not_kept: what a page says that was opened without network and is not on the tablet; behind a line feed, the
    words of the link back. mark: the site's own, as it stands in every page.
    """
    in_order = sorted(files, key=lambda file: file.path)
    listed = [[file.path, file.sha256, file.is_kept_at_once, file.size_bytes] for file in in_order]
    script = (resources.files("generator.pages.offline") / "sw.js").read_text(encoding="utf-8")
    table = json.dumps(listed, ensure_ascii=True, separators=(",", ":")).replace("],[", "],\n[")
    # The script counts too: a worker that serves otherwise is another version of the copy.
    version = hashlib.sha256((script + table + not_kept + mark).encode()).hexdigest()[:16]
    said = json.dumps(not_kept, ensure_ascii=True).replace("<", "\\u003c")
    script = script.replace("{{mark}}", mark)
    return script.replace("{{version}}", version).replace("{{not_kept}}", said).replace("{{files}}", table)
