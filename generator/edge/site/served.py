"""The site on this machine through MkDocs' own server, rebuilt at every edit."""

import logging
import socket
from collections.abc import Callable
from pathlib import Path

from mkdocs.commands.serve import serve
from mkdocs.exceptions import Abort

from generator.edge.refusals import Refusal, disk_refusal
from generator.edge.site.plugin import ASKED, BuildOptions
from generator.edge.site.settings import completed
from generator.edge.site.site_builder import configured

Hear = Callable[[str, bool], None]
"""Called with what MkDocs says, as it comes, and whether it is a warning."""


def served(config: Path, address: str, asked: BuildOptions, hear: Hear, *, open_browser: bool) -> None:
    """Serve until Ctrl-C; raises Refusal where the configuration, the site or the address will not do."""
    configured(config)  # its mistakes are told here, in one message
    _refuse_taken(address)
    token = ASKED.set(asked)
    logger = logging.getLogger("mkdocs")
    listener = _Listener(hear)
    logger.addHandler(listener)
    before, logger.level = logger.level, logging.INFO
    try:
        serve(str(config), dev_addr=address, open_in_browser=open_browser, **completed(config))
    except Abort as error:
        raise Refusal(f"the site could not be put together: {error.format_message()}") from error
    except OSError as error:
        raise disk_refusal(error, "serving", address) from error
    finally:
        logger.removeHandler(listener)
        logger.setLevel(before)
        ASKED.reset(token)


def _refuse_taken(address: str) -> None:
    """Before anything is built: raises Refusal where nothing can be served there."""
    host, _, port = address.rpartition(":")
    try:
        with socket.create_server((host.strip("[]"), int(port)), family=socket.AF_INET6 if "[" in host else socket.AF_INET):
            pass
    except OSError as error:  # a name that nobody knows too
        raise disk_refusal(error, "serving", address) from error


class _Listener(logging.Handler):
    def __init__(self, hear: Hear) -> None:
        super().__init__(logging.INFO)
        self._hear = hear

    def emit(self, record: logging.LogRecord) -> None:
        self._hear(record.getMessage(), record.levelno >= logging.WARNING)
