"""`spares submission`: what a reviewer needs of a part, or of several as one, as a PDF and as a zip with every document."""

from __future__ import annotations

import argparse
import difflib
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from generator.assemble.whole_way import Assembled
from generator.edge.commands import options as asking
from generator.edge.commands.examining import planned_for
from generator.edge.commands.terminal import Terminal
from generator.edge.disk.paper_files import lies_outside, may_be_written, write_paper
from generator.edge.one_part import folder_here, folder_of
from generator.edge.refusals import Ending, Refusal, refused
from generator.edge.spoken import words
from generator.pages.wording import Wording
from generator.planning.submitting import Asks, can_be_asked, unread_for
from generator.reading.disk import Disk
from generator.records.catalogue import KeptFile
from generator.rules.sheet import Sheet

if TYPE_CHECKING:
    from generator.pages.submissions.kinds import Submission
    from generator.papers.typesetting import ArchivedPaper

DESCRIPTION = """\
Writes what a reviewer needs: on the first page what is asked, what has changed against the last approval, and every gap; then
identity, pictures and drawing, places, material, fire tests with their margins, settings and machines, dimensions, screening,
history with the reviewers' questions by number, order data, and each document with its SHA-256. Several parts become one
submission. The fingerprint in it is the one that `spares record` writes down with a step of a review, if nothing changes in between.
"""
EXAMPLE = """\
  spares submission TV-0417
  spares submission TV-0417 --out submission.pdf --zip
  spares submission TV-0248 TV-0249 --fleet TR4 --zip
"""
_LARGE_BYTES = 20_000_000
_NEAR = 0.5
_NAMED = 3


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("numbers", metavar="NUMBER", nargs="*", help="numbers of the parts (default: the part in whose folder one stands)")
    parser.add_argument("--fleet", metavar="FLEET", help="tell the places of this fleet alone")
    parser.add_argument("--asks", choices=[each.value for each in Asks], help="which step it asks for (default: the one that is next)")
    parser.add_argument("--out", type=Path, metavar="FILE", help="the PDF (default: submission-NUMBER.pdf here)")
    parser.add_argument("--zip", action="store_true", help="write a zip of the same name too: the PDF, an index and every document")
    parser.add_argument("--force", action="store_true", help="write over files that are there")
    asking.add_day(parser, "as on this day, which the paper carries (default: SOURCE_DATE_EPOCH, else today)")
    asking.add_catalogue(parser)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    root, day = asking.catalogue_of(options.catalogue), options.on or asking.today()
    if options.out:
        may_be_written(options.out, root)
    read = planned_for(options, terminal, root, day)
    sheets = _asked_for(options, read, root, terminal)
    fleet = _fleet(options.fleet, sheets)
    _write(options, sheets, read, terminal, (fleet, root))
    return Ending.CLEAN


def _asked_for(options: argparse.Namespace, read: Assembled, root: Path, terminal: Terminal) -> list[Sheet]:
    """Each part once, in the order in which it was named. Raises Refusal."""
    folders = [folder_of(read.catalogue, each, root) for each in options.numbers] or [folder_here(read.catalogue, root)]
    for typed, folder in zip(options.numbers, folders, strict=False):
        asking.tell_meant(terminal, typed, folder.number)
    named = dict.fromkeys(folder.folder for folder in folders)
    by_folder = {sheet.folder.folder: sheet for sheet in read.sheets}
    sheets = [by_folder[folder] for folder in named]
    for sheet in sheets:
        if unread := unread_for(sheet, read.catalogue):
            files = sorted({each.where.file for each in unread})
            raise refused("submission_unread", number=sheet.number, files=files, problems=unread, below=root)
        if options.asks and Asks(options.asks) not in can_be_asked(sheet):
            raise _not_to_be_asked(options.asks, sheet)
    return sheets


def _not_to_be_asked(asked: str, sheet: Sheet) -> Refusal:
    """Each step that can be asked of this part is named."""
    w = words()
    stage, route, can = w.term("stage", sheet.stage), w.term("route", sheet.history.route), [each.value for each in can_be_asked(sheet)]
    return refused("submission_asks", Ending.MISUSE, number=sheet.number, asks=asked, stage=stage, route=route, can=can)


