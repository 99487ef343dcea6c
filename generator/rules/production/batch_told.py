"""Of which batch does a problem of a line speak?"""

from generator.records.problems import Problem


def batch_told(problem: Problem) -> str | None:
    """By its name; None where it speaks of none, such as of a vehicle."""
    batch = dict(problem.facts).get("batch")
    return None if batch is None else str(batch)
