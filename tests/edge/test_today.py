"""`spares today`: what is told of the tiny depot, and minutes that are logged."""

import json
import re
from pathlib import Path

import pytest

from generator.edge.refusals import Ending


def told(spares, *arguments):
    code, out, err = spares("today", "--format", "json", *arguments)
    assert (code, err) == (0, "")
    return json.loads(out)


def test_what_fits_is_told_with_its_reasons_and_commands(depot, spares):
    request = depot / "catalogue/requests/coat-hook.yml"
    request.write_text(re.sub("stops_without: .*", "stops_without: The car stays in.", request.read_text("utf-8")), "utf-8")
    code, out, err = spares("today", "--minutes", "45")
    assert (code, err) == (0, "")
    first, *rest = out.splitlines()
    assert first.startswith("Today, 25 Nov 2026: ")
    assert first.endswith(" of 45 minutes")
    assert any(line.startswith("2. EX-0003 Hose clip: ") for line in rest), "its trial ends before an approval can come: what is dearer stands before it"
    assert "that day is lost" in out
    assert "     spares " in out
    assert " of own work" in out


def test_no_more_minutes_are_given_out_than_there_are(depot, spares):
    for minutes in (1, 5, 45, 240, 9600):
        found = told(spares, "--minutes", str(minutes))
        given = [task["now_minutes"] for task in found["tasks"] if task["now_minutes"] is not None]
        assert 0 < sum(given) <= minutes
    assert len(given) == len(found["tasks"]), "in four weeks everything fits"


def test_what_is_told_is_what_next_tells(depot, spares):
    way = [task for task in told(spares)["tasks"] if task["kind"] == "way"]
    assert way
    for task in way:
        following = spares("next", task["number"])[1]
        assert task["says"] in following
        assert task["command"] in following


def test_everything_is_listed_and_without_hours_nothing_is_planned(depot, spares):
    out = spares("today")[1]
    assert "write hours_per_week into depot.yml" in out
    assert "Done by" not in out


@pytest.mark.parametrize(("hours", "says", "cell"), [("6", "In the 6 hours a week", "26 Nov 2026"), ("0", "0 hours a week: nothing gets done", "never"), ("0.5", "In the 0.5 hours a week", "2026")])
def test_by_the_hours_of_the_depot_it_says_what_is_done_by_when(depot, spares, hours, says, cell):
    (depot / "catalogue/depot.yml").write_text(Path("catalogue/depot.yml").read_text("utf-8") + f"hours_per_week: {hours}\n", "utf-8")
    out = spares("today")[1]
    assert says in out
    assert cell in out


@pytest.mark.parametrize("minutes", ["0", "-45", "45.5", "9601", "three", "", "٤٥", "1e3", "99999999999999999999"])
def test_no_stretch_of_time_is_refused(depot, spares, minutes):
    code, _, err = spares("today", f"--minutes={minutes}")
    assert code == Ending.MISUSE
    assert "is no whole number of minutes from 1 to 9600" in err


def test_a_depot_without_parts_has_nothing_to_do(depot, spares):
    for folder in ("parts", "requests"):
        for file in sorted(Path("catalogue", folder).rglob("*"), reverse=True):
            file.rmdir() if file.is_dir() else file.unlink()
    assert spares("today", "--minutes", "45") == (0, "There is nothing to do today.\n", "")
    assert told(spares)["tasks"] == []


def test_logged_minutes_take_the_place_of_the_guess(depot, spares):
    before = next(task for task in told(spares)["tasks"] if task["what"] == "send_for_acceptance")
    assert before["logged"] == 0
    code, _, _ = spares("record", "EX-0003", "sent for customer acceptance", "--by", "specialist", "--minutes", "7")
    assert code == 0
    assert "minutes: 7" in Path("catalogue/parts/EX-0003-hose-clip/approval.yml").read_text("utf-8")
    spares("record", "EX-0003", "customer acceptance refused", "--by", "keeper", "--reason", "too loose")
    after = next(task for task in told(spares)["tasks"] if task["what"] == "send_for_acceptance")
    assert (after["minutes"], after["logged"]) == (7, 1)
    assert "7 min, as logged once" in spares("today")[1]


def test_whose_minutes_they_are_is_not_guessed(depot, spares):
    code, _, err = spares("record", "EX-0003", "prototype printed", "sent for customer acceptance", "--by", "specialist", "--minutes", "7")
    assert code == Ending.MISUSE
    assert "--minutes" in err
