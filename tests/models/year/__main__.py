"""python -m tests.models.year"""

from pathlib import Path
from random import Random

from generator.reading.catalogue import read_catalogue
from tests.models.bind import forgotten
from tests.models.year.prints import Workshop
from tests.models.year.vehicles import Fleet
from tests.models.year.written import year_of

CATALOGUE = Path(__file__).parents[3] / "catalogue"
SEED = 1


def main() -> None:
    catalogue = read_catalogue(CATALOGUE)
    chance = Random(SEED)
    shop = Workshop(catalogue=catalogue, chance=chance)
    fleet = Fleet(catalogue=catalogue, shop=shop, chance=chance)
    fleet.lived()
    year_of(CATALOGUE, catalogue, fleet, SEED)
    forgotten(CATALOGUE)
    print(f"{len(shop.runs)} batches of {sum(run.count for run in shop.runs)} pieces, {len(fleet.lines)} lines of what was fitted")


if __name__ == "__main__":
    main()
