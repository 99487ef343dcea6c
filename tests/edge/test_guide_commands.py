"""The guides' commands about pieces, and the examples of their help, do in a copy of the demo what the guides say, as they stand and in the order in which they stand there."""

import importlib
import re
import shlex
from pathlib import Path

import pytest

from generator.edge.cli import main
from generator.reading.catalogue import read_catalogue
from generator.records.fitted import COLUMNS
from generator.rules.production.ledger import ledger
from generator.rules.production.recalling import reach_of
from tests.edge.conftest import bytes_of
from tests.fixtures.commands import ROOT
from tests.fixtures.copying import copied_from
from tests.fixtures.pdf import pdf

GUIDES = ROOT / "site_src" / "guide"
FENCE = re.compile(r"(?m)^```(sh)?\n([\s\S]*?)^```")
TABLE = re.compile(r"`([\w-]+\.csv)`")  # what the text calls the table that follows
LEFT_OUT = "spares build"  # tests/edge/test_demo.py
# What the guides have for every depot, as it is called in the demo; no page may name the demo, since each depot gets the guides.
STORY = {"1001": "TV-0288", "FLEET": "TR7", "specialist": "am-specialist", "fitter": "fitter-electrical"}
FITTED = {"FLEET": "TR4", "fitter": "fitter-body"}
SPECIALIST = {"1001": "TV-0101", "1002": "TV-0104"}
TOLD_BY_A_TABLET = """\
fitted: 1
railway: Tarnvale Light Railway
depot: Eastmere depot
made_on: 2026-11-25
rows:
  - {day: 2026-11-25, fleet: TR4, vehicle: "405", place: saloon-window, position: window 5, batch: B-0160, count: 1, removed_batch: B-0114, removed: 1, why: worn, by: fitter-body, row: t-1}
"""
FILLED_SHEET = """\
railway: Tarnvale Light Railway
depot: Eastmere depot
batch: B-0161
part: TV-0101
revision: B
on: 2026-11-25
by: am-specialist
checks:
  - {check: "Hole for the button", values_mm: [38.54, 38.55], gauge: caliper C-07, calibrated_until: 2026-12-31}
"""


