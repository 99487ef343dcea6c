"""That pieces sit where they must not, or cannot by the records, and why, in words: for pages, papers and the terminal alike."""

from collections.abc import Iterable

from generator.pages.wording import Wording
from generator.records.problems import Problem


def contradiction_words(problems: Iterable[Problem], w: Wording) -> str:
    """One sentence with each reason once; empty where nothing speaks against it."""
    reasons = list(dict.fromkeys(_reason(each, w) for each in problems))
    return w("contradicts.says", reasons=reasons) if reasons else ""


def _reason(problem: Problem, w: Wording) -> str:
    return w(f"contradicts.{problem.key}", **{name: str(fact) if isinstance(fact, float) else fact for name, fact in problem.facts})
