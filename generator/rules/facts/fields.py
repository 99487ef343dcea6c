"""What is known of a part on some vehicles at a place under one permit: typed here, text only where it is shown.

The names of the fields are those of the table of questions (rules/verdicts.py) and of the data that the browser judges. A fact that
the table asks for has no default that would pass: who forgets to draw it is told by the types. Of a piece, `of_batch` draws each.
"""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import date
from enum import Enum
from functools import cached_property
from typing import Any, Final, Literal

from generator.records.approvals import Route
from generator.rules.history import Stage


class NoEnd(Enum):
    """An end that is said to be none."""

    OPEN = "open"


class Unsaid(Enum):
    """A fact that nobody has said anything about; it is unknown to every question."""

    UNSAID = "unsaid"


OPEN: Final = NoEnd.OPEN
UNSAID: Final = Unsaid.UNSAID
LastDay = date | Literal[NoEnd.OPEN] | None
FactValue = str | int | date | NoEnd | Unsaid | tuple[str, ...] | None
Text = str | tuple[str, ...] | None
Files = tuple[str, ...]
"""Files behind a fact, by their paths in the catalogue, whether they are kept or not: to be opened, not to be judged."""

# What only the tablet can say of the copy that it holds; it goes with no data, so that a page that says nothing asks.
OF_THE_TABLET: Final = ("copy", "newer_copy", "forgotten")


@dataclass(frozen=True, kw_only=True)
class PartFacts:
    """Of the part, and of the copy of the catalogue that is read."""

    mistake: str | None
    """What of the record cannot be right: place and code; pages say it in words."""
    screening_judged: Literal["yes"] | None
    """None until every question of the screening is answered and the significance judged."""
    authorisation: Literal["not needed", "not judged", "kept", "missing"]
    """Of the case of the change, as Regulation (EU) 2018/545 Art. 15(1) knows them."""
    authorisation_files: Files = ()
    model_doubt: str | None
    """Code of a warning about the mesh that a person should settle first, or why there is no model."""
    stage: Stage | None
    """None of a record that cannot be read, and of stock with an older label: the stage tells how the part stands, not its earlier pieces."""
    stage_since: date | None
    built_on: date
    max_copy_age_days: int
    copy: str = "whole"
    newer_copy: str = "none"
    forgotten: date | None = None
    """The day of a withdrawal or supersession that the tablet has seen, and that this copy does not tell any more."""


@dataclass(frozen=True, kw_only=True)
class PaperFacts:
    """Of the material certificate and of what answers the fire standard."""

    certificate: str | None
    certificate_until: LastDay
    """The earlier end where documents on feedstock and on printed coupons are asked."""
    certificate_asked: str | None = None
    """The least type that the part's route asks for."""
    lacks_coupons: tuple[str, ...] = ()
    """Documents that speak of the feedstock alone, where one on printed coupons is asked and none counts."""
    certificates_lower: tuple[str, ...] = ()
    certificates_not_kept: tuple[str, ...] = ()
    certificates_not_asked: tuple[str, ...] = ()
    certificates_by_nobody: tuple[str, ...] = ()
    """Documents that do not count, by the reason (rules/inspection.py)."""
    fire_set: Literal["known"] | None
    fire_need: str | None
    fire_kind: Literal["report", "statement", "non-combustible", "no requirement", "older rule"] | None
    fire_report: str | None
    fire_until: LastDay
    fire_failed: tuple[str, ...]
    """Results that do not meet their limit, each in a line."""
    fire_asked: tuple[str, ...]
    """What of the choice and of the results that pass is not as it should be, by keys of `terms.fire_asked`."""
    certificate_files: Files = ()
    fire_files: Files = ()


@dataclass(frozen=True, kw_only=True)
class PlaceFacts:
    """Of what the place asks of the material (rules/properties.py), by the names of the properties."""

    asked_there: tuple[str, ...] = ()
    unproven: tuple[str, ...]
    """What is not met, and what is not shown: both."""
    unmet: tuple[str, ...] = ()
    unshown: tuple[str, ...] = ()
    proof_files: Files = ()


@dataclass(frozen=True, kw_only=True)
class EndingFacts:
    """Of the withdrawal and the supersession that nothing came after."""

    withdrawn_on: date | None
    withdrawn_for: str | None = None
    superseded_on: date | None
    superseded_by: str | None = None
    withdrawn_files: Files = ()
    superseded_files: Files = ()


