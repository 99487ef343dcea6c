"""What the commands remember of the records, in the store and in the site, and what they say when it is unsaid."""

import json
import shutil
from pathlib import Path

import pytest

from generator.reading.catalogue import read_catalogue

CLIP = Path("catalogue/parts/EX-0003-hose-clip/approval.yml")
MENDED = "  - {on: 2026-11-02, what: withdrawn, by: keeper, reason: cracks at the lug}\n"
WITHDRAWN = "  - {on: 2026-11-02, what: withdrawn, by: keeper, reason: cracks}\n"
QUALITY = "  - {id: quality, name: Quality, acts_as: [quality]}\n"
GONE = "event 3 is gone: 'withdrawn' of 2026-11-02, as the {} has it"
FRESH = "nothing here remembers what the records said before"
CORRECT = ("record", "EX-0003", "record corrected", "--by", "quality", "--why", "it was another part")


@pytest.fixture
def quality(depot):
    """The depot has somebody who acts for quality."""
    file = depot / "catalogue/depot.yml"
    file.write_text(file.read_text("utf-8") + QUALITY, encoding="utf-8")


def unsaid(spares, text):
    """The errors once the record says `text`."""
    CLIP.write_text(text, encoding="utf-8")
    code, out, _ = spares("check")
    return code, [line for line in out.splitlines() if "PAST" in line]


def test_a_fresh_machine_says_so_once(depot, spares):
    assert FRESH in spares("check")[2]
    assert spares("check")[2] == ""


@pytest.mark.parametrize("command", [("check",), ("build",), ("record", "EX-0003", "withdrawn", "--by", "keeper", "--reason", "cracks", "--on", "2026-11-02")])  # fmt: skip
def test_each_command_that_looks_or_writes_remembers(depot, spares, command):
    before = CLIP.read_text("utf-8")
    if command[0] != "record":
        CLIP.write_text(before + WITHDRAWN, encoding="utf-8")
    assert spares(*command)[0] == 0
    shutil.rmtree("site", ignore_errors=True)
    code, told = unsaid(spares, before)
    assert code == 1
    assert GONE.format("memory in the store") in told[0]
    assert "Do not fit" in spares("explain", "EX-0003")[1]
    assert unsaid(spares, before + WITHDRAWN)[1] == []


def test_what_only_looks_does_not_remember(depot, spares):
    before = CLIP.read_text("utf-8")
    CLIP.write_text(before + WITHDRAWN, encoding="utf-8")
    for command in (("explain", "EX-0003"), ("approvals",), ("find", "clip")):
        assert spares(*command)[0] == 0
    assert unsaid(spares, before) == (0, [])


def test_the_site_remembers_where_the_store_is_gone(depot, spares):
    before = CLIP.read_text("utf-8")
    CLIP.write_text(before + WITHDRAWN, encoding="utf-8")
    assert spares("build")[0] == 0
    CLIP.write_text(before, encoding="utf-8")
    for _ in range(2):  # the next site has not forgotten it either
        shutil.rmtree(".store/memory")
        code, out, _ = spares("build")
        assert code == 0
        assert GONE.format("site built before") in out
    assert spares("build", "--strict")[0] == 1
    shutil.rmtree("site")
    shutil.rmtree(".store/memory")
    assert FRESH in spares("build")[2]


def test_plain_pages_remember_too(depot, spares):
    before = CLIP.read_text("utf-8")
    CLIP.write_text(before + WITHDRAWN, encoding="utf-8")
    assert spares("build", "--markdown", "plain")[0] == 0
    shutil.rmtree(".store/memory")
    CLIP.write_text(before, encoding="utf-8")
    assert GONE.format("site built before") in spares("build", "--markdown", "plain")[1]


def test_a_mistake_of_today_is_not_held_against_tomorrow(depot, spares):
    before = CLIP.read_text("utf-8")
    assert spares("check")[0] == 0
    slip = "  - {on: 2026-11-02, what: renewed, by: keeper, valid_until: 2028-01-01}\n"
    assert unsaid(spares, before + slip) == (1, [])
    assert unsaid(spares, before + WITHDRAWN) == (0, [])


