"""`spares serve`: the site on this machine, rebuilt at every edit in the catalogue."""

import argparse
from pathlib import Path

from generator.edge.commands import options as asking
from generator.edge.commands.terminal import Terminal
from generator.edge.site.plugin import BuildOptions
from generator.edge.site.served import served

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
        type=address,
        metavar="HOST:PORT",
        default="127.0.0.1:8000",
        help="default: 127.0.0.1:8000, which only this machine can reach",
    )
    parser.add_argument("--open", action="store_true", help="open a browser")
    parser.add_argument(
        "--config", type=Path, metavar="FILE", default=Path("mkdocs.yml"), help="default: mkdocs.yml"
    )
    asking.add_day(parser, "judge as on this day (default: SOURCE_DATE_EPOCH, else today)")


def address(text: str) -> str:
    """Host and port; argparse shows the message of the error."""
    host, _, port = text.rpartition(":")
    if not host or not port.isascii() or not port.isdecimal() or not 0 < int(port) < 65536:
        raise argparse.ArgumentTypeError(f"'{text}' is no address; write it as 127.0.0.1:8100, with a port up to 65535")
    return text


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    root = asking.catalogue_of(options.catalogue)
    asked = BuildOptions(catalogue=root.resolve(), store=options.store.resolve(), day=options.on, workers=options.workers)

    def hear(says: str, is_warning: bool) -> None:  # noqa: FBT001
        terminal.note(says, "yellow" if is_warning else None)

    served(options.config, options.address, asked, hear, open_browser=options.open)
    return 0
