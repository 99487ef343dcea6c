"""How many own minutes does a piece of work take? What was logged of its kind, by the median; else a guess, which is called one."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from math import ceil
from statistics import median
from typing import Protocol

from generator.planning.overview import Missing


class OwnWork(StrEnum):
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
GUESSES: Mapping[OwnWork, int] = {
    OwnWork.PROTOTYPE: 60,
    OwnWork.SAMPLE: 20,
    OwnWork.SEND: 20,
    OwnWork.ANSWER: 60,
    OwnWork.LETTER: 15,
    OwnWork.DRAWING: 60,
    OwnWork.CERTIFICATE: 20,
    OwnWork.FIRE: 30,
    OwnWork.CHECKS: 30,
    OwnWork.NOTES: 45,
    OwnWork.SCREENING: 45,
    OwnWork.DOSSIER: 120,
    OwnWork.TAKE_OVER: 30,
    OwnWork.RENEWAL: 30,
    OwnWork.MEND: 30,
    OwnWork.REMIND: 5,
    OwnWork.LOOK: 20,
    OwnWork.DESIGN: 480,
    OwnWork.ORDER_TEST: 45,
    OwnWork.MEASURE: 30,
    OwnWork.OTHER: 30,
}
# Whose events tell of it; the other kinds leave no event of their own.
LOGGED: Mapping[OwnWork, tuple[str, ...]] = {
    OwnWork.PROTOTYPE: ("prototype printed",),
    OwnWork.SEND: ("sent for customer acceptance", "sent to technical review", "sent to the authority"),
    OwnWork.ANSWER: ("question answered",),
    OwnWork.DOSSIER: ("documents complete",),
    OwnWork.LETTER: ("approved", "trial opened"),  # which the letter came for
    OwnWork.TAKE_OVER: ("taken over",),
    OwnWork.RENEWAL: ("renewed",),
    OwnWork.MEASURE: ("measured",),
    OwnWork.REMIND: ("reminder sent",),
}
OF_MISSING: Mapping[Missing, OwnWork] = {
    Missing.TAKE_OVER: OwnWork.TAKE_OVER,
    Missing.PROTOTYPE: OwnWork.PROTOTYPE,
    Missing.SAMPLE: OwnWork.SAMPLE,
    Missing.SEND_FOR_ACCEPTANCE: OwnWork.SEND,
    Missing.CUSTOMER_ANSWER: OwnWork.REMIND,
    Missing.AUTHORITY_ANSWER: OwnWork.REMIND,
    Missing.ANSWER_QUESTION: OwnWork.ANSWER,
    Missing.ACCEPTANCE_EVIDENCE: OwnWork.LETTER,
    Missing.DRAWING: OwnWork.DRAWING,
    Missing.CERTIFICATE: OwnWork.CERTIFICATE,
    Missing.FIRE_SET: OwnWork.FIRE,
    Missing.FIRE_REPORT: OwnWork.FIRE,
    Missing.CHECKS: OwnWork.CHECKS,
    Missing.FITTING_NOTES: OwnWork.NOTES,
    Missing.SCREENING: OwnWork.SCREENING,
    Missing.ASSESSMENT: OwnWork.LETTER,
    Missing.AUTHORISATION: OwnWork.LETTER,
    Missing.AUTHORITY_ROUTE: OwnWork.LETTER,
    Missing.COMPLETE_DOCUMENTS: OwnWork.DOSSIER,
    Missing.RESUBMISSION: OwnWork.DOSSIER,
    Missing.SEND_TO_REVIEW: OwnWork.SEND,
    Missing.SEND_TO_AUTHORITY: OwnWork.SEND,
    Missing.CONFIRMATION: OwnWork.REMIND,
    Missing.RENEWAL: OwnWork.RENEWAL,
    Missing.NEW_APPROVAL: OwnWork.PROTOTYPE,
    Missing.MEND_RECORD: OwnWork.MEND,
}
# Of the questions of the verdict, by their id; those that are not here are something else.
OF_STEP: Mapping[str, OwnWork] = {
    "record": OwnWork.MEND,
    "lasts": OwnWork.RENEWAL,
    "unchanged": OwnWork.PROTOTYPE,
    "evidence": OwnWork.LETTER,
    "authority": OwnWork.SEND,
    "authorisation": OwnWork.LETTER,
    "certificate": OwnWork.CERTIFICATE,
    "fire_set": OwnWork.FIRE,
    "fire_report": OwnWork.FIRE,
    "fire_results": OwnWork.FIRE,
    "fire_asked": OwnWork.FIRE,
    "piece_released": OwnWork.MEASURE,
    "taken_over": OwnWork.REMIND,
    "reviewed": OwnWork.DOSSIER,
    "place": OwnWork.LETTER,
    "asked_about": OwnWork.LETTER,
    "older_stock": OwnWork.LETTER,
    "question": OwnWork.ANSWER,
    "screening": OwnWork.SCREENING,
    "significance": OwnWork.SCREENING,
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


def minutes_for(work: OwnWork, logged: Logged) -> Minutes:
    """The median of all that was logged of its kind, to a whole minute upwards."""
    own = [minutes for what in LOGGED.get(work, ()) for minutes in logged.get(what, ())]
    return Minutes(ceil(median(own)), len(own)) if own else Minutes(GUESSES[work])
