"""`spares take-over`: an approval of before this catalogue, by its letter, until whoever acts for its approver confirms it."""

import argparse
from datetime import date
from pathlib import Path

from generator.edge.commands import options as asking
from generator.edge.commands.added import tell_added
from generator.edge.commands.approve import add_scope_and_end, named_sites
from generator.edge.commands.lacking import tell_lacking
from generator.edge.commands.terminal import Terminal
from generator.edge.disk.recording import attached, part_to_write, recorded, refuse_broken
from generator.edge.disk.signed import signer
from generator.edge.one_part import OnePart
from generator.edge.refusals import Ending, refused
from generator.records.approvals import Route
from generator.writing.yaml_text import Value

DESCRIPTION = """\
Records an approval that was given before this catalogue, by its letter, in the place of steps that nobody can date.

The letter is copied into the part's documents/. It binds nothing yet: the part says "Ask first" at best until a role
that acts for the letter's approver, and did not take it over, has looked at what lies in the folder and confirms it
(spares record NUMBER "take-over confirmed"). No route is bypassed: on the authority's route it is the authority's letter.
It is refused where the way was walked or judged here. Whatever is asked of an approval is asked of it too.
"""
EXAMPLE = """\
  spares take-over TV-0296 --letter ~/TR-19-044.pdf --letter-of 2019-05-03 --approved-by "technical office of the keeper" \\
      --approver customer --reference "letter TR-19-044" --scope TR4:401-412:cab --until 2029-05-31 --by am-specialist
  spares record TV-0296 "take-over confirmed" --by technical-review --reference "minutes TR-26-210" \\
      --evidence ~/minutes-TR-26-210.pdf
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    asking.add_number(parser)
    parser.add_argument(
        "--letter", nargs="+", type=Path, required=True, metavar="FILE", help="the letter: a file of the part's documents/, or one that is copied there"
    )
    parser.add_argument("--letter-of", type=asking.day, required=True, metavar="DATE", help="the letter's own date")
    parser.add_argument("--approved-by", required=True, metavar="TEXT", help="who approved it, as the letter says: an office, no person")
    parser.add_argument("--approver", required=True, choices=[each.value for each in Route], help="for whom that office acted")
    parser.add_argument("--reference", required=True, metavar="TEXT", help="number of the letter")
    asking.add_by(parser, "role that takes it over, as in depot.yml")
    add_scope_and_end(parser)
    parser.add_argument("--condition", action="append", default=[], metavar="TEXT", help="what the letter asks for before fitting; may be given again")
    asking.add_in_service(parser)
    parser.add_argument("--also-for", action="append", metavar="NUMBER", help="another part that the letter speaks of too, whose record names this one; may be given again")
    parser.add_argument("--note", metavar="TEXT", help="anything else worth keeping")
    asking.add_minutes(parser)
    asking.add_key(parser)
    asking.add_day(parser, "day it is taken over (default: today)")
    parser.add_argument("--dry-run", action="store_true", help="show what would be added and write nothing")
    asking.add_catalogue(parser)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    today = asking.today()
    options.by = asking.by_whom(options, terminal)
    look = asking.look_at_one(options, today, terminal)
    with part_to_write(look, "take-over", terminal.note, dry_run=options.dry_run) as part:
        refuse_broken(part)
        letters = attached(options.letter, part.root / part.sheet.folder.folder)
        event = _event(part, options, options.on or today)
        appended = recorded(
            part, event, letters, today, dry_run=options.dry_run, sign=signer(part, options.key),
            before_writing=lambda would_be: tell_lacking(part, terminal, would_be),
        )  # fmt: skip
    tell_added(part, appended, options, terminal)
    return Ending.CLEAN


def _event(part: OnePart, options: argparse.Namespace, day: date) -> dict[str, Value]:
    record = part.sheet.part
    if record is None:
        raise refused("part_unread")
    event: dict[str, Value] = {
        "on": day.isoformat(),
        "what": "taken over",
        "by": options.by,
        "reference": options.reference,
        "letter_of": options.letter_of.isoformat(),
        "approved_by": options.approved_by,
        "approver": options.approver,
        "scope": [one for each in options.scope for one in named_sites(each, record, part.catalogue)],
    }
    event |= {"open_ended": True} if options.open_ended else {"valid_until": options.until.isoformat()}
    conditions = [*options.condition, *(asking.in_service(text, plan) for text, plan in options.in_service)]
    event |= {"conditions": conditions} if conditions else {}
    event |= {"also_for": list(options.also_for)} if options.also_for else {}
    event |= {"note": options.note} if options.note else {}
    event |= {"minutes": options.minutes} if options.minutes else {}
    return event | {"revision": record.revision}
