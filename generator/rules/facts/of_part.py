"""What of the part itself, and of its endings, speaks for or against fitting it."""

from collections.abc import Iterable
from typing import Literal

from generator.records.accompanying import Becomes
from generator.records.approvals import Superseded, Withdrawn
from generator.rules.facts.case import Case
from generator.rules.facts.fields import OPEN, EndingFacts, PartFacts, StockFacts
from generator.rules.facts.of_screening import authorisation, screening_judged
from generator.rules.mistake import mistake_in
from generator.rules.permits import Permit

# Warnings about the mesh that a person should settle before anybody fits the part, see rules/plausible.py.
MODEL_DOUBTS = frozenset(
    {"SIZE01", "SIZE02", "SOUND01", "ROOM01", "WALL01", "WALL02", "CHECK01", "CHECK02", "MESH04", "LIKE01", "LIKE02"}
)


def part_facts(case: Case) -> PartFacts:
    mistake = mistake_in(case.problems, case.catalogue)
    doubt = next((each for each in case.problems if each.code in MODEL_DOUBTS), None)
    paper = case.folder.screening.authorisation if case.folder.screening else None
    return PartFacts(
        mistake=f"{mistake.where}: {mistake.code}" if mistake else None,
        screening_judged=screening_judged(case),
        authorisation=authorisation(case),
        authorisation_files=case.files_of((paper.evidence,) if paper else ()),
        model_doubt=doubt.code if doubt else _without_model(case),
        stage=None if case.folder.is_way_unread else case.history.stage,
        stage_since=case.history.since,
        built_on=case.copy.built_on,
        max_copy_age_days=case.copy.max_copy_age_days,
    )


def _without_model(case: Case) -> str | None:
    """Why there is no model to look at; what nobody has measured and drawn is asked about, whoever has approved it."""
    return case.part.no_model.because.value if case.part.no_model else None


def ending_facts(case: Case, permits: Iterable[Permit], revision: str) -> EndingFacts:
    """The part's withdrawal and supersession, until a later approval speaks of these vehicles and this revision.

    An ending takes every permit before it away, so whatever stands came later.
    """
    if any(not permit.is_trial and permit.event.revision == revision for permit in permits):
        return EndingFacts(withdrawn_on=None, superseded_on=None)
    newest = tuple(reversed(case.history.endings))
    withdrawn = next((each for each in newest if isinstance(each, Withdrawn)), None)
    superseded = next((each for each in newest if isinstance(each, Superseded)), None)
    return EndingFacts(
        withdrawn_on=withdrawn.on if withdrawn else None,
        withdrawn_for=withdrawn.reason if withdrawn else None,
        superseded_on=superseded.on if superseded else None,
        superseded_by=superseded.superseded_by if superseded else None,
        withdrawn_files=case.files_of(withdrawn.evidence if withdrawn else ()),
        superseded_files=case.files_of(superseded.evidence if superseded else ()),
    )


def stock_facts(case: Case, revision: str) -> StockFacts:
    """What becomes of pieces with the label of a revision, once a newer one is approved."""
    if revision not in case.history.older_stock:
        return StockFacts(older_stock="own", stock_stopped=None, stock_until=OPEN)
    word = case.history.older_stock[revision]
    if word is None:
        return StockFacts(older_stock=None, stock_stopped=None, stock_until=OPEN)
    becomes: Literal["use up", "stop", "call back"] = word.becomes.value
    is_used_up = word.becomes is Becomes.USE_UP
    return StockFacts(
        older_stock=becomes,
        stock_until=word.said.until if is_used_up else OPEN,
        used_up_until=word.said.until if is_used_up else None,
        stock_stopped=None if becomes == "use up" else becomes,
        stock_said_on=word.event.on,
        stock_reference=word.event.reference,
        stock_files=case.files_of(word.event.evidence),
    )
