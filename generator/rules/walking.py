"""Was the way walked for what is approved: does it bind what was submitted, and does each letter serve once?"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from generator.records.accompanying import WayStep
from generator.records.approvals import (
    AcceptanceGiven,
    AcceptanceRefused,
    Approved,
    ChangeAccepted,
    ConditionLifted,
    DesignStarted,
    DocumentsComplete,
    Event,
    OlderStockSettled,
    PrototypePrinted,
    QuestionAnswered,
    QuestionAsked,
    Renewed,
    Route,
    SafetyAssessmentReport,
    SentForAcceptance,
    SentToAuthority,
    SentToTechnicalReview,
    TakenOver,
    TakeOverConfirmed,
    TrialOpened,
)
from generator.records.evidence import Evidence
from generator.records.problems import Problem, wrong
from generator.rules.binding import sites_of
from generator.rules.canonical import fingerprint, from_record, lines_of
from generator.rules.changes import Change, Means, differing
from generator.rules.consequences import part_changes, part_voids, weighed
from generator.rules.fingerprint import is_readable, part_section, place_section, values_of

# What is sent to those who decide is no word of theirs; a reviewer's own questions may ask for a change.
_OF_THE_WAY = DesignStarted | PrototypePrinted | SentForAcceptance | DocumentsComplete | SentToTechnicalReview | SentToAuthority | QuestionAnswered
_DECIDES = (
    Approved | TrialOpened | TakenOver | TakeOverConfirmed | ChangeAccepted | Renewed | ConditionLifted | OlderStockSettled
    | SafetyAssessmentReport
)  # fmt: skip
Permitted = Approved | TrialOpened | ChangeAccepted | TakenOver | TakeOverConfirmed
"""What a letter gives a permit by, or a newer text to it."""
Submission = DocumentsComplete | SentToTechnicalReview | SentToAuthority
_Kinds = tuple[type[Event], ...]

# The reviews of each route, in their order; the authority is asked once the technical reviewer has closed his.
REVIEWS: dict[Route, _Kinds] = {
    Route.CUSTOMER: (SentToTechnicalReview,),
    Route.AUTHORITY: (SentToTechnicalReview, SentToAuthority),
}


@dataclass(slots=True)
class Walked:
    """What was submitted, approved and proven so far."""

    submitted: str | None = None
    """The canonical text of the last submission; None where it does not say what it submitted."""
    reviewed: dict[type[Event], str | None] = field(default_factory=dict)
    """The text that lies before each reviewer."""
    approved: str | None = None
    """The canonical text of the last approval."""
    letters: dict[str, str] = field(default_factory=dict)
    """The fingerprint that each letter file has served, by the file's SHA-256."""
    minutes: set[str] = field(default_factory=set)
    """SHA-256 of every file that says how a prototype was accepted."""
    questions: dict[str, str] = field(default_factory=dict)
    """The same of the questions that reviewers asked: with the next approval they have served."""
    taken: set[str] = field(default_factory=set)
    """SHA-256 of every letter that was taken over, and of what confirmed one: they decide nothing else."""
    named: dict[str, str] = field(default_factory=dict)
    """The last event that each file was named by, whatever for, by the file's SHA-256."""
    papers: dict[str, str] = field(default_factory=dict)
    """The event of the way that each other file was named by, by the file's SHA-256."""

    def text_of(self, event: Submission) -> str | None:
        """What is submitted: the event's own text, or the one above that has its fingerprint."""
        if event.submitted_as is not None:
            return from_record(event.submitted_as)
        same = self.submitted is not None and fingerprint(self.submitted) == event.fingerprint
        return self.submitted if same and not isinstance(event, DocumentsComplete) else None

    def is_reviewed(self, route: Route) -> bool:
        """Whether it is written down what lay before every reviewer of the route."""
        return all(self.reviewed.get(kind) is not None for kind in REVIEWS[route])

    def note(self, event: Event) -> None:
        """Remember that the event has happened."""
        match event:
            case DocumentsComplete():
                self.submitted, self.reviewed = self.text_of(event), {}
            case SentToTechnicalReview() | SentToAuthority():
                self.reviewed[type(event)] = text = self.text_of(event)
                self.submitted = text or self.submitted
            case AcceptanceGiven() | AcceptanceRefused():
                self.minutes |= {each.sha256 for each in event.evidence}
            case Approved() | TrialOpened() | ChangeAccepted():
                self.letters |= {each.sha256: event.fingerprint for each in letters_of(event)}
                if isinstance(event, Approved):
                    self.approved = from_record(event.approved_as)
                    self.papers |= self.questions
            case TakenOver() | TakeOverConfirmed():
                self.taken |= {each.sha256 for each in event.evidence}
                self.letters |= {each.sha256: _serves(event) for each in event.evidence}
                if isinstance(event, TakeOverConfirmed):
                    self.approved = from_record(event.approved_as)
            case QuestionAsked():
                self.questions |= {each.sha256: event.what for each in event.evidence}
            case _:
                pass
        self.named |= {each.sha256: event.what for each in _letters_of(event)}
        if isinstance(event, _OF_THE_WAY):
            self.papers |= {each.sha256: event.what for each in event.evidence}


