"""`spares find` as a mechanic at a terminal runs it."""

import json
import shutil
from pathlib import Path

import pytest

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
