"""`spares lot`: a lot of material is received, opened, dried, blocked, unblocked, used up."""

import argparse
import hashlib
from pathlib import Path

from generator.edge.commands import options as asking
from generator.edge.commands.at_stopped import WORK, may_work_with, of_same_delivery, still_stopped
from generator.edge.commands.blank import refuse_blank
from generator.edge.commands.printed import add_writing, changed, help_of
from generator.edge.commands.terminal import Terminal
from generator.edge.disk.print_records import (
    DepotNow,
    PrintRecordChange,
    as_new,
    depot_now,
    free_number,
    named,
    with_new_event,
)
from generator.edge.disk.recording import Attached, attached
from generator.edge.refusals import Ending, refused
from generator.edge.spoken import words
from generator.reading.kinds import is_document
from generator.reading.letter_text import names, told_in
from generator.records.inspection import InspectionDocument
from generator.records.lots import Lot, LotDocument, Unblocked
from generator.rules.production.naming import comparison_of, is_locked
from generator.rules.production.record_faults import has_document, is_same_lot
from generator.rules.production.states import block_of, is_used_up, lot_word
from generator.writing.yaml_text import Value

DESCRIPTION = """\
Writes down what becomes of a lot of material: `receive` begins its record in materials/lots/ with its inspection document
(EN 10204), which has to be a PDF, a picture or a text that no other lot has; where its text can be read, the supplier's number of
the lot has to stand in it, or somebody says --compared; `compare` says so later, and until then it does not count. The others add an event behind the last one. What is more of a supplier's lot that is called back or blocked under another
number is refused without --as-found, and its pieces ask until quality has blocked and unblocked it. A blocked lot stops every batch that was printed from it. Without an
action it lists the lots.
"""
EXAMPLE = """\
  spares lot
  spares lot receive --material pc-black --supplier-lot "K 131" --grams 2500 --document cert.pdf --type 3.1 --reference IC-88 --issued-on 2026-11-02 --by stores
  spares lot compare L-0013 --by stores
  spares lot open L-0013 --by am-specialist
  spares lot dry L-0013 --hours 8 --celsius 80 --by am-specialist
  spares lot block L-0013 --why "specimens broke early" --by quality
  spares lot unblock L-0013 --why "tested anew, report 12" --by quality
  spares lot use-up L-0013 --by am-specialist
"""
_EVENTS = {"compare": "compared", "open": "opened", "dry": "dried", "block": "blocked", "unblock": "unblocked", "use-up": "used up"}
_HELP = {
    "compare": "somebody held its inspection document against the spool or drum: it names this lot", "open": "its bag or drum was opened", "dry": "it was dried", "block": "nothing of it is printed from the next day on, nor fitted, until unblocked",
    "unblock": "the block has ended; only a role that acts for quality or the customer says so", "use-up": "nothing is left of it",
}  # fmt: skip


