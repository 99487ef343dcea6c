"""What is no mistake of a depot and should be known of it: an older format, and blanks that its starter left."""

from collections.abc import Iterator

from generator.reading.disk import Disk
from generator.records.depot import NEWEST_CATALOGUE, Depot, blanks
from generator.records.problems import Problem, doubt


def depot_notes(disk: Disk, depot: Depot | None) -> Iterator[Problem]:
    """Notes on depot.yml, each of one line."""
    if depot is None:
        return
    if depot.format < NEWEST_CATALOGUE:
        yield doubt("DEPOT03", "older", given=depot.format, newest=NEWEST_CATALOGUE)
    if open_ones := blanks(depot):
        first = disk.yaml("depot.yml").where((open_ones[0],)).line
        yield doubt("DEPOT04", "blank", names=open_ones, line=first)
