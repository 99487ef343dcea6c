"""`spares migrate`: the approval records of the older form in the newest one."""

import argparse
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
from generator.reading.proposed import proposed_folder
from generator.records.approvals import NEWEST_FORMAT
from generator.records.catalogue import Catalogue, PartFolder
from generator.writing.appending import CannotAppendError
from generator.writing.migrating import migrated

DESCRIPTION = f"""\
Writes format: {NEWEST_FORMAT} into approval.yml, of the parts that are named or of all. Nothing else in the file is touched:
comments, line ends and every event stay as they are. What the older form does not tell, such as what was submitted to a
review or how a trial went, nobody can know now; it is left out and goes on being asked about. No verdict becomes kinder.
A record that cannot be read, or that a person has to change, is told and left as it is; the others are written.
"""
EXAMPLE = """\
  spares migrate --dry-run
  spares migrate TV-0417 TV-0118
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("numbers", metavar="NUMBER", nargs="*", help="numbers of the parts (default: all)")
    parser.add_argument("--dry-run", action="store_true", help="say what would be written and write nothing")
    asking.add_catalogue(parser)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    root = asking.catalogue_of(options.catalogue)
    if options.dry_run:
        return _migrate(options, root, terminal)
    with held(root, "migrate", terminal.note):
        return _migrate(options, root, terminal)


def _migrate(options: argparse.Namespace, root: Path, terminal: Terminal) -> int:
    catalogue = read_catalogue(root)
    named = [folder_of(catalogue, number, root) for number in dict.fromkeys(options.numbers)]
    written, left = 0, 0
    for folder in named or catalogue.parts:
        file = root / folder.folder / "approval.yml"
        if not file.exists() or (folder.approval and folder.approval.format == NEWEST_FORMAT):
            continue
        try:
            _write(folder, file, _proposed(folder, file, root, catalogue), dry_run=options.dry_run)
        except Refusal as refusal:
            left += 1
            terminal.refuse(refusal.says, refusal.fix)
        else:
            written += 1
            terminal.say(f"{file.as_posix()}: format {NEWEST_FORMAT}")
    would = "would be written" if options.dry_run else "written"
    terminal.say(f"{written} {would}, {left} left as they are", "bold")
    return Ending.PROBLEMS if left else Ending.CLEAN


def _proposed(folder: PartFolder, file: Path, root: Path, catalogue: Catalogue) -> tuple[bytes, bytes]:
    """The bytes before and after. Raises Refusal where the record would say anything else than it says now."""
    if folder.approval is None:
        raise Refusal(f"{file} cannot be read", "mend it first: spares check")
    try:
        before = file.read_bytes()
        after = migrated(before)
    except OSError as error:
        raise disk_refusal(error, f"reading {file}") from error
    except CannotAppendError as error:
        raise cannot_append(error.problem, file, wording(catalogue.language)) from error
    would_be = proposed_folder(root, catalogue, folder.folder, {f"{folder.folder}/approval.yml": after})
    if would_be.approval != folder.approval.model_copy(update={"format": NEWEST_FORMAT}):
        says = f"{file} is written in a way that cannot be added to by machine"
        raise Refusal(says, f"write format: {NEWEST_FORMAT} into its first line yourself")
    return before, after


def _write(folder: PartFolder, file: Path, bytes_of: tuple[bytes, bytes], *, dry_run: bool) -> None:
    if dry_run:
        return
    before, after = bytes_of
    try:
        with unbroken():
            exchanged_whole(file, before, after)
            done.wrote(f"{folder.folder}/approval.yml is written")
    except ChangedMeanwhileError as error:
        raise Refusal(f"{file} was changed meanwhile", "run it again") from error
    except OSError as error:
        raise disk_refusal(error, f"writing {file}") from error
