"""What the pages come out as: Markdown pages, made files, files copied from the catalogue, words of the theme."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from generator.geometry.measured import Kept

NOT_YET: Final = "build-not-yet-marked"
"""What a page says of its build until its site is whole, and every file of it can be counted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """A Markdown page; `text` holds its front matter (title, template, part)."""

    path: str
    title: str
    template: str | None
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Asset:
    """A file made here."""

    path: str
    content: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredAsset:
    """A file made earlier and kept; its bytes are read when it is written."""

    path: str
    kept: Kept

    @property
    def content(self) -> bytes:
        return self.kept.read()


@dataclass(frozen=True, slots=True, kw_only=True)
class CopiedFile:
    """A document or photo of the catalogue, to lie at `path` in the site; `source` is relative to the catalogue."""

    path: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PackedFile:
    """The same inside a zip, where its name in it is `name`: nothing but a person opens it."""

    path: str
    source: str
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """Everything that the catalogue adds to the site, sorted by path.

    theme: plain values for the theme's templates, which find them as `config.extra.spares`: `language`, `words`,
    `railway`, `depot`, `contact`, `built_on`, `copy` and `icon` (a path or None). `theme["language"]` is also the theme's own language.
    """

    pages: tuple[Page, ...]
    assets: tuple[Asset | StoredAsset, ...]
    files: tuple[CopiedFile | PackedFile, ...]
    theme: Mapping[str, Any]
