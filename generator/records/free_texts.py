"""What is a free text for, and what of its record counts where the text says nothing: of each in the records of prints and approvals.

A record that makes things more careful counts whatever it says: a recall without a reason stops all the same. One that says of pieces or
papers that they are good does not: whoever reads it later could ask nobody (common practice, no source). A field that may be left out
says no less where a placeholder stands in it. Fitted lines have one free text, the position, which may be left out.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from generator.records.accompanying import CarriesOver, ChangesAsked
from generator.records.approvals import (
    AcceptanceRefused,
    ApprovalRefused,
    Approved,
    ConditionAdded,
    ConditionLifted,
    QuestionAsked,
    RecordCorrected,
    SafetyAssessmentReport,
    Superseded,
    TakenOver,
    TakeOverConfirmed,
    TrialClosed,
    TrialOpened,
    Waiver,
    Withdrawn,
)
from generator.records.base import Record
from generator.records.batches import MeasuredCheck, Rejected, Released, Scrapped
from generator.records.conditions import Condition
from generator.records.evidence import Evidence
from generator.records.inspection_sheet import InspectionSheet
from generator.records.lots import Blocked, Compared, Lot, LotDocument, Unblocked
from generator.records.machines import Machine
from generator.records.placeholders import gives_no_reason, identifies_nothing, names_nothing, numbers_nothing
from generator.records.problems import Path
from generator.records.recalls import CalledBack, Lifted
from generator.records.screening import Authorisation, ChangeCase, IdenticalFunction, ScreeningAnswer


class Blank(StrEnum):
    """What follows where a text says nothing."""

    VOID = "void"
    """An error, and what it is written with does not count."""
    UNSAID = "unsaid"
    """An error; what was done was done, and is counted."""
    STANDS = "stands"
    """A warning: it counts all the same."""
    FREE = "free"
    """Nothing: it may be left out as well."""
    ELSEWHERE = "elsewhere"
    """Another rule judges it, or it has to be another text of the record."""


Says = Callable[[str], bool]
_REASON, _NUMBER, _NAME, _TEXT = gives_no_reason, identifies_nothing, numbers_nothing, names_nothing
OF_ANY: Final[Mapping[str, Blank]] = {
    "note": Blank.FREE,  # of a permit it is asked about: rules/facts/of_permit.py
    "reference": Blank.FREE,  # where it may be left out
    "to": Blank.FREE,
    "supplier": Blank.FREE,
    "issued_by": Blank.FREE,
    "printed_as": Blank.ELSEWHERE,  # texts that commands write, held against their fingerprints
    "approved_as": Blank.ELSEWHERE,
    "submitted_as": Blank.ELSEWHERE,
    "signed": Blank.ELSEWHERE,
}
"""Of fields of these names in every record that the table does not name with them."""
TABLE: Final[Mapping[type[Record], Mapping[str, tuple[Blank, Says]]]] = {
    Scrapped: {"why": (Blank.UNSAID, _REASON)},
    MeasuredCheck: {"check": (Blank.ELSEWHERE, _REASON), "gauge": (Blank.VOID, _NUMBER)},
    Released: {"accepts": (Blank.VOID, _REASON)},
    Rejected: {"why": (Blank.STANDS, _REASON)},
    Lot: {"supplier_lot": (Blank.VOID, _NUMBER)},
    LotDocument: {"lot": (Blank.VOID, _NUMBER), "reference": (Blank.VOID, _NUMBER)},
    Blocked: {"why": (Blank.STANDS, _REASON)},
    Unblocked: {"why": (Blank.VOID, _REASON)},
    Compared: {"reference": (Blank.VOID, _NUMBER)},
    Machine: {"name": (Blank.STANDS, _NAME)},
    CalledBack: {"why": (Blank.STANDS, _REASON)},
    Lifted: {"why": (Blank.VOID, _REASON)},
    InspectionSheet: {"railway": (Blank.ELSEWHERE, _REASON), "depot": (Blank.ELSEWHERE, _REASON)},
    Waiver: {"reason": (Blank.VOID, _REASON), "reference": (Blank.VOID, _NUMBER)},
    AcceptanceRefused: {"reason": (Blank.STANDS, _REASON)},
    SafetyAssessmentReport: {"reference": (Blank.VOID, _NUMBER)},
    QuestionAsked: {"question": (Blank.STANDS, _TEXT)},
    TakenOver: {"reference": (Blank.ELSEWHERE, _NUMBER), "approved_by": (Blank.ELSEWHERE, _REASON), "conditions": (Blank.STANDS, _TEXT)},
    TakeOverConfirmed: {"reference": (Blank.VOID, _NUMBER)},
    Approved: {"conditions": (Blank.STANDS, _TEXT)},
    TrialOpened: {"conditions": (Blank.STANDS, _TEXT)},
    TrialClosed: {"reason": (Blank.STANDS, _TEXT)},  # "done" is why one may close a trial
    ApprovalRefused: {"reason": (Blank.STANDS, _REASON)},
    ConditionAdded: {"condition": (Blank.STANDS, _TEXT)},
    ConditionLifted: {"condition": (Blank.ELSEWHERE, _TEXT)},
    Condition: {"text": (Blank.STANDS, _TEXT), "maintenance_plan": (Blank.ELSEWHERE, _REASON)},
    Withdrawn: {"reason": (Blank.STANDS, _REASON)},
    Superseded: {"reason": (Blank.FREE, _REASON)},
    RecordCorrected: {"why": (Blank.VOID, _REASON)},
    CarriesOver: {"why": (Blank.VOID, _REASON), "reference": (Blank.VOID, _NUMBER)},
    ChangesAsked: {"reference": (Blank.VOID, _NUMBER)},
    ScreeningAnswer: {"answer": (Blank.ELSEWHERE, _REASON)},
    IdenticalFunction: {"reason": (Blank.VOID, _REASON)},
    ChangeCase: {"reason": (Blank.VOID, _REASON)},
    Authorisation: {"reference": (Blank.VOID, _NUMBER)},
    Evidence: {"title": (Blank.FREE, _REASON)},
}
"""By record and field."""


@dataclass(frozen=True, slots=True)
class BlankText:
    """A text that says nothing, by its path in the record."""

    path: Path
    given: str
    blank: Blank


def blanks(record: Record, path: Path = ()) -> Iterator[BlankText]:
    """Every text in the record and in what it holds that says nothing and should say something."""
    asked = TABLE.get(type(record), {})
    for field in type(record).model_fields:
        value = getattr(record, field)
        if isinstance(value, Record):
            yield from blanks(value, (*path, field))
        elif field in asked and isinstance(value, str):
            yield from _of_text(value, asked[field], (*path, field))
        elif isinstance(value, tuple) and value and isinstance(value[0], Record | str):
            for at, each in enumerate(value):
                if isinstance(each, Record):
                    yield from blanks(each, (*path, field, at))
                elif field in asked:
                    yield from _of_text(each, asked[field], (*path, field, at))


def _of_text(text: str, asked: tuple[Blank, Says], path: Path) -> Iterator[BlankText]:
    blank, says_nothing = asked
    if blank not in (Blank.FREE, Blank.ELSEWHERE) and says_nothing(text):
        yield BlankText(path, text, blank)


def is_void(record: Record) -> bool:
    """Whether it does not count, for a text of its own says nothing that has to say something."""
    return any(
        blank is Blank.VOID and isinstance(text := getattr(record, field), str) and says_nothing(text)
        for field, (blank, says_nothing) in TABLE.get(type(record), {}).items()
    )
