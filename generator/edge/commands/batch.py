"""`spares batch`: a batch is printed, measured, released or rejected; its pieces are scrapped, counted, issued, returned."""

import argparse
from collections.abc import Iterator
from pathlib import Path

from generator.edge.commands import options as asking
from generator.edge.commands.batch_events import event_change
from generator.edge.commands.batch_new import new_change
from generator.edge.commands.batch_sheet import sheet
from generator.edge.commands.blank import refuse_blank
from generator.edge.commands.printed import add_writing, changed, help_of
from generator.edge.commands.terminal import Terminal
from generator.edge.disk.print_records import DepotNow, depot_now
from generator.edge.refusals import Ending
from generator.edge.spoken import words
from generator.records.print_rules import Up
from generator.rules.production.doubts import doubts_of
from generator.rules.production.ledger import ledger
from generator.rules.production.releasing import standing
from generator.rules.production.states import stops_of

DESCRIPTION = """\
Writes down what was printed in one go and what becomes of it. `new` keeps what was printed as a text, with its lots, machine
and settings; `measure` its critical dimensions; `release` and `reject` the word of a role that may say it, and never of the one
that printed. Nothing is written that could not have been so. Without an action it lists the batches that wait for something.
"""
EXAMPLE = """\
  spares batch
  spares batch new TV-0288 --machine bench-B --lots L-0004 --count 4 --started "2026-11-17 08:10" --ended "2026-11-17 10:15" --grams 18 --settings-file catalogue/machines/documents/bench-B-pc-black.txt --by am-specialist
  spares batch sheet B-0162 --pieces 4 --to B-0162.pdf
  spares batch measure B-0162 --gauge "caliper C-07" --calibrated-until 2026-12-31 --check "Slot for the stud=7.60,7.58,7.57,7.58" --check "Screw distance=31.12,31.09,31.02,31.06" --check "Shelf, thickness=2.60,2.60,2.65,2.64" --by am-specialist
  spares batch measure B-0161 --sheet ~/Downloads/inspection-B-0161-2026-11-25.yml
  spares batch remind B-0162 --by am-specialist
  spares batch release B-0162 --by quality
  spares batch reject B-0161 --why "the holes are too small" --by quality
  spares batch issue B-0162 --count 2 --to "fitters, road 3" --by stores
  spares batch return B-0162 --count 1 --by stores
  spares batch count B-0162 --on-shelf 3 --by stores
  spares batch scrap B-0162 --count 1 --why "fell off the rack" --by stores
"""
_HELP = {
    "measure": "critical dimensions of its pieces were measured",
    "release": "its pieces are what was approved, and may be fitted",
    "reject": "none of its pieces is ever fitted",
    "scrap": "pieces that came off, lay on the shelf or were issued were thrown away",
    "count": "the pieces on the shelf were counted",
    "issue": "pieces were taken off the shelf",
    "return": "pieces came back to the shelf without having been fitted",
    "remind": "whoever releases it was reminded; the task of today rests for two weeks",
}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    asking.add_catalogue(parser)
    actions = parser.add_subparsers(dest="action", metavar="ACTION")
    _add_new(actions.add_parser("new", **help_of("batch", "new", "a plate was printed: begin its record", EXAMPLE)))
    for action, text in _HELP.items():
        one = actions.add_parser(action, **help_of("batch", action, text, EXAMPLE))
        one.add_argument("batch", metavar="BATCH", help="its number, such as B-0147")
        if action in {"scrap", "issue", "return"}:
            one.add_argument("--count", required=True, type=asking.pieces, metavar="N", help="how many pieces")
            one.add_argument("--again", action="store_true", help="the same happened once more on that day")
        if action in {"scrap", "reject"}:
            one.add_argument("--why", required=True, metavar="TEXT", help="the reason")
        if action == "issue":
            one.add_argument("--to", metavar="TEXT", help="for whom, or where to")
        if action in {"issue", "count"}:
            must_not = ", or must not be, since they are stopped or not released" if action == "issue" else ""
            one.add_argument("--as-found", action="store_true", help=f"it was so, though by all that is written down it cannot have been{must_not}")
        if action == "count":
            one.add_argument("--on-shelf", required=True, type=asking.pieces_or_none, metavar="N", help="how many lie there")
        if action == "release":
            one.add_argument("--accepts", metavar="TEXT", help="why it is released in spite of a doubt; a role that acts for quality alone says so")
        if action == "measure":
            _add_measure(one)
        if action in {"measure", "release", "reject", "remind"}:
            asking.add_minutes(one)
        add_writing(one)
    paper = actions.add_parser("sheet", **help_of("batch", "sheet", "its inspection sheet as a PDF, to be filled in by hand", EXAMPLE))
    paper.add_argument("batch", metavar="BATCH", help="its number, such as B-0147")
    paper.add_argument("--to", type=Path, required=True, metavar="FILE", help="the PDF")
    paper.add_argument("--pieces", type=asking.pieces, metavar="N", help="on how many pieces each is measured, where that is more than the part asks for")
    paper.add_argument("--force", action="store_true", help="write over a file that is there")
    asking.add_catalogue(paper, again=True)


