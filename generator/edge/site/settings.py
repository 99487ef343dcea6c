"""mkdocs.yml as the depot wrote it, and where it says nothing, as spares puts a site together."""

from pathlib import Path
from typing import Any

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import MkDocsException
from mkdocs.structure.files import File, Files
from mkdocs.utils.yaml import yaml_load

from generator.edge.site.by_language import page_of
from generator.systems.own_site import SETTINGS, SITE

# What only the depot can say, or what has its own default.
_ITS_OWN = ("site_name", "site_dir", "plugins", "docs_dir")
# Not pages of a site: templates, and pictures of the README.
_LEFT_OUT = ("theme/", "assets/screenshots/")
_USUAL = ("site_src", "docs")


def completed(file: Path) -> dict[str, Any]:
    """What a mkdocs.yml without a theme leaves open, as arguments of `load_config`.

    One that names its theme says everything, so that MkDocs alone makes the same site of it; one that cannot be read is
    left to MkDocs too. A depot with pages of its own keeps them in site_src/ or docs/ beside the file; without them ours
    are the site's.
    """
    said = _read(file)
    if said is None or "theme" in said or "INHERIT" in said:
        return {}
    ours = _read(SETTINGS) or {}
    open_ones = {key: value for key, value in ours.items() if key not in said and key not in _ITS_OWN}
    open_ones = {key: _lasting(value) for key, value in open_ones.items()}
    open_ones["theme"] = {**ours.get("theme", {}), "custom_dir": str(SITE / "theme")}
    if "docs_dir" not in said:
        beside = (file.resolve().parent / name for name in _USUAL)
        open_ones["docs_dir"] = str(next((folder for folder in beside if folder.is_dir()), SITE))
    return open_ones


class _Lasting(dict[str, Any]):
    """A mapping of one pair that still has it when MkDocs has taken it out: `serve` reads the settings at every edit."""

    def popitem(self) -> tuple[str, Any]:
        return next(iter(self.items()))


def _lasting(value: Any) -> Any:
    if isinstance(value, list):
        return [_Lasting(each) if isinstance(each, dict) else each for each in value]
    return value


def _read(file: Path) -> dict[str, Any] | None:
    try:
        with file.open("rb") as stream:
            found = yaml_load(stream)
    except (OSError, MkDocsException):
        return None
    return found if isinstance(found, dict) else None


def is_ours(config: MkDocsConfig) -> bool:
    """Whether the site is put together with the theme that spares brings along."""
    return any(Path(folder).resolve() == SITE / "theme" for folder in config.theme.dirs)


def add_ours(files: Files, config: MkDocsConfig) -> None:
    """Pages, styles and pictures that the theme needs and the depot has none of its own of."""
    if not is_ours(config) or Path(config.docs_dir).resolve() == SITE:
        return
    own = {file.src_uri for file in files}
    for path in sorted(each for each in SITE.rglob("*") if each.is_file()):
        name = path.relative_to(SITE).as_posix()
        # A page of the depot's own is not replaced by a translation of ours.
        if not name.startswith(_LEFT_OUT) and own.isdisjoint({name, page_of(name)[0]}):
            files.append(File(name, str(SITE), config.site_dir, config.use_directory_urls))
