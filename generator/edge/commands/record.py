"""`spares record`: any other event of the way to approval, with the same care."""

import argparse
from datetime import date
from pathlib import Path
from typing import get_args

from generator.edge.commands import options as asking
from generator.edge.commands.submitting import add_about_others, submission, told_text
from generator.edge.commands.terminal import Terminal
from generator.edge.disk.recording import Attached, attached, part_to_write, recorded, refuse_broken
from generator.edge.disk.signed import not_signed_yet, signer
from generator.edge.one_part import OnePart
from generator.edge.refusals import Ending, Refusal
from generator.records.approvals import Approved, Event, FittedPieces, TrialOpened, TrialResult
from generator.rules.binding import approved_text, sites_of
from generator.rules.canonical import fingerprint
from generator.rules.walking import Submission
from generator.writing.yaml_text import Value

EVENTS = {
    str(get_args(kind.model_fields["what"].annotation)[0]): kind
    for kind in get_args(get_args(Event)[0])
    if kind not in (Approved, TrialOpened)
}

DESCRIPTION = f"""\
Records an event at the end of the part's approval.yml. Nothing that stands in the file is touched, and an
event that cannot have happened in that order is refused. Approvals and trials: spares approve.
"documents complete" and "sent to ..." write down, line by line, what is submitted: the part as it lies in its
folder now. An approval then has to bind the same.

events: {", ".join(EVENTS)}
"""
EXAMPLE = """\
  spares record TV-0118 "documents complete" --by am-specialist --reference "dossier TV-0118" \\
      --evidence documents/drawing.pdf
  spares record TV-0417 "change accepted" --by technical-review --reference "letter TR-27-004" \\
      --evidence ~/letter-TR-27-004.pdf
  spares record TV-0231 "record corrected" --corrects 5 --by quality --checked-by technical-review \\
      --why "typed the wrong day of the letter"
  spares record TV-0280 "customer acceptance refused" --by keeper --reason "whistles at 60 km/h"
"""
# What makes an approval hold longer or more freely is worth nothing without its letter.
NEEDS_LETTER = ("renewed", "condition lifted", "change accepted")
# What the command works out itself, from what lies in the part's folder.
FILLED = ("revision", "approved_as", "fingerprint")
OWN = (
    "reason", "result", "fitted_pieces", "question", "condition", "valid_until", "approved_on", "superseded_by", "corrects", "why",
    "checked_by", "older_stock", "also_for",
)  # fmt: skip
# Records of the older form close a trial without them; a new event says how it ended.
SAID_ANEW = {"trial closed": ("result", "fitted_pieces")}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    asking.add_number(parser)
    parser.add_argument("event", metavar="EVENT", choices=tuple(EVENTS), help="what happened, in quotes")
    asking.add_by(parser, "role that did it, as in depot.yml")
    parser.add_argument("--reference", metavar="TEXT", help="number of the letter, minutes or file")
    parser.add_argument(
        "--reason", metavar="TEXT", help="why, for a refusal, withdrawal or the end of a trial"
    )
    parser.add_argument("--result", choices=[each.value for each in TrialResult], help="how a trial ended, when it is closed")
    parser.add_argument(
        "--fitted-pieces", choices=[each.value for each in FittedPieces], help="whether what a trial has fitted stays fitted"
    )
    parser.add_argument("--question", metavar="TEXT", help="the question that was asked")
    parser.add_argument("--condition", metavar="TEXT", help="the condition that is added, to be met before fitting, or lifted")
    asking.add_in_service(parser)
    parser.add_argument(
        "--until", dest="valid_until", type=asking.day, metavar="DATE", help="the new last day, when renewed"
    )
    parser.add_argument(
        "--approved-on", type=asking.day, metavar="DATE", help="day of the approval that is meant, of several"
    )
    add_about_others(parser)
    parser.add_argument("--superseded-by", metavar="NUMBER", help="the part that takes its place")
    parser.add_argument(
        "--corrects", metavar="WHAT", help="number of the event that was corrected, from 1, or screening, waiver, route"
    )
    parser.add_argument("--why", metavar="TEXT", help="why the record no longer says what it said")
    parser.add_argument("--checked-by", metavar="ROLE", help="the other role that has checked the correction")
    parser.add_argument(
        "--evidence",
        nargs="+",
        type=Path,
        default=[],
        metavar="FILE",
        help="the letter: a file of the part's documents/, or copied there",
    )
    parser.add_argument("--note", metavar="TEXT", help="anything else worth keeping")
    asking.add_key(parser)
    asking.add_day(parser, "day it happened (default: today)")
    parser.add_argument("--dry-run", action="store_true", help="show what would be added and write nothing")
    asking.add_catalogue(parser)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    today = asking.today()
    event: dict[str, Value] = {
        "on": (options.on or today).isoformat(),
        "what": options.event,
        "by": asking.by_whom(options, terminal),
        **({"reference": options.reference} if options.reference else {}),
        **_own(options),
        **({"note": options.note} if options.note else {}),
    }
    look = asking.look_at_one(options, today, terminal)
    with part_to_write(look, "record", terminal.note, dry_run=options.dry_run) as part:
        refuse_broken(part, options.corrects)
        if issubclass(EVENTS[options.event], Submission):
            event |= submission(part, opens=options.event == "documents complete")
        evidence = attached(options.evidence, part.root / part.sheet.folder.folder)
        event |= _accepted(part, options.approved_on, evidence) if options.event == "change accepted" else {}
        appended = recorded(part, event, evidence, today, dry_run=options.dry_run, sign=signer(part, options.key))
    terminal.say(
        "Would be added:" if options.dry_run else f"Added to {part.sheet.folder.folder}/approval.yml:", "bold"
    )
    terminal.say(appended.added)
    if not options.dry_run and (not_signed := not_signed_yet(part, options.key)):
        terminal.note(not_signed, "yellow")
    return Ending.CLEAN


