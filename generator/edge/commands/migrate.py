"""`spares migrate`: a catalogue of an older format in the newest one."""

import argparse
import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from generator.edge.commands import options as asking
from generator.edge.commands.terminal import Terminal
from generator.edge.disk import done
from generator.edge.disk.atomic import ChangedMeanwhileError, exchanged_whole
from generator.edge.disk.recording import cannot_append
from generator.edge.disk.unbroken import unbroken
from generator.edge.disk.writing_lock import held
from generator.edge.one_part import folder_of
from generator.edge.refusals import Ending, Refusal, disk_refusal
from generator.pages.wording import wording
from generator.reading.catalogue import read_catalogue
from generator.reading.validating import record
from generator.reading.yaml_places import read_yaml
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
becomes kinder, and no approval is bound anew. A record that cannot be read, or that a person has to change, is told and
left as it is; the others are written, depot.yml only when none is left. Broken off, it goes on where it was when it is run
again. To go back, take these lines out again. Exit code 1 where something is left, also of a dry run.
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
        said = was.decode("utf-8").strip() if was.lstrip().startswith(b"format") else "nothing"
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
    if catalogue.depot is None:
        raise Refusal("the depot itself cannot be read", "mend depot.yml first", problems=_of_depot(catalogue), root=root)
    named = [folder_of(catalogue, number, root) for number in dict.fromkeys(options.numbers)]
    lifts, left = [], 0
    for folder in named or catalogue.parts:
        try:
            lifts += list(_of_part(folder, root, catalogue))
        except Refusal as refusal:
            left += 1
            terminal.refuse(refusal.says, refusal.fix)
    if not named and not left:
        lifts += list(_of_catalogue(root, catalogue.depot, catalogue))
    for lift in lifts:
        _refuse_unwritable(lift.file)
    for lift in lifts:
        if not options.dry_run:
            _write(lift)
        terminal.say(lift.told)
    _summary(terminal, len(lifts), left, dry_run=options.dry_run)
    return Ending.PROBLEMS if left else Ending.CLEAN


def _summary(terminal: Terminal, count: int, left: int, *, dry_run: bool) -> None:
    would = "would be written" if dry_run else "written"
    says = f"{count} {would}, {left} left as they are" if count or left else "nothing to do: all is of the newest format"
    terminal.say(says, "bold")


def _of_depot(catalogue: Catalogue) -> list[Problem]:
    return [each for each in catalogue.problems if each.where.file == "depot.yml"]


def _of_part(folder: PartFolder, root: Path, catalogue: Catalogue) -> Iterator[Lift]:
    """Its approval record. Raises Refusal where the record would say anything else than it says now."""
    name = f"{folder.folder}/approval.yml"
    file = root / name
    if not file.exists() or (folder.approval and folder.approval.format == NEWEST_FORMAT):
        return
    if folder.approval is None:
        raise Refusal(f"{file} cannot be read", "mend it first: spares check")
    lift = _lift(name, root, NEWEST_FORMAT, catalogue)
    if record(Approval, read_yaml(name, lift.after)) != folder.approval.model_copy(update={"format": NEWEST_FORMAT}):
        raise _not_by_machine(lift)
    yield lift


def _of_catalogue(root: Path, depot: Depot, catalogue: Catalogue) -> Iterator[Lift]:
    """depot.yml, which comes last: whatever breaks it off, what is half done counts as the older format."""
    if depot.format >= NEWEST_CATALOGUE:
        return
    lift = _lift("depot.yml", root, NEWEST_CATALOGUE, catalogue)
    if record(Depot, read_yaml("depot.yml", lift.after)) != depot.model_copy(update={"format": NEWEST_CATALOGUE}):
        raise _not_by_machine(lift)
    yield lift


def _lift(name: str, root: Path, newest: int, catalogue: Catalogue) -> Lift:
    file = root / name
    try:
        before = file.read_bytes()
        after = with_format(before, newest)
    except OSError as error:
        raise disk_refusal(error, f"reading {file}") from error
    except CannotAppendError as error:
        raise cannot_append(error.problem, file, wording(catalogue.language)) from error
    return Lift(name=name, file=file, before=before, after=after, newest=newest)


def _not_by_machine(lift: Lift) -> Refusal:
    says = f"{lift.file} is written in a way that cannot be added to by machine"
    return Refusal(says, f"write format: {lift.newest} before its first key yourself")


def _refuse_unwritable(file: Path) -> None:
    """Found before the first file is written, where it can be."""
    if not os.access(file.resolve().parent, os.W_OK):
        raise Refusal(f"this account may not write into {file.parent}; nothing was written", "change who may write there")


def _write(lift: Lift) -> None:
    try:
        with unbroken():
            exchanged_whole(lift.file, lift.before, lift.after)
            done.wrote(f"{lift.name} is written")
    except ChangedMeanwhileError as error:
        raise Refusal(f"{lift.file} was changed meanwhile", "run it again") from error
    except OSError as error:
        raise disk_refusal(error, f"writing {lift.file}") from error
