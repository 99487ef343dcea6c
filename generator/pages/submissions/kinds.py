"""What a submission says, as plain values: a paper is laid out from them, and an index for programs is written of them."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

from generator.pages.part.story import ChangeLine
from generator.planning.submitting import Asks, keeps_sum
from generator.records.approvals import QuestionAnswered, QuestionAsked

Pair = tuple[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A drawing or picture. is_sheet: it is a page of its own, of its own size in mm, true to scale."""

    kind: Literal["svg", "webp", "jpg"]
    content: bytes
    says: str
    """What it shows: below a picture, and for who cannot see it."""
    is_sheet: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Below a heading: sentences, facts with their names, a table, figures, and the documents that show it, by their numbers."""

    heading: str = ""
    says: tuple[str, ...] = ()
    pairs: tuple[Pair, ...] = ()
    columns: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    figures: tuple[Figure, ...] = ()
    documents: tuple[int, ...] = ()

    @property
    def is_empty(self) -> bool:
        return not (self.says or self.pairs or self.rows or self.figures or self.documents)


@dataclass(frozen=True, slots=True, kw_only=True)
class SubmissionSection:
    """key: how gaps lead to it. nothing: what stands there, and among the gaps, where nothing is recorded; empty where that is no gap."""

    key: str
    heading: str
    blocks: tuple[Block, ...]
    nothing: str = ""

    @property
    def shown(self) -> tuple[Block, ...]:
        return tuple(each for each in self.blocks if not each.is_empty)


@dataclass(frozen=True, slots=True, kw_only=True)
class SubmissionGap:
    """What is missing, doubtful or failed. where: the places that it speaks of; none is all of them. section: the key of where it is told."""

    says: str
    where: tuple[str, ...] = ()
    section: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Attachment:
    """A file of the submission. number: as D12 tells it. stored_as: its name in the zip; empty where it is not to be had."""

    number: int
    path: str
    """In the catalogue."""
    name: str
    what: str
    of: tuple[str, ...]
    """Numbers of the parts that it belongs to."""
    size_bytes: int
    sha256: str
    """Of the bytes on disk; where there are none, as it was recorded."""
    doubt: str
    """What is wrong with it, in words; empty where nothing is."""
    same_as: int | None
    """The earlier one that has the very same bytes: they lie in the zip once."""
    stored_as: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ReviewQuestion:
    """A question of a reviewer, Q1 the first, and its answer: the first that came after it and answers none before."""

    number: int
    asked: QuestionAsked
    answer: QuestionAnswered | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Dossier:
    """One part of a submission."""

    number: str
    name: str
    revision: str
    asks: Asks
    asked: str
    """What is asked of the reviewer, in a sentence or two."""
    until: str = ""
    """Last day of the approval that a renewal or a change speaks of, in words; empty where there is none."""
    is_over: bool = False
    """Whether that day is past."""
    fingerprint: str
    """SHA-256 of `text`; empty where what lies there cannot be said."""
    text: str
    """What is submitted, line by line, as `spares record` writes it down."""
    against: str
    """With what it is compared."""
    changes: tuple[ChangeLine, ...]
    is_compared: bool
    """Whether there is an approval to compare it with."""
    gaps: tuple[SubmissionGap, ...]
    questions: tuple[ReviewQuestion, ...]
    numbering: str
    """From which number on the reviewer's questions go, and how their answers come back."""
    sections: tuple[SubmissionSection, ...]

    @property
    def is_sum_kept(self) -> bool:
        """Whether the record of the step keeps the fingerprint."""
        return keeps_sum(self.asks)


@dataclass(frozen=True, slots=True, kw_only=True)
class Submission:
    """Of one part, or of several that share what `shared` tells."""

    title: str
    subtitle: str
    day: date
    dossiers: tuple[Dossier, ...]
    shared: tuple[Block, ...]
    attachments: tuple[Attachment, ...]
    answer_to: str
    """Where the reviewer's answer goes, in words; empty where nobody knows the depot."""
    only: str = ""
    """Of which fleet alone the places are told, in words."""
