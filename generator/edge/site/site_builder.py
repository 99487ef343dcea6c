"""The site through MkDocs' Python API, in this process, with the plugin told what is already known."""

import logging
import os
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime, time
from pathlib import Path

from jinja2 import TemplateError
from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort, MkDocsException
from mkdocs.structure.files import InclusionLevel, get_files

from generator.edge.refusals import Ending, Refusal
from generator.edge.site.by_language import standing_in
from generator.edge.site.plugin import ASKED, BuildOptions, SparesPlugin
from generator.edge.site.settings import completed
from generator.finder.scripts import PLACE as SCRIPTS


def configured(file: Path) -> MkDocsConfig:
    """mkdocs.yml, checked; a Refusal says what is wrong with it."""
    if not file.is_file():
        fix = "run it in the folder that holds mkdocs.yml, or name the file with --config FILE"
        raise Refusal(f"there is no {file}, which says how the site is put together", fix, Ending.MISUSE)
    with listening() as heard:
        try:
            config: MkDocsConfig = load_config(str(file), **completed(file))
        except MkDocsException as error:
            says = "; ".join(heard) or error.format_message()
            raise Refusal(f"{file}: {says}", "mend that entry of the file", Ending.MISUSE) from error
    if not any(isinstance(plugin, SparesPlugin) for plugin in config.plugins.values()):
        raise Refusal(f"{file} does not name the plugin", "add '- spares' under 'plugins:'", Ending.MISUSE)
    return config


def built(config: MkDocsConfig, folder: Path, asked: BuildOptions) -> list[str]:
    """Write the site into `folder`; returns what MkDocs warned of, such as dead links.

    Raises Refusal where MkDocs gives up, and OSError where the disk does.
    """
    config.site_dir = str(folder)
    token = ASKED.set(asked)
    heard: list[str] = []
    try:
        with listening() as heard:
            config.plugins.on_startup(command="build", dirty=False)
            build(config)
    except Abort as error:
        raise Refusal(
            f"the site could not be put together: {error.format_message()}", "\n  ".join(heard)
        ) from error
    except TemplateError as error:
        says = f"the site could not be put together: a template of the theme: {error}"
        raise Refusal(says, "mend the template, or take custom_dir out of mkdocs.yml") from error
    finally:
        config.plugins.on_shutdown()
        ASKED.reset(token)
    return heard


def hand_written(config: MkDocsConfig, language: str) -> list[tuple[str, Path]]:
    """The pages and pictures beside the generated ones, by their path in the site; no scripts, no styles."""
    files = (
        file
        for file in get_files(config)
        if file.abs_src_path and file.inclusion.value > InclusionLevel.DRAFT.value
    )
    kept = (file for file in files if not file.is_javascript() and not file.is_css())
    kept = (file for file in kept if not file.src_uri.startswith(f"{SCRIPTS}/"))  # their order and types
    sources = {file.src_uri: Path(str(file.abs_src_path)) for file in kept}
    return [(page, sources[file]) for page, file in standing_in(language, sources).items()]


@contextmanager
def listening() -> Iterator[list[str]]:
    """What MkDocs says from warnings upwards, instead of printing it."""
    heard: list[str] = []
    logger = logging.getLogger("mkdocs")
    listener = _Listener(heard)
    before, logger.propagate = logger.propagate, False
    logger.addHandler(listener)
    try:
        yield heard
    finally:
        logger.removeHandler(listener)
        logger.propagate = before


class _Listener(logging.Handler):
    def __init__(self, heard: list[str]) -> None:
        super().__init__(logging.WARNING)
        self._heard = heard

    def emit(self, record: logging.LogRecord) -> None:
        self._heard.append(record.getMessage())


@contextmanager
def built_on(day: date) -> Iterator[None]:
    """The day as SOURCE_DATE_EPOCH, so that nothing in the site holds the second it was written."""
    before = os.environ.get("SOURCE_DATE_EPOCH")
    os.environ["SOURCE_DATE_EPOCH"] = str(int(datetime.combine(day, time(), UTC).timestamp()))
    try:
        yield
    finally:
        if before is None:
            del os.environ["SOURCE_DATE_EPOCH"]
        else:
            os.environ["SOURCE_DATE_EPOCH"] = before