def _accepted(part: OnePart, approved_on: date | None, evidence: list[Attached]) -> dict[str, Value]:
    """The part as it lies there now, and the places of the approval that is to bind it from now on."""
    approvals = [each for each in part.sheet.history.permits if not each.is_trial]
    meant = [each for each in approvals if approved_on in (None, each.event.on)]
    if not meant:
        raise Refusal("there is nothing that could be accepted", f"see spares explain {part.sheet.number}")
    record, text = told_text(part, evidence)
    text = approved_text(text, sites_of(meant[-1].event.scope), part.catalogue, record)
    return {"revision": record.revision, "approved_as": text, "fingerprint": fingerprint(text)}


def _in_service(options: argparse.Namespace) -> Value:
    if options.condition or len(options.in_service) > 1:
        says = f"'{options.event}' says one condition"
        raise Refusal(says, "give either --condition or --in-service, once", Ending.MISUSE)
    text, plan = options.in_service[0]
    return asking.in_service(text, plan)


def _own(options: argparse.Namespace) -> dict[str, Value]:
    """What this kind of event says besides the common things. Raises Refusal for what is missing or too much."""
    fields = EVENTS[options.event].model_fields
    given: dict[str, Value] = {key: _value(getattr(options, key)) for key in OWN if getattr(options, key) is not None}
    given |= {"condition": _in_service(options)} if options.in_service else {}
    flags = {key: "--until" if key == "valid_until" else f"--{key.replace('_', '-')}" for key in OWN}
    needed = {key for key in OWN if key in fields and fields[key].is_required()} | set(SAID_ANEW.get(options.event, ()))
    missing = [flags[key] for key in OWN if key in needed and key not in given]
    missing += ["--reference"] if fields["reference"].is_required() and not options.reference else []
    needs_letter = options.event in NEEDS_LETTER or fields["evidence"].is_required()
    missing += ["--evidence"] if needs_letter and not options.evidence else []
    too_much = [flags[key] for key in given if key not in fields]
    if missing or too_much:
        says = [f"needs {' and '.join(missing)}"] if missing else []
        says += [f"takes no {' and no '.join(too_much)}"] if too_much else []
        raise Refusal(f"'{options.event}' {' and '.join(says)}", "see spares record --help", Ending.MISUSE)
    corrects = str(given.get("corrects", ""))
    return given | ({"corrects": int(corrects)} if corrects.isdecimal() else {})


def _value(given: object) -> Value:
    return [dict(each) if isinstance(each, dict) else each for each in given] if isinstance(given, list) else str(given)
