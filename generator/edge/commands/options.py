"""What several commands ask in the same words: the catalogue, the store, the day."""

import argparse
import re
from collections.abc import Callable
from datetime import UTC, date, datetime
from pathlib import Path

from generator.edge.around import beside_catalogue, catalogue_around
from generator.edge.clock import today
from generator.edge.commands.terminal import Terminal
from generator.edge.one_part import OnePart, one_part
from generator.edge.refusals import Ending, refused
from generator.edge.spoken import words
from generator.edge.standing import usual_role
from generator.records.base import MOST_MINUTES
from generator.records.batches import MOST_PIECES
from generator.records.conditions import Applies
from generator.records.parts import MOST_ON_A_VEHICLE
from generator.systems.store import USUAL_FOLDER, Store
from generator.writing.yaml_text import Value

__all__ = [
    "add_by", "add_catalogue", "add_day", "add_key", "add_minutes", "add_number", "at_least_one", "by_whom", "catalogue_around",
    "catalogue_of", "day", "look_at_one", "no_day", "none_or_more", "on_one_vehicle", "own_minutes", "pieces", "pieces_or_none", "store_in", "tell_meant", "today",
]  # fmt: skip


def add_number(parser: argparse.ArgumentParser) -> None:
    help_text = "number of the part (default: the part in whose folder one stands)"
    parser.add_argument("number", metavar="NUMBER", nargs="?", help=help_text)


def tell_meant(terminal: Terminal, typed: str, meant: str) -> None:
    """What a number that was typed otherwise is taken for."""
    if typed.strip().casefold() != meant.casefold():
        terminal.note(words()("commands.meant", typed=typed.strip(), meant=meant))


def add_by(parser: argparse.ArgumentParser, help_text: str) -> None:
    parser.add_argument("--by", metavar="ROLE", help=f"{help_text} (default: your own, see spares role)")


def by_whom(options: argparse.Namespace, terminal: Terminal) -> str:
    """The role that is given, else the user's own, which is then said. Raises Refusal where there is none."""
    if options.by:
        return str(options.by)
    usual = usual_role()
    if usual is None:
        raise refused("no_by", Ending.MISUSE)
    terminal.note(words()("commands.by_usual", role=usual.role, source=usual.source))
    return usual.role


def add_catalogue(parser: argparse.ArgumentParser, *, again: bool = False) -> None:
    """again: the parser around it has them too, and what was said to that one stands where nothing is said here."""
    unsaid = argparse.SUPPRESS if again else None
    around = catalogue_around()
    parser.add_argument(
        "--catalogue",
        type=Path,
        metavar="DIR",
        default=unsaid or around,
        help="the folder that holds depot.yml (default: catalogue, or the one in which one stands)",
    )
    parser.add_argument(
        "--store",
        type=Path,
        metavar="DIR",
        default=unsaid or beside_catalogue(around, USUAL_FOLDER),
        help=f"where measured facts and pictures are kept (default: {USUAL_FOLDER}; may be deleted at any time)",
    )
    parser.add_argument(
        "--workers",
        type=workers,
        metavar="N",
        default=unsaid,
        help="how many processes measure and draw (default: all cores, fewer where memory does not permit)",
    )


def add_in_service(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--in-service",
        nargs=2,
        action="append",
        default=[],
        metavar=("TEXT", "REFERENCE"),
        help="a condition to be kept in service, and where the maintenance plan keeps it; may be given again",
    )


def in_service(text: str, reference: str) -> dict[str, Value]:
    """The condition as it stands in a record."""
    return {"text": text, "applies": Applies.IN_SERVICE.value, "maintenance_plan": reference}


def add_day(parser: argparse.ArgumentParser, help_text: str, *, again: bool = False) -> None:
    parser.add_argument("--on", type=day, metavar="DATE", default=argparse.SUPPRESS if again else None, help=help_text)


def add_format(parser: argparse.ArgumentParser) -> None:
    """For people, or for machines."""
    parser.add_argument("--format", choices=("text", "json"), default="text", help="json is for machines (default: text)")


