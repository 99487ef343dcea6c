"""The same Markdown and pictures as plain files, so that no depot is tied to one site builder."""

import shutil
from collections.abc import Iterable
from pathlib import Path

from generator.edge.site.zipped import packed
from generator.pages.outputs import PackedFile
from generator.pages.site import Site


def write_plain(site: Site, catalogue: Path, by_hand: Iterable[tuple[str, Path]], folder: Path) -> None:
    """Write every generated page, asset and copied document, and the pages written by hand, below `folder`.

    Raises OSError where the disk fails.
    """
    for path, source in by_hand:
        shutil.copyfile(source, _place(folder, path))
    for page in site.pages:
        _place(folder, page.path).write_bytes(page.text.encode("utf-8"))
    for asset in site.assets:
        _place(folder, asset.path).write_bytes(asset.content)
    for copy in site.files:
        if isinstance(copy, PackedFile):
            _place(folder, copy.path).write_bytes(packed(catalogue / copy.source, copy.name))
        else:
            shutil.copyfile(catalogue / copy.source, _place(folder, copy.path))


def _place(folder: Path, path: str) -> Path:
    file = folder / path
    file.parent.mkdir(parents=True, exist_ok=True)
    return file
