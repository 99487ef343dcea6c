"""How many own minutes does a piece of work take? What was logged of its kind, by the median; else a guess, which is called one."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from math import ceil
from statistics import median
from typing import Protocol

from generator.planning.overview import Missing


class Work(StrEnum):
    """Kinds of own work, by what is done."""

    PROTOTYPE = "print the prototype"
    SAMPLE = "get a piece to be tried"
    SEND = "send something to somebody"
    ANSWER = "answer a question"
    LETTER = "get a letter that somebody else writes"
    DRAWING = "make the drawing"
    CERTIFICATE = "get a material's certificate and keep it"
    FIRE = "settle the fire evidence"
    CHECKS = "choose the critical dimensions"
    NOTES = "write the fitting notes"
    SCREENING = "answer the change screening"
    DOSSIER = "put the documents together"
    TAKE_OVER = "take over an older approval"
    RENEWAL = "ask for a renewal"
    MEND = "mend a record"
    REMIND = "remind somebody"
    LOOK = "look at a request"
    DESIGN = "design a part"
    ORDER_TEST = "order a test"
    MEASURE = "measure a batch"
    OTHER = "something else"


# Own minutes, not the machine's and nobody else's. Common practice, no source: each depot's own log takes their place.
GUESSES: Mapping[Work, int] = {
    Work.PROTOTYPE: 60,
    Work.SAMPLE: 20,
    Work.SEND: 20,
    Work.ANSWER: 60,
    Work.LETTER: 15,
    Work.DRAWING: 60,
    Work.CERTIFICATE: 20,
    Work.FIRE: 30,
    Work.CHECKS: 30,
    Work.NOTES: 45,
    Work.SCREENING: 45,
    Work.DOSSIER: 120,
    Work.TAKE_OVER: 30,
    Work.RENEWAL: 30,
    Work.MEND: 30,
    Work.REMIND: 5,
    Work.LOOK: 20,
    Work.DESIGN: 480,
    Work.ORDER_TEST: 45,
    Work.MEASURE: 30,
    Work.OTHER: 30,
}
# Whose events tell of it; the other kinds leave no event of their own.
LOGGED: Mapping[Work, tuple[str, ...]] = {
    Work.PROTOTYPE: ("prototype printed",),
    Work.SEND: ("sent for customer acceptance", "sent to technical review", "sent to the authority"),
    Work.ANSWER: ("question answered",),
    Work.DOSSIER: ("documents complete",),
    Work.LETTER: ("approved", "trial opened"),  # which the letter came for
    Work.TAKE_OVER: ("taken over",),
    Work.RENEWAL: ("renewed",),
    Work.MEASURE: ("measured",),
    Work.REMIND: ("reminder sent",),
}
OF_MISSING: Mapping[Missing, Work] = {
    Missing.TAKE_OVER: Work.TAKE_OVER,
    Missing.PROTOTYPE: Work.PROTOTYPE,
    Missing.SAMPLE: Work.SAMPLE,
    Missing.SEND_FOR_ACCEPTANCE: Work.SEND,
    Missing.CUSTOMER_ANSWER: Work.REMIND,
    Missing.AUTHORITY_ANSWER: Work.REMIND,
    Missing.ANSWER_QUESTION: Work.ANSWER,
    Missing.ACCEPTANCE_EVIDENCE: Work.LETTER,
    Missing.DRAWING: Work.DRAWING,
    Missing.CERTIFICATE: Work.CERTIFICATE,
    Missing.FIRE_SET: Work.FIRE,
    Missing.FIRE_REPORT: Work.FIRE,
    Missing.CHECKS: Work.CHECKS,
    Missing.FITTING_NOTES: Work.NOTES,
    Missing.SCREENING: Work.SCREENING,
    Missing.ASSESSMENT: Work.LETTER,
    Missing.AUTHORISATION: Work.LETTER,
    Missing.AUTHORITY_ROUTE: Work.LETTER,
    Missing.COMPLETE_DOCUMENTS: Work.DOSSIER,
    Missing.RESUBMISSION: Work.DOSSIER,
    Missing.SEND_TO_REVIEW: Work.SEND,
    Missing.SEND_TO_AUTHORITY: Work.SEND,
    Missing.CONFIRMATION: Work.REMIND,
    Missing.RENEWAL: Work.RENEWAL,
    Missing.NEW_APPROVAL: Work.PROTOTYPE,
    Missing.MEND_RECORD: Work.MEND,
}
# Of the questions of the verdict, by their id; those that are not here are something else.
OF_STEP: Mapping[str, Work] = {
    "record": Work.MEND,
    "lasts": Work.RENEWAL,
    "unchanged": Work.PROTOTYPE,
    "evidence": Work.LETTER,
    "authority": Work.SEND,
    "authorisation": Work.LETTER,
    "certificate": Work.CERTIFICATE,
    "fire_set": Work.FIRE,
    "fire_report": Work.FIRE,
    "fire_results": Work.FIRE,
    "fire_asked": Work.FIRE,
    "piece_released": Work.MEASURE,
    "taken_over": Work.REMIND,
    "reviewed": Work.DOSSIER,
    "place": Work.LETTER,
    "asked_about": Work.LETTER,
    "older_stock": Work.LETTER,
    "question": Work.ANSWER,
    "screening": Work.SCREENING,
    "significance": Work.SCREENING,
}


class Dated(Protocol):
    """An event of an approval or a batch."""

    @property
    def what(self) -> str: ...
    @property
    def minutes(self) -> int | None: ...


@dataclass(frozen=True, slots=True)
class Minutes:
    minutes: int
    logged: int = 0
    """By how many events; none of a guess."""

    @property
    def is_guess(self) -> bool:
        return not self.logged


Logged = Mapping[str, list[int]]
"""What was logged, by the event."""


def logged_minutes(events: Iterable[Dated]) -> Logged:
    found: dict[str, list[int]] = defaultdict(list)
    for each in events:
        if each.minutes is not None:
            found[each.what].append(each.minutes)
    return found


def minutes_for(work: Work, logged: Logged) -> Minutes:
    """The median of all that was logged of its kind, to a whole minute upwards."""
    own = [minutes for what in LOGGED.get(work, ()) for minutes in logged.get(what, ())]
    return Minutes(ceil(median(own)), len(own)) if own else Minutes(GUESSES[work])