def add_listing(parser: argparse.ArgumentParser) -> None:
    """What every list of the whole catalogue is asked with."""
    add_format(parser)
    add_day(parser, "as on this day (default: SOURCE_DATE_EPOCH, else today)")
    add_catalogue(parser)


def add_key(parser: argparse.ArgumentParser, *, required: bool = False) -> None:
    help_text = "sign with this SSH key: the private key, or the public half of one that is in the agent"
    parser.add_argument("--key", type=Path, required=required, metavar="FILE", help=help_text)


_EARLIEST, _LATEST = date(1900, 1, 1), date(2999, 12, 31)
"""Days around them are reckoned too, such as when approvals made then end; the calendar ends with the year 9999."""


def day(text: str) -> date:
    """A day as 2026-11-25; argparse shows the message of the error."""
    try:
        found = datetime.strptime(text, "%Y-%m-%d").replace(tzinfo=UTC).date()
    except ValueError:
        raise no_day(text, "2026-11-25") from None
    if not _EARLIEST <= found <= _LATEST:
        raise argparse.ArgumentTypeError(words()("commands.day.far", given=text, least=str(_EARLIEST), most=str(_LATEST)))
    return found


def no_day(text: str, like: str) -> argparse.ArgumentTypeError:
    """What is wrong with a day as it was typed: it is written otherwise, or no calendar has it."""
    key = "none" if re.fullmatch(r"[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}", text) else "otherwise"
    return argparse.ArgumentTypeError(words()(f"commands.day.{key}", given=text, like=like))


def add_minutes(parser: argparse.ArgumentParser) -> None:
    help_text = "how many minutes of your own work it took; spares today plans with the median of all that were logged"
    parser.add_argument("--minutes", type=own_minutes, metavar="N", help=help_text)


def own_minutes(text: str) -> int:
    """Minutes of own work; argparse shows the message of the error."""
    if text.isascii() and text.isdecimal() and len(text) <= len(str(MOST_MINUTES)) and 0 < int(text) <= MOST_MINUTES:
        return int(text)
    raise argparse.ArgumentTypeError(words()("commands.no_minutes", given=text, most=str(MOST_MINUTES)))


def at_least_one(text: str) -> int:
    """A count; argparse shows the message of the error."""
    return _count(text, 999_999)


def none_or_more(text: str) -> int:
    """The same, or none."""
    return _count(text, 999_999, least=0)


def pieces(text: str) -> int:
    """How many pieces of a batch; argparse shows the message of the error."""
    return _count(text, MOST_PIECES)


def pieces_or_none(text: str) -> int:
    """The same, or none."""
    return _count(text, MOST_PIECES, least=0)


def on_one_vehicle(text: str) -> int:
    """How many there are on one vehicle; argparse shows the message of the error."""
    return _count(text, MOST_ON_A_VEHICLE)


def _count(text: str, most: int, *, least: int = 1) -> int:
    if text.isascii() and text.isdecimal() and len(text) <= len(str(most)) and least <= int(text) <= most:
        return int(text)
    given = text if len(text) <= 40 else f"{text[:20]}…"
    raise argparse.ArgumentTypeError(words()("commands.no_count", given=given, least=str(least), most=str(most)))


def workers(text: str) -> int:
    """A number of processes, 1 or more; argparse shows the message of the error."""
    if text.isascii() and text.isdigit() and int(text) > 0:
        return int(text)
    raise argparse.ArgumentTypeError(f"'{text}' processes can do no work; write 1 or more")


def catalogue_of(folder: Path) -> Path:
    """The folder, if it is one; a misuse otherwise."""
    if folder.is_dir():
        return folder
    raise refused("not_folder" if folder.exists() else "no_folder", Ending.MISUSE, folder=str(folder))


def store_in(folder: Path) -> Store:
    return Store(folder)


def look_at_one(options: argparse.Namespace, on: date, terminal: Terminal) -> Callable[[], OnePart]:
    """What reads and judges the part that is asked for; see `one_part` for what it raises."""
    root, store = catalogue_of(options.catalogue), store_in(options.store)

    def look() -> OnePart:
        with terminal.progress() as report:
            return one_part(root, options.number, on, store, report, workers=options.workers)

    return look