def add_arguments(parser: argparse.ArgumentParser) -> None:
    asking.add_catalogue(parser)
    actions = parser.add_subparsers(dest="action", metavar="ACTION")
    receive = actions.add_parser("receive", **help_of("lot", "receive", "a delivery came in: begin its record", EXAMPLE))
    receive.add_argument("--material", required=True, metavar="ID", help="file of materials/ without its ending")
    receive.add_argument("--supplier-lot", required=True, metavar="TEXT", help="the supplier's number, as on the spool or drum")
    receive.add_argument("--grams", required=True, type=float, metavar="N", help="how much was delivered, in grams")
    receive.add_argument("--supplier", metavar="TEXT", help="who delivered it")
    receive.add_argument("--use-by", type=asking.day, metavar="DATE", help="last day on which anything is printed from it")
    receive.add_argument("--document", type=Path, metavar="FILE", help="its inspection document; copied into materials/lots/documents/")
    receive.add_argument("--type", choices=[each.value for each in InspectionDocument], help="of the document, as EN 10204 numbers it")
    receive.add_argument("--reference", metavar="TEXT", help="number of the document")
    receive.add_argument("--issued-on", type=asking.day, metavar="DATE", help="day of the document")
    receive.add_argument("--issued-by", metavar="TEXT", help="who issued the document")
    receive.add_argument("--document-lot", metavar="TEXT", help="the lot that the document names (default: as --supplier-lot)")
    receive.add_argument("--compared", action="store_true", help="somebody has compared the number on the document with that on the spool")
    receive.add_argument("--as-found", action="store_true", help="it came in, though more of this lot is called back or blocked under another number")
    receive.add_argument("--number", metavar="LOT", help="its number here (default: the next free one)")
    add_writing(receive)
    for action, text in _HELP.items():
        one = actions.add_parser(action, **help_of("lot", action, text, EXAMPLE))
        one.add_argument("lot", metavar="LOT", help="its number, such as L-0007")
        if action == "dry":
            one.add_argument("--hours", required=True, type=float, metavar="N", help="for how many hours")
            one.add_argument("--celsius", required=True, type=float, metavar="N", help="at which temperature, in °C")
        if action == "compare":
            one.add_argument("--reference", metavar="TEXT", help="number of the document, where the lot has several")
        if action in WORK:
            one.add_argument("--as-found", action="store_true", help="it was done, though the lot is called back or blocked")
        if action in {"block", "unblock"}:
            one.add_argument("--why", required=True, metavar="TEXT", help="the reason")
        add_writing(one)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    if options.action is None:
        _list(depot_now(asking.catalogue_of(options.catalogue), asking.today()), terminal)
        return Ending.CLEAN
    refuse_blank(options)
    options.by = asking.by_whom(options, terminal)
    return changed(options, _change, terminal, "lot")


def _change(options: argparse.Namespace, depot: DepotNow, terminal: Terminal) -> PrintRecordChange | None:
    """None where it stands there already."""
    day = options.on or depot.today
    on = day.isoformat()
    if options.action == "receive":
        return _received(options, depot, on, terminal)
    name = named("lot", options.lot, depot)
    asking.tell_meant(terminal, options.lot, name)
    what = _EVENTS[options.action]
    event: dict[str, Value] = {"on": on, "what": what, "by": options.by}
    event |= {key: getattr(options, key) for key in ("hours", "celsius", "why") if getattr(options, key, None) is not None}
    event |= {"note": options.note} if options.note else {}
    lot = depot.catalogue.production.lots[name]
    if options.action == "compare":
        paper = _paper(options, lot, name)
        if is_locked(paper, depot.catalogue.production):
            raise refused("document_locked", file=paper.file)
        if comparison_of(paper, lot):
            terminal.say(words()("commands.printed.nothing", name=name, what=words().term("lot_event", what)))
            return None
        event |= {"reference": paper.reference, "sha256": paper.sha256}
    is_blocked, is_gone = block_of(lot, day) is not None, is_used_up(lot, day)
    if (options.action == "block" and is_blocked) or (options.action == "use-up" and is_gone):
        terminal.say(words()("commands.printed.nothing", name=name, what=words().term("lot_event", what)))
        return None
    if options.action == "unblock" and not is_blocked:
        terminal.say(words()("commands.printed.not_blocked", name=name))
        return None
    if options.action in WORK:
        may_work_with(name, options, depot, terminal)
    if options.action == "unblock":
        still_stopped(name, Unblocked(what="unblocked", on=day, by=options.by, why=options.why), depot, terminal)
    return with_new_event("lot", name, event, depot)


def _paper(options: argparse.Namespace, lot: Lot, name: str) -> LotDocument:
    """The document that was compared. Raises Refusal where it is not clear which one."""
    fitting = [each for each in lot.inspection_documents if options.reference in {None, each.reference}]
    if len(fitting) == 1:
        return fitting[0]
    known = [each.reference for each in lot.inspection_documents]
    raise refused("which_document" if known else "no_document", Ending.MISUSE, name=name, known=known or None)


