"""The MkDocs plugin: the catalogue's pages join those written by hand; `mkdocs build` and `serve` just work."""

from collections.abc import Iterator
from contextvars import ContextVar
from dataclasses import dataclass
from datetime import date
from functools import partial
from pathlib import Path
from typing import Any, Literal

from mkdocs.config import config_options
from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.livereload import LiveReloadServer
from mkdocs.plugins import BasePlugin, get_plugin_logger
from mkdocs.structure.files import File, Files, InclusionLevel

from generator.assemble.whole_way import Assembled, Progress, assembled, remembered
from generator.edge.clock import today
from generator.edge.disk.swapping import MARKER, MARKER_TEXT
from generator.edge.site.build_identity import NOT_YET, marked
from generator.edge.site.by_language import take_language
from generator.edge.site.kept_offline import finish_for_tablets
from generator.edge.site.kept_pages import KeptPage
from generator.edge.site.one_style import join_styles
from generator.edge.site.quick_theme import quicken
from generator.edge.site.settings import add_ours, is_ours
from generator.edge.site.whole_numbers import with_whole_numbers
from generator.edge.site.zipped import packed
from generator.finder.scripts import ORDER, read_scripts
from generator.finder.scripts import PLACE as SCRIPTS
from generator.pages.outputs import CopiedFile, PackedFile, StoredAsset
from generator.pages.policy import POLICY_WHILE_SERVED
from generator.pages.problems.said import one_line
from generator.pages.site import Site
from generator.pages.wording import wording
from generator.records.depot import LaterFormatError
from generator.records.problems import Severity
from generator.systems.own_site import SITE
from generator.systems.store import USUAL_FOLDER, Store

log = get_plugin_logger("spares")


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildOptions:
    """What the command line asks of the plugin that MkDocs makes; None leaves it to mkdocs.yml."""

    catalogue: Path | None = None
    store: Path | None = None
    day: date | None = None
    ready: Assembled | None = None
    """Read, judged and reported before MkDocs began."""
    report: Progress | None = None
    workers: int | None = None


PAGES_DAYS = 2
"""So long a rendered page is kept that no build uses: most pages say the day of their build."""
ASKED: ContextVar[BuildOptions] = ContextVar("asked", default=BuildOptions())  # noqa: B039  frozen


class SparesOptions(Config):  # type: ignore[no-untyped-call]
    """The options under `plugins: - spares:` in mkdocs.yml; folders are relative to that file."""

    catalogue = config_options.Type(str, default="catalogue")
    store = config_options.Type(str, default=USUAL_FOLDER)


class SparesPlugin(BasePlugin[SparesOptions]):  # type: ignore[no-untyped-call]
    """Adds a generated page for everything in the catalogue, in memory."""

    def __init__(self) -> None:
        self._found: Assembled | None = None
        self._pages = Store(Path(USUAL_FOLDER))
        self._written = 0
        self._is_kept_offline = True

    def on_startup(self, *, command: Literal["build", "gh-deploy", "serve"], dirty: bool) -> None:  # noqa: ARG002
        """Being here, it keeps this plugin object between the rebuilds of `serve`."""
        # While somebody edits, a copy kept by the browser would only hide the last edit.
        self._is_kept_offline = command != "serve"

    def on_pre_build(self, *, config: MkDocsConfig) -> None:
        """Read and judge, before MkDocs empties the folder of the last good site."""
        asked = ASKED.get()
        self._written = 0
        self._pages = Store((asked.store or _beside(config, self.config.store)) / "pages")
        self._found = asked.ready or self._read(config, asked)
        site = self._found.site
        if site is None:
            raise PluginError("the depot itself cannot be read, so there is nothing to show; see above")
        served = {} if self._is_kept_offline else {"policy": POLICY_WHILE_SERVED}
        config.extra["spares"] = {**site.theme, **served, "build": NOT_YET}
        config.theme["language"] = site.theme["language"]
        quicken(config.theme)

    def _read(self, config: MkDocsConfig, asked: BuildOptions) -> Assembled:
        catalogue = self._catalogue(config)
        if not catalogue.is_dir():
            raise PluginError(
                f"there is no folder {catalogue}; set 'catalogue' of the spares plugin to yours"
            )
        store = Store(asked.store or _beside(config, self.config.store))
        try:
            found = assembled(
                catalogue,
                asked.day or today(),
                store,
                lambda _step, _done, _whole: None,
                workers=asked.workers,
                published=Path(config.site_dir),
            )
        except LaterFormatError as error:
            raise PluginError(one_line(error.problem, wording(error.language))) from error
        if self._is_kept_offline:  # while somebody edits, what is half typed is not held against the next look
            remembered(catalogue, store, found.records)
        w = wording(found.catalogue.language)
        for problem in found.problems:
            level = log.error if problem.severity is Severity.ERROR else log.warning
            level("%s", one_line(problem, w))
        return found

    def _catalogue(self, config: MkDocsConfig) -> Path:
        return ASKED.get().catalogue or _beside(config, self.config.catalogue)

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        site = self._found.site if self._found else None
        if site is None:
            return files
        add_ours(files, config)
        take_language(files, site.theme["language"], config)
        _join_scripts(files, config)
        config.extra["spares"]["style"] = join_styles(files, config)
        for file in _made(site, self._catalogue(config), config):
            if written := files.get_file_from_path(file.src_uri):
                says = "%s is written by hand and also made from the catalogue; it is shown as made"
                log.warning(says, file.src_uri)
                files.remove(written)
            files.append(file)
            # Those above may get a title from the navigation.
            if "/" in file.src_uri and file.is_documentation_page():
                KeptPage(file, config, self._pages)
        return files

    def on_post_page(self, output: str, **_: Any) -> str:
        self._written += 1
        report = ASKED.get().report
        if report and self._found and self._found.site:
            report("page", self._written, max(self._written, len(self._found.site.pages)))
        return with_whole_numbers(output)

    def on_post_template(self, output_content: str, *, template_name: str, **_: Any) -> str:
        """No sitemap: a depot's copy is not for search engines, and its gzip holds the time of the build."""
        return "" if template_name == "sitemap.xml" else output_content

    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """Every file is written: now the tablet's copy can be listed, and pages of other days can go."""
        self._pages.prune(PAGES_DAYS)
        if self._is_kept_offline and self._found and self._found.site:
            finish_for_tablets(Path(config.site_dir), wording(self._found.site.theme["language"]))
        elif self._found and self._found.site:
            marked(Path(config.site_dir))

    def on_serve(self, server: LiveReloadServer, /, *, config: MkDocsConfig, **_: Any) -> LiveReloadServer:
        server.watch(str(self._catalogue(config)))
        return server


