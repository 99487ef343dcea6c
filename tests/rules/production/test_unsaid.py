"""A year's file is gone: do the batches tell, and does a file that is there keep them quiet?"""

from dataclasses import replace

import pytest

from generator.records.problems import Severity
from generator.rules.production.doubts import doubts_of
from generator.rules.production.unsaid import missing_files, unsaid_years
from tests.fixtures.production import RELEASED, batch, depot, row


def counted(on, n):
    return {"what": "counted", "on": on, "by": "fitter", "on_shelf": n}


def issued(on, n, what="issued"):
    return {"what": what, "on": on, "by": "fitter", "count": n}


OLD = row("2025-11-03", "B-2", file="fitted/2025.csv")
LATER = batch(events=[*RELEASED, {"what": "scrapped", "on": "2026-06-01", "by": "fitter", "count": 1, "why": "tried"}])
CASES = {
    "all is said": ([counted("2026-03-01", 10)], [OLD], (), {}),
    "counted too few, and no file of the year": ([counted("2026-03-01", 8)], [OLD], (), {"B-1": (2026,)}),
    "the same, and no file at all": ([counted("2026-03-01", 8)], [], (), {"B-1": (2026,)}),
    "the same with a file of the year, be it empty": ([counted("2026-03-01", 8)], [OLD], (2026,), {}),
    "counted too many": ([counted("2026-03-01", 12)], [OLD], (), {}),
    "what was issued went": ([issued("2026-05-20", 2), counted("2026-05-21", 8)], [OLD], (), {}),
    "issued a month ago and never fitted": ([issued("2026-02-01", 2), counted("2026-03-01", 8)], [OLD], (), {"B-1": (2026,)}),
    "issued and brought back": ([issued("2026-02-01", 2), issued("2026-02-02", 2, "returned")], [OLD], (), {}),
    "issued, where no lines are kept": ([issued("2026-02-01", 2)], [], (), {}),
    "lost once, counted twice": ([counted("2026-03-01", 8), counted("2027-03-01", 8)], [OLD], (2026,), {}),
    "lost again in a year without a file": ([counted("2026-03-01", 8), counted("2027-03-01", 7)], [OLD], (2026,), {"B-1": (2027,)}),
    "counted too few, and the first file is of a later year": ([counted("2027-03-01", 8)], [row("2027-01-03", "B-2", file="fitted/2027.csv")], (), {}),
    "came off and never went on": ([], [row("2027-02-01", off="B-1", file="fitted/2027.csv")], (), {"B-1": (2026,)}),
    "came off and never went on, by the files of all years": ([], [row("2027-02-01", off="B-1", file="fitted/2027.csv")], (2026,), {}),
}


def of(case):
    events, rows, years, expected = CASES[case]
    catalogue = depot(*rows, batches={"B-1": batch(events=[*RELEASED, *events]), "B-2": batch(events=[*RELEASED]), "B-3": LATER})
    return replace(catalogue, production=replace(catalogue.production, fitted_years=frozenset(years))), expected


@pytest.mark.parametrize("case", CASES)
def test_a_batch_tells_of_a_year_that_is_missing(case):
    catalogue, expected = of(case)
    assert dict(unsaid_years(catalogue.production)) == expected
    asks = "lines missing" in doubts_of("B-1", catalogue.production.batches["B-1"], catalogue)
    assert asks == (bool(expected) and case != "the same, and no file at all")
    assert "lines missing" not in doubts_of("B-2", catalogue.production.batches["B-2"], catalogue)


def test_the_file_is_named_with_its_batches():
    [found] = missing_files(of("counted too few, and no file of the year")[0].production)
    assert (found.where.file, found.severity, dict(found.facts)["batches"]) == ("fitted/2026.csv", Severity.ERROR, ("B-1",))
    [found] = missing_files(of("the same, and no file at all")[0].production)
    assert found.severity is Severity.WARNING
    catalogue = of("the same, and no file at all")[0]
    renamed = replace(catalogue, production=replace(catalogue.production, has_fitted_folder=True))
    assert "lines missing" in doubts_of("B-1", renamed.production.batches["B-1"], renamed), "a file of another name lies there"
