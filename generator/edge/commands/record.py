"""`spares record`: any other event of the way to approval, with the same care."""

import argparse
from collections.abc import Collection
from datetime import date
from functools import partial
from pathlib import Path
from typing import Any, get_args

from generator.edge.commands import options as asking
from generator.edge.commands.added import tell_added
from generator.edge.commands.blank import refuse_blank
from generator.edge.commands.reminded import refuse_reminded
from generator.edge.commands.submitting import add_about_others, submission, told_text
from generator.edge.commands.terminal import Terminal
from generator.edge.disk.recording import Attached, attached, part_to_write, recorded_in_order, refuse_broken
from generator.edge.disk.signed import signer
from generator.edge.one_part import OnePart
from generator.edge.refusals import Ending, refused
from generator.edge.spoken import words
from generator.records.approvals import (
    AcceptanceGiven,
    Approved,
    Event,
    FittedPieces,
    TakenOver,
    TakeOverConfirmed,
    TrialOpened,
    TrialResult,
)
from generator.records.catalogue import PartFolder
from generator.records.placeholders import gives_no_reason
from generator.rules.binding import approved_text, sites_of
from generator.rules.canonical import fingerprint
from generator.rules.chain import own_fingerprint
from generator.rules.facts.of_permit import LETTER_DOUBT
from generator.rules.history import Holder
from generator.rules.reminding import may_remind
from generator.rules.walking import Submission
from generator.writing.yaml_text import Value

EVENTS = {
    str(get_args(kind.model_fields["what"].annotation)[0]): kind
    for kind in get_args(get_args(Event)[0])
    if kind not in (Approved, TakenOver, TrialOpened)
}

DESCRIPTION = f"""\
Records an event at the end of the part's approval.yml. Nothing that stands in the file is touched, and an
event that cannot have happened in that order is refused. Approvals and trials: spares approve; approvals of before this
catalogue: spares take-over. Several steps of one day may be named one after the other: they are judged in that order and
written together, or not at all. Each is by the role of --by, unless it names another one behind an @; that role is
recorded as the one that did it, and with --key its key must be the one that signs.
"documents complete" and "sent to ..." write down, line by line, what is submitted: the part as it lies in its
folder now. An approval then has to bind the same.

events: {", ".join(EVENTS)}
"""
EXAMPLE = """\
  spares record TV-0118 "design started" "prototype printed" --by am-specialist
  spares record TV-0118 "prototype printed" "customer acceptance given@keeper" "documents complete" --by am-specialist
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
FILLED = ("confirms", "revision", "approved_as", "fingerprint")
OWN = (
    "reason", "result", "fitted_pieces", "question", "condition", "valid_until", "approved_on", "superseded_by", "corrects", "why",
    "checked_by", "older_stock", "also_for",
)  # fmt: skip
_FLAGS = {key: "--until" if key == "valid_until" else f"--{key.replace('_', '-')}" for key in OWN}
# What the command finds out itself where it is the only one.
WORKED_OUT = {"take-over confirmed": ("approved_on",)}
# Records of the older form close a trial without them; a new event says how it ended.
SAID_ANEW = {"trial closed": ("result", "fitted_pieces")}


class _Steps(argparse.Action):
    """The part's number, which may be left out, and the events behind it."""

    def __call__(self, parser: argparse.ArgumentParser, namespace: argparse.Namespace, values: Any, option_string: str | None = None) -> None:  # noqa: ARG002
        given = list(values)
        namespace.number = None if given[0].rpartition("@")[0] in EVENTS or given[0] in EVENTS else given.pop(0)
        if not given:
            parser.error("the following arguments are required: EVENT")
        namespace.roles = {}
        for place, said in enumerate(given):
            what, at, role = said.rpartition("@")
            given[place] = what = what if at else said
            namespace.roles |= {what: role} if at else {}
            if what not in EVENTS or (at and not role):
                raise argparse.ArgumentError(self, f"invalid choice: {said!r} (choose from {', '.join(map(repr, EVENTS))})")
        namespace.event = given


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "event", nargs="+", action=_Steps, metavar="[NUMBER] EVENT",
        help="number of the part (default: the part in whose folder one stands), and what happened, in quotes; several steps of one day one after the other, a step of another role as EVENT@ROLE",
    )  # fmt: skip
    asking.add_by(parser, "role that did it, as in depot.yml")
    parser.add_argument("--reference", metavar="TEXT", help="number of the letter, minutes or file")
    _add_said(parser)
    _add_meant(parser)
    parser.add_argument(
        "--evidence",
        nargs="+",
        type=Path,
        default=[],
        metavar="FILE",
        help="the letter: a file of the part's documents/, or copied there",
    )
    parser.add_argument("--note", metavar="TEXT", help="anything else worth keeping")
    asking.add_minutes(parser)
    asking.add_key(parser)
    asking.add_day(parser, "day it happened (default: today)")
    parser.add_argument("--dry-run", action="store_true", help="show what would be added and write nothing")
    asking.add_catalogue(parser)


