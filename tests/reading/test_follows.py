"""A record that cannot be read is told once and first: what follows from it for batches is not told beside it, and counts all the same."""

import pytest

from generator.reading.catalogue import read_catalogue
from generator.reading.placing import once_each_cause
from generator.rules.production.releasing import standing
from generator.rules.verdicts import Verdict
from tests.fixtures.prints import BATCH, PRINTS
from tests.fixtures.tiny import DAY, overlaid, sheets


@pytest.mark.parametrize("file", ["depot.yml", "parts/EX-0001-lid-knob/part.yml", "parts/EX-0001-lid-knob/approval.yml"])
def test_what_follows_for_a_batch_is_not_told_beside_its_cause(depot, file):
    overlaid(depot, PRINTS)
    with (depot / file).open("a", encoding="utf-8") as stream:
        stream.write("xx: [\n")
    assert [each.where.file for each in once_each_cause(sheets(depot)[1])] == [file]
    catalogue = read_catalogue(depot)
    is_void = standing(BATCH, catalogue.production.batches[BATCH], catalogue, DAY).is_void
    assert is_void or catalogue.folder("EX-0001").part is None
    assert sheets(depot, only="EX-0001")[0][0].best is Verdict.DO_NOT_FIT


def test_of_a_part_that_has_no_approval_it_is_told(depot):
    """Nothing else would say it."""
    overlaid(depot, PRINTS)
    (depot / "parts/EX-0001-lid-knob/approval.yml").write_text("format: 2\nroute: customer\nevents: []\n", encoding="utf-8")
    assert "BATCH04" in {each.code for each in sheets(depot)[1] if each.where.file == "batches/B-0001.yml"}
