"""What of a model is missing since it took too much, or was looked for only up to a bound, and why?"""

from generator.geometry.measured import LeftOut, Worked
from generator.records.problems import Problem, doubt, wrong


def left_out(made: Worked) -> tuple[Problem, ...]:
    """One problem for each reason, without its place: an error, for what is not known never passes.

    A doubt where holes and other features are known, but maybe not all: none is asked after then.
    """
    cut = (doubt("MESH03", "features cut off", "reduce"),) if made.features and not made.features.is_whole else ()
    return (*(_problem(each) for each in made.left_out), *cut)


def _problem(left: LeftOut) -> Problem:
    facts = dict(left.facts)
    if left.why == "took too long":
        return wrong("MESH03", "took too long, left out", "reduce", seconds=facts["seconds"], left=left.products)
    if left.why == "needs too much memory":
        return wrong("MESH03", "needs too much memory, left out", "reduce", megabytes=facts["megabytes"], left=left.products)
    return wrong("MESH03", "failed, left out", "export stl", reason=facts.get("reason", left.why), left=left.products)
