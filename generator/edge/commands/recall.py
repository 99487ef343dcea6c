"""`spares recall`: calls back a lot, a batch or a revision of a part, or lifts that again."""

import argparse
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

from pydantic import ValidationError

from generator.assemble.whole_way import read_produced
from generator.edge.commands import options as asking
from generator.edge.commands.at_stopped import still_asking
from generator.edge.commands.blank import refuse_blank, refuse_empty
from generator.edge.commands.known_names import batch_known, lot_known, part_known
from generator.edge.commands.short import ending_of, warn
from generator.edge.commands.terminal import Terminal
from generator.edge.commands.trace import carried_rows, tell_against, tell_asking, tell_suspects
from generator.edge.disk.recall_files import append_lifting, next_number, text_of, write_recall
from generator.edge.disk.writing_lock import held
from generator.edge.refusals import Ending, Refusal, refused
from generator.pages.on_vehicles.alike import beside_words
from generator.pages.on_vehicles.off_words import elsewhere_words
from generator.pages.on_vehicles.recalled import still_words
from generator.pages.wording import Wording, wording
from generator.records.catalogue import Catalogue
from generator.records.problems import Unfit
from generator.records.recalls import CalledBack, Lifted, Recall
from generator.rules.production.asking_beside import beside_of
from generator.rules.production.incomplete import gaps_of
from generator.rules.production.recalling import Reach, reach_of, standing_of
from generator.rules.production.same_delivery import stopped_elsewhere
from generator.rules.production.saying_good import who_says_good
from generator.rules.production.states import called_back
from generator.rules.production.suspects import suspects_in
from generator.rules.production.tracing import revisions_of

DESCRIPTION = """\
Calls back everything printed from a lot of material, one batch, or a revision of a part: writes recalls/RC-0001.yml, and
lists the vehicles, places and counts to visit, and what lies on the shelf or is out. From then on every
copy of the catalogue that is built says 'Do not fit' for these pieces. What comes off ticks the vehicle off, as
`spares fitted add` takes it in. What is called back already is refused, with its number.

Where lines or records cannot be read, are gone, say less or something else than they did, or are of days to come, the recall is written
all the same and the list says that it is incomplete, and of what; the exit code is then 1, else 0.

--lift says that pieces may be fitted again; only a role that acts for quality or the customer may. What stops them still, a block
of their lot or another recall, is told with what ends it.
"""
EXAMPLE = """\
  spares recall --lot L-0012 --why "swells in oil" --by am-specialist
  spares recall --part TV-0101 --revision B --why "cracks at the screws" --by quality --reference "report 12"
  spares recall --lift RC-0001 --why "tested, holds" --by quality
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    what = parser.add_mutually_exclusive_group(required=True)
    what.add_argument("--lot", metavar="LOT", help="all that was printed from this lot of material")
    what.add_argument("--batch", metavar="BATCH", help="one batch")
    what.add_argument("--part", metavar="NUMBER", help="all pieces of a revision of a part, with --revision")
    what.add_argument("--lift", metavar="RECALL", help="lift a recall, such as RC-0001")
    parser.add_argument("--revision", metavar="R", help="with --part")
    parser.add_argument("--why", metavar="TEXT", required=True, help="the reason, as a fitter should read it")
    asking.add_by(parser, "role that calls back or lifts")
    parser.add_argument("--reference", metavar="TEXT", help="number of a report or letter")
    parser.add_argument("--dry-run", action="store_true", help="show what would be written and write nothing")
    asking.add_day(parser, "the day of the recall (default: SOURCE_DATE_EPOCH, else today)")
    asking.add_catalogue(parser)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    root = asking.catalogue_of(options.catalogue)
    refuse_empty(options, "lot", "batch", "part", "lift", "revision")
    if bool(options.part) != bool(options.revision):
        raise refused("recall_revision", Ending.MISUSE)
    refuse_blank(options)
    by, today = asking.by_whom(options, terminal), asking.today()
    on = options.on or today
    if on > today:
        raise refused("recall_to_come", Ending.MISUSE, on=on.isoformat())
    work = _lift if options.lift else _call
    if options.dry_run:
        return work(options, root, by, on, terminal)
    with held(root, "recall", terminal.note):
        return work(options, root, by, on, terminal)


def _call(options: argparse.Namespace, root: Path, by: str, on: date, terminal: Terminal) -> int:
    catalogue = read_produced(root, asking.store_in(options.store), asking.today())
    w = wording(catalogue.language)
    _role(by, catalogue)
    recall = _wanted(options, by, on, catalogue)
    if (standing := standing_of(recall, catalogue.production, asking.today())) is not None:
        raise refused("recall_standing", name=standing)
    name = next_number(root)
    if options.dry_run:
        terminal.say(w("recall.would", file=f"recalls/{name}.yml"), "bold")
        terminal.say(text_of(recall).rstrip())
    else:
        terminal.say(w("recall.done", file=str(write_recall(name, recall, root))), "bold")
    _tell(recall, reach_of(recall, catalogue.production), catalogue, w, terminal)
    called = replace(catalogue.production, recalls={**catalogue.production.recalls, name: recall})
    for sentence in beside_words(recall.lot, called, w):
        terminal.say(sentence, "yellow")
    tell_asking(beside_of(recall.lot, called), catalogue, terminal)
    if not options.dry_run:
        terminal.say(w("recall.then", name=name))
    return ending_of(gaps_of(catalogue.production, recalls=False))


def _wanted(options: argparse.Namespace, by: str, on: date, catalogue: Catalogue) -> Recall:
    """What is to be called back, as the catalogue writes it. Raises Refusal for what it does not know."""
    what: dict[str, str] = {}
    if options.lot:
        what["lot"] = lot_known(options.lot, catalogue)
    elif options.batch:
        what["batch"] = batch_known(options.batch, catalogue)
    else:
        what["part"] = part_known(options.part, catalogue)
        what["revision"] = _known("revision_unknown", options.revision, revisions_of(what["part"], catalogue))
    try:
        event = CalledBack(what="called back", on=on, by=by, why=options.why, reference=options.reference)
        return Recall(**what, events=(event,))
    except ValidationError as error:
        raise _unfit_text(error) from error


def _unfit_text(error: ValidationError) -> Refusal:
    """What is wrong with the first text that cannot stand in a record, in the reader's language."""
    first = error.errors()[0]
    option, context = f"--{first['loc'][-1]}" if first["loc"] else "--why", first.get("ctx", {})
    reason = context.get("error")
    if isinstance(reason, Unfit) and reason.key == "unseen":
        return refused("text_unseen", Ending.MISUSE, option=option, sign=str(reason.facts["sign"]))
    if first["type"] == "string_too_short":
        return refused("text_empty", Ending.MISUSE, option=option)
    if first["type"] == "string_too_long":
        return refused("text_long", Ending.MISUSE, option=option, most=str(context.get("max_length", "")))
    return refused("text_unfit", Ending.MISUSE, option=option)