def _join_scripts(files: Files, config: MkDocsConfig) -> None:
    """The bundles in the place of the scripts that they are joined from, where there are any."""
    beside = Path(config.docs_dir) / SCRIPTS
    folder = beside if (beside / ORDER).is_file() or not is_ours(config) else SITE / SCRIPTS
    if not (folder / ORDER).is_file():
        return
    try:
        scripts = read_scripts(folder)
        bundles = {f"{SCRIPTS}/{name}.js": scripts.bundle(name) for name in scripts.bundles}
    except (OSError, ValueError) as error:
        raise PluginError(f"the browser's scripts cannot be joined: {error}") from error
    for name in scripts.sources:
        if source := files.get_file_from_path(f"{SCRIPTS}/{name}"):
            files.remove(source)
    for path, text in bundles.items():
        files.append(File.generated(config, path, content=text))


def _made(site: Site, root: Path, config: MkDocsConfig) -> Iterator[File]:
    """Everything that the catalogue adds, as MkDocs takes it."""
    # Out of the navigation: 1,000 pages in it cost 22 s instead of 4 s. A nav entry still finds its page.
    made = partial(File.generated, config, inclusion=InclusionLevel.NOT_IN_NAV)
    for page in site.pages:
        yield made(page.path, content=page.text)
    for asset in site.assets:
        yield StoredFile.of(asset, config) if isinstance(asset, StoredAsset) else made(asset.path, content=asset.content)
    for copy in site.files:
        yield made(copy.path, **_source(copy, root))
    yield made(MARKER, content=MARKER_TEXT)


class StoredFile(File):
    """A file of the site whose bytes stay in the store until it is written."""

    asset: StoredAsset

    @classmethod
    def of(cls, asset: StoredAsset, config: MkDocsConfig) -> "StoredFile":
        file = cls(
            asset.path,
            src_dir=None,
            dest_dir=config.site_dir,
            use_directory_urls=config.use_directory_urls,
            inclusion=InclusionLevel.NOT_IN_NAV,
        )
        file.asset, file.generated_by, file.content_bytes = asset, "spares", b""
        return file

    def copy_file(self, dirty: bool = False) -> None:  # noqa: FBT001, FBT002  as MkDocs calls it
        self.content_bytes = self.asset.content
        super().copy_file(dirty)
        self.content_bytes = b""


def _source(copy: CopiedFile | PackedFile, root: Path) -> dict[str, Any]:
    """A file as MkDocs takes it: copied from the catalogue, or made here."""
    if isinstance(copy, PackedFile):
        return {"content": packed(root / copy.source, copy.name)}
    return {"abs_src_path": str(root / copy.source)}


def _beside(config: MkDocsConfig, folder: str) -> Path:
    """A folder named in mkdocs.yml, relative to it."""
    return Path(config.config_file_path or ".").resolve().parent / folder
