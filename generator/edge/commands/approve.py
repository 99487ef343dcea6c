"""`spares approve`: an approval or a trial, bound to the part as it lies in its folder now."""

import argparse
import json
from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import date
from functools import partial
from pathlib import Path
from typing import Any

from generator.edge.commands import options as asking
from generator.edge.commands.added import tell_added
from generator.edge.commands.blank import refuse_blank
from generator.edge.commands.lacking import approval_lines
from generator.edge.commands.submitting import add_beside, beside_the_letter, told_text
from generator.edge.commands.terminal import Terminal
from generator.edge.disk.recording import (
    Attached,
    attached,
    part_to_write,
    recorded,
    refuse_broken,
    refuse_doubtful,
)
from generator.edge.disk.signed import signer
from generator.edge.one_part import OnePart
from generator.edge.refusals import Ending, refused
from generator.edge.spoken import words
from generator.pages.wording import wording
from generator.reading.letter_text import tells_text
from generator.records.approvals import Scope
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.conditions import Condition, as_condition
from generator.records.parts import Part
from generator.records.vehicles import as_ranges, vehicles_in
from generator.rules.binding import approved_text
from generator.rules.canonical import fingerprint
from generator.rules.permits import overlap
from generator.writing.yaml_text import Value

DESCRIPTION = """\
Records an approval (or, with --trial, a trial on named vehicles) at the end of the part's approval.yml.

What is approved is the part as it lies in its folder now: its mesh, material, makers, settings, revision and
critical dimensions. They are written out line by line, with their SHA-256; when any of them changes later,
the part says "changed since approval" and "Do not fit". Nothing that stands in the file is touched.
It refuses while the folder has mistakes or where the order of events does not allow an approval, and, until it
is told to go on, where `spares check` warns of something, such as the model's size, and where evidence is missing that
would keep it from "Fit it" or that a reviewer wants to see: a certificate, a fire report, the drawing, the screening.

An approval comes after "prototype printed", "customer acceptance given", "documents complete" and "sent to technical
review" (on the authority's route then "sent to the authority"); see spares record. It confirms what was submitted
there, or names with --changes-asked the letter in which the reviewer asked for the change. Another part than the last one
approved walks the whole way anew, or names with --carries-over the steps that count for it too. A letter serves once.
"""
EXAMPLE = """\
  spares approve TV-0417 --by technical-review --reference "letter TR-26-101" \\
      --scope TR4:401-412:saloon-window --until 2031-11-30 --evidence ~/letter-TR-26-101.pdf
  spares approve TV-0140 --trial --by technical-review --reference "permit TR-26-T5" \\
      --scope TR4:403,407:bogie --until 2027-03-31 --pieces 8 --evidence ~/permit-TR-26-T5.pdf --dry-run
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    asking.add_number(parser)
    asking.add_by(parser, "role that approved, as in depot.yml")
    parser.add_argument("--reference", required=True, help="number of the letter or minutes")
    add_scope_and_end(parser)
    parser.add_argument(
        "--from", dest="valid_from", type=asking.day, metavar="DATE", help="first day it holds, where that comes later"
    )
    parser.add_argument("--pieces", type=asking.at_least_one, metavar="N", help="how many pieces a trial is to fit and watch")
    parser.add_argument("--trial", action="store_true", help="a trial on named vehicles, not an approval")
    parser.add_argument(
        "--evidence",
        nargs="+",
        type=Path,
        required=True,
        metavar="FILE",
        help="the letter: a file of the part's documents/, or one that is copied there",
    )
    _add_conditions(parser)
    add_beside(parser)
    parser.add_argument("--note", metavar="TEXT", help="anything else worth keeping")
    asking.add_minutes(parser)
    parser.add_argument(
        "--despite-warnings",
        action="store_true",
        help="approve it although `spares check` warns of something",
    )
    asking.add_key(parser)
    parser.add_argument("--yes", action="store_true", help="approve it although evidence is missing")
    asking.add_day(parser, "day of the approval (default: today)")
    parser.add_argument("--dry-run", action="store_true", help="show what would be added and write nothing")
    asking.add_catalogue(parser)


def _add_conditions(parser: argparse.ArgumentParser) -> None:
    """Under what it holds, and what it takes the place of."""
    parser.add_argument(
        "--condition", action="append", default=[], metavar="TEXT", help="to be met before fitting; may be given again"
    )
    asking.add_in_service(parser)
    parser.add_argument(
        "--replaces",
        action="append",
        default=[],
        type=asking.day,
        metavar="DATE",
        help="day of an earlier approval or trial whose place it takes, and which so ends; may be given again",
    )


def add_scope_and_end(parser: argparse.ArgumentParser) -> None:
    """What a permit speaks of, and until when."""
    parser.add_argument(
        "--scope",
        required=True,
        action="append",
        type=scope,
        metavar="FLEET:VEHICLES:PLACES",
        help="what it speaks of, such as TR4:401-412:cab or TR4:403,407:bogie; may be given again",
    )
    end = parser.add_mutually_exclusive_group(required=True)
    end.add_argument("--until", type=asking.day, metavar="DATE", help="last day it holds")
    end.add_argument("--open-ended", action="store_true", help="the approval itself says that it has no end")


def scope(text: str) -> dict[str, Value]:
    """'TR4:401-405,407:saloon' → {"fleet": "TR4", "vehicles": ["401-405", "407"], "places": ["saloon"]}.

    An empty field may be a forgotten word: it never stands for everything.
    """
    fleet, *fields = (piece.strip() for piece in text.split(":"))
    if len(fields) > 2 or not fleet:
        raise argparse.ArgumentTypeError(f"{_quoted(text)} is no scope; write it as TR4:401-412:cab")
    found: dict[str, Value] = {"fleet": fleet}
    for key, field in zip(("vehicles", "places"), fields, strict=False):
        listed = [each.strip() for each in field.split(",")]
        if not all(listed):
            says = f"{_quoted(text)} names no {key} where it should; write it as TR4:401-412:cab"
            raise argparse.ArgumentTypeError(says)
        twice = [each for each, count in Counter(listed).items() if count > 1]
        if twice:
            raise argparse.ArgumentTypeError(f"{_quoted(text)} names {_quoted(twice[0])} a second time")
        found[key] = listed
    return found


def _quoted(text: str) -> str:
    return f"'{text}'" if len(text) <= 100 else f"'{text[:100]}…'"


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    refuse_blank(options)
    if options.trial and options.open_ended:
        raise refused("trial_last_day", Ending.MISUSE)
    if options.trial != (options.pieces is not None):
        raise refused("trial_pieces" if options.trial else "pieces_alone", Ending.MISUSE)
    if options.trial and (options.changes_asked or options.carries_over or options.older_stock):
        raise refused("trial_options", Ending.MISUSE)
    options.by = asking.by_whom(options, terminal)
    today = asking.today()
    look = asking.look_at_one(options, today, terminal)
    with part_to_write(look, "approve", terminal.note, dry_run=options.dry_run) as part:
        refuse_broken(part)
        doubts = refuse_doubtful(part, despite=options.despite_warnings)
        terminal.problems(doubts, part.root, part.catalogue.language)
        folder = part.root / part.sheet.folder.folder
        evidence = attached(options.evidence, folder)
        more, letters = beside_the_letter(options, folder)
        event = event_asked(part, options, options.on or today, [*evidence, *letters]) | more
        event |= {key: event.pop(key) for key in ("revision", "approved_as", "fingerprint")}  # the long text stays last
        complete = partial(_refuse_incomplete, part, terminal, is_trial=options.trial, yes=options.yes)
        sign = signer(part, options.key)
        appended = recorded(
            part, event, evidence, today, also=letters, dry_run=options.dry_run, sign=sign, before_writing=complete
        )
    tell_added(part, appended, options, terminal)
    _tell_little(evidence, terminal)
    for says in _beside(part, event):
        terminal.note(says, "yellow")
    return Ending.CLEAN


def _tell_little(evidence: Iterable[Attached], terminal: Terminal) -> None:
    """A letter in which a program reads hardly anything may be a scan, or the wrong file: whoever approves looks."""
    for each in evidence:
        if not tells_text(each.file, each.content):
            terminal.note(words()("commands.little_text", file=each.file), "yellow")


def _refuse_incomplete(
    part: OnePart, terminal: Terminal, would_be: PartFolder, *, is_trial: bool, yes: bool
) -> None:
    """Whoever approves has seen what is missing: evidence of the verdict, and for an approval what a reviewer reads."""
    lines = approval_lines(part, would_be, is_trial=is_trial)
    if not lines:
        return
    terminal.say(wording(part.catalogue.language)("approve.missing"), "bold yellow")
    terminal.mends(lines)
    if not yes:
        raise refused("lacks", number=part.sheet.number)


def _beside(part: OnePart, event: dict[str, Value]) -> Iterator[str]:
    """What else stands for the same vehicles, and goes on being heard."""
    w = wording(part.catalogue.language)
    scope = tuple(Scope.model_validate_json(json.dumps(each)) for each in _listed(event["scope"]))
    for permit in part.sheet.history.permits:
        same = permit.event.revision == event["revision"] and overlap(permit.event.scope, scope)
        iso = permit.event.on.isoformat()
        facts = {"kind": w("commands.beside.trial" if permit.is_trial else "commands.beside.approval"), "day": w.day(permit.event.on)}
        if iso in _listed(event.get("replaces")):
            yield w("commands.beside.ends", **facts, revision=permit.event.revision, reference=permit.event.reference)
        elif same:
            yield w("commands.beside.stands", **facts, iso=iso)
        if overlap(permit.event.scope, scope):
            said = {as_condition(each).text for each in _conditions(event)}
            for condition in (each.text for each in permit.conditions if each.text not in said):
                yield w("commands.beside.condition", **facts, condition=condition)


def _conditions(event: dict[str, Value]) -> Iterator[str | Condition]:
    """The conditions that the event sets."""
    for each in _listed(event.get("conditions")):
        yield Condition.model_validate_json(json.dumps(each)) if isinstance(each, dict) else str(each)


def named_sites(asked: dict[str, Any], part: Part, catalogue: Catalogue) -> list[dict[str, Value]]:
    """The scope with its vehicles and places by name: what is left out is what the part fits today.

    Places with the same vehicles stand together.
    """
    fleet = catalogue.fleets.get(str(asked["fleet"]))
    sits = {fit.place for fit in part.fits if fleet and fit.fleet == fleet.id}
    if not set(asked.get("places", ())) <= sits:
        return [asked]  # a place where the part does not sit is judged, and refused, like any record that says so
    by_vehicles: dict[tuple[str, ...], list[str]] = {}
    for fit in part.fits:
        if fleet and fit.fleet == fleet.id and fit.place in (asked.get("places") or [fit.place]):
            vehicles = as_ranges(vehicles_in(fit.vehicles) or fleet.numbers)
            by_vehicles.setdefault(vehicles, []).append(fit.place)
    if "vehicles" in asked and by_vehicles:
        by_vehicles = {
            tuple(asked["vehicles"]): sorted({place for places in by_vehicles.values() for place in places})
        }
    return [
        {"fleet": asked["fleet"], "vehicles": list(vehicles), "places": sorted(set(places))}
        for vehicles, places in by_vehicles.items()
    ] or [asked]


def _listed(value: Value) -> list[Value]:
    return value if isinstance(value, list) else []


def event_asked(part: OnePart, options: argparse.Namespace, day: date, letters: list[Attached]) -> dict[str, Value]:
    """The approval or trial that the options ask for, of the part as it lies in its folder."""
    record, text = told_text(part, letters)
    scope = [one for each in options.scope for one in named_sites(each, record, part.catalogue)]
    sites = [(str(each["fleet"]), str(place)) for each in scope for place in _listed(each.get("places"))]
    text = approved_text(text, sites, part.catalogue, record)
    event: dict[str, Value] = {
        "on": day.isoformat(),
        "what": "trial opened" if options.trial else "approved",
        "by": options.by,
        "reference": options.reference,
        "scope": scope,
    }
    event |= {"valid_from": options.valid_from.isoformat()} if options.valid_from else {}
    event |= {"planned_pieces": options.pieces} if options.trial else {}
    event |= {"open_ended": True} if options.open_ended else {"valid_until": options.until.isoformat()}
    conditions = [*options.condition, *(asking.in_service(text, plan) for text, plan in options.in_service)]
    event |= {"conditions": conditions} if conditions else {}
    event |= {"also_for": list(options.also_for)} if options.also_for else {}
    event |= {"replaces": [each.isoformat() for each in options.replaces]} if options.replaces else {}
    event |= {"note": options.note} if options.note else {}
    event |= {"minutes": options.minutes} if options.minutes else {}
    return event | {"revision": record.revision, "approved_as": text, "fingerprint": fingerprint(text)}