def letters_of(event: Permitted) -> Iterator[Evidence]:
    """Every letter that speaks for a permit or its newer text: its own, and those of what it says besides."""
    yield from event.evidence
    if isinstance(event, Approved):
        yield from (said.evidence for said in (event.changes_asked, event.carries_over) if said)


def _letters_of(event: Event) -> Iterator[Evidence]:
    return letters_of(event) if isinstance(event, Permitted) else iter(event.evidence)


def _serves(event: Permitted) -> str:
    """What a letter of the event serves: the text that is bound by it, or what was taken over, by its day and number."""
    return f"{event.what} {event.on} {event.reference}" if isinstance(event, TakenOver | TakeOverConfirmed) else event.fingerprint


def submission_complaints(event: Submission, walked: Walked) -> Iterator[Problem]:
    """A submission says what it submits, or nothing of it, as older records do; a reviewer gets the part that the documents tell of."""
    said = (event.revision, event.submitted_as, event.fingerprint)
    if said == (None, None, None):
        return
    if event.revision is None or event.fingerprint is None:
        yield wrong("APPR30", "half", what=event.what)
        return
    text = walked.text_of(event)
    if text is None:
        yield wrong("APPR30", "not above", what=event.what)
    elif fingerprint(text) != event.fingerprint:
        yield wrong("APPR30", "fingerprint", what=event.what)
    elif not is_readable(text):
        yield wrong("APPR30", "lines", what=event.what)
    elif values_of(text).get("revision") != event.revision:
        yield wrong("APPR30", "revision", what=event.what, revision=event.revision)
    elif not isinstance(event, DocumentsComplete) and walked.submitted is not None:
        found = other_than(walked.submitted, text)
        if found:
            yield wrong("APPR30", "other", what=event.what, lines=tuple(change.what for change in found[:3]))


def confirming(event: Approved, walked: Walked, new: set[type[Event]], route: Route) -> Iterator[Problem]:
    """An approval confirms what lay before its reviewers, unless one of them asked for the change by letter.

    new: what has come since the last approval; who asked for a change had something before him. What a record of the older
    form does not say cannot be compared: that is asked about, see `is_reviewed`.
    """
    if event.changes_asked is not None:
        own = {each.sha256 for each in event.evidence}
        if event.changes_asked.evidence.sha256 in own:
            yield wrong("APPR31", "own letter", file=event.changes_asked.evidence.file)
        if not new & set(REVIEWS[route]) and walked.approved is not None:
            yield wrong("APPR31", "never submitted")
        return
    found = not_as_reviewed(walked.reviewed, from_record(event.approved_as), sites_of(event.scope), route)
    if found:
        yield found