def _add_said(parser: argparse.ArgumentParser) -> None:
    """What single events say: why, how it ended, what is asked or held to."""
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


def _add_meant(parser: argparse.ArgumentParser) -> None:
    """Until when it then holds, of which permit, part or event it speaks, and who has checked that."""
    parser.add_argument(
        "--until", dest="valid_until", type=asking.day, metavar="DATE", help="the new last day, when renewed"
    )
    parser.add_argument(
        "--approved-on", type=asking.day, metavar="DATE", help="day of the approval that is meant, of several"
    )
    parser.add_argument("--letter", metavar="TEXT", help="number of the letter that is confirmed, of several that were taken over")
    add_about_others(parser)
    parser.add_argument("--superseded-by", metavar="NUMBER", help="the part that takes its place")
    parser.add_argument(
        "--corrects", metavar="WHAT", help="number of the event that was corrected, from 1, or screening, waiver, route"
    )
    parser.add_argument("--why", metavar="TEXT", help="why the record no longer says what it said")
    parser.add_argument("--checked-by", metavar="ROLE", help="the other role that has checked the correction")


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    today = asking.today()
    own = _shared_out(options)
    refuse_blank(options)
    options.by = _by_whom(options, terminal)
    look = asking.look_at_one(options, today, terminal)
    with part_to_write(look, "record", terminal.note, dry_run=options.dry_run) as part:
        refuse_broken(part, options.corrects)
        evidence = attached(options.evidence, part.root / part.sheet.folder.folder)
        told = [partial(_told, options=options, today=today, what=what, own=own[what], evidence=evidence) for what in options.event]
        appended = recorded_in_order(
            part, told, evidence, today, dry_run=options.dry_run, sign=signer(part, options.key),
            before_writing=partial(_tell_missing, part, terminal, options.event),
        )  # fmt: skip
    tell_added(part, appended, options, terminal)
    return Ending.CLEAN


def _tell_missing(part: OnePart, terminal: Terminal, events: Collection[str], would_be: PartFolder) -> None:
    kinds = {EVENTS[what] for what in events}
    submits = any(issubclass(kind, Submission) for kind in kinds)
    if not submits and not kinds & {AcceptanceGiven, TakeOverConfirmed}:
        return
    # Here and not above: it plans, with numpy, and every other event is recorded without.
    from generator.edge.commands.lacking import tell_lacking, tell_papers  # noqa: PLC0415

    if TakeOverConfirmed in kinds:
        tell_lacking(part, terminal, would_be)
    if submits or AcceptanceGiven in kinds:
        tell_papers(part, terminal, would_be, acceptance_alone=not submits)


def _by_whom(options: argparse.Namespace, terminal: Terminal) -> str:
    """Who confirms a letter is said each time: a setting that is kept would confirm what nobody has looked at."""
    if "take-over confirmed" in options.event and not (options.by or "take-over confirmed" in options.roles):
        raise refused("no_confirmer", Ending.MISUSE)
    if all(what in options.roles for what in options.event):
        return ""  # each step says whose it is
    return asking.by_whom(options, terminal)


def _told(
    part: OnePart, *, options: argparse.Namespace, today: date, what: str, own: dict[str, Value], evidence: list[Attached]
) -> dict[str, Value]:  # fmt: skip
    """The event as it is written, of the part as the events before it leave it."""
    by = options.roles.get(what) or options.by
    if what == "reminder sent":
        _refuse_reminder(part, by, options.on or today)
    event: dict[str, Value] = {
        "on": (options.on or today).isoformat(),
        "what": what,
        "by": by,
        **({"reference": options.reference} if options.reference else {}),
        **own,
        **({"note": options.note} if options.note else {}),
        **({"minutes": options.minutes} if options.minutes else {}),
    }
    if issubclass(EVENTS[what], Submission):
        event |= submission(part, opens=what == "documents complete")
    event |= _accepted(part, options.approved_on, evidence) if what == "change accepted" else {}
    event |= _confirmed(part, options, evidence) if what == "take-over confirmed" else {}
    return event | ({"evidence": [each.as_evidence for each in evidence]} if evidence else {})


def _refuse_reminder(part: OnePart, by: str, on: date) -> None:
    """Raises Refusal where there is nobody to remind, `by` is who has it, or has reminded on that day."""
    sheet = part.sheet
    if not sheet.history.awaits and sheet.history.holder not in (Holder.CUSTOMER, Holder.AUTHORITY):
        raise refused("nobody_to_remind", number=sheet.number)
    if not may_remind(by, sheet.folder.approval, sheet.history, part.catalogue.depot):
        raise refused("reminds_itself", by=by, number=sheet.number)
    refuse_reminded(sheet.folder.approval.events if sheet.folder.approval else (), by, on, sheet.number)


