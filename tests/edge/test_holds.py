"""`spares holds`: the figures of the pages in the terminal."""

import json
import shutil
from pathlib import Path

import pytest

MADE = Path(__file__).parents[1] / "bad" / "fitted-as-cannot-be"
ROWS = """day,fleet,vehicle,place,position,batch,count,removed_batch,removed,why,by,row
2026-02-01,A1,11,cab,left,B-0001,1,,,,fitter,1
2026-02-01,A1,12,cab,left,B-0001,1,,,,fitter,2
2026-03-03,A1,11,cab,left,,,B-0001,1,broken,fitter,3
"""


@pytest.fixture
def with_history(depot):
    """The depot with a batch of EX-0001, of which two pieces were fitted and one broke."""
    for folder in ("batches", "machines", "materials"):
        shutil.copytree(MADE / folder, depot / "catalogue" / folder, dirs_exist_ok=True)
    (depot / "catalogue/fitted").mkdir()
    (depot / "catalogue/fitted/2026.csv").write_text(ROWS, encoding="utf-8")
    return depot


def test_all_parts_and_one(with_history, spares):
    code, out, _ = spares("holds", "--on", "2026-11-28")
    assert code == 0
    assert "EX-0001" in out
    assert "2 pieces fitted, 1 in use; 1 broken" in out
    assert "Nothing holds worse than what it was compared with. 0 batches were compared." in out
    out = spares("holds", "ex-0001", "--on", "2026-11-28")[1]
    assert "B-0001: 2 pieces fitted, 1 in use; 1 broken" in out
    assert "Beware of small numbers" in out


def test_json_is_for_machines(with_history, spares):
    (told,) = json.loads(spares("holds", "EX-0001", "--format", "json", "--on", "2026-11-28")[1])
    assert (told["figures"]["fitted"], told["figures"]["broken"], told["figures"]["days_in_use"]) == (2, 1, 30 + 300)
    (revision,) = told["revisions"]
    assert [(step["days"], step["at_risk"], step["share"]) for step in revision["curve"]] == [(30, 2, 0.5)]
    assert revision["batches"][0]["beside_rest"] is None


def test_an_earlier_day_knows_no_failure(with_history, spares):
    (told,) = json.loads(spares("holds", "EX-0001", "--format", "json", "--on", "2026-03-02")[1])
    assert (told["figures"]["in_use"], told["figures"]["failures_a_year"]["one_sided"]) == (2, True)


def test_a_part_of_which_nothing_is_known_and_one_that_there_is_not(with_history, spares):
    assert "Nothing of EX-0002" in spares("holds", "EX-0002")[1]
    code, _, err = spares("holds", "EX-0009")
    assert code != 0
    assert "EX-0009" in err


def test_a_trial_is_told_where_it_runs(depot, spares):
    assert "Trial of revision A, 1 Oct 2026 to 31 Dec 2026: It runs. It has lasted 55 days. 0 pieces fitted" in spares("next", "EX-0003", "--on", "2026-11-25")[1]
    assert "It runs." in spares("holds", "EX-0003", "--on", "2026-11-25")[1]
