"""`spares notice`: the notice of a recall as a PDF, for the board and for whoever walks along the vehicles."""

import argparse
from datetime import date
from pathlib import Path

from generator.assemble.whole_way import read_produced
from generator.edge.commands import options as asking
from generator.edge.commands.lettered import tell_lacking
from generator.edge.commands.short import warn
from generator.edge.commands.terminal import Terminal
from generator.edge.disk.paper_files import may_be_written, write_paper
from generator.edge.refusals import Ending, refused
from generator.pages.on_vehicles.alike import asking_rows, asking_sum, beside_words
from generator.pages.on_vehicles.contradicting import contradiction_words
from generator.pages.on_vehicles.incomplete import gap_words, suspect_rows
from generator.pages.on_vehicles.off_words import elsewhere_words
from generator.pages.on_vehicles.recalled import finished_words, recall_page, recalled_words
from generator.pages.part.story import role_name
from generator.pages.wording import Wording, wording
from generator.papers.kinds import OffVehicle, RecallNotice, Whereabouts
from generator.papers.recall import recall_notice
from generator.records.catalogue import Catalogue
from generator.records.recalls import CalledBack, Recall
from generator.rules.production.asking_beside import beside_of
from generator.rules.production.contradicting import contradictions
from generator.rules.production.finished import finished
from generator.rules.production.incomplete import gaps_of, version_of
from generator.rules.production.recalling import Elsewhere, Reach, reach_of
from generator.rules.production.states import called_back
from generator.rules.production.suspects import suspects_in

DESCRIPTION = """\
Writes the notice of a recall as a PDF: what is called back and why, how its labels look, and every vehicle and place that still
carries any of it, with a box to tick: vehicle, place, position, part, batch and count. What lies on the shelf, was handed out
or came off stands in a list of its own, and so do pieces whose batch nobody can tell. Each page names the recall, the day and
version of the catalogue, and which page of how many it is.

Where lines or records cannot be read, are gone, say less or something else than they did, or are of days to come, the notice is written
all the same and begins with what it is short of; the exit code is then 1, else 0.
"""
EXAMPLE = """\
  spares notice RC-0001 --to RC-0001.pdf
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("recall", metavar="RECALL", help="number of the recall, such as RC-0001")
    parser.add_argument("--to", type=Path, required=True, metavar="FILE", help="the PDF")
    parser.add_argument("--force", action="store_true", help="write over a file that is there")
    asking.add_day(parser, "what stands on this day (default: SOURCE_DATE_EPOCH, else today)")
    asking.add_catalogue(parser)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    root = asking.catalogue_of(options.catalogue)
    may_be_written(options.to, root)
    today = asking.today()
    catalogue = read_produced(root, asking.store_in(options.store), max(options.on or today, today))
    w = wording(catalogue.language)
    recalls = catalogue.production.recalls
    name = {each.casefold(): each for each in recalls}.get(options.recall.strip().casefold())
    if name is None and catalogue.production.may_be_unread("recalls", options.recall.strip()):
        raise refused("recall_unread", name=options.recall)
    if name is None:
        raise refused("trace_recall", Ending.MISUSE, name=options.recall, known=sorted(recalls))
    day = options.on or today
    call = called_back(recalls[name], day)
    if call is None:
        raise refused("recall_lifted", name=name)
    reach = reach_of(recalls[name], catalogue.production)
    notice = notice_of(name, recalls[name], call, reach, catalogue, day)
    write_paper(options.to, recall_notice(notice, w), force=options.force)
    if notice.done:
        terminal.say(notice.done, "bold")
    terminal.say(w("recall.notice", file=str(options.to), vehicles=w.number(len(reach.left))), "bold")
    if not (beside := beside_of(recalls[name].lot, catalogue.production)).is_empty:
        terminal.say(f"{w('asking.title')}. {asking_sum(beside, w)}", "bold yellow")
    tell_lacking(terminal, notice)
    warn(gaps_of(catalogue.production, recalls=False), w, terminal.say)
    return Ending.PROBLEMS if notice.incomplete else Ending.CLEAN


def notice_of(name: str, recall: Recall, call: CalledBack, reach: Reach, catalogue: Catalogue, day: date) -> RecallNotice:  # noqa: PLR0917
    """Each spot a line, so that a fitter finds the piece; vehicles that were visited are left out."""
    w, production = wording(catalogue.language), catalogue.production
    address = catalogue.depot.address if catalogue.depot else None
    labels = tuple(_label(each, catalogue, w) for each in reach.batches)
    against = contradictions(catalogue)
    return RecallNotice(
        number=name,
        stand=w("papers.recall.stand", day=w.day(day), mark=version_of(production)),
        what=(f"{name}: {recalled_words(recall, w)}",),
        why=call.why,
        by=role_name(call.by, catalogue),
        on=call.on,
        reference=call.reference or "",
        beside=beside_words(recall.lot, production, w),
        look_for=labels or (recalled_words(recall, w),),
        found_at=tuple(
            Whereabouts(
                vehicle=f"{each.spot.fleet} {each.spot.vehicle}",
                place=catalogue.place_name(each.spot.fleet, each.spot.place),
                position=w("list_separator").join(filter(None, (each.spot.position, contradiction_words(against.of(each), w)))),
                part=f"{each.part} {each.revision}" if each.part else "",
                batch=each.batch,
                count=w.number(each.count),
            )
            for each in reach.spots
        ),
        lying=tuple(_lying(each, catalogue, w) for each in reach.elsewhere),
        unsure=tuple(
            Whereabouts(vehicle=vehicle, place=place, position=position, batch=batch, count=count, why=why)
            for vehicle, place, position, batch, count, why in suspect_rows(suspects_in(recall, catalogue, reach.batches), catalogue, w)
        ),
        asking=tuple(
            Whereabouts(vehicle=vehicle, place=place, position=position, batch=batch, count=count, why=why)
            for vehicle, place, position, batch, count, why in asking_rows(beside_of(recall.lot, production), catalogue, w)
        ),
        done=finished_words(found, catalogue, w) if (found := finished(recall, reach, catalogue, max(day, asking.today()))) else "",
        incomplete=gap_words(gaps_of(production, recalls=False), w),
        code=f"{address}/{recall_page(name, production.recalls).removesuffix('.md')}.html" if address else None,
    )


def _label(name: str, catalogue: Catalogue, w: Wording) -> str:
    """As the label of its pieces says; of a batch without a record its number alone."""
    batch = catalogue.production.batches.get(name)
    return " ".join((batch.part, w("papers.label.revision", revision=batch.revision), name)) if batch else name


def _lying(each: Elsewhere, catalogue: Catalogue, w: Wording) -> OffVehicle:
    batch = catalogue.production.batches.get(each.batch)
    return OffVehicle(
        where=elsewhere_words(each, catalogue, w),
        part=f"{batch.part} {batch.revision}" if batch else "",
        batch=each.batch,
        count=w.number(each.count),
    )
