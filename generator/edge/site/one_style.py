"""One stylesheet in the place of the theme's and ours: a page asks for one file, where it asked for ten."""

import re
from collections.abc import Iterator
from itertools import takewhile
from pathlib import Path

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files

from generator.edge.site.settings import is_ours
from generator.systems.own_site import SITE

STYLE = "assets/css/all.css"
_THEMES = (re.compile(r"assets/stylesheets/main\.\w+\.min\.css"), re.compile(r"assets/stylesheets/palette\.\w+\.min\.css"))


def join_styles(files: Files, config: MkDocsConfig) -> str | None:
    """Join them and name the file, which stands before what is left in `extra_css`; None where nothing is joined.

    Only styles that spares brings along are joined: one of the depot's, with a bracket too few, would end those behind it.
    So the first of the depot's own and all after it stay as they are.
    """
    themes = list(_of_theme(files)) if is_ours(config) else []
    if len(themes) < len(_THEMES):
        return None
    ours = list(takewhile(_is_brought_along, (files.get_file_from_path(str(name)) for name in config.extra_css)))
    joined = [*themes, *(each for each in ours if each)]
    config.extra_css = config.extra_css[len(ours) :]
    for each in joined:
        files.remove(each)
    files.append(File.generated(config, STYLE, content="\n".join(each.content_string for each in joined)))
    return STYLE


def _of_theme(files: Files) -> Iterator[File]:
    """Those that the theme's own pages ask for, in their order."""
    for pattern in _THEMES:
        yield from (each for each in files if pattern.fullmatch(each.src_uri))


def _is_brought_along(file: File | None) -> bool:
    return file is not None and file.abs_src_path is not None and SITE in Path(file.abs_src_path).resolve().parents
