"""`spares init`: a folder for a depot of one's own, which builds before there is any part."""

import argparse
import os
import shutil
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

from generator.edge.commands.terminal import Terminal
from generator.edge.disk import done
from generator.edge.disk.atomic import beside, tidied
from generator.edge.disk.unbroken import unbroken
from generator.edge.refusals import Ending, disk_refusal, refused
from generator.edge.spoken import listen, words
from generator.pages.problems.said import said
from generator.pages.wording import Wording, wording
from generator.reading.catalogue import read_catalogue
from generator.records.depot import Language
from generator.systems.renaming import renamed
from generator.writing.starter import ASKED, starter_files

DESCRIPTION = """\
Makes a folder for a depot of your own: records with commented examples, mkdocs.yml, an ignore file, hints for git and a
build server. It builds as it is, and its first page says what to do next. The folder is made, parents included, or is
empty; nothing that exists is ever overwritten. Put a name with a space in double quotes.

With --with-examples a first part can walk at once, on an example fleet that you change into your own; without it only
what you write is there, since a vehicle made up would be taken for real.

What you do not say here stands in depot.yml as a blank in [brackets], which `spares check` notes.
"""
EXAMPLE = """\
  spares init depot
  spares init "Betriebshof Süd" --language de --currency EUR
  spares init depot --railway "Hill Railway" --depot "Upper depot" --currency EUR --contact "parts office, extension 12"
"""
HOLDS_NOTHING = frozenset({".git", ".DS_Store", "desktop.ini", "Thumbs.db"})
_MEANT = {
    "english": "en", "englisch": "en", "engelsk": "en", "german": "de", "deutsch": "de", "tysk": "de", "danish": "da", "dansk": "da",
    "dänisch": "da", "dk": "da",
}  # fmt: skip
_SHOWN = 3


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("folder", metavar="DIR", help="the depot's folder: new, or empty")
    parser.add_argument(
        "--language", type=language, default=Language.ENGLISH, metavar="LANGUAGE", help="en, de or da: of pages and comments (default: en)"
    )
    parser.add_argument(
        "--with-examples", action="store_true", help="the example fleet, makers and material as records, for a first part; change them into your own"
    )
    for key, what in zip(ASKED, ("the railway's or operator's name", "the depot's name", "ISO 4217 code, such as EUR", "whom a mechanic asks"), strict=True):
        parser.add_argument(f"--{key}", metavar="CODE" if key == "currency" else "TEXT", help=what)


def language(text: str) -> Language:
    """A language by its code, its name or a locale such as de_AT; argparse shows the message of the error."""
    first = text.strip().casefold().replace("_", "-").split("-")[0]
    code = _MEANT.get(first, first)
    if code not in set(Language):
        raise argparse.ArgumentTypeError(f"'{text}' is none of the languages; write one of: {', '.join(Language)}")
    return Language(code)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    w = wording(options.language)
    target = _target(options.folder)
    _refuse_taken(target)
    given = {key: getattr(options, key) for key in ASKED}
    _create(target, starter_files(options.language, given, with_examples=options.with_examples), w)
    terminal.say(w("starting.made", folder=str(target)), "bold")
    for line in w.flat["starting.made_of"]:
        terminal.say(f"  {line}")
    inside = () if target.resolve() == Path.cwd() else (f'cd "{target}"' if " " in str(target) else f"cd {target}",)
    terminal.say(w("starting.next"))
    for command in (*inside, "spares check", "spares build"):
        terminal.say(f"  {command}")
    return Ending.CLEAN


def _target(text: str) -> Path:
    if not text.strip():
        raise refused("init_no_folder", Ending.MISUSE)
    if text.startswith("~"):
        raise refused("init_home", Ending.MISUSE, folder=text)
    return Path(text)


def _refuse_taken(target: Path) -> None:
    """Only a new or an empty folder, inside no other depot, becomes one."""
    if os.path.lexists(target) and not target.is_dir():
        raise refused("init_dead_link" if target.is_symlink() and not target.exists() else "init_is_file", Ending.MISUSE, folder=str(target))
    try:
        found = sorted(each.name for each in target.iterdir() if each.name not in HOLDS_NOTHING) if target.exists() else []
    except OSError as error:
        raise disk_refusal(error, "reading", target) from error
    found = [name for name in found if not name.startswith(".new-")]
    if "catalogue" in found:
        if words().language == Language.ENGLISH:  # nobody asked for another one
            listen(catalogue=target / "catalogue")
        raise refused("init_taken", Ending.MISUSE, folder=str(target))
    if found:
        named = ", ".join(found[:_SHOWN])
        if len(found) > _SHOWN:
            named = words()("commands.named_more", named=named, n=str(len(found) - _SHOWN))
        raise refused("init_not_empty", Ending.MISUSE, folder=str(target), named=named)
    around = next((each for each in target.resolve().parents if any((each / name).is_file() for name in ("depot.yml", "catalogue/depot.yml"))), None)
    if around:
        raise refused("init_inside", Ending.MISUSE, folder=str(target), around=str(around))


def _create(target: Path, files: Mapping[str, bytes], w: Wording) -> None:
    """All files or none: they are written beside, read as a depot, and come in by renaming."""
    made = [each for each in (target, *target.absolute().parents) if not each.exists()]
    fresh = target / f".new-{os.getpid()}-depot" if target.exists() else beside(target)
    with unbroken():
        try:
            target.parent.mkdir(parents=True, exist_ok=True)
            tidied(fresh.parent)
            _fill(fresh, files)
            _refuse_unfit(fresh, w)
            _bring_in(fresh, target)
            done.wrote(f"{target} is there")
        except BaseException as error:
            shutil.rmtree(fresh, ignore_errors=True)
            for each in made:
                with suppress(OSError):
                    each.rmdir()
            if isinstance(error, OSError):
                raise disk_refusal(error, "writing", target) from error
            raise


def _fill(folder: Path, files: Mapping[str, bytes]) -> None:
    folder.mkdir()
    for name, content in files.items():
        place = folder / name
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(content)


def _refuse_unfit(folder: Path, w: Wording) -> None:
    """What was said on the command line may be none that a record takes."""
    problems = read_catalogue(folder / "catalogue").problems
    if problems:
        told = said(problems[0], w)
        raise refused("init_unfit", Ending.MISUSE, why=told.says, fix=told.fix)


def _bring_in(fresh: Path, target: Path) -> None:
    """One renaming where the folder is new; into an empty one what makes it a depot comes last, and a failure takes all back."""
    if not target.exists():
        renamed(fresh, target)
        return
    brought: list[Path] = []
    try:
        for each in sorted(fresh.iterdir(), key=lambda found: found.name == "catalogue"):
            each.rename(target / each.name)
            brought.append(target / each.name)
    except OSError:
        for each in reversed(brought):
            each.rename(fresh / each.name)
        raise
    fresh.rmdir()
