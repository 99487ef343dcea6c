"""`spares sign`: the signatures that the events of one's own role still lack."""

import argparse
from collections.abc import Iterator

from generator.edge.commands import options as asking
from generator.edge.commands.terminal import Terminal
from generator.edge.disk.recording import part_to_write, refuse_broken
from generator.edge.disk.signed import roles_at_hand, sign_events
from generator.edge.one_part import OnePart
from generator.edge.refusals import Ending
from generator.pages.wording import Wording, wording
from generator.provenance.signing.checking import is_due
from generator.records.approvals import Event

DESCRIPTION = """\
Signs the events of the part's approval.yml that are by your role and not signed yet, with your SSH key. Which roles are
yours is told by the list of allowed signers that depot.yml names, or by --by.

A signature speaks of the event, its place, and everything before it. Read what you sign: --dry-run shows it. Nothing
else in the file is touched. ssh-keygen does the signing; a key with a passphrase has to be in the agent (ssh-add).
"""
EXAMPLE = """\
  spares sign TV-0417 --key ~/.ssh/id_ed25519 --dry-run
  spares sign TV-0417 --key ~/.ssh/id_ed25519
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    asking.add_number(parser)
    asking.add_key(parser, required=True)
    parser.add_argument("--by", metavar="ROLE", help="only events of this role (default: all that the key has)")
    parser.add_argument("--dry-run", action="store_true", help="show what would be signed and write nothing")
    asking.add_catalogue(parser)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    today = asking.today()
    look = asking.look_at_one(options, today, terminal)
    with part_to_write(look, "sign", terminal.note, dry_run=options.dry_run) as part:
        refuse_broken(part)
        roles = (options.by,) if options.by else roles_at_hand(part, options.key)
        due = list(_due(part, roles))
        if due:
            sign_events(part, [index for index, _ in due], options.key, dry_run=options.dry_run)
    w = wording(part.catalogue.language)
    whose = str(w.flat["commands.or"]).join(roles)
    if not due:
        terminal.say(w("commands.sign.nothing", number=part.sheet.number, whose=whose), "bold")
        return Ending.CLEAN
    file = f"{part.sheet.folder.folder}/approval.yml"
    terminal.say(w("commands.sign.would") if options.dry_run else w("commands.sign.done", file=file), "bold")
    for index, event in due:
        terminal.say(f"  {_told(index + 1, event, w)}")
    return Ending.CLEAN


def _due(part: OnePart, roles: tuple[str, ...]) -> Iterator[tuple[int, Event]]:
    approval, depot = part.sheet.folder.approval, part.catalogue.depot
    since = depot.signatures.since if depot and depot.signatures else None
    for index, event in enumerate(approval.events if approval else ()):
        if event.by in roles and is_due(event, since):
            yield index, event


def _told(number: int, event: Event, w: Wording) -> str:
    """An event as its signer has to know it again, in the record's own words."""
    own = ", ".join(
        f"{key} {value}"
        for key in ("revision", "valid_until", "fingerprint", "condition", "reason", "question", "superseded_by")
        if (value := getattr(event, key, None)) is not None
    )
    facts = {"on": str(event.on), "what": event.what, "by": event.by, "reference": event.reference, "own": own}
    return w("commands.sign.event", number=str(number), **facts)