def _known(kind: str, name: str, names: set[str]) -> str:
    by_name = {each.casefold(): each for each in names}
    found = by_name.get(name.strip().casefold())
    if found is None:
        raise refused(f"trace_{kind}", Ending.MISUSE, name=name, known=sorted(by_name.values()))
    return found


def _lift(options: argparse.Namespace, root: Path, by: str, on: date, terminal: Terminal) -> int:
    catalogue = read_produced(root, asking.store_in(options.store), asking.today())
    w = wording(catalogue.language)
    name = _known("recall", options.lift, set(catalogue.production.recalls))
    recall = catalogue.production.recalls[name]
    call = called_back(recall, asking.today())
    if call is None:
        raise refused("recall_lifted", name=name)
    if on < call.on:
        raise refused("recall_before", Ending.MISUSE, on=on.isoformat(), called=call.on.isoformat())
    _role(by, catalogue)
    if by not in (able := who_says_good(catalogue.depot)):
        raise refused("recall_lifter", name=by, known=able)
    try:
        lifted = Lifted(what="lifted", on=on, by=by, why=options.why, reference=options.reference)
    except ValidationError as error:
        raise _unfit_text(error) from error
    if not options.dry_run:
        append_lifting(name, lifted, root)
    terminal.say(w("recall.would_lift" if options.dry_run else "recall.lifted", name=name), "bold")
    for sentence in still_words(name, recall, catalogue, asking.today(), w):
        terminal.say(sentence, "bold yellow")
    for sentence in _asking_on(name, recall.model_copy(update={"events": (*recall.events, lifted)}), catalogue):
        terminal.say(sentence, "bold yellow")
    return Ending.CLEAN


def _asking_on(name: str, recall: Recall, catalogue: Catalogue) -> Iterator[str]:
    """Its lots that are not stopped any more and ask all the same because of another number."""
    production = replace(catalogue.production, recalls={**catalogue.production.recalls, name: recall})
    lots = {lot for batch in reach_of(recall, production).batches if batch in production.batches for lot in production.batches[batch].lots}
    for lot in sorted({*lots, *filter(None, [recall.lot])} & production.lots.keys()):
        yield from still_asking(lot, stopped_elsewhere(lot, production))


def _role(by: str, catalogue: Catalogue) -> None:
    if catalogue.depot is None:
        raise refused("depot_unread")
    known = [each.id for each in catalogue.depot.roles]
    if by not in known:
        raise refused("no_role", Ending.MISUSE, role=by, known=", ".join(known))


def _tell(recall: Recall, reach: Reach, catalogue: Catalogue, w: Wording, terminal: Terminal) -> None:
    """Where the pieces are."""
    warn(gaps_of(catalogue.production, recalls=False), w, terminal.say)
    terminal.say(w("recall.batches", batches=list(reach.batches)) if reach.batches else w("recall.no_batches"))
    if reach.spots:
        terminal.table([w(f"trace.head.{head}") for head in ("vehicle", "place", "part", "batch", "count", "since")], carried_rows(reach.spots, catalogue, w))
        terminal.say(w("trace.sum", pieces=w.number(reach.sits), vehicles=w.number(len(reach.left))), "bold")
    else:
        terminal.say(w("trace.on_none"), "bold")
    terminal.say(w("recall.beside", shelf=w.number(reach.shelf), out=w.number(reach.out), off=w.number(reach.off)))
    for each in reach.elsewhere:
        terminal.say(f"  {w.number(each.count)} × {each.batch}: {elsewhere_words(each, catalogue, w)}")
    tell_against(reach.spots, catalogue, terminal)
    tell_suspects(suspects_in(recall, catalogue, reach.batches), catalogue, terminal)