@dataclass(frozen=True, kw_only=True)
class PermitFacts:
    """Of the permit; what has a default stands as it is of none."""

    permit: Literal["approval", "trial"] | None = None
    permit_on: date | None = None
    """The day on which it was given, by which the record names it."""
    permit_from: date | None = None
    permit_until: LastDay = None
    permit_reference: str | None = None
    permit_revision: str | None = None
    permit_evidence: Literal["kept"] | None = None
    taken_over: Literal["no", "confirmed", "awaiting", "doubtful"] | None = None
    """Whether it is a letter of before this record, and if so, whether it is confirmed that it speaks of what lies here."""
    letter_of: date | None = None
    """That letter's own day, and who approved it, as it says."""
    letter_by: str | None = None
    confirmer: Route | None = None
    """For whom acts who is to be asked about it."""
    same_as_approved: Literal["yes", "no", "taken over"] | None = None
    changed: tuple[str, ...] = ()
    """Lines that are no longer what was approved (rules/consequences.py), and why that matters."""
    changed_why: tuple[str, ...] = ()
    place_as_approved: Literal["yes", "taken over"] | None = None
    """Whether the permit's text tells the place at all."""
    asked_about: tuple[str, ...]
    """Lines that have changed and that somebody has to be asked about, and why."""
    asked_why: tuple[str, ...] = ()
    changed_freely: tuple[str, ...] = ()
    """Lines that have changed and keep nobody from fitting the part."""
    route: Route
    authority: Literal["not needed", "approved", "asked", "waived", "missing", "taken over"] | None = None
    significance: Literal["not significant", "assessed", "significant"] | None = None
    """None where nobody has judged it."""
    question_open_since: date | None
    """Of a question that was asked after the permit was given."""
    trial_until: LastDay
    """The last day before a trial of this revision on these vehicles speaks against it; no end where none does."""
    trial_result: Literal["failed", "broken off", "not said"] | None = None
    """Of that trial."""
    conditions: tuple[str, ...]
    """What has to be met or asked about: those before fitting, and those that the maintenance plan does not keep."""
    before_fitting: tuple[str, ...] = ()
    unplanned: tuple[str, ...] = ()
    """In service, and not in the maintenance plan."""
    in_service: tuple[str, ...] = ()
    """In service, each with its reference in the maintenance plan."""
    ticked: tuple[str, ...] = ()
    """Those before fitting that somebody has ticked on this page: the tablet alone says so."""
    reviewed: Literal["yes", "trial", "taken over"] | None = None
    """Whether the approval confirms what was submitted; a trial needs no submission, and of a letter that was taken over
    it is not known here."""
    label_revision: str | None = None
    """Of stock with an older label that no permit speaks of."""
    permit_files: Files = ()
    """The letter of the permit itself."""
    permit_letters: Files = ()
    """The same, and the letters of what has been added to it, lifted or renewed since."""
    lasting_files: Files = ()
    """The letter of the permit, and those that prolong it."""
    condition_files: Files = ()
    """The letters that set the conditions."""
    permit_by: str | None = None
    """Who gave it, by the name of the role."""
    assessment_files: Files = ()
    """The safety assessment report, where one stood before it."""
    authority_files: Files = ()
    """What was sent to the authority, where it was asked."""


@dataclass(frozen=True, kw_only=True)
class StockFacts:
    """Of what becomes of pieces whose revision a newer approval has left behind."""

    stock_stopped: Literal["stop", "call back"] | None
    stock_until: LastDay
    used_up_until: date | None = None
    older_stock: Literal["own", "use up", "stop", "call back"] | None
    stock_said_on: date | None = None
    stock_reference: str | None = None
    stock_files: Files = ()
    """The letter that says what becomes of it."""


