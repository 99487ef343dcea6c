"""`spares find` as a mechanic at a terminal runs it."""

import json
import shutil
from pathlib import Path

import pytest

from tests.fixtures.produced import RELEASED, batch, knob_printed

SCRIPTS = Path(__file__).parents[2] / "site_src" / "assets" / "js"


@pytest.fixture
def beside(depot):
    """The scripts of the browser where a depot has them: beside its catalogue."""
    shutil.copytree(SCRIPTS, depot / "site_src" / "assets" / "js")


def test_it_finds_a_part_and_says_its_verdict_and_why(depot, spares, beside):
    code, said, _ = spares("find", "EX-0001", "--format", "json")
    told = json.loads(said)
    assert code == 0
    assert told[0]["number"] == "EX-0001"
    assert told[0]["sure"] is True
    assert told[0]["why"][0]["by"] == "number"


def test_the_words_of_the_verdict_are_those_of_the_day(depot, spares, beside):
    today = spares("find", "EX-0001", "--on", "2026-11-25")[1]
    later = spares("find", "EX-0001", "--on", "2030-01-01")[1]
    assert "Do not fit" in later
    assert today != later


def test_what_nobody_has_is_said_plainly_with_code_1(depot, spares, beside):
    code, said, _ = spares("find", "flux", "capacitor")
    assert code == 1
    assert "No such part." in said


def test_without_scripts_beside_the_catalogue_those_of_spares_itself_answer(depot, spares):
    code, said, _ = spares("find", "knob")
    assert code == 0
    assert "EX-0001" in said


def test_made_for_a_vehicle_never_stands_beside_do_not_fit(depot, spares, beside):
    for day in ("2026-11-25", "2030-01-01"):
        told = " ".join(spares("find", "car 11", "--on", day)[1].split())
        assert ("Made for vehicle 11" in told) is ("Do not fit" not in told), day


def test_do_not_fit_says_for_the_vehicle_of_which_fleet(depot, spares, beside):
    fleets = depot / "catalogue/fleets.yml"
    fleets.write_text(fleets.read_text("utf-8").replace('vehicles: ["21", "22"]', 'vehicles: ["11", "21", "22"]'), "utf-8")
    of_one = spares("find", "B2 11 knob")[1]
    assert "B2 11: Do not fit" in of_one
    assert "A1 11" not in of_one


def test_a_piece_that_is_not_simply_fitted_says_why(depot, spares, beside):
    root = knob_printed(depot / "catalogue")
    assert "B-0001:" not in spares("find", "EX-0001 A B-0001")[1], "it is fitted"
    batch(root, "B-0002", "EX-0001", events=[*RELEASED, {"what": "scrapped", "on": "2026-11-20", "by": "fitter", "count": 12, "why": "They cracked."}])
    said = spares("find", "EX-0001 A B-0002")[1]
    assert "EX-0001, B-0002: Ask first. By the records no piece of this batch is left to fit." in said
    assert "Printed: 12. Of these scrapped: 12." in said
    out = spares("explain", "EX-0001", "--batch", "B-0002")[1]
    assert "\nAsk first. By the records no piece of this batch is left to fit." in out
