"""The same Markdown and pictures as plain files, so that no depot is tied to one site builder."""

from pathlib import Path

from generator.pages.site import Site


def write_plain(site: Site, folder: Path) -> None:
    """Write every generated page and asset below `folder`. Raises OSError where the disk does not allow it."""
    made = [(page.path, page.text.encode("utf-8")) for page in site.pages]
    made += [(asset.path, asset.content) for asset in site.assets]
    for path, content in made:
        file = folder / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(content)