@dataclass(frozen=True, kw_only=True)
class PieceFacts:
    """Of the piece itself, by its batch; as it stands here, of one of a part of which no batches are kept."""

    piece: Literal["not kept", "any", "known", "choose", "unreleased", "none left", "unknown", "mistaken"] | None = "not kept"
    """Whether it is known which batch the piece is of, or does not matter. choose, unreleased: pieces are about that are stopped, or not released yet. none left: of the batch that is named, by the records. mistaken: of the one that is named no record can be read."""
    piece_strange: Literal["yes"] | None = None
    """That a batch was named, or none is on the piece, and nothing is known of it here: what else is asked of a piece is open."""
    piece_unread: tuple[str, ...] = ()
    """Records that may speak of it and cannot be read, where the first mistake stands."""
    piece_less: tuple[str, ...] = ()
    """Records that say less or something else than they did."""
    piece_astray: tuple[str, ...] = ()
    """Recalls of what there is not."""
    piece_batch: str | None = None
    piece_batches: tuple[str, ...] = ()
    """Every batch that is stopped, where pieces of any may still lie about and nobody has said which one it is of."""
    piece_unreleased: tuple[str, ...] = ()
    """Batches of which pieces are about and nobody has released or rejected them, each with how many: 8 × B-0161."""
    piece_recalls: tuple[str, ...] = ()
    """Numbers of the recalls that stop these."""
    piece_left: str | None = None
    """How many pieces of these lie on the shelf or are issued."""
    piece_printed: str | None = None
    """How many pieces of its batch there were, where none is left."""
    piece_scrapped: str | None = None
    piece_on_vehicles: str | None = None
    piece_off: str | None = None
    """How many came off and were never scrapped."""
    piece_released: Literal["any", "printed", "released", "void", "rejected"] | None = "any"
    """void: it says so, and may not say so (rules/production/releasing.py)."""
    piece_released_on: date | None = None
    """The day on which it was released or rejected."""
    piece_recalled_on: date | None = None
    piece_recalled_for: str | None = None
    piece_recall: str | None = None
    """Number of the recall."""
    piece_lot: str | None = None
    """The lot that is called back."""
    piece_label: str | None = None
    """Revision that the batch was printed as."""
    piece_revision: Literal["any", "own", "other"] | None = "any"
    """Whether the facts here speak of pieces of that revision."""
    piece_same: Literal["any", "yes", "no"] | None = "any"
    """Whether what was printed is what the permit binds."""
    piece_differs: tuple[str, ...] = ()
    piece_asked: tuple[str, ...] = ()
    """What of its lots, machine and measurements has to be asked about, by keys of `terms.piece_asked`."""
    piece_alike: tuple[str, ...] = ()
    """Of which of its lots the supplier's number is that of a lot that is stopped, or nearly, and which."""
    piece_papers: tuple[str, ...] = ()
    """The inspection documents of its lots that count."""
    piece_files: Files = ()
    """Where these lie."""
    piece_unpapered: Literal["none"] | None = None
    """That it is known of which lots it is, and none of their documents counts."""
    piece_blocked: str | None = None
    """The lot, where it is blocked and no recall stands."""
    piece_lifted: tuple[str, ...] = ()
    """Recalls of the piece that are lifted, where a lot is blocked still."""

    @property
    def replaced(self) -> Mapping[str, Any]:
        """Facts of the material that say nothing of a piece of which the lots are known: it was printed of these lots, not of others."""
        return {"certificate": None, "certificate_files": ()} if self.piece_batch is not None else {}


@dataclass(frozen=True, kw_only=True)
class Facts(PieceFacts, PermitFacts, StockFacts, EndingFacts, PlaceFacts, PaperFacts, PartFacts):
    """Everything that one judgement rests on."""

    @classmethod
    def of(  # noqa: PLR0917  one for each subject
        cls, part: PartFacts, papers: PaperFacts, there: PlaceFacts, ending: EndingFacts, stock: StockFacts, permit: PermitFacts, piece: PieceFacts = PieceFacts()
    ) -> "Facts":
        return cls._said(vars(part), vars(papers), vars(there), vars(ending), vars(stock), vars(permit), vars(piece))

    def of_piece(self, piece: PieceFacts) -> "Facts":
        """The same of a piece of which something else is known."""
        own = {name: value for name, value in vars(self).items() if name != "text"}
        return self._said(own, vars(piece), piece.replaced)

    @classmethod
    def _said(cls, *said: Mapping[str, Any]) -> "Facts":
        """Of whole records of facts, a later one over an earlier: frozen like any other, and laid down at once.

        To set more than a hundred fields one by one, as a frozen record does, takes twice as long. Raises TypeError where one is missing or not known.
        """
        made = cls.__new__(cls)
        told = vars(made)
        for each in said:
            told.update(each)
        if told.keys() != cls.__dataclass_fields__.keys():
            raise TypeError(f"these facts are missing or not known: {sorted(told.keys() ^ cls.__dataclass_fields__.keys())}")
        return made

    @cached_property
    def text(self) -> Mapping[str, Text]:
        """Every fact as words and pages show it, by its name: days as in ISO 8601, `open`, digits."""
        told = {name: as_text(value) for name, value in asdict(self).items()}
        return {name: value for name, value in told.items() if name != "label_revision" or value is not None}

    @property
    def for_browser(self) -> dict[str, Text]:
        """The same without what only the tablet can say."""
        return {name: value for name, value in self.text.items() if name not in OF_THE_TABLET}


def as_text(value: FactValue) -> Text:
    """A fact as the browser reads it: None is "nothing is noted"."""
    match value:
        case int():
            return str(value)
        case date():
            return value.isoformat()
        case NoEnd.OPEN:
            return "open"
        case Unsaid.UNSAID:
            return None
        case _:
            return value
