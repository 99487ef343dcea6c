"""Which approvals can go to the reviewer as one, since they share route, material and process?

Such parts rest on the same papers: inspection documents, fire reports, proofs, and the qualification of the same machines. What is
saved is reckoned here, and what is a guess is called one: minutes of own work, by SUBMISSION_MINUTES and FURTHER_PART_MINUTES;
and days, if the reviewer would take the submissions one after another, by the depot's own waits (planning/forecast.py).
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from generator.planning.forecast import Own, own_waits, step_days
from generator.planning.overview import lapses
from generator.planning.submitting import Asks, asked_of, whom
from generator.records.approvals import Route
from generator.records.catalogue import Catalogue
from generator.records.makers import Process
from generator.rules.history import Holder, Stage
from generator.rules.sheet import Sheet

SUBMISSION_MINUTES = 240
"""Own work of one submission, put together, sent and answered for; a guess (common practice, no source)."""
FURTHER_PART_MINUTES = 60
"""Of each further part in it; a guess as well."""
# Who has it already cannot be handed it anew, nobody hurries what is withdrawn, and of a design no prototype was printed that could be tried.
_TO_SUBMIT = (Stage.PROTOTYPE, Stage.DOCUMENTS, Stage.LAPSED, Stage.CHANGED, Stage.TAKEN_OVER)


@dataclass(frozen=True, slots=True)
class Shared:
    """What makes a family."""

    route: Route
    materials: tuple[str, ...]
    processes: tuple[Process, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Family:
    """Parts that go to the same desk next and share `shared`, by number; what is asked may differ, such as a renewal beside a review."""

    shared: Shared
    desk: Stage
    """The step that they wait in there: an acceptance, a technical review, or the authority's."""
    members: tuple[Sheet, ...]
    papers: int
    """How many papers of the materials all of them rest on."""
    step_days: int | None
    """The median of that step; None where no history tells it."""

    @property
    def fewer(self) -> int:
        """Submissions that need not be made."""
        return len(self.members) - 1

    @property
    def guessed_minutes(self) -> int:
        return self.fewer * (SUBMISSION_MINUTES - FURTHER_PART_MINUTES)

    @property
    def guessed_days(self) -> int | None:
        """What the last one would wait longer, if the reviewer took them one after another."""
        return None if self.step_days is None else self.fewer * self.step_days


def families(sheets: Iterable[Sheet], catalogue: Catalogue, day: date) -> tuple[Family, ...]:
    """The largest first, then by number; of parts that are broken, bought, already with a reviewer, or whose prototype nobody has printed, none."""
    every = list(sheets)
    own = own_waits((sheet.history for sheet in every), day)
    found: defaultdict[tuple[Shared, Stage], list[Sheet]] = defaultdict(list)
    for sheet in sorted(every, key=lambda each: each.number):
        shared = shared_by(sheet, catalogue)
        if shared and _is_to_submit(sheet, day):
            found[shared, desk_of(sheet)].append(sheet)
    made = [_family(shared, desk, members, catalogue, own) for (shared, desk), members in found.items() if len(members) > 1]
    return tuple(sorted(made, key=lambda family: (-len(family.members), family.members[0].number)))


def shared_by(sheet: Sheet, catalogue: Catalogue) -> Shared | None:
    """None of a part that cannot be read, and of one that nobody here makes."""
    part = sheet.part
    processes = {catalogue.makers[name].process for name in part.makers if name in catalogue.makers} if part else set()
    if part is None or not processes:
        return None
    return Shared(sheet.history.route, part.materials, tuple(sorted(processes)))


def desk_of(sheet: Sheet) -> Stage:
    """Where its next submission is read: renewals, changes and confirmations by whoever answers on the route."""
    asked = asked_of(sheet)
    if asked is Asks.ACCEPTANCE:
        return Stage.ACCEPTANCE
    return Stage.AUTHORITY_REVIEW if whom(asked, sheet.history.route) is Holder.AUTHORITY else Stage.TECHNICAL_REVIEW


def _is_to_submit(sheet: Sheet, day: date) -> bool:
    if sheet.is_broken or sheet.history.question_open:
        return False
    lapses_soon = sheet.stage is Stage.APPROVED and any(each.what.value == "approval" for each in lapses(sheet, day))
    return sheet.stage in _TO_SUBMIT or lapses_soon


def _family(shared: Shared, desk: Stage, members: Sequence[Sheet], catalogue: Catalogue, own: Own) -> Family:
    papers = papers_of(shared.materials, catalogue)
    return Family(shared=shared, desk=desk, members=tuple(members), papers=papers, step_days=step_days(own, shared.route, desk))


def papers_of(materials: Iterable[str], catalogue: Catalogue) -> int:
    """Inspection documents, fire reports and proofs, each file once."""
    known = [catalogue.materials[name] for name in materials if name in catalogue.materials]
    certificates = {paper.file for each in known for paper in each.certificates}
    reports = {paper.file for each in known for paper in each.fire_tests}
    return len(certificates | reports | {proof.file for each in known for proof in each.proof})
