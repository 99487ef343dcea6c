"""`spares fitted`: what sits on which vehicle; `add` takes in what a tablet or a table tells of it."""

import argparse
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from generator.assemble.whole_way import MeasuredCatalogue, judged, measured, read_produced
from generator.edge.commands import options as asking
from generator.edge.commands.short import ending_of, warn
from generator.edge.commands.terminal import Terminal, counted
from generator.edge.commands.trace import carried_rows, tell_against
from generator.edge.disk.fitted_files import handed, write_years, year_files
from generator.edge.disk.writing_lock import held
from generator.edge.one_part import as_on
from generator.edge.refusals import Ending, Refusal, refused
from generator.pages.verdict_lines import reason
from generator.pages.wording import Wording, wording
from generator.reading.catalogue import read_catalogue
from generator.reading.fitted import said_before
from generator.records.catalogue import Catalogue
from generator.records.fitted import FittedRow
from generator.records.problems import Problem, in_order
from generator.records.vehicles import vehicles_in
from generator.rules.grounds import Ground
from generator.rules.production.adding import Adding, adding
from generator.rules.production.incomplete import gaps_of
from generator.rules.production.near_positions import near_positions
from generator.rules.production.on_vehicles import may_be_found
from generator.rules.production.tracing import of_all
from generator.rules.sheet import Sheet
from generator.rules.verdicts import Judgement, Verdict

DESCRIPTION = """\
Lists what sits on which vehicle, by fleet, number and place. `add` takes in the files that tablets made of what
was fitted and what came off. Where lines or records cannot be read, or say less than they did, the list says so first, and the exit code is 1.
"""
ADD = """\
Reads files that tablets made (fitted-DAY.yml) or tables with the columns of fitted/<year>.csv, checks them as strictly
as everything else, and writes their lines behind those of their year. A file of another depot or of a later form is
refused, and so is what cannot be: a vehicle that is not of the fleet, a day to come. Refused as well, for most of it is a slip, is what
must not be or contradicts the records: more than sit at a place, a batch with none left, unknown, or not released, a day before its
release, off what never sat there. Where it was found so on the vehicle all the same, --as-found writes it down, with `yes` in the
column as_found: then trace, recall and notice know it, and check warns. A line that the tablet's form marked, since whoever made it
had read *Do not fit* there, needs no option. What was fitted after it was called back is written in any case, and told.

Where a line is refused nothing of any file is written; with --good-rows the lines that can be are, and of each other one is said what
of it is not, unless a file is missing or no list of this depot. What stands already changes nothing, so that a file may be given again
once it is mended. A removal alone leaves `batch` and `count` empty.
"""
EXAMPLE = """\
  spares fitted
  spares fitted add ~/Downloads/fitted-*.yml
  spares fitted add week-48.csv --by fitter-body --dry-run
  spares fitted add found-on-405.csv --as-found
"""
_URGENT = ("FITTED09", "FITTED08", "FITTED04", "FITTED05")


