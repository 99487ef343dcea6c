"""What becomes of pieces with the label of an earlier revision, once a newer one is approved."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.records.accompanying import Becomes, OlderStock
from generator.records.approvals import Approved, Event, OlderStockSettled
from generator.records.problems import Problem, wrong
from generator.rules.lasting import LONGEST_YEARS, is_too_long


@dataclass(frozen=True, slots=True)
class Word:
    """What somebody has said of pieces with an earlier label, and the event that says it."""

    said: OlderStock
    event: Approved | OlderStockSettled

    @property
    def becomes(self) -> Becomes:
        return self.said.becomes


Settled = dict[str, Word | None]
"""By the earlier revision; None while nobody has said it. A revision that is not in it is no older one."""


def stock_complaints(event: Approved | OlderStockSettled, approved: Sequence[str]) -> Iterator[Problem]:
    """approved: every revision that was approved before the event."""
    newest = event.revision if isinstance(event, Approved) else approved[-1] if approved else None
    older = [revision for revision in approved if revision != newest]
    for said in event.older_stock:
        if said.revision not in older:
            yield wrong("APPR34", "no older one", "older" if older else "none", revision=said.revision, known=older)
        if said.becomes is Becomes.USE_UP and said.until is None:
            yield wrong("APPR34", "no end", revision=said.revision)
        if said.until and said.until < event.on:
            yield wrong("APPR34", "over", revision=said.revision, until=said.until)
        elif said.until and is_too_long(event.on, said.until):
            yield wrong("APPR05", "too long", until=said.until, years=LONGEST_YEARS)


def settled(before: Settled, event: Event, approved: Sequence[str]) -> Settled:
    """What is said of each older revision after the event.

    A new approval makes every revision approved before it an older one. What is stopped or called back stays so; what is
    used up goes on being fitted, so each newer revision says it anew, and with a letter.
    """
    if not isinstance(event, Approved | OlderStockSettled):
        return before
    after = dict(before)
    if isinstance(event, Approved):
        after = {revision: before.get(revision) for revision in approved if revision != event.revision}
        if event.revision not in approved[-1:]:
            after = {each: word if word and word.becomes is not Becomes.USE_UP else None for each, word in after.items()}
    for said in event.older_stock:
        if said.becomes is not Becomes.USE_UP or event.evidence:
            after[said.revision] = Word(said, event)
        else:
            after.setdefault(said.revision, None)
    return after
