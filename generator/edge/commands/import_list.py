"""`spares import`: a depot's own list becomes part folders, row by row; a first run proposes how to read it."""

import argparse
import shlex
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from generator.edge.commands import options as asking
from generator.edge.commands.import_told import FoundList, tell_headings, tell_plan, tell_proposal, tell_table
from generator.edge.commands.terminal import Terminal
from generator.edge.disk.atomic import created_whole, tidied
from generator.edge.disk.list_files import lies_inside, measured, model_orders, read_tables
from generator.edge.disk.list_plan import ListPlan, ListSources, planned
from generator.edge.disk.new_folder import create_folder
from generator.edge.disk.read_whole import bytes_of
from generator.edge.disk.writing_lock import held
from generator.edge.refusals import Ending, Refusal, disk_refusal
from generator.geometry.measured import Worked
from generator.importing.any_list import chosen
from generator.importing.first_row import data_in, none_known
from generator.importing.found_files import FoundFiles, found_files
from generator.importing.headings import headings_in
from generator.importing.map_file import Encoding, ListMap, read_map, unmatched
from generator.importing.one_row import RowAround
from generator.importing.proposal import map_text, only_fleet, understood
from generator.importing.whole_list import around_of, read_list
from generator.pages.wording import Wording, wording
from generator.reading.catalogue import read_catalogue
from generator.records.catalogue import Catalogue
from generator.records.depot import Language
from generator.records.problems import Problem, Where

