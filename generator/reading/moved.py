"""Do the lines of what was fitted agree with the batches, the recalls and the depot?"""

from collections.abc import Collection

from generator.reading.fitted import shortened
from generator.reading.placing import put
from generator.reading.production import ProductionSources
from generator.records.catalogue import Catalogue
from generator.records.problems import Problem
from generator.rules.production.balances import balance_problems
from generator.rules.production.batch_told import batch_told
from generator.rules.production.campaigns import campaign_problems
from generator.rules.production.contradicting import line_problems
from generator.rules.production.counted_twice import twice_counted
from generator.rules.production.unheld import lines_of_lost, unheld_problems
from generator.rules.production.unsaid import missing_files


def moved_problems(catalogue: Catalogue, sources: ProductionSources) -> list[Problem]:
    """Each at its place. None keeps a part from being judged: a slip of a line is no property of the pieces (of records that are gone: piece.py)."""
    production = catalogue.production
    lost = lines_of_lost(production)
    problems = shortened(each for each in line_problems(catalogue) if not _follows(each, lost))
    for name, problem in balance_problems(production):
        put(problems, sources.batches[name], [problem])
    return [*problems, *missing_files(production), *unheld_problems(production), *campaign_problems(catalogue), *twice_counted(catalogue)]


def _follows(problem: Problem, lost: Collection[str]) -> bool:
    """Whether it says of a line what is told once of the record that is gone."""
    return problem.key == "no batch" and batch_told(problem) in lost