def _confirmed(part: OnePart, options: argparse.Namespace, evidence: list[Attached]) -> dict[str, Value]:
    """What lies there now, and the places that the letter speaks of that is confirmed."""
    or_ = str(words().flat["commands.or"])
    awaiting = [each for each in part.sheet.history.permits if each.awaits]
    meant = [
        each
        for each in awaiting
        if options.approved_on in (None, each.event.on) and options.letter in (None, each.event.reference)
    ]
    if len(meant) != 1:
        known = or_.join(f'--approved-on {each.event.on} --letter "{each.event.reference}"' for each in awaiting)
        key = "several_letters" if len(meant) > 1 else "other_letter" if known else "no_letter"
        raise refused(key, known=known, number=part.sheet.number)
    doubts = [each for each in part.sheet.problems if each.code == LETTER_DOUBT]
    if doubts and gives_no_reason(options.note or ""):
        raise refused("no_note", problems=doubts, below=part.root)
    record, text = told_text(part, evidence)
    text = approved_text(text, sites_of(meant[0].event.scope), part.catalogue, record)
    said: dict[str, Value] = {"approved_on": meant[0].event.on.isoformat(), "confirms": own_fingerprint(meant[0].event)}
    return said | {"revision": record.revision, "approved_as": text, "fingerprint": fingerprint(text)}


def _accepted(part: OnePart, approved_on: date | None, evidence: list[Attached]) -> dict[str, Value]:
    """The part as it lies there now, and the places of the approval that is to bind it from now on."""
    approvals = [each for each in part.sheet.history.permits if not each.is_trial]
    meant = [each for each in approvals if approved_on in (None, each.event.on)]
    if not meant:
        raise refused("nothing_to_accept", number=part.sheet.number)
    record, text = told_text(part, evidence)
    text = approved_text(text, sites_of(meant[-1].event.scope), part.catalogue, record)
    return {"revision": record.revision, "approved_as": text, "fingerprint": fingerprint(text)}


def _in_service(options: argparse.Namespace) -> Value:
    if options.condition or len(options.in_service) > 1:
        raise refused("one_condition", Ending.MISUSE, what=" ".join(options.event))
    text, plan = options.in_service[0]
    return asking.in_service(text, plan)


def _shared_out(options: argparse.Namespace) -> dict[str, dict[str, Value]]:
    """What each of the events says besides the common things. Raises Refusal where it cannot be told whose an option is."""
    whats: list[str] = options.event
    if len(whats) == 1:
        return {whats[0]: _own(options, whats[0])}
    twice = next((what for what in whats if whats.count(what) > 1), None)
    if twice:
        raise refused("twice", Ending.MISUSE, what=twice)
    if options.letter and "take-over confirmed" not in whats:
        raise refused("letter_alone", Ending.MISUSE)
    given = [key for key in OWN if getattr(options, key) is not None] + (["condition"] if options.in_service else [])
    one_only = [_FLAGS[key] for key in given if sum(key in EVENTS[what].model_fields for what in whats) > 1]
    one_only += [flag for flag, value in (("--evidence", options.evidence), ("--note", options.note), ("--minutes", options.minutes)) if value]
    if one_only or "record corrected" in whats:
        raise refused("whose_option", Ending.MISUSE, options=_joined(one_only or ["record corrected"]))
    strange = [_FLAGS[key] for key in given if not any(key in EVENTS[what].model_fields for what in whats)]
    if strange:
        raise refused("none_takes", Ending.MISUSE, options=_joined(strange))
    return {what: _own(options, what, among=True) for what in whats}


def _own(options: argparse.Namespace, what: str, *, among: bool = False) -> dict[str, Value]:
    """What this kind of event says besides the common things. Raises Refusal for what is missing or too much.

    among: it is one of several, so that what it does not take belongs to another.
    """
    fields = EVENTS[what].model_fields
    given: dict[str, Value] = {key: _value(getattr(options, key)) for key in OWN if getattr(options, key) is not None}
    given |= {"condition": _in_service(options)} if options.in_service else {}
    given = {key: value for key, value in given.items() if key in fields or not among}
    needed = {key for key in OWN if key in fields and fields[key].is_required()} | set(SAID_ANEW.get(what, ()))
    missing = [_FLAGS[key] for key in OWN if key in needed - set(WORKED_OUT.get(what, ())) and key not in given]
    missing += ["--reference"] if fields["reference"].is_required() and not options.reference else []
    needs_letter = what in NEEDS_LETTER or fields["evidence"].is_required()
    missing += ["--evidence"] if needs_letter and not options.evidence else []
    too_much = [_FLAGS[key] for key in given if key not in fields]
    if missing or too_much:
        key = "needs_and_takes" if missing and too_much else "needs" if missing else "takes_no"
        raise refused(key, Ending.MISUSE, what=what, missing=_joined(missing), too_much=_joined(too_much))
    corrects = str(given.get("corrects", ""))
    return given | ({"corrects": int(corrects)} if corrects.isdecimal() else {})


def _joined(flags: list[str]) -> str:
    return str(words().flat["commands.and"]).join(flags)


def _value(given: object) -> Value:
    return [dict(each) if isinstance(each, dict) else each for each in given] if isinstance(given, list) else str(given)