def _add_new(new: argparse.ArgumentParser) -> None:
    new.add_argument("part", metavar="NUMBER", help="number of the part")
    new.add_argument("--machine", required=True, metavar="ID", help="file of machines/ without its ending")
    new.add_argument("--lots", required=True, metavar="LOT[,LOT]", help="the lots of material, such as L-0007")
    new.add_argument("--count", required=True, type=asking.pieces, metavar="N", help="how many pieces stood on the plate")
    new.add_argument("--started", required=True, metavar="MOMENT", help='day and time, such as "2026-11-02 08:10"')
    new.add_argument("--ended", required=True, metavar="MOMENT", help="the same of the end, by the depot's clock")
    new.add_argument("--grams", type=float, metavar="N", help="grams of all pieces together, with what supported them")
    new.add_argument("--settings-file", type=Path, metavar="FILE", help="what the machine was run with; copied into batches/documents/")
    new.add_argument("--up", choices=[each.value for each in Up], help="axis that pointed up, where it was another than the settings say, such as -x")
    new.add_argument("--as-found", action="store_true", help="it was printed, though the lot or the revision is called back; its pieces have to be found")
    new.add_argument("--number", metavar="BATCH", help="number of the batch (default: the next free one)")
    add_writing(new)


def _add_measure(one: argparse.ArgumentParser) -> None:
    one.add_argument("--check", action="append", default=[], metavar="NAME=VALUES", help='values in mm, named as in part.yml: "Collar=35.02,35.04", or of a go/no-go gauge "Slot=passed 5, failed 1"; may be given again')
    one.add_argument("--gauge", metavar="TEXT", help='which one, such as "caliper C-07"')
    one.add_argument("--calibrated-until", type=asking.day, metavar="DATE", help="last day of its calibration")
    one.add_argument("--sheet", type=Path, metavar="FILE", help="the inspection sheet that a tablet saved, in place of --check")


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    if options.action is None:
        _list(depot_now(asking.catalogue_of(options.catalogue), asking.today()), terminal)
        return Ending.CLEAN
    if options.action == "sheet":
        return sheet(options)
    refuse_blank(options)
    if not (options.action == "measure" and options.sheet):  # a sheet says who measured
        options.by = asking.by_whom(options, terminal)
    return changed(options, new_change if options.action == "new" else event_change, terminal, "batch")


def _list(depot: DepotNow, terminal: Terminal) -> None:
    w = words()
    rows = list(_waiting(depot))
    if rows:
        terminal.table([w(f"commands.printed.heads.{each}") for each in ("batch", "part", "printed", "waits")], rows)
    else:
        terminal.say(w("commands.printed.none_waits", count=len(depot.catalogue.production.batches)))


def _waiting(depot: DepotNow) -> Iterator[tuple[str, str, str, str]]:
    """Batches of which something is still to be said or done."""
    w, today, catalogue = words(), depot.today, depot.catalogue
    balances = ledger(catalogue.production).balances
    for name, batch in sorted(catalogue.production.batches.items()):
        said = standing(name, batch, catalogue, today)
        waits = []
        if said.event is None:
            waits.append("release" if any(each.what == "measured" for each in batch.events) else "measure")
        elif said.is_void:
            waits.append("void")
        elif stops_of(name, batch, catalogue.production, today) and balances[name].left > 0:
            waits.append("stopped")
        elif said.is_released and balances[name].left > 0 and doubts_of(name, batch, catalogue):
            waits.append("doubts")
        if any(each.found != each.expected for each in balances[name].counts[-1:]):
            waits.append("count")
        if waits:
            told = "; ".join(w(f"commands.printed.waits.{each}") for each in waits)
            yield name, f"{batch.part} {batch.revision}", f"{batch.started:%Y-%m-%d}", told