def test_on_a_day_before_the_first_event_nothing_is_remembered_and_nothing_forgotten(depot, spares):
    before = CLIP.read_text("utf-8")
    CLIP.write_text(before + WITHDRAWN, encoding="utf-8")
    assert spares("check", "--on", "2020-01-01")[0] == 1
    assert not list(Path(".store/memory").glob("*.json")) or "EX-0003" not in memory()
    assert spares("check")[0] == 0
    kept = memory()
    assert spares("check", "--on", "2020-01-01")[0] == 1
    assert memory() == kept
    assert unsaid(spares, before)[0] == 1
    assert memory() == kept


def memory():
    (file,) = (each for each in Path(".store/memory").glob("*.json") if ".git" not in each.name)
    return json.loads(file.read_text("utf-8"))["records"]


def test_a_correction_with_four_eyes_settles_it(depot, quality, spares):
    before = CLIP.read_text("utf-8")
    assert unsaid(spares, before + WITHDRAWN) == (0, [])
    assert unsaid(spares, before)[0] == 1
    assert unsaid(spares, before + MENDED)[0] == 1
    assert spares("record", "EX-0003", "condition added", "--by", "keeper", "--condition", "dry")[0] == 1
    code, _, err = spares(*CORRECT, "--corrects", "2", "--checked-by", "keeper")
    assert (code, "nothing of EX-0003 needs a correction of 2" in err) == (1, True)
    code, _, err = spares(*CORRECT, "--corrects", "3", "--checked-by", "quality")
    assert (code, "corrected and checked by the same role" in err) == (1, True)
    code, _, err = spares("record", "EX-0003", "record corrected", "--by", "keeper", "--why", "tried", "--corrects", "3", "--checked-by", "quality")  # fmt: skip
    assert (code, "does not act as quality" in err) == (1, True)
    assert spares(*CORRECT, "--corrects", "3", "--checked-by", "keeper")[0] == 0
    assert spares("check")[:2] == (0, "3 parts in catalogue: no problems.\n")
    event = read_catalogue(Path("catalogue")).folder("EX-0003").approval.events[-1]
    assert (event.corrects, event.checked_by) == (3, "keeper")
    with_correction = CLIP.read_text("utf-8")
    assert unsaid(spares, before + MENDED)[0] == 1
    assert unsaid(spares, with_correction) == (0, [])


def test_nothing_is_corrected_that_says_what_it_said(depot, quality, spares):
    code, _, err = spares(*CORRECT, "--corrects", "2", "--checked-by", "keeper")
    assert (code, "says what it said before" in err) == (1, True)


@pytest.mark.parametrize("spoilt", [b"", b"{}", b'{"records": {"EX-0003": {}}}', b"\xff", b"[]"])
def test_a_memory_that_cannot_be_read_is_told_and_made_anew(depot, spares, spoilt):
    assert spares("check")[0] == 0
    (file,) = Path(".store/memory").glob("*.json")
    file.write_bytes(spoilt)
    code, _, err = spares("check")
    assert (code, "cannot be read, and is made anew" in err) == (0, True)
    assert spares("check")[2] == ""


def test_a_memory_of_another_catalogue_is_not_asked(depot, spares):
    before = CLIP.read_text("utf-8")
    CLIP.write_text(before + WITHDRAWN, encoding="utf-8")
    assert spares("check")[0] == 0
    shutil.copytree("catalogue", "another")
    Path("another", *CLIP.parts[1:]).write_text(before, encoding="utf-8")
    code, _, err = spares("check", "--catalogue", "another")
    assert (code, FRESH in err) == (0, True)


def test_notes_stand_in_the_json_too(depot, spares):
    code, out, _ = spares("check", "--format", "json")
    told = json.loads(out)
    assert (code, told["problems"]) == (0, [])
    assert told["notes"][0].startswith(FRESH)