def _fleet(asked: str | None, sheets: list[Sheet]) -> str | None:
    if asked is None:
        return None
    known = {fit.fleet.casefold(): fit.fleet for sheet in sheets if sheet.part for fit in sheet.part.fits}
    found = known.get(asked.strip().casefold())
    if found is None:
        near = [known[each] for each in difflib.get_close_matches(asked.casefold(), known, n=3, cutoff=_NEAR)]
        raise refused("submission_fleet", Ending.MISUSE, near=near, fleet=asked, fits=sorted(known.values()))
    for sheet in sheets:
        if sheet.part and all(fit.fleet != found for fit in sheet.part.fits):
            raise refused("submission_fleet", Ending.MISUSE, fleet=asked, fits=sorted({fit.fleet for fit in sheet.part.fits}))
    return found


def _write(options: argparse.Namespace, sheets: list[Sheet], read: Assembled, terminal: Terminal, where: tuple[str | None, Path]) -> None:
    from generator.edge.disk.paper_photos import photos_on_paper  # noqa: PLC0415
    from generator.edge.disk.submission_files import write_zip  # noqa: PLC0415  pages and typesetter are loaded where a paper is made
    from generator.pages.gathered import around_of  # noqa: PLC0415
    from generator.pages.submissions.attached import left_out  # noqa: PLC0415
    from generator.pages.submissions.family import shared_blocks  # noqa: PLC0415
    from generator.pages.submissions.whole import submission_of  # noqa: PLC0415
    from generator.papers.submission.paper import submission_paper  # noqa: PLC0415

    fleet, root = where
    out: Path = options.out or Path(f"submission-{'-'.join(sheet.number for sheet in sheets[:_NAMED])}{'-and-more' * (len(sheets) > _NAMED)}.pdf")
    packed = out.with_suffix(".zip")
    lies_outside(out, root)
    if options.zip and packed.exists() and not options.force:
        raise refused("file_there", file=str(packed))
    day = options.on or asking.today()
    around = around_of(read.catalogue, read.sheets, day)
    shared = shared_blocks(sheets, around) if len(sheets) > 1 else ()
    asks = Asks(options.asks) if options.asks else None
    large = _summed(left_out([sheet.folder for sheet in sheets], read.catalogue), root)
    value = submission_of(sheets, around, day, fleet=fleet, asks=asks, shared=shared, photos=photos_on_paper(sheets, root), large=large)
    paper = submission_paper(value, around.w)
    write_paper(out, paper.content, force=options.force)
    _say(value, paper, out, around.w, terminal)
    if day != asking.today():
        told = around.w.day(day)
        terminal.note(around.w("submission.other_day", day=told, then=told if day < asking.today() else None))
    if options.zip:
        write_zip(packed, value, (out.name, paper.content), root, force=options.force)
        _say_packed(value, packed, around.w, terminal)


def _summed(paths: Iterable[str], root: Path) -> dict[str, KeptFile]:
    """Those that can be."""
    disk = Disk(root)
    return {path: found for path in paths if (found := disk.summed(path))}


def _say(value: Submission, paper: ArchivedPaper, out: Path, w: Wording, terminal: Terminal) -> None:
    from generator.papers.typesetting import STANDARD  # noqa: PLC0415

    gaps = w.count("submission.gaps", sum(len(each.gaps) for each in value.dossiers))
    terminal.say(w("submission.written", file=str(out), gaps=gaps, archival=None if paper.refused else STANDARD), "bold")
    for dossier in value.dossiers:
        terminal.say(dossier.asked)
        if dossier.fingerprint:
            terminal.say(w("submission.bound", number=dossier.number, fingerprint=dossier.fingerprint))
        for gap in dossier.gaps:
            terminal.say(f"  {gap_words(gap.says, gap.where, w)}")
    if paper.refused:
        terminal.note(w("submission.not_archival", why=paper.refused))
    if paper.lacking:
        terminal.note(w("submission.lacking", letters=", ".join(f"U+{ord(each):04X}" for each in paper.lacking)))


def _say_packed(value: Submission, packed: Path, w: Wording, terminal: Terminal) -> None:
    from generator.edge.disk.submission_files import stored  # noqa: PLC0415

    size, absent = packed.stat().st_size, sum(not each.stored_as for each in value.attachments)
    terminal.say(w("submission.zipped", file=str(packed), count=w.number(len(stored(value))), mb=w.number(size / 1e6, 1)), "bold")
    if absent:
        terminal.note(w.count("submission.left_out", absent))
    if size > _LARGE_BYTES:
        terminal.note(w("submission.large"))


def gap_words(says: str, where: tuple[str, ...], w: Wording) -> str:
    return w("submission.gap_where", says=says, where=w("list_separator").join(where)) if where else says