def not_as_reviewed(
    reviewed: Mapping[type[Event], str | None], text: str, sites: Iterable[tuple[str, str]], route: Route
) -> Problem | None:
    """What a text and its places say otherwise than what lay before the reviewers; None where it is the same, or nobody wrote down what lay there."""
    sites = tuple(sites)
    for seen in (reviewed.get(kind) for kind in REVIEWS[route]):
        if seen is None:
            continue
        if found := other_than(seen, text):
            return wrong("APPR31", "part", lines=tuple(change.what for change in found[:3]))
        for fleet, place in sites:
            if not is_same_place(place_section(seen, fleet, place), place_section(text, fleet, place)):
                return wrong("APPR31", "place", fleet=fleet, place=place)
    return None


def other_than(submitted: str, approved: str) -> tuple[Change, ...]:
    """What of the part an approval binds otherwise than it was submitted, but for what changes nothing."""
    return tuple(change for change in part_changes(submitted, part_section(approved)) if change.means is not Means.FREE)


def is_same_place(submitted: str, approved: str) -> bool:
    """Whether a place was submitted, and as it is approved, but for what changes nothing."""
    found = weighed(differing(lines_of(submitted), lines_of(approved)), {}, {})
    return bool(submitted) and all(change.means is Means.FREE for change in found)


def walking_anew(event: Approved, walked: Walked, done: set[type[Event]], new: set[type[Event]], route: Route) -> Iterator[Problem]:
    """Another part than the last one approved has a prototype, acceptance, documents and review of its own.

    done, new: what counts as done, and what has come since the last approval. What is not even done is told elsewhere.
    Common practice, no source: a changed part is a new part until somebody who may approve it says otherwise.
    """
    if walked.approved is None or not is_another(walked.approved, from_record(event.approved_as)):
        return
    carried = set(event.carries_over.steps) if event.carries_over else set()
    if event.carries_over and event.carries_over.evidence.sha256 in {each.sha256 for each in event.evidence}:
        yield wrong("APPR32", "own letter", file=event.carries_over.evidence.file)
    kinds: dict[WayStep, _Kinds] = {
        WayStep.PROTOTYPE: (PrototypePrinted,),
        WayStep.ACCEPTANCE: (AcceptanceGiven,),
        WayStep.DOCUMENTS: (DocumentsComplete,),
        WayStep.REVIEW: REVIEWS[route],
    }
    asked = (kind for step, group in kinds.items() if step not in carried for kind in group)
    missing = tuple(f"'{word(kind)}'" for kind in asked if kind in done and kind not in new)
    if missing:
        yield wrong("APPR32", "not anew", revision=event.revision, wanted=missing)


def is_another(before: str, now: str) -> bool:
    """Whether an approval speaks of another part than the one before it."""
    return bool(part_voids(before, part_section(now)))


def letter_complaints(event: Event, walked: Walked) -> Iterator[Problem]:
    """A letter serves the permit that it was written for, and no other; minutes tell of one acceptance and approve nothing."""
    if isinstance(event, AcceptanceGiven):
        for each in event.evidence:
            if each.sha256 in walked.letters:
                yield wrong("APPR33", "letter as minutes", file=each.file)
            elif each.sha256 in walked.minutes:
                yield wrong("APPR33", "minutes served", file=each.file)
    if not isinstance(event, _DECIDES):
        return
    for each in _letters_of(event):
        if each.sha256 in walked.papers:
            yield wrong("APPR33", "paper of the way", what=event.what, file=each.file, above=walked.papers[each.sha256])
        elif each.sha256 in walked.taken:
            yield wrong("APPR33", "served", what=event.what, file=each.file)
    if not isinstance(event, Permitted):
        return
    for each in letters_of(event):
        if each.sha256 in walked.minutes:
            yield wrong("APPR33", "minutes as letter", what=event.what, file=each.file)
        elif each.sha256 not in walked.taken and walked.letters.get(each.sha256, _serves(event)) != _serves(event):
            yield wrong("APPR33", "served", what=event.what, file=each.file)


def word(kind: type[Event]) -> str:
    """The name of an event, as approval.yml writes it."""
    return str(kind.model_fields["what"].annotation.__args__[0])  # type: ignore[union-attr]
