"""What of a model is missing since it took too much, and why?"""

from generator.geometry.measured import LeftOut, Worked
from generator.records.problems import Problem, wrong


def left_out(made: Worked) -> tuple[Problem, ...]:
    """One problem for each reason, without its place: an error, for what is not known never passes."""
    return tuple(_problem(each) for each in made.left_out)


def _problem(left: LeftOut) -> Problem:
    facts = dict(left.facts)
    if left.why == "took too long":
        return wrong("MESH03", "took too long, left out", "reduce", seconds=facts["seconds"], left=left.products)
    if left.why == "needs too much memory":
        return wrong("MESH03", "needs too much memory, left out", "reduce", megabytes=facts["megabytes"], left=left.products)
    return wrong("MESH03", "failed, left out", "export stl", reason=facts.get("reason", left.why), left=left.products)
