"""`spares request add`: what a tablet sent becomes a numbered request, or a voice for one that is there."""

import argparse
from datetime import date
from pathlib import Path

from generator.edge.commands import options as asking
from generator.edge.commands.examining import examined_for
from generator.edge.commands.request_model import told_model
from generator.edge.commands.terminal import Terminal, counted
from generator.edge.disk.request_files import Incoming, incoming
from generator.edge.disk.request_writing import FileChange, GivenModel, changes, write_change
from generator.edge.disk.writing_lock import held
from generator.edge.refusals import Ending, Refusal, refused
from generator.finder.engine import NearMatch
from generator.finder.near import near_matches
from generator.measuring.all_meshes import work_all
from generator.pages.wording import Wording, wording
from generator.reading.catalogue import read_catalogue
from generator.reading.meshes.endings import MESH_ENDINGS
from generator.records.depot import Language
from generator.records.mesh_units import MeshUnits
from generator.records.requests import Request

DESCRIPTION = """\
Reads request files that tablets made, checks them as strictly as everything else, and adds them to the
catalogue: a request gets the next number R-00NN and its photo becomes a file, a voice ("I need this too")
is written behind its request without touching a letter of it. What was looked for in vain on the tablet and
came along goes into queries/ (see: spares queries). Parts and open requests near by words, size and place are listed. A model
or scan named with --model goes with the request, and what it is like is told before anything is written. With a mistake in
any file nothing is written; nothing is overwritten.
"""
EXAMPLE = """\
  spares request add ~/Downloads/request-*.yml
  spares request add request.yml --dry-run
  spares request add request.yml --model scan.ply
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    actions = parser.add_subparsers(dest="action", metavar="ACTION", required=True)
    add = actions.add_parser("add", help="add request files to the catalogue", epilog="example:\n" + EXAMPLE,
                             description=DESCRIPTION, formatter_class=argparse.RawDescriptionHelpFormatter)  # fmt: skip
    add.add_argument(
        "files", nargs="+", type=Path, metavar="FILE", help="request files, as tablets made them"
    )
    add.add_argument("--model", type=Path, metavar="MODEL", help=f"a model or scan of what the one request asks for: {', '.join(MESH_ENDINGS)}")
    add.add_argument("--units", choices=[each.value for each in MeshUnits], help="of an STL, OBJ or PLY given as --model (default: mm)")
    add.add_argument("--dry-run", action="store_true", help="show what would be written and write nothing")
    asking.add_catalogue(add)
    asking.add_day(add, "the day of today (default: SOURCE_DATE_EPOCH, else by the clock)")


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    root = asking.catalogue_of(options.catalogue)
    today = options.on or asking.today()
    if options.units and not options.model:
        raise refused("units_alone", Ending.MISUSE)
    if options.model and len(options.files) > 1:
        raise refused("model_of_one", Ending.MISUSE)
    model = told_model(options.model, options.units, options, root, terminal) if options.model else None
    if options.dry_run:
        planned, near, w = _planned(options, root, today, terminal, model)
    else:
        _measured(options, root, terminal)
        with held(root, "request add", terminal.note):
            planned, near, w = _planned(options, root, today, terminal, model)
            for change in planned:
                write_change(change, root)
    for change in planned:
        _tell(change, near.get(change.number, ()), options, w, terminal)
    return Ending.CLEAN


def _measured(options: argparse.Namespace, root: Path, terminal: Terminal) -> None:
    """Fill the store before the catalogue is held, since new meshes take minutes."""
    with terminal.progress() as report:
        store = asking.store_in(options.store)
        work_all(read_catalogue(root), root, store, report, workers=options.workers)


def _planned(
    options: argparse.Namespace, root: Path, today: date, terminal: Terminal, model: GivenModel | None
) -> tuple[list[FileChange], dict[str, tuple[NearMatch, ...]], Wording]:
    """What would be written, what is near to it, and the words of the depot."""
    catalogue = read_catalogue(root)
    if catalogue.depot is None:
        raise refused("depot_unread")
    files = list(dict.fromkeys(options.files))
    read = [incoming(file, root, catalogue, today) for file in files]
    _refuse_mistakes(read, terminal, catalogue.language)
    if model and not isinstance(read[0].asked, Request):
        raise refused("model_of_one", Ending.MISUSE)
    planned = changes(read, root, catalogue, model)
    return planned, _near(planned, options, root, terminal), wording(catalogue.language)


def _refuse_mistakes(read: list[Incoming], terminal: Terminal, language: Language) -> None:
    found = [problem for each in read for problem in each.problems]
    if found:
        terminal.problems(found, Path(), language)
        w = wording(language)
        raise Refusal(w("terminal.nothing_added", count=counted(found, w)), w("terminal.mend_files"))


def _near(
    planned: list[FileChange], options: argparse.Namespace, root: Path, terminal: Terminal
) -> dict[str, tuple[NearMatch, ...]]:
    """What is near to each new request, by its number."""
    asked = {change.number: change.asked for change in planned if isinstance(change.asked, Request)}
    if not asked:
        return {}
    day = options.on or asking.today()
    found = examined_for(options, terminal, root, day)
    own = {change.moved.stem for change in planned if change.moved}
    catalogue, sheets = found.catalogue, found.sheets
    return near_matches(asked, catalogue=catalogue, sheets=sheets, day=day, root=root, without=own)


def _tell(
    change: FileChange, near: tuple[NearMatch, ...], options: argparse.Namespace, w: Wording, terminal: Terminal
) -> None:
    would = "would_write" if options.dry_run else "written"
    terminal.say(w(f"terminal.{would}", file=change.file, told=change.told), "bold")
    if change.photo:
        terminal.say(f"  {w('terminal.with_photo', kb=w.number(len(change.photo) / 1000))}")
    if change.model:
        terminal.say(f"  {w('commands.request.with_model', kb=w.number(len(change.model.content) / 1000))}")
    if change.queries:
        terminal.say(f"  {w('terminal.with_queries', file=change.queries.file)}")
    if options.dry_run:
        terminal.say(change.shown)
    if near:
        terminal.say(f"  {w('terminal.is_it')}")
        rows = [("", each.number, each.name, ", ".join(each.by)) for each in near]
        terminal.table(["", *(w(f"terminal.near.{head}") for head in ("number", "name", "by"))], rows)
    elif isinstance(change.asked, Request):
        terminal.say(f"  {w('terminal.nothing_near')}")