DESCRIPTION = """\
Takes in a depot's own list of parts: a spreadsheet (.xlsx) or text (.csv). A first run, without a map, says what each column
seems to tell and proposes the map, a small file that a person reads and mends. With it each row becomes the folder of a part,
or is refused with its row, its column and what mends it: rows = written + already here + refused, always. What the list does
not tell stands as TODO; nothing is guessed, nothing is overwritten, and a repeat changes nothing.
"""
EXAMPLE = """\
  spares import parts.xlsx
  spares import parts.xlsx --map parts.map.yml --dry-run
  spares import parts.xlsx --map parts.map.yml --files models-and-letters --by am-specialist
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("list", type=Path, metavar="LIST", help="the list: .xlsx, .csv, .txt or .tsv")
    parser.add_argument("--map", type=Path, metavar="FILE", help="what its columns tell; proposed where it is not there yet")
    parser.add_argument("--files", type=Path, metavar="DIR", help="folder with models and papers, found by number or by name")
    parser.add_argument("--by", metavar="ROLE", help="role that takes approvals over, as in depot.yml; without it none is")
    parser.add_argument("--encoding", choices=[each.value for each in Encoding], help="in which letters a text file was written")
    parser.add_argument("--dry-run", action="store_true", help="say what would be written and write nothing")
    asking.add_day(parser, "the day of today (default: SOURCE_DATE_EPOCH, else by the clock)")
    asking.add_catalogue(parser)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """What was typed, once it is known to make sense."""

    list: Path
    map: Path
    root: Path
    today: date
    by: str | None
    options: argparse.Namespace
    terminal: Terminal
    w: Wording
    language: Language


def run(options: argparse.Namespace) -> int:
    root = asking.catalogue_of(options.catalogue)
    catalogue = read_catalogue(root)
    w = wording(catalogue.language)
    if catalogue.depot is None or not catalogue.fleets:
        raise Refusal(w("importing.refusal.depot"), w("importing.refusal.depot_mend"))
    _refuse_stranger(options.by, catalogue, w)
    asked = _Asked(
        list=options.list,
        map=options.map or options.list.with_name(f"{options.list.stem}.map.yml"),
        root=root,
        today=options.on or asking.today(),
        by=options.by,
        options=options,
        terminal=Terminal(),
        w=w,
        language=catalogue.language,
    )
    if lies_inside(asked.map, root):
        raise Refusal(w("importing.refusal.inside", map=str(asked.map)), w("importing.refusal.inside_mend", root=str(root)), Ending.MISUSE)
    if options.map and options.map.exists():
        return _taken_in(asked, catalogue)
    return _proposed(asked, catalogue)


def _refuse_stranger(role: str | None, catalogue: Catalogue, w: Wording) -> None:
    roles = sorted(each.id for each in catalogue.depot.roles) if catalogue.depot else []
    if role is not None and role not in roles:
        raise Refusal(w("importing.refusal.role", role=role), w("importing.refusal.role_mend", roles=roles), Ending.MISUSE)


def _command(asked: _Asked, *more: str) -> str:
    """The command that comes next, as it can be typed."""
    words = ["spares", "import", str(asked.list), "--map", str(asked.map), *more]
    if str(asked.root) != "catalogue":
        words += ["--catalogue", str(asked.root)]
    return " ".join(map(_typed, words))


def _typed(word: str) -> str:
    """A word as bash, PowerShell and cmd take it: in double quotes, but where a sign in it means something there."""
    if shlex.quote(word) == word:
        return word
    return shlex.quote(word) if set(word) & set('"$`!') else f'"{word}"'


def _read(asked: _Asked, listed: ListMap | None) -> FoundList:
    """The sheet that counts. Raises Refusal, with its problem, where the list cannot be read as the map says."""
    tables = read_tables(asked.list, listed, asked.options.encoding)
    if isinstance(tables, Problem):
        raise _refusal(asked, [tables])
    found = chosen(tables, listed)
    if isinstance(found, Problem):
        raise _refusal(asked, [found])
    return FoundList(asked.list, tables, *found)


def _refusal(asked: _Asked, problems: list[Problem]) -> Refusal:
    """Nothing is read, for all of these; what has no file of its own is of the list."""
    placed = [each if each.where.file else each.at(Where(asked.list.as_posix(), each.where.line)) for each in problems]
    says, mend = asked.w("importing.refusal.list"), asked.w("importing.refusal.list_mend")
    return Refusal(says, mend, problems=placed, language=asked.language)


def _proposed(asked: _Asked, catalogue: Catalogue) -> int:
    """A first run: what the columns seem to tell, and a map that says so."""
    if asked.map.exists():
        mend = asked.w("importing.refusal.taken_mend", command=_command(asked))
        raise Refusal(asked.w("importing.refusal.taken", map=str(asked.map)), mend, Ending.MISUSE)
    found = _read(asked, None)
    tell_headings(asked.terminal, asked.w, found.headings, catalogue, mapped=False)
    found = _of_parts_alone(found, catalogue)
    columns = understood(found.table, found.headings)
    command = _command(asked, "--dry-run")
    text = map_text(found.table, found.headings, columns, catalogue, asked.w, name=asked.list.name, command=command)
    tell_table(asked.terminal, asked.w, found)
    tell_proposal(asked.terminal, asked.w, columns, only_fleet(columns, catalogue))
    if asked.options.dry_run:
        asked.terminal.say(asked.w("importing.would_propose", map=str(asked.map)), "bold")
        asked.terminal.say(text)
        return Ending.CLEAN
    try:
        created_whole(asked.map, text.encode("utf-8"))
    except OSError as error:
        raise disk_refusal(error, "writing", asked.map) from error
    asked.terminal.say(asked.w("importing.proposed", map=str(asked.map)), "bold")
    asked.terminal.say(asked.w("importing.next", command=command))
    return Ending.CLEAN


def _of_parts_alone(found: FoundList, catalogue: Catalogue) -> FoundList:
    """The list as one without headings, where none of them is known and one looks like the data of a part."""
    if not none_known(found.headings) or not data_in(found.headings, catalogue):
        return found
    return replace(found, headings=headings_in(found.table, 0) or found.headings)


def _taken_in(asked: _Asked, catalogue: Catalogue) -> int:
    """With a map: every row is written, there already, or refused."""
    listed, source = read_map(asked.map.as_posix(), bytes_of(asked.map))
    if listed is None:
        says, mend = asked.w("importing.refusal.map"), asked.w("importing.refusal.map_mend")
        raise Refusal(says, mend, problems=source.problems, language=asked.language)
    found = _read(asked, listed)
    if missing := unmatched(listed, source, found.headings):
        raise _refusal(asked, missing)
    list_ = _List(found, listed, _files(asked))
    models = _measured(asked, list_, catalogue)
    tell_headings(asked.terminal, asked.w, found.headings, catalogue, mapped=True)
    tell_table(asked.terminal, asked.w, found)
    if asked.options.dry_run:
        plan, sources = _plan(asked, list_, models, catalogue)
    else:
        with held(asked.root, f"import {asked.list.name}", asked.terminal.note):
            plan, sources = _plan(asked, list_, models, read_catalogue(asked.root))
            _write(plan, asked.root)
    tell_plan(asked.terminal, asked.w, plan, sources, dry=asked.options.dry_run)
    return Ending.PROBLEMS if plan.refused else Ending.CLEAN


def _write(plan: ListPlan, root: Path) -> None:
    """Each folder whole; what stops in between leaves the earlier ones, and a repeat goes on."""
    if plan.new:
        tidied(root / "parts")
    for _, folder, content in plan.new.values():
        create_folder(folder, content)


@dataclass(frozen=True, slots=True)
class _List:
    """The list with its map and the folder beside it."""

    found: FoundList
    map: ListMap
    files: FoundFiles

    def around(self, asked: _Asked, catalogue: Catalogue) -> RowAround:
        name, table, headings = self.found.file.as_posix(), self.found.table, self.found.headings
        return around_of(table, headings, self.map, file=name, catalogue=catalogue, files=self.files, today=asked.today)


def _files(asked: _Asked) -> FoundFiles:
    folder = asked.options.files
    if folder is not None and not folder.is_dir():
        says, mend = asked.w("importing.refusal.files", folder=str(folder)), asked.w("importing.refusal.files_mend")
        raise Refusal(says, mend, Ending.MISUSE)
    try:
        return found_files(folder)
    except OSError as error:
        raise disk_refusal(error, "reading", folder) from error


def _measured(asked: _Asked, list_: _List, catalogue: Catalogue) -> dict[str, Worked | Problem]:
    """The models, before the catalogue is held, since new meshes take minutes."""
    if not list_.files.names:
        return {}
    read = read_list(list_.found.table, list_.around(asked, catalogue))
    orders, unread = model_orders(read.drafts, list_.files, list_.map, catalogue)
    with asked.terminal.progress() as report:
        return unread | measured(orders, asking.store_in(asked.options.store), report)


def _plan(
    asked: _Asked, list_: _List, models: dict[str, Worked | Problem], catalogue: Catalogue
) -> tuple[ListPlan, ListSources]:
    around = list_.around(asked, catalogue)
    sources = ListSources(
        root=asked.root,
        file=around.file,
        listed=list_.map,
        around=around,
        catalogue=catalogue,
        files=list_.files,
        models=models,
        on=asked.today,
        by=asked.by,
    )
    return planned(read_list(list_.found.table, around), sources), sources
