"""`spares labels`: labels of parts and their batches as a PDF, on sheets or on a roll."""

import argparse
import math
import re
from pathlib import Path

from generator.assemble.whole_way import read_produced
from generator.edge.commands import options as asking
from generator.edge.commands.labelled import check_counts, labelled
from generator.edge.commands.lettered import tell_lacking
from generator.edge.commands.short import ending_of, warn
from generator.edge.commands.terminal import Terminal
from generator.edge.disk.paper_files import may_be_written, write_paper
from generator.edge.meant import name_meant
from generator.edge.one_part import folder_of
from generator.edge.refusals import Ending, Refusal, refused
from generator.pages.addresses import addresses, page_on_site
from generator.pages.wording import Wording, wording
from generator.papers.coded import label_text
from generator.papers.formats import GRIDS, ROLLS, Format, pair_of, roll, sheet, size_of
from generator.papers.kinds import LabelCount, LabelText, NotPrinted
from generator.papers.labels import labels
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.labels import as_batch
from generator.rules.production.incomplete import gaps_of
from generator.rules.production.recalling import reach_of
from generator.rules.production.states import called_back

DESCRIPTION = f"""\
Writes labels as a PDF: number, revision and batch in large letters, the name, and a QR code. The code opens the part's page
where depot.yml says under `address` where the site is served; else it holds what the label says. A batch
tells its own revision; without one the label tells that of the part's record, and a piece of an earlier one needs it said.

Of a batch no more ordinary labels are printed than pieces of it are about by the records: on the shelf, handed out, on vehicles.
Pieces of a batch that is not released, rejected or called back get no ordinary label: --quarantine prints labels that say DO NOT
FIT, and why, on a black bar; their code opens the page with the batch all the same. --recall prints such labels for all pieces
of a recall that are about, by the records, for whoever collects them; where these are incomplete it says so, and the exit code is 1.

A sheet is A4 and is named by its grid ({", ".join(GRIDS)}) or by the size of its labels in mm, such as 70x37; of any other
size it holds as many as go. A roll ({", ".join(ROLLS)}, or any size in mm) has one label a page. Print at 100 %, not fitted to the page.
"""
EXAMPLE = """\
  spares labels TV-0101 --batch B-0147 --count 8 --sheet 3x8 --start 5 --to labels.pdf
  spares labels TV-0417 TV-0123 --roll 62x29 --to roll.pdf
  spares labels TV-0101 --batch B-0161 --quarantine --roll 62x29 --to apart.pdf
  spares labels --recall RC-0001 --to RC-0001-labels.pdf
"""
_USUAL_SHEET = "3x8"
USUAL_FILE = Path("labels.pdf")
_REVISION = re.compile("[A-Z0-9]{1,4}")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("numbers", metavar="NUMBER", nargs="*", help="numbers of parts; none with --recall")
    parser.add_argument("--revision", type=_revision, metavar="R", help="of the pieces, where it is not the record's; with one number")
    parser.add_argument("--batch", type=_batch, action="append", default=[], metavar="BATCH", help="such as B-0147; with one number; may be given again")
    parser.add_argument("--quarantine", action="store_true", help="labels that say DO NOT FIT, for pieces that are put aside")
    parser.add_argument("--recall", metavar="RECALL", help="such labels for all pieces that a recall speaks of, such as RC-0001")
    parser.add_argument(
        "--count", type=asking.at_least_one, metavar="N", help="how many of each (default: 1; with --recall as many as are about)"
    )
    on = parser.add_mutually_exclusive_group()
    on.add_argument("--sheet", type=_size, metavar="SIZE", help=f"a grid or a size in mm, on A4 (default: {_USUAL_SHEET})")
    on.add_argument("--roll", type=_size_of_roll, metavar="SIZE", help="width and height of one label in mm")
    parser.add_argument("--margins", type=_pair, metavar="LEFTxTOP", help="of a sheet, in mm (default: the grid lies in the middle)")
    parser.add_argument("--gaps", type=_pair, default=(0.0, 0.0), metavar="ACROSSxDOWN", help="between the labels of a sheet, in mm")
    parser.add_argument("--start", type=asking.at_least_one, default=1, metavar="N", help="the first free field of a sheet, row by row (default: 1)")
    parser.add_argument("--to", type=Path, default=USUAL_FILE, metavar="FILE", help=f"the PDF (default: {USUAL_FILE})")
    parser.add_argument("--force", action="store_true", help="write over a file that is there")
    asking.add_catalogue(parser)


def _batch(typed: str) -> str:
    """As it is written on labels; small letters and blanks around it are no difference."""
    found = as_batch(typed)
    if not found:
        raise argparse.ArgumentTypeError(f"'{typed}' is no batch; write one to four capital letters, a dash and up to eight digits, such as B-0147")
    return found


def _revision(typed: str) -> str:
    if not _REVISION.fullmatch(typed):
        raise argparse.ArgumentTypeError(f"'{typed}' is no revision; write one to four capital letters or digits, such as C")
    return typed


def _size(typed: str) -> tuple[float, float]:
    if size := size_of(typed):
        return size
    raise argparse.ArgumentTypeError(f"'{typed}' is no size of a label; write its grid ({', '.join(GRIDS)}) or its mm, such as 70x37")


def _size_of_roll(typed: str) -> tuple[float, float]:
    size = None if typed in GRIDS else size_of(typed)
    if size:
        return size
    raise argparse.ArgumentTypeError(f"'{typed}' is no size of a label; write its width and height in mm, such as 62x29")


