"""The script that keeps the whole catalogue on the tablet: this build's files by path and content hash."""

import hashlib
import json
from collections.abc import Iterable
from dataclasses import dataclass
from importlib import resources

# Large things that a tablet fetches when they are opened, or all at once by "keep everything".
ON_DEMAND = (".stl", ".3mf", ".obj", ".ply", ".glb", ".step", ".stp", ".pdf", ".zip")


@dataclass(frozen=True, slots=True)
class BuiltFile:
    """A file of the built site: its path with forward slashes, and the SHA-256 of its bytes in hex."""

    path: str
    sha256: str

    @property
    def is_kept_at_once(self) -> bool:
        return not self.path.lower().endswith(ON_DEMAND)


def service_worker(files: Iterable[BuiltFile]) -> str:
    """The text of sw.js for exactly these files; the same files give the same text, another byte another version."""
    listed = [[file.path, file.sha256, file.is_kept_at_once] for file in sorted(files, key=lambda file: file.path)]
    text = json.dumps(listed, ensure_ascii=False, separators=(",", ":")).replace("],[", "],\n[")
    version = hashlib.sha256(text.encode()).hexdigest()[:16]
    script = (resources.files("generator.pages") / "scripts" / "sw.js").read_text(encoding="utf-8")
    return script.replace("{{version}}", version).replace("{{files}}", text)
