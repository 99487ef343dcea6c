"""What several commands ask in the same words: the catalogue, the store, the day."""

import argparse
import os
from datetime import UTC, date, datetime
from pathlib import Path

from generator.edge.refusals import Ending, Refusal
from generator.store import Store

STORE = ".store"


def add_catalogue(parser: argparse.ArgumentParser, *, default: bool = True) -> None:
    parser.add_argument(
        "--catalogue",
        type=Path,
        metavar="DIR",
        default=Path("catalogue") if default else None,
        help="the folder that holds depot.yml (default: catalogue)",
    )
    parser.add_argument(
        "--store",
        type=Path,
        metavar="DIR",
        default=Path(STORE) if default else None,
        help=f"where measured facts and pictures are kept (default: {STORE}; may be deleted at any time)",
    )


def add_day(parser: argparse.ArgumentParser, help_text: str) -> None:
    parser.add_argument("--on", type=day, metavar="DATE", help=help_text)


def day(text: str) -> date:
    """A day as 2026-11-25; argparse shows the message of the error."""
    try:
        return datetime.strptime(text, "%Y-%m-%d").replace(tzinfo=UTC).date()
    except ValueError:
        raise argparse.ArgumentTypeError(
            f"'{text}' is not a day that exists; write it as 2026-11-25"
        ) from None


def today() -> date:
    """SOURCE_DATE_EPOCH where it is set (reproducible-builds.org, in UTC), else today by this machine's clock."""
    said = os.environ.get("SOURCE_DATE_EPOCH", "").strip()
    if not said:
        return datetime.now().astimezone().date()
    try:
        return datetime.fromtimestamp(int(said), UTC).date()
    except (ValueError, OverflowError, OSError):
        says = f"SOURCE_DATE_EPOCH is '{said}', which is no number of seconds since 1970"
        raise Refusal(says, "set it to a whole number, or unset it", Ending.MISUSE) from None


def catalogue_of(folder: Path) -> Path:
    """The folder, if it is one; a misuse otherwise."""
    if folder.is_dir():
        return folder
    says = f"there is no folder {folder}" if not folder.exists() else f"{folder} is not a folder"
    fix = "run it beside your catalogue/, or name the folder with --catalogue DIR"
    raise Refusal(says, fix, Ending.MISUSE)


def store_in(folder: Path) -> Store:
    return Store(folder)