def _pair(typed: str) -> tuple[float, float]:
    if pair := pair_of(typed):
        return pair
    raise argparse.ArgumentTypeError(f"'{typed}' is no pair of lengths; write them in mm, such as 7.2x15.1")


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    root = asking.catalogue_of(options.catalogue)
    may_be_written(options.to, root)
    catalogue = read_produced(root, asking.store_in(options.store), asking.today())
    w = wording(catalogue.language)
    wanted = _of_recall(catalogue, options, w) if options.recall else _of_parts(catalogue, options, root, terminal, w)
    check_counts(wanted, catalogue.production, terminal, w)
    size = options.sheet or GRIDS[_USUAL_SHEET]
    format_ = roll(*options.roll) if options.roll else sheet(*size, margins_mm=options.margins, gaps_mm=options.gaps)
    made = labels(wanted, format_, w, start=options.start)
    if isinstance(made, NotPrinted):
        raise not_printed(made, w)
    write_paper(options.to, made, force=options.force)
    tell_lacking(terminal, wanted)
    for line in _told(options, wanted, format_, w):
        terminal.say(line)
    if wanted[0].label.stop:
        terminal.say(w("papers.labels.quarantined"), "bold")
    linked = catalogue.depot is not None and catalogue.depot.address is not None
    pages = list(dict.fromkeys(each.label.code.partition("#")[0] for each in wanted))
    terminal.say(w("papers.labels.linked", code=pages) if linked else w("papers.labels.plain", code=wanted[0].label.code))
    gaps = gaps_of(catalogue.production, recalls=False) if options.recall else ()
    warn(gaps, w, terminal.say)
    return ending_of(gaps)


def _of_parts(catalogue: Catalogue, options: argparse.Namespace, root: Path, terminal: Terminal, w: Wording) -> list[LabelCount]:
    """Raises Refusal."""
    if not options.numbers:
        raise refused("labels_of_none", Ending.MISUSE)
    if len(options.numbers) > 1 and (options.batch or options.revision):
        raise refused("labels_of_one", Ending.MISUSE)
    return [
        LabelCount(label=each, count=options.count or 1)
        for number in options.numbers
        for each in _labels_of(folder_of(catalogue, number, root), catalogue, options, terminal, w)
    ]


def _of_recall(catalogue: Catalogue, options: argparse.Namespace, w: Wording) -> list[LabelCount]:
    """Of each batch as many as are about: on vehicles, on the shelf, handed out or taken off. Raises Refusal."""
    if options.numbers or options.batch or options.revision:
        raise refused("labels_of_recall", Ending.MISUSE)
    recalls = catalogue.production.recalls
    name = {each.casefold(): each for each in recalls}.get(options.recall.strip().casefold())
    if name is None:
        raise refused("trace_recall", Ending.MISUSE, name=options.recall, known=sorted(recalls))
    if called_back(recalls[name], asking.today()) is None:
        raise refused("recall_lifted", name=name)
    reach = reach_of(recalls[name], catalogue.production)
    stop = w("papers.label.called_back", recall=name)
    wanted = [
        LabelCount(label=_label(batch.part, batch.revision, each, stop, catalogue), count=options.count or reach.about(each))
        for each in reach.batches
        if (batch := catalogue.production.batches.get(each)) and (options.count or reach.about(each))
    ]
    if not wanted:
        raise refused("labels_of_nothing", name=name)
    return wanted


def _label(number: str, revision: str, batch: str | None, stop: str, catalogue: Catalogue) -> LabelText:
    folder = catalogue.folder(number)
    stem = addresses(catalogue.parts).by_folder.get(folder.folder) if folder else None
    page = page_on_site(catalogue.depot.address, stem) if catalogue.depot and stem else None
    name = folder.part.name if folder and folder.part else ""
    return label_text(number=number, revision=revision, batch=batch, name=name, page=page, stop=stop)


def _meant(typed: str, number: str, catalogue: Catalogue, terminal: Terminal) -> str:
    """Of the part's batches the one that is meant; as it is typed where there is none."""
    found = name_meant(typed, catalogue.production.of_part(number)) or typed
    asking.tell_meant(terminal, typed, found)
    return found


def _labels_of(folder: PartFolder, catalogue: Catalogue, options: argparse.Namespace, terminal: Terminal, w: Wording) -> list[LabelText]:
    """One label, or one of each batch. Raises Refusal where the part's record cannot be read, or a batch may have none."""
    part = folder.part
    if part is None:
        raise refused("part_unread")
    batches: list[str | None] = [_meant(each, part.number, catalogue, terminal) for each in options.batch] or [None]
    day = asking.today()
    told = [(each, labelled(each, part, options.revision, catalogue, day, terminal, w, quarantine=options.quarantine)) for each in batches]
    return [_label(part.number, each.revision, batch, each.stop, catalogue) for batch, each in told]


def not_printed(why: NotPrinted, w: Wording) -> Refusal:
    """What cannot be had, in the catalogue's language. Of a module's size nothing is rounded up to what would do."""
    facts = {key: value if isinstance(value, str) else w.measure(math.floor(value * 100 + 1e-6) / 100) for key, value in why.facts.items()}
    key = f"papers.not_printed.{why.why}"
    return Refusal(w(f"{key}.says", **facts), w(f"{key}.mend", **facts))


def _told(options: argparse.Namespace, wanted: list[LabelCount], format_: Format, w: Wording) -> tuple[str, str]:
    count = sum(each.count for each in wanted)
    pages = w.count("papers.labels.pages", math.ceil((options.start - 1 + count) / format_.fields))
    return w.count("papers.labels.written", count, pages=pages, file=str(options.to)), w("papers.labels.scale")
