"""A page whose Markdown has not changed is not rendered again: most of a warm build would go there."""

import json
import logging
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from importlib import metadata
from pathlib import Path
from typing import Any

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page
from mkdocs.structure.toc import AnchorLink, get_toc

from generator.systems.store import Key, Store, key_of

# These read nothing but the page itself. With any other extension pages are rendered anew each time.
KNOWN = {
    "abbr",
    "admonition",
    "attr_list",
    "def_list",
    "fenced_code",
    "footnotes",
    "md_in_html",
    "sane_lists",
}
KNOWN |= {"smarty", "tables", "toc"}
_BLOB = "page.json"


class KeptPage(Page):
    """A page that asks the store before it renders; its template is filled in anew each time."""

    def __init__(self, file: File, config: MkDocsConfig, store: Store) -> None:
        super().__init__(None, file, config)
        self._store = store

    def render(self, config: MkDocsConfig, files: Files) -> None:
        key = _key(self, config)
        kept = self._store.get(key) if key else None
        if kept and self._restored(json.loads(kept[_BLOB]), files):
            return
        watched = _WatchedFiles(files)
        with _said() as said:
            super().render(config, watched)  # type: ignore[arg-type]
        # What was warned of must be warned of in the next build too, so it is not kept.
        if key and not said and None not in watched.seen.values():
            blob = json.dumps(self._told(watched.seen), ensure_ascii=False, sort_keys=True)
            self._store.put(key, {_BLOB: blob.encode("utf-8")})

    def _told(self, links: dict[str, str | None]) -> dict[str, Any]:
        anchors = self.links_to_anchors or {}
        return {
            "content": self.content,
            "toc": [_token(item) for item in self.toc],
            "title": self._title_from_render,
            "anchors": sorted(self.present_anchor_ids or ()),
            "links": links,
            "links_to_anchors": {file.src_uri: wanted for file, wanted in anchors.items()},
        }

    def _restored(self, told: dict[str, Any], files: Files) -> bool:
        """Take over what was kept, unless a link of the page leads elsewhere or nowhere by now."""
        if any(_address(files.get_file_from_path(path)) != url for path, url in told["links"].items()):
            return False
        self.content = told["content"]
        self.toc = get_toc(told["toc"])
        self._title_from_render = told["title"]
        self.present_anchor_ids = set(told["anchors"])
        self.links_to_anchors = {
            files.src_uris[uri]: found for uri, found in told["links_to_anchors"].items()
        }
        return True


class _WatchedFiles:
    """The files of the site, remembering which were looked up and where they were found."""

    def __init__(self, files: Files) -> None:
        self._files = files
        self.seen: dict[str, str | None] = {}

    def get_file_from_path(self, path: str) -> File | None:
        found = self._files.get_file_from_path(path)
        self.seen[path] = _address(found)
        return found

    def __getattr__(self, name: str) -> Any:
        return getattr(self._files, name)


def _address(file: File | None) -> str | None:
    return None if file is None or file.inclusion.value < -1 else file.url


def _key(page: Page, config: MkDocsConfig) -> Key | None:
    """All that the rendered page depends on, besides where its links lead; None where that cannot be told."""
    if not KNOWN.issuperset(config["markdown_extensions"]) or page.markdown is None:
        return None
    try:
        extensions = json.dumps([config["markdown_extensions"], config["mdx_configs"]], sort_keys=True)
    except TypeError:
        return None
    rules = f"{dict(config.validation.links)} {config.use_directory_urls}"
    return key_of("page", *_program(), extensions, rules, page.file.src_uri, page.file.url, page.markdown)


@cache
def _program() -> tuple[bytes | str, ...]:
    """What turns Markdown into a page: this module and the versions of the libraries."""
    versions = (f"{name} {metadata.version(name)}" for name in ("markdown", "mkdocs"))
    return (Path(__file__).read_bytes(), *versions)


def _token(item: AnchorLink) -> dict[str, Any]:
    children = [_token(child) for child in item.children]
    return {"name": item.title, "id": item.id, "level": item.level, "children": children}


@contextmanager
def _said() -> Iterator[list[str]]:
    """What MkDocs says about a page while it is rendered."""
    said: list[str] = []
    logger = logging.getLogger("mkdocs.structure.pages")
    listener = logging.Handler()
    listener.emit = lambda record: said.append(record.getMessage())  # type: ignore[method-assign]
    logger.addHandler(listener)
    try:
        yield said
    finally:
        logger.removeHandler(listener)