@dataclass(frozen=True, slots=True)
class _Read:
    """What the files tell, and what is wrong with the lines one by one."""

    rows: tuple[FittedRow, ...]
    problems: tuple[Problem, ...]
    spoilt: tuple[FittedRow, ...]
    """Lines that can be read and are left out all the same."""
    is_whole: bool
    """Whether each file is a list of this depot at all: beside one that is not, no good line is written either."""
    empty: tuple[Path, ...]
    """Tables that hold no line below their columns."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    asking.add_catalogue(parser)
    actions = parser.add_subparsers(dest="action", metavar="ACTION")
    add = actions.add_parser("add", help="add files that tablets made, or tables", description=ADD, epilog="example:\n" + EXAMPLE,
                             formatter_class=argparse.RawDescriptionHelpFormatter)  # fmt: skip
    add.add_argument("files", nargs="+", type=Path, metavar="FILE", help="files of tablets (.yml), or tables (.csv)")
    add.add_argument("--by", metavar="ROLE", help="role that fitted, for lines of a table that name none")
    add.add_argument("--good-rows", action="store_true", help="write the lines that can be, without the others")
    add.add_argument("--as-found", action="store_true", help="it was seen on the vehicles: write down what contradicts the records too, and mark it")
    add.add_argument("--dry-run", action="store_true", help="show what would be written and write nothing")
    asking.add_catalogue(add, again=True)
    asking.add_day(add, "the day of today (default: SOURCE_DATE_EPOCH, else by the clock)", again=False)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    root = asking.catalogue_of(options.catalogue)
    if options.action == "add":
        return _add(options, root, terminal)
    return _list(read_produced(root, asking.store_in(options.store), asking.today()), terminal)


def _list(catalogue: Catalogue, terminal: Terminal) -> int:
    """What sits on which vehicle, behind what the list is short of."""
    w, gaps = wording(catalogue.language), gaps_of(catalogue.production, recalls=False)
    warn(gaps, w, terminal.say)
    carried = of_all(catalogue.production).carried
    rows = carried_rows(carried, catalogue, w)
    if rows:
        terminal.table([w(f"trace.head.{head}") for head in ("vehicle", "place", "part", "batch", "count", "since")], rows)
        tell_against(carried, catalogue, terminal)
    else:
        terminal.say(w("trace.nothing_fitted"))
    return ending_of(gaps)


def _add(options: argparse.Namespace, root: Path, terminal: Terminal) -> int:
    today = options.on or asking.today()
    with terminal.progress() as report:  # before the catalogue is held, since new meshes take minutes
        known = measured(read_catalogue(root), root, asking.store_in(options.store), report, workers=options.workers)
    if options.dry_run:
        return _added(options, root, today, known, terminal)
    with held(root, "fitted add", terminal.note):
        return _added(options, root, today, known, terminal)


def _added(options: argparse.Namespace, root: Path, today: date, known: MeasuredCatalogue, terminal: Terminal) -> int:
    """Plan all, then write all; what is told stands for what was done."""
    catalogue = read_catalogue(root)
    w = wording(catalogue.language)
    if catalogue.depot is None:
        raise refused("depot_unread")
    read = _read(options, catalogue, today)
    good_rows = options.good_rows and read.is_whole
    found = adding(read.rows, catalogue, good_alone=good_rows, as_found=options.as_found)
    against = sorted(in_order([*read.problems, *found.against]), key=_urgent_first)
    if against:
        _tell_against(against, root, catalogue, terminal)
    _tell_there(found, options.files, read.empty, w, terminal, is_all_read=not against)
    found_so = (w("fitted_add.found_so"),) if any(may_be_found(each) for each in found.against) and not options.as_found else ()
    if against and (not good_rows or not found.new):
        mend = "fitted_add.mend" if read.is_whole and not options.good_rows else "terminal.mend_files"
        raise Refusal(w("terminal.nothing_added", count=counted(against, w)), "; ".join((w(mend), *found_so)))
    if against:
        _tell_left_out((*read.spoilt, *read.rows), found, catalogue, w, terminal)
        for sentence in found_so:
            terminal.say(sentence)
    terminal.problems(in_order([*near_positions(found.new, catalogue.production)]), Path(), catalogue.language)
    files = year_files(found.new, root)
    if files and not options.dry_run:
        write_years(files, root)
    for each in files:
        terminal.say(w.count(f"fitted_add.{'would' if options.dry_run else 'done'}", each.count, file=str(root / each.file)), "bold")
        if options.dry_run:
            terminal.say(each.added.rstrip())
    _warn(found.new, replace(known, catalogue=catalogue), today, w, terminal)
    return Ending.PROBLEMS if against else Ending.CLEAN


def _urgent_first(problem: Problem) -> tuple[object, ...]:
    """By line; of one line first what must come off the vehicle."""
    first = _URGENT.index(problem.code) if problem.code in _URGENT else len(_URGENT)
    return (problem.where.file, problem.where.line or 0, first, problem.order)


def _tell_left_out(read: Iterable[FittedRow], found: Adding, catalogue: Catalogue, w: Wording, terminal: Terminal) -> None:
    """Of each line that is not written what went on and what came off by it: a removal must not be lost unseen."""
    kept = {(row.file, row.line) for row in (*found.new, *found.there)}
    for row in read:
        if (row.file, row.line) in kept:
            continue
        on = w("fitted_add.went_on", count=w.number(row.count), batch=row.batch) if row.batch else None
        off = w("fitted_add.came_off", count=w.number(row.removed), batch=row.removed_batch or None) if row.removed else None
        place = catalogue.place_name(row.fleet, row.place, row.position)
        terminal.say(w("fitted_add.left_out", where=f"{row.file}:{row.line}", vehicle=f"{row.fleet} {row.vehicle}", place=place, moved=[each for each in (on, off) if each]))


def _tell_against(against: Sequence[Problem], root: Path, catalogue: Catalogue, terminal: Terminal) -> None:
    """Lines that stand lie below the catalogue, the others where they were named."""
    own = {each.file for each in catalogue.production.fitted}
    terminal.problems([each for each in against if each.where.file not in own], Path(), catalogue.language)
    terminal.problems([each for each in against if each.where.file in own], root, catalogue.language)


def _tell_there(found: Adding, files: Iterable[Path], empty: Sequence[Path], w: Wording, terminal: Terminal, *, is_all_read: bool) -> None:
    for each in empty:
        terminal.say(w("fitted_add.no_line", file=str(each)))
    if found.there:
        terminal.say(w.count("fitted_add.there", len(found.there)))
    others = [str(each) for each in dict.fromkeys(files) if each not in empty]
    if others and not found.new and is_all_read:  # of a file that is missing nobody knows whether it tells anything new
        terminal.say(w("fitted_add.nothing", files=others))


def _read(options: argparse.Namespace, catalogue: Catalogue, today: date) -> _Read:
    """All files together: what is in two of them counts once; a line whose row stands and says otherwise is wrong."""
    seen = {row.row: row for row in catalogue.production.fitted if row.row}
    rows: dict[object, FittedRow] = {}
    left_out: list[FittedRow] = []
    problems: list[Problem] = []
    is_whole, empty = True, []
    for file in dict.fromkeys(options.files):
        told, wrong_there = handed(file, catalogue, options.by, today, as_found=options.as_found)
        problems += wrong_there
        spoilt = {each.where.line for each in wrong_there}
        for row in told:
            first = seen.setdefault(row.row, row) if row.row else row
            if first.alike != row.alike:
                problems.append(said_before(row, first))
                left_out.append(row)
            elif row.line in spoilt:
                left_out.append(row)
            else:
                rows.setdefault(row.row or row.alike, row)
        if not told and wrong_there:  # nothing of the file can be read: it is no list of this depot
            is_whole = False
        elif not told:
            empty.append(file)
    return _Read(tuple(rows.values()), tuple(problems), tuple(left_out), is_whole, tuple(empty))


def _warn(rows: Iterable[FittedRow], known: MeasuredCatalogue, today: date, w: Wording, terminal: Terminal) -> None:
    """Which of the pieces were not to be fitted on their day, by the files of now."""
    sheets: dict[tuple[str, date], Sheet | None] = {}
    batches = known.catalogue.production.batches
    for row in rows:
        batch = batches.get(row.batch)
        if batch is None:
            continue
        key = (batch.part, row.day)
        if key not in sheets:
            folder = known.catalogue.folder(batch.part)
            sheets[key] = judged(as_on(folder, row.day, today), known, row.day) if folder else None
        told = _against(row, batch.revision, sheets[key], w)
        if told:
            terminal.note(w("fitted_add.warning", where=f"{row.file}:{row.line}", batch=row.batch, vehicle=f"{row.fleet} {row.vehicle}", told=told), "yellow")


def _against(row: FittedRow, revision: str, sheet: Sheet | None, w: Wording) -> str | None:
    """The verdict on a piece and why, unless it was to be fitted."""
    found = _judgement(row, revision, sheet)
    if found is None:
        return w(f"verdict.{Verdict.DO_NOT_FIT.key}")
    return None if found.verdict is Verdict.FIT_IT else f"{w(f'verdict.{found.verdict.key}')}. {reason(found, w)}"


def _judgement(row: FittedRow, revision: str, sheet: Sheet | None) -> Judgement | None:
    if sheet is None or sheet.part is None:
        return None
    own: Mapping[bool, list[Ground]] = {True: [], False: []}
    for ground in sheet.grounds:
        if (ground.fleet, ground.place) == (row.fleet, row.place) and row.vehicle in vehicles_in(ground.vehicles):
            own[(ground.label_revision or sheet.part.revision) == revision].append(ground)
    return own[True][0].of_piece(row.batch, row.day) if own[True] else None
