"""`spares migrate`: a catalogue of an older format in the newest one."""

import argparse
import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from pydantic import BaseModel

from generator.edge.commands import options as asking
from generator.edge.commands.terminal import Terminal
from generator.edge.disk import done
from generator.edge.disk.atomic import ChangedMeanwhileError, exchanged_whole
from generator.edge.disk.read_whole import bytes_of
from generator.edge.disk.recording import cannot_append
from generator.edge.disk.unbroken import unbroken
from generator.edge.disk.writing_lock import held
from generator.edge.one_part import folder_of
from generator.edge.refusals import Ending, Refusal, disk_refusal, refused
from generator.edge.spoken import words
from generator.pages.wording import wording
from generator.reading.catalogue import read_catalogue
from generator.reading.validating import LEFT_OPEN, record
from generator.reading.yaml_places import YamlFile, read_yaml
from generator.records.approvals import NEWEST_FORMAT, Approval
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.depot import NEWEST_CATALOGUE, Depot
from generator.records.problems import Problem
from generator.writing.appending import CannotAppendError
from generator.writing.migrating import with_format

DESCRIPTION = f"""\
Writes format: {NEWEST_FORMAT} into every approval.yml of an older form, then format: {NEWEST_CATALOGUE} into depot.yml. Nothing else in a file is
touched: comments, order, line ends and every event stay as they are. What the older form does not tell, such as what was
submitted to a review or how a trial went, nobody can know now; it is left out and goes on being asked about. No verdict
becomes kinder, and no approval is bound anew. One that only a TODO keeps from being read gets its line too. A record that
cannot be read otherwise, or that a person has to change, is told and left as it is; the others are written, depot.yml only
when none is left. Broken off, it goes on where it was when it is run again. To go back, take these lines out again. Exit
code 1 where something is left, also of a dry run.
"""
EXAMPLE = """\
  spares migrate --dry-run
  spares migrate
  spares migrate TV-0417 TV-0118     # these approval records alone
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("numbers", metavar="NUMBER", nargs="*", help="approval records of these parts alone (default: all there is)")
    parser.add_argument("--dry-run", action="store_true", help="say what would be written and write nothing")
    asking.add_catalogue(parser)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift:
    """A file of an older form, as it is and as it would be."""

    name: str
    """Its path in the catalogue."""
    file: Path
    before: bytes
    after: bytes
    newest: int

    @property
    def told(self) -> str:
        """Where it changes, and from what to what."""
        lines = zip(self.before.splitlines(), self.after.splitlines(), strict=False)
        at, was = next((at, was) for at, (was, now) in enumerate(lines, 1) if was != now)
        said = was.decode("utf-8").strip() if was.lstrip().startswith(b"format") else words()("commands.migrate.nothing")
        return f"{self.file.as_posix()}:{at}: {said} → format: {self.newest}"


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    root = asking.catalogue_of(options.catalogue)
    if options.dry_run:
        return _migrate(options, root, terminal)
    with held(root, "migrate", terminal.note):
        return _migrate(options, root, terminal)


def _migrate(options: argparse.Namespace, root: Path, terminal: Terminal) -> int:
    catalogue = read_catalogue(root)
    if catalogue.depot is None and not _only_left_open(Depot, "depot.yml", bytes_of(root / "depot.yml")):
        raise refused("depot_unread", problems=_of_depot(catalogue), below=root)
    named = [folder_of(catalogue, number, root) for number in dict.fromkeys(options.numbers)]
    lifts, left = [], 0
    for folder in named or catalogue.parts:
        try:
            lifts += list(_of_part(folder, root, catalogue))
        except Refusal as refusal:
            left += 1
            terminal.refuse(refusal.says, refusal.fix)
    if not named and not left:
        lifts += list(_of_catalogue(root, catalogue))
    for lift in lifts:
        _refuse_unwritable(lift.file)
    for lift in lifts:
        if not options.dry_run:
            _write(lift)
        terminal.say(lift.told)
    _summary(terminal, len(lifts), left, dry_run=options.dry_run)
    return Ending.PROBLEMS if left else Ending.CLEAN


def _summary(terminal: Terminal, count: int, left: int, *, dry_run: bool) -> None:
    key = ("would" if dry_run else "written") if count or left else "newest"
    terminal.say(words()(f"commands.migrate.{key}", count=str(count), left=str(left)), "bold")


def _of_depot(catalogue: Catalogue) -> list[Problem]:
    return [each for each in catalogue.problems if each.where.file == "depot.yml"]


def _of_part(folder: PartFolder, root: Path, catalogue: Catalogue) -> Iterator[Lift]:
    """Its approval record. Raises Refusal where the record would say anything else than it says now.

    One that is whole but for what only a person knows (TODO) is no less of its form: its line is all that is written.
    """
    name = f"{folder.folder}/approval.yml"
    file = root / name
    if not file.exists():
        return
    if folder.approval is None and not _only_left_open(Approval, name, bytes_of(file)):
        raise refused("unreadable", file=str(file))
    yield from _lift(Approval, name, root, NEWEST_FORMAT, catalogue)


def _of_catalogue(root: Path, catalogue: Catalogue) -> Iterator[Lift]:
    """depot.yml, which comes last: whatever breaks it off, what is half done counts as the older format."""
    yield from _lift(Depot, "depot.yml", root, NEWEST_CATALOGUE, catalogue)


def _only_left_open(kind: type[BaseModel], name: str, raw: bytes) -> bool:
    """Whether nothing is wrong with a record but that somebody has still to fill something in."""
    source = read_yaml(name, raw)
    is_left_open = record(kind, source) is None and isinstance(source.content, dict)
    return is_left_open and {each.code for each in source.problems} == {LEFT_OPEN}


def _lift(kind: type[BaseModel], name: str, root: Path, newest: int, catalogue: Catalogue) -> Iterator[Lift]:
    """The record in the newest form, unless it has it. Raises Refusal where it would say anything else than it says now."""
    file = root / name
    before = bytes_of(file)
    was = read_yaml(name, before)
    if isinstance(was.content, dict) and was.content.get("format", 1) == newest:
        return
    try:
        after = with_format(before, newest)
    except CannotAppendError as error:
        raise cannot_append(error.problem, file, wording(catalogue.language)) from error
    now = read_yaml(name, after)
    said_before = {**was.content, "format": newest} if isinstance(was.content, dict) else None
    if now.content != said_before or _wrong(kind, was) != _wrong(kind, now):
        raise refused("by_machine", file=str(file), lines=words()("commands.refused.format", newest=str(newest)))
    yield Lift(name=name, file=file, before=before, after=after, newest=newest)


def _wrong(kind: type[BaseModel], source: YamlFile) -> list[str]:
    record(kind, source)
    return [each.code for each in source.problems]


def _refuse_unwritable(file: Path) -> None:
    """Found before the first file is written, where it can be."""
    if not os.access(file.resolve().parent, os.W_OK):
        raise refused("may_not_write", folder=str(file.parent))


def _write(lift: Lift) -> None:
    try:
        with unbroken():
            exchanged_whole(lift.file, lift.before, lift.after)
            done.wrote(f"{lift.name} is written")
    except ChangedMeanwhileError as error:
        raise refused("changed", file=str(lift.file)) from error
    except OSError as error:
        raise disk_refusal(error, "writing", lift.file) from error
