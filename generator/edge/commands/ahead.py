"""What would `spares approve` refuse, if the part were submitted as it lies here now and the answer came today?

The same judge is asked, of an event that is never written, so that `next` and `approve` cannot differ.
"""

import argparse
from collections.abc import Iterator
from datetime import date, timedelta
from functools import partial

from generator.edge.commands.approve import event_asked
from generator.edge.commands.lacking import approval_lines
from generator.edge.commands.submitting import submission
from generator.edge.disk.recording import Attached, NotRecorded, Told, recorded_in_order
from generator.edge.one_part import OnePart
from generator.edge.refusals import Refusal
from generator.pages.approvals.mends import MendLine, move_lines
from generator.pages.problems.said import said
from generator.pages.wording import wording
from generator.planning.overview import is_read_by_a_reviewer, missing_documents
from generator.reading.roles import who_may
from generator.records.approvals import Approved, DesignStarted, DocumentsComplete, PrototypePrinted
from generator.records.catalogue import PartFolder
from generator.records.problems import Problem, Severity
from generator.rules.walking import REVIEWS, word
from generator.writing.yaml_text import Value

_MAKES = (DesignStarted, PrototypePrinted, DocumentsComplete)
# Of the answer that is to come nobody knows anything; a year is an end that every approval may have.
_SOON = timedelta(days=365)
_UNKNOWN = "?"


def told_ahead(part: OnePart, today: date) -> tuple[MendLine, ...]:
    """Everything that an approval would be refused for, of a part that a reviewer reads or will read next; empty for any other."""
    if part.day != today or part.sheet.is_broken or part.sheet.history.question_open or not is_read_by_a_reviewer(part.sheet):
        return ()
    return (*_warned(part), *_judged(part, today))


def _warned(part: OnePart) -> Iterator[MendLine]:
    w = wording(part.catalogue.language)
    if any(each.severity is Severity.WARNING for each in part.sheet.problems):
        yield MendLine(missing=w("next.warned"), do=w("next.warned_do"), command="spares check")


def _judged(part: OnePart, today: date) -> tuple[MendLine, ...]:
    found: list[MendLine] = []
    refused: tuple[MendLine, ...] = ()
    for role in _approvers(part):
        try:
            _approve(part, role, today, found)
        except NotRecorded as refusal:
            refused = refused or tuple(_line(each, part) for each in refusal.found)
        except Refusal as refusal:
            refused = refused or (MendLine(missing=refusal.says, do=refusal.fix, command="spares check"),)
        else:
            return tuple(found)
    w = wording(part.catalogue.language)
    return (*refused, *move_lines(part.sheet, missing_documents(part.sheet), part.catalogue, w))


def _approvers(part: OnePart) -> list[str]:
    """The roles that may approve on the route; where there is none, the refusal of any says so."""
    roles = part.catalogue.depot.roles if part.catalogue.depot else ()
    may = set(who_may(Approved, part.sheet.history.route))
    return [each.id for each in roles if may & set(each.acts_as)] or [each.id for each in roles[:1]]


def _approve(part: OnePart, role: str, today: date, found: list[MendLine]) -> None:
    """Submit it, let it be reviewed and approve it, in thought. Raises Refusal where that could not be recorded."""
    letter = _letter(part)
    route, by = part.sheet.history.route, _maker(part, role)
    steps = [DocumentsComplete, *REVIEWS[route]]
    told: list[Told] = [partial(_submitted, what=word(kind), by=by, today=today, letter=letter) for kind in steps]
    told.append(partial(_approved, role=role, today=today, letter=letter))

    def look(would_be: PartFolder) -> None:
        found.extend(approval_lines(part, would_be))

    recorded_in_order(part, told, [letter], today, dry_run=True, before_writing=look)


def _maker(part: OnePart, approver: str) -> str:
    """Who made it so far: whoever submits it is its maker too."""
    events = part.sheet.folder.approval.events if part.sheet.folder.approval else ()
    return next((each.by for each in reversed(events) if isinstance(each, _MAKES)), approver)


def _letter(part: OnePart) -> Attached:
    """A letter that nobody has named yet, under a name that is free."""
    number, there = 1, part.sheet.folder.files
    while (file := f"documents/answer-{number}.txt") in there:
        number += 1
    return Attached(file=file, content=f"the answer that is to come to {part.sheet.number}".encode(), is_new=True)


def _submitted(now: OnePart, *, what: str, by: str, today: date, letter: Attached) -> dict[str, Value]:
    opens = what == word(DocumentsComplete)
    return {"on": today.isoformat(), "what": what, "by": by, "reference": _UNKNOWN, **submission(now, opens=opens, letters=[letter])}


def _approved(now: OnePart, *, role: str, today: date, letter: Attached) -> dict[str, Value]:
    """As `spares approve` writes it with the command that `next` prints: of all that the part fits."""
    fleets = dict.fromkeys(fit.fleet for fit in now.sheet.part.fits) if now.sheet.part else {}
    scope: list[Value] = [{"fleet": each} for each in fleets]
    asked = argparse.Namespace(
        by=role, reference=f"{_UNKNOWN} {today}", scope=scope, trial=False, valid_from=None, pieces=None, open_ended=False,
        until=today + _SOON, condition=[], in_service=[], also_for=None, replaces=[], note=None, minutes=None,
    )  # fmt: skip
    return {**event_asked(now, asked, today, [letter]), "evidence": [letter.as_evidence]}


def _line(problem: Problem, part: OnePart) -> MendLine:
    """Why the approval could not be recorded; a step that is to be walked anew has its command."""
    told = said(problem, wording(part.catalogue.language))
    wanted = dict(problem.facts).get("wanted") if problem.code == "APPR32" else None
    step = str(wanted[0]).strip("'") if isinstance(wanted, tuple) and wanted else None
    command = f'spares record {part.sheet.number} "{step}" --by ROLE --reference TEXT' if step else "spares check"
    return MendLine(missing=told.says, do=told.fix, command=command)
