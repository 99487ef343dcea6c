"""`spares stock`: what to order or print now, how many and why; an order as text or as the draft of a mail."""

import argparse
import re
from datetime import date
from email.message import EmailMessage
from email.policy import SMTP
from pathlib import Path

from generator.assemble.whole_way import Assembled
from generator.edge.commands import options as asking
from generator.edge.commands.examining import planned_for
from generator.edge.commands.sections import names_in, tell_sections
from generator.edge.commands.short import ending_of, tell_short
from generator.edge.commands.terminal import Terminal, tell_json
from generator.edge.disk.paper_files import lies_outside, may_be_written, write_paper
from generator.edge.one_part import folder_of
from generator.edge.refusals import Ending, refused
from generator.edge.spoken import words
from generator.pages.on_vehicles.incomplete import plain_gaps
from generator.pages.reports.told import Names
from generator.pages.stock.order_text import order_text, recipient_of, subject_of
from generator.pages.stock.plain import plain_of
from generator.pages.stock.told import (
    last_buy_section,
    order_section,
    part_sections,
    print_section,
    rule_sentences,
)
from generator.planning.printing import models_of, shapes_in
from generator.planning.stock.demand import Source
from generator.planning.stock.need import rule_of
from generator.planning.stock.orders import PurchaseOrder
from generator.planning.stock.whole import StockPlan, stock_plan
from generator.records.stocking import MOST_SERVICE_PERCENT

DESCRIPTION = """\
Tells what to order or print now, how many and why: what is there as it was counted, the reorder point by what is asked for until an
order arrives, the cheapest quantity with price breaks, the orders of each maker with their totals, a print list by printer, material and
plate with times, and last buys of materials that are made no longer. What nobody has counted is told and not ordered.
"""
EXAMPLE = """\
  spares stock
  spares stock TV-0112 --service 99
  spares stock --ahead 28
  spares stock --order sinter-bureau-north --to order.eml
  spares stock --print-list --to print-list.pdf
"""
_KINDS = (".txt", ".eml")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("numbers", metavar="NUMBER", nargs="*", help="numbers of parts (default: all)")
    parser.add_argument("--service", type=_percent, metavar="PERCENT", help="how many of a hundred orders arrive before the shelf is empty (default: depot.yml, else 95)")
    parser.add_argument("--ahead", type=asking.none_or_more, metavar="DAYS", default=0, help="order along what reaches its reorder point within so many days")
    one = parser.add_mutually_exclusive_group()
    one.add_argument("--order", metavar="MAKER", help="tell the order at this maker as text")
    one.add_argument("--print-list", action="store_true", help="tell what is printed next alone")
    parser.add_argument("--to", type=Path, metavar="FILE", help="with --order: write it as text (FILE.txt) or as the draft of a mail (FILE.eml); with --print-list: on paper (FILE.pdf)")
    parser.add_argument("--force", action="store_true", help="write over a file that is there")
    asking.add_listing(parser)


def _percent(text: str) -> float:
    """Above 0 and as much as a record may ask for at most; argparse shows the message of the error."""
    if not re.fullmatch(r"[0-9]{1,2}(\.[0-9]{1,12})?", text, re.ASCII) or not 0 < float(text) <= MOST_SERVICE_PERCENT:
        raise argparse.ArgumentTypeError(words()("commands.no_service", given=text, most=words().measure(MOST_SERVICE_PERCENT)))
    return float(text)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    day: date = options.on or asking.today()
    root = asking.catalogue_of(options.catalogue)
    _may_be_written(options, root)
    found = planned_for(options, terminal, root, day)
    plan, names = _plan(options, found, day, root)
    has_fitted = any(each.demand and each.demand.source is Source.FITTED for each in plan.parts)
    gaps = tell_short(found.catalogue, terminal, aside=options.format == "json", has_fitted=has_fitted)
    if options.order:
        return max(ending_of(gaps), _order(options, plan, names, terminal))
    if options.print_list and options.to:
        return max(ending_of(gaps), _print_list(options, plan, names, terminal))
    if options.format == "json":
        tell_json({**plain_of(plan), **plain_gaps(gaps)})
    elif options.print_list:
        tell_sections([print_section(each, names) for each in plan.prints], terminal)
        if not plan.prints:
            terminal.say(names.w("papers.print_list.nothing"))
    else:
        _print(plan, names, terminal)
    return ending_of(gaps)


