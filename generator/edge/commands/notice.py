"""`spares notice`: the notice of a recall as a PDF, for the board and for whoever walks along the vehicles."""

import argparse
from pathlib import Path

from generator.edge.commands import options as asking
from generator.edge.commands.terminal import Terminal
from generator.edge.disk.paper_files import may_be_written, write_paper
from generator.edge.refusals import Ending, refused
from generator.pages.part.story import role_name
from generator.pages.wording import Wording, wording
from generator.papers.kinds import RecallNotice, Whereabouts
from generator.papers.recall import recall_notice
from generator.reading.catalogue import read_catalogue
from generator.records.catalogue import Catalogue
from generator.records.recalls import CalledBack, Recall
from generator.rules.production.recalling import Reach, reach_of
from generator.rules.production.states import called_back
from generator.rules.production.tracing import of_all

DESCRIPTION = """\
Writes the notice of a recall as a PDF: what is called back and why, how its labels look, and every vehicle and place that still
carries any of it, with a box to tick.
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
    catalogue = read_catalogue(root)
    w = wording(catalogue.language)
    recalls = catalogue.production.recalls
    name = {each.casefold(): each for each in recalls}.get(options.recall.strip().casefold())
    if name is None:
        raise refused("trace_recall", Ending.MISUSE, name=options.recall, known=sorted(recalls))
    call = called_back(recalls[name], options.on or asking.today())
    if call is None:
        raise refused("recall_lifted", name=name)
    reach = reach_of(recalls[name], catalogue.production)
    write_paper(options.to, recall_notice(notice_of(name, recalls[name], call, reach, catalogue, w), w), force=options.force)
    terminal.say(w("recall.notice", file=str(options.to), vehicles=w.number(len(reach.left))), "bold")
    return Ending.CLEAN


def notice_of(name: str, recall: Recall, call: CalledBack, reach: Reach, catalogue: Catalogue, w: Wording) -> RecallNotice:  # noqa: PLR0917
    """Each spot a line, so that a fitter finds the piece; vehicles that were visited are left out."""
    batches = catalogue.production.batches
    labels = [" ".join((batches[each].part, w("papers.label.revision", revision=batches[each].revision), each)) for each in reach.batches]
    sits = [each for each in of_all(catalogue.production).carried if each.batch in reach.batches]
    return RecallNotice(
        what=(f"{name}: {_what(recall, w)}",),
        why=call.why,
        by=role_name(call.by, catalogue),
        on=call.on,
        reference=call.reference or "",
        look_for=tuple(labels) or (_what(recall, w),),
        found_at=tuple(
            Whereabouts(
                vehicle=f"{each.spot.fleet} {each.spot.vehicle}",
                place=catalogue.place_name(each.spot.fleet, each.spot.place),
                position=each.spot.position,
                count=w.number(each.count),
            )
            for each in sits
        ),
    )


def _what(recall: Recall, w: Wording) -> str:
    if recall.part:
        return w("recalls.of_part", part=recall.part, revision=recall.revision)
    return w("recalls.of_lot", name=recall.lot) if recall.lot else w("recalls.of_batch", name=recall.batch)
