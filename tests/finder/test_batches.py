"""A batch's number finds its part, surely and alone; what is only like one finds none by it."""

import re
from pathlib import Path

import pytest

from generator.edge.commands.find import _verdicts
from generator.finder.engine import Finder
from generator.pages.addresses import addresses
from generator.pages.finder.index import finder_data
from generator.pages.wording import wording
from tests.browser.bundles import SCRIPTS
from tests.fixtures.produced import printed_depot
from tests.pages.sample import CATALOGUE, DAY, judged_sample


@pytest.fixture(scope="module")
def judged(tmp_path_factory: pytest.TempPathFactory):
    return judged_sample(printed_depot(CATALOGUE, tmp_path_factory.mktemp("batches") / "catalogue"))


@pytest.fixture(scope="module")
def finder(judged):
    catalogue, sheets, _ = judged
    with Finder(finder_data(catalogue, sheets, addresses(catalogue.parts), DAY), Path(SCRIPTS.folder)) as one:
        yield one


@pytest.mark.parametrize("query", ["B-0011", "b-0011", " b0011 ", "B 0011"])
def test_a_number_of_a_batch_is_sure(finder: Finder, query: str) -> None:
    told = finder.answer(query)
    assert (told.said, [(each.number, each.is_sure) for each in told.found]) == ("this", [("P-0004", True)])
    assert [(each.kind, each.text, each.detail) for each in told.found[0].reasons] == [("number", "B-0011", "batch")]


@pytest.mark.parametrize("query", ["B-11", "B-001", "B-00111", "0011", "B-0099", "B-0011x", "X-0011"])
def test_what_is_only_like_one_is_none(finder: Finder, query: str) -> None:
    assert "batch" not in [reason.detail for each in finder.find(query) for reason in each.reasons]


def test_a_part_of_that_number_comes_before_a_batch(finder: Finder) -> None:
    assert [each.number for each in finder.find("P-0004")][:1] == ["P-0004"]
    assert "batch" not in [reason.detail for reason in finder.find("P-0004")[0].reasons]


def test_it_stands_as_its_pieces_do(finder: Finder, judged) -> None:
    """A list that says of a rejected batch what its part may would send people to fit it."""
    sheet = next(each for each in judged[1] if each.number == "P-0004")
    for batch, word in {"B-0012": "Do not fit", "B-0013": "Do not fit", "B-0014": "Do not fit"}.items():
        found = finder.find(batch)[0]
        assert set(re.split(": |, | / ", _verdicts(sheet, found, wording("en")))) & {"Fit it", "Ask first", "Do not fit"} == {word}