@pytest.fixture
def demo(tmp_path, monkeypatch, warm_store):
    """The folder in which a reader stands who has copied the demo; papers that he would have by hand lie in it."""
    copied_from(ROOT / "catalogue", tmp_path / "catalogue")
    (tmp_path / ".store").symlink_to(warm_store)
    (tmp_path / "cert.pdf").write_bytes(pdf())
    (tmp_path / "Downloads").mkdir()
    (tmp_path / "Downloads/fitted-2026-11-25.yml").write_text(TOLD_BY_A_TABLET, "utf-8")
    (tmp_path / "Downloads/inspection-B-0161-2026-11-25.yml").write_text(FILLED_SHEET, "utf-8")
    (tmp_path / "week-48.csv").write_text(f"{','.join(COLUMNS)}\n2026-11-24,TR4,405,saloon-window,window 3,B-0160,1,B-0114,1,broken,,\n", "utf-8")
    (tmp_path / "found-on-405.csv").write_text(f"{','.join(COLUMNS)}\n2026-11-25,TR4,405,saloon-window,window 7,B-9147,1,,,,fitter-body,\n", "utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("HOME", str(tmp_path))
    return tmp_path


def walk(guide, said, capsys, *, since=""):
    """Every command of a guide with what it says, in their order; tables that the guide shows are there under their names."""
    text = (GUIDES / guide).read_text("utf-8")
    text = text[text.index(since) :]
    for word, own in said.items():
        text = re.sub(rf"(?<![\w-]){word}\b(?!-)", own, text)
    done = []
    for fence in FENCE.finditer(text):
        if not fence[1]:
            Path(TABLE.findall(text[: fence.start()])[-1]).write_text(fence[2], "utf-8")
            continue
        done += [(line.partition("  ")[0], ran(line, capsys)) for line in fence[2].splitlines() if line != LEFT_OUT]
    return done


def ran(line, capsys):
    """What the line says, which objects to nothing."""
    words = [str(file) for word in shlex.split(line, comments=True)[1:] for file in files(word)]
    capsys.readouterr()
    code = int(main(words))
    heard = capsys.readouterr()
    assert (code, heard.err) == (0, ""), line
    return heard.out


def files(word):
    """As a shell would make of it."""
    return sorted(Path.home().glob(word[2:])) if word.startswith("~/") else [word]


def heard_of(done, command):
    return [said for line, said in done if line == command]


def test_the_story_from_the_lot_to_the_vehicle_and_back(demo, capsys):
    done = walk("story.md", STORY, capsys)
    carried, off = heard_of(done, "spares trace --lot L-0013")
    assert ("TR7 703" in carried, "TR7 705" in carried, "Vehicles: 2." in carried) == (True, True, True)
    assert "No vehicle carries any of it." in off
    assert "B-0162: 2 came off; to find: 2." in off
    production = read_catalogue(demo / "catalogue").production
    assert reach_of(production.recalls["RC-0002"], production).to_find == 0  # as the story says: nothing of it is left
    assert "L-0013" in heard_of(done, "spares trace --vehicle 703")[0]
    assert "\nFit it." in heard_of(done, "spares explain TV-0288 --batch B-0162")[0]
    assert "\nFit it." in heard_of(done, "spares explain TV-0288 --batch B-0162 --on 2026-11-19")[0]  # where there is no git
    assert "RC-0002.yml" in next(said for line, said in done if line.startswith("spares recall"))
    assert "Vehicles: 4." in heard_of(done, "spares trace --lot L-0009")[0]  # as the story says of the recall that is half done
    assert main(["explain", "TV-0288", "--batch", "B-0162"]) == 0
    assert "\nDo not fit." in capsys.readouterr().out
    assert main(["check"]) == 0, capsys.readouterr().out  # the counts balance


def test_no_more_is_scrapped_than_is_left_beside_what_sits_on_vehicles(demo, capsys):
    balances = ledger(read_catalogue(demo / "catalogue").production).balances
    name, left = next((name, each.left) for name, each in sorted(balances.items()) if each.on_vehicles and each.out + each.scrapped + each.removed == 0)
    before = bytes_of(demo / "catalogue/batches")
    assert main(["batch", "scrap", name, "--count", str(left + 1), "--why", "dropped", "--by", "quality"]) == 1
    assert "BAL02" in capsys.readouterr().out
    assert bytes_of(demo / "catalogue/batches") == before


def test_what_is_fitted_traced_and_called_back(demo, capsys):
    done = walk("fitted.md", FITTED, capsys)
    dry, written, found = [said for line, said in done if line.startswith("spares fitted add")]
    assert ("2 lines would be added" in dry, "2 lines added" in written, "1 line added" in found) == (True, True, True)
    assert (demo / "catalogue/recalls/RC-0002.yml").is_file()


def test_labels_months_and_whether_it_holds(demo, capsys):
    done = walk("specialist.md", SPECIALIST, capsys, since="\n## Labels")
    assert {file.name for file in demo.glob("*.pdf")} >= {"labels.pdf", "roll.pdf", "october.pdf"}
    assert "TV-0101" in heard_of(done, "spares holds TV-0101")[0]


def test_what_the_readme_shows_of_it(demo, capsys):
    section = (ROOT / "README.md").read_text("utf-8").partition("\n## From the lot to the vehicle and back\n")[2].partition("\n## ")[0]
    trace, explain, _ = [ran(line, capsys) for line in FENCE.search(section)[2].splitlines()]
    assert "Vehicles: 4." in trace
    assert "\nDo not fit. Called back" in explain
    assert all(f"`{own}` for `{word}`" in section for word, own in STORY.items())


@pytest.mark.parametrize("guide", ["story.md", "fitted.md", "specialist.md"])
def test_whatever_writes_says_who(guide):
    """A role of one's own may be kept, but not everybody who copies a line has done so."""
    written = re.findall(r"(?m)^spares (?:lot|batch|recall|record|approve|take-over) (?:.*\\\n)*.*", (GUIDES / guide).read_text("utf-8"))
    assert [line for line in written if "--by " not in line and " sheet " not in line] == []


@pytest.mark.parametrize("command", ["lot", "batch", "labels", "fitted", "trace", "recall", "notice", "holds", "report", "explain", "stock", "savings"])
def test_the_examples_of_the_help_do(command, demo, capsys):
    examples = importlib.import_module(f"generator.edge.commands.{command}").EXAMPLE.splitlines()
    lines = [line for line in examples if " --at " not in line]  # tests/edge/test_explain_at.py
    assert len([ran(line.strip().partition(" > ")[0], capsys) for line in lines]) == len(lines)
