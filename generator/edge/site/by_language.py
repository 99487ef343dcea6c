"""Which pages written by hand stand in the depot's language? `guide/x.de.md` takes the place of `guide/x.md` in German."""

import re
from collections.abc import Iterable

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files

from generator.records.depot import Language

_TRANSLATED = re.compile(rf"(.+)\.({'|'.join(Language)})\.md")


def page_of(path: str) -> tuple[str, str | None]:
    """The page that a file is written for, and in which language, if its name says one."""
    found = _TRANSLATED.fullmatch(path)
    return (f"{found[1]}.md", found[2]) if found else (path, None)


def standing_in(language: str, paths: Iterable[str]) -> dict[str, str]:
    """Every path of the site with the file that stands there; a translation stands only in the place of its page."""
    every = set(paths)
    pages = [path for path in sorted(every) if page_of(path)[1] is None or page_of(path)[0] not in every]
    translated = {page: f"{page.removesuffix('.md')}.{language}.md" for page in pages}
    return {page: file if file in every else page for page, file in translated.items()}


def take_language(files: Files, language: str, config: MkDocsConfig) -> None:
    """Leave one file for each page, under the page's own name, so that links and navigation stay as they are."""
    every = {file.src_uri: file for file in files if file.src_uri.endswith(".md")}
    standing = standing_in(language, every)
    for path in every.keys() - standing.keys():
        files.remove(every[path])
    for page, path in standing.items():
        if page != path:
            files.remove(every[page])
            files.append(File.generated(config, page, abs_src_path=str(every[path].abs_src_path), inclusion=every[page].inclusion))