def _print_list(options: argparse.Namespace, plan: StockPlan, names: Names, terminal: Terminal) -> int:
    # The typesetter is loaded where a paper is made.
    from generator.edge.commands.lettered import tell_lacking  # noqa: PLC0415
    from generator.edge.commands.stock_paper import print_sheet  # noqa: PLC0415
    from generator.papers.print_list import print_list  # noqa: PLC0415

    sheet, w = print_sheet(plan, names), names.w
    write_paper(options.to, print_list(sheet, w), force=options.force)
    tell_lacking(terminal, sheet)
    plates = w.count("papers.print_list.plates", sum(len(each.plates) for each in sheet.groups))
    terminal.say(w("papers.print_list.written", plates=plates, file=str(options.to)))
    return Ending.CLEAN


def _plan(options: argparse.Namespace, found: Assembled, day: date, root: Path) -> tuple[StockPlan, Names]:
    catalogue = found.catalogue
    asked = {folder_of(catalogue, number, root).number for number in options.numbers}
    rule = rule_of(catalogue, options.service, options.ahead)
    plan = stock_plan(found.sheets, catalogue, models_of(catalogue, shapes_in(found.sheets), day), day, rule, asked)
    return plan, names_in(found)


def _print(plan: StockPlan, names: Names, terminal: Terminal) -> None:
    w = names.w
    terminal.say(w("stock.title"), "bold")
    terminal.say(w("stock.says", day=w.day(plan.day)) if plan.parts else w("stock.nothing_of"))
    if not plan.parts:
        return
    first, *rest = part_sections(plan, names)
    orders = (order_section(each, names) for each in plan.orders)
    prints = (print_section(each, names) for each in plan.prints)
    buys = (last_buy_section(each, names, plan.day, plan.rule) for each in plan.last_buys)
    tell_sections((first, *orders, *prints, *buys, *(each for each in rest if each.rows)), terminal)
    terminal.say()
    for sentence in rule_sentences(plan.rule, w):
        terminal.say(sentence, "dim")


def _may_be_written(options: argparse.Namespace, root: Path) -> None:
    """Raises Refusal: what it is follows from the file's ending, and no record is written."""
    if options.to is None:
        return
    if options.print_list:
        may_be_written(options.to, root)
        return
    if not options.order:
        raise refused("to_without_order", Ending.MISUSE)
    if options.to.suffix.lower() not in _KINDS:
        raise refused("no_order_file", Ending.MISUSE, file=str(options.to))
    lies_outside(options.to, root)


def _order(options: argparse.Namespace, plan: StockPlan, names: Names, terminal: Terminal) -> int:
    """Raises Refusal for a maker that nobody knows."""
    maker, depot = names.catalogue.makers.get(options.order), names.catalogue.depot
    if maker is None or depot is None:
        raise refused("order_no_maker", Ending.MISUSE, name=options.order, known=sorted(names.catalogue.makers))
    order = next((each for each in plan.orders if each.maker.id == maker.id), None)
    if order is None:
        terminal.say(names.w("stock.no_order", maker=maker.name))
        return Ending.CLEAN
    text, subject = order_text(order, depot, names.w.day(plan.day), names), subject_of(depot, names.w)
    if options.to is None:
        terminal.say(text.rstrip("\n"))
        return Ending.CLEAN
    content = _mail(order, subject, text) if options.to.suffix.lower() == ".eml" else text.encode("utf-8")
    write_paper(options.to, content, force=options.force)
    terminal.say(names.w("stock.written", title=subject, file=str(options.to)))
    return Ending.CLEAN


def _mail(order: PurchaseOrder, subject: str, text: str) -> bytes:
    """A message without sender and date, marked as not sent, so that mail programs open it as a draft; the same bytes each time."""
    mail = EmailMessage(policy=SMTP)
    mail["Subject"] = subject
    if to := recipient_of(order):
        mail["To"] = to
    mail["X-Unsent"] = "1"
    mail.set_content(text, charset="utf-8", cte="quoted-printable")
    return mail.as_bytes()
