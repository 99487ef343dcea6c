"""`spares serve`: the site on this machine, rebuilt at every edit in the catalogue."""

import argparse
import logging
from pathlib import Path

from mkdocs.commands.serve import serve
from mkdocs.exceptions import Abort

from generator.edge import options as asking
from generator.edge.plugin import ASKED, Asked
from generator.edge.refusals import Refusal, disk_refusal
from generator.edge.site_builder import configured
from generator.edge.terminal import Terminal

DESCRIPTION = """\
Shows the site on this machine and rebuilds it when a file of the catalogue or of the hand-written pages
is saved; the browser reloads by itself. Ctrl-C ends it. Nothing is written to site/.
"""
EXAMPLE = """\
  spares serve
  spares serve --address 127.0.0.1:8100
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    asking.add_catalogue(parser)
    parser.add_argument(
        "--address",
        metavar="HOST:PORT",
        default="127.0.0.1:8000",
        help="default: 127.0.0.1:8000, which only this machine can reach",
    )
    parser.add_argument("--open", action="store_true", help="open a browser")
    parser.add_argument(
        "--config", type=Path, metavar="FILE", default=Path("mkdocs.yml"), help="default: mkdocs.yml"
    )
    asking.add_day(parser, "judge as on this day (default: SOURCE_DATE_EPOCH, else today)")


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    root = asking.catalogue_of(options.catalogue)
    configured(options.config)  # its mistakes are told here, in one message
    asked = Asked(catalogue=root.resolve(), store=options.store.resolve(), day=options.on)
    token = ASKED.set(asked)
    logger = logging.getLogger("mkdocs")
    speaker = _Speaker(terminal)
    logger.addHandler(speaker)
    before, logger.level = logger.level, logging.INFO
    try:
        serve(str(options.config), dev_addr=options.address, open_in_browser=options.open)
    except Abort as error:
        raise Refusal(f"the site could not be put together: {error.format_message()}") from error
    except OSError as error:
        raise disk_refusal(error, f"serving on {options.address}") from error
    finally:
        logger.removeHandler(speaker)
        logger.setLevel(before)
        ASKED.reset(token)
    return 0


class _Speaker(logging.Handler):
    """What MkDocs says goes to standard error, as it comes."""

    def __init__(self, terminal: Terminal) -> None:
        super().__init__(logging.INFO)
        self._terminal = terminal

    def emit(self, record: logging.LogRecord) -> None:
        self._terminal.note(record.getMessage(), "yellow" if record.levelno >= logging.WARNING else None)
