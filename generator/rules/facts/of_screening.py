"""What follows for the verdict from how people screened the change?"""

from typing import Literal

from generator.records.law import Rules
from generator.records.screening import Answer
from generator.rules.facts.case import Case
from generator.rules.kept import is_file
from generator.rules.screening import asks_authorisation, is_judged, unanswered


def screening_judged(case: Case) -> Literal["yes"] | None:
    """Whether it is done; what nobody has judged is unknown, and unknown never passes."""
    judged = is_judged(case.folder.screening, case.catalogue.law, case.copy.built_on)
    return "yes" if judged else None


def significance(case: Case, *, is_assessed: bool) -> Literal["not significant", "assessed", "significant"] | None:
    """is_assessed: whether the assessment body's report stands on the way.

    Regulation (EU) 402/2013 Art. 4 and 5, and 15 from memory: a significant change goes through the risk management process, whoever
    approves the part, and its assessment body reports before the change is accepted.
    """
    said = case.folder.screening.judged_significant if case.folder.screening else None
    if said is None:
        return None
    if said is Answer.NO:
        return "not significant"
    return "assessed" if is_assessed else "significant"


def authorisation(case: Case) -> Literal["not needed", "not judged", "kept", "missing"]:
    """Regulation (EU) 2018/545 Art. 15(1)(c) and (d): no such change without the authority's paper, on either route."""
    screening, law = case.folder.screening, case.catalogue.law
    if law.rules is Rules.UNION and {"identical_function", "change_case"} & set(unanswered(screening, law)):
        return "not judged"
    if screening is None or not asks_authorisation(screening, law):
        return "not needed"
    given = screening.authorisation
    if given is None or given.on > case.copy.built_on:
        return "missing"
    is_kept = is_file(case.folder.files.get(given.evidence.file), given.evidence.sha256)
    return "kept" if is_kept and given.evidence.sha256 not in _of_events(case) else "missing"


def _of_events(case: Case) -> set[str]:
    """The files that an event names: a letter of approval or minutes authorise nothing (common practice, no source)."""
    events = case.folder.approval.events if case.folder.approval else ()
    return {evidence.sha256 for event in events for evidence in event.evidence}