def _received(options: argparse.Namespace, depot: DepotNow, on: str, terminal: Terminal) -> PrintRecordChange | None:
    arriving = _arriving(options)
    same = [name for name, each in depot.catalogue.production.lots.items() if is_same_lot(each, arriving)]
    if same and options.number in {None, *same}:
        terminal.say(words()("commands.printed.lot_there", name=same[0], lot=options.supplier_lot))
        return None
    of_same_delivery(arriving, options, depot, terminal)
    documents = _documents(options, depot)
    content: dict[str, Value] = {"material": options.material, "supplier_lot": options.supplier_lot}
    content |= {"supplier": options.supplier} if options.supplier else {}
    content |= {"use_by": options.use_by.isoformat()} if options.use_by else {}
    content |= {"inspection_documents": [_told(options, each) for each in documents]} if documents else {}
    received: dict[str, Value] = {"on": on, "what": "received", "by": options.by, "grams": options.grams}
    listed: list[Value] = [received | ({"note": options.note} if options.note else {})]
    if options.compared:
        listed += [{"on": on, "what": "compared", "by": options.by, "reference": options.reference, "sha256": each.as_evidence["sha256"]} for each in documents]
    content |= {"events": listed}
    return as_new("lot", options.number or free_number("lot", "L", depot.root), content, depot, documents)


def _arriving(options: argparse.Namespace) -> Lot:
    """As far as it says which lot it is."""
    return Lot.model_construct(material=options.material, supplier_lot=options.supplier_lot)


def _documents(options: argparse.Namespace, depot: DepotNow) -> list[Attached]:
    needed = {"--type": options.type, "--reference": options.reference, "--issued-on": options.issued_on}
    if options.document is None:
        given = [flag for flag, value in needed.items() if value]
        if given:
            raise refused("document_alone", Ending.MISUSE, flags=", ".join(given))
        return []
    missing = [flag for flag, value in needed.items() if not value]
    if missing:
        raise refused("document_lacks", Ending.MISUSE, flags=", ".join(missing))
    documents = attached([options.document], depot.root / "materials/lots")
    for each in documents:
        _refuse_unfit(each, options, depot)
        _compare(each, options)
    return documents


def _refuse_unfit(document: Attached, options: argparse.Namespace, depot: DepotNow) -> None:
    """What can be seen without reading it. Another delivery of the same lot has the same document."""
    if not is_document(document.file, document.content):
        raise refused("document_kind", file=document.file)
    sha256 = hashlib.sha256(document.content).hexdigest()
    for name, lot in depot.catalogue.production.lots.items():
        if has_document(lot, sha256) and not is_same_lot(lot, _arriving(options)):
            raise refused("document_of_other", file=document.file, name=name)


def _compare(document: Attached, options: argparse.Namespace) -> None:
    """The lot's number has to stand on it; where no program can read it, the record's judge tells that nobody has compared the two."""
    if options.compared:
        return
    number, text = options.document_lot or options.supplier_lot, told_in(document.file, document.content)
    if text is not None and not names(text, number):
        raise refused("document_other_number", file=document.file, lot=number)


def _told(options: argparse.Namespace, file: Attached) -> dict[str, Value]:
    told: dict[str, Value] = {"type": options.type, "lot": options.document_lot or options.supplier_lot}
    told |= {"issued_by": options.issued_by} if options.issued_by else {}
    return told | {"reference": options.reference, "issued_on": options.issued_on.isoformat()} | file.as_evidence


def _list(depot: DepotNow, terminal: Terminal) -> None:
    w, today, production = words(), depot.today, depot.catalogue.production
    rows = []
    for name, lot in sorted(production.lots.items()):
        state = lot_word(name, lot, production, today)
        printed = [number for number, each in production.batches.items() if name in each.lots]
        rows.append((name, lot.material, lot.supplier_lot, w.term("lot_state", state), ", ".join(sorted(printed)) or "–"))
    if rows:
        terminal.table([w(f"commands.printed.heads.{each}") for each in ("lot", "material", "supplier_lot", "state", "batches")], rows)
    else:
        terminal.say(w("commands.printed.no_lots"))
