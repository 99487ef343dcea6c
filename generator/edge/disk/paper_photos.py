"""The photos of parts as they go on paper: each drawn anew in a child process, for no picture is trusted with this one."""

from collections.abc import Iterable, Mapping
from pathlib import Path

from generator.measuring.guarded import Done, Guard, Limits
from generator.reading.photos import photo_on_paper
from generator.rules.sheet import Sheet

MOST = 6
"""Of one part; more are only listed."""
_LIMITS = Limits(seconds=20, memory_mb=2048)


def photos_on_paper(sheets: Iterable[Sheet], root: Path) -> Mapping[str, bytes | None]:
    """JPEG bytes by the photo's path in the catalogue; None of one that cannot be drawn."""
    paths = [photo.path for sheet in sheets for photo in [each for each in sheet.folder.photos if each.kind.is_picture][:MOST]]
    raw = {path: content for path in dict.fromkeys(paths) if (content := _read(root / path)) is not None}
    if not raw:
        return dict.fromkeys(paths)
    with Guard(workers=1, limits=_LIMITS) as children:
        drawn = children.run_all(photo_on_paper, list(raw.values()))
    found = {path: each.value for path, each in zip(raw, drawn, strict=True) if isinstance(each, Done) and isinstance(each.value, bytes)}
    return {path: found.get(path) for path in paths}


def _read(file: Path) -> bytes | None:
    try:
        return file.read_bytes()
    except OSError:  # it was there a moment ago: told as one that cannot be drawn
        return None
