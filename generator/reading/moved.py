"""Do the lines of what was fitted agree with the batches, the recalls and the depot?"""

from generator.reading.fitted import shortened
from generator.reading.placing import put
from generator.reading.production import ProductionSources
from generator.records.catalogue import Catalogue
from generator.records.problems import Problem
from generator.rules.production.balances import balance_problems
from generator.rules.production.on_vehicles import row_problems
from generator.rules.production.unsaid import missing_files


def moved_problems(catalogue: Catalogue, sources: ProductionSources) -> list[Problem]:
    """Each at its place. None keeps a part from being judged: a slip of a line is no property of the pieces."""
    production = catalogue.production
    problems = shortened(row_problems(catalogue)) if production.fitted else []
    for name, problem in balance_problems(production):
        put(problems, sources.batches[name], [problem])
    return [*problems, *missing_files(production)]

