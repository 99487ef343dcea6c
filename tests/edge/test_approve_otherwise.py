"""`spares approve --changes-asked`: what is otherwise than submitted is approved only by the letter that asked for it."""

import hashlib
from pathlib import Path

import pytest

from generator.edge.refusals import Ending
from generator.reading.catalogue import read_catalogue
from tests.edge.conftest import bytes_of

CLIP = Path("catalogue/parts/EX-0003-hose-clip")
ASKED = b"please print it upright, the reviewer\n"


@pytest.fixture
def clip(depot, spares):
    """Revision B of the hose clip, submitted and sent to the review; then set upright, as a letter asked."""
    (depot / "letter.txt").write_bytes(b"approved, the reviewer\n")
    (depot / "asked.txt").write_bytes(ASKED)
    edited("revision: A", "revision: B")
    for event in ("customer acceptance given", "documents complete", "sent to technical review"):
        assert spares("record", "EX-0003", event, "--by", "keeper", "--on", "2026-11-02")[0] == 0
    edited("orientation: flat", "orientation: upright")
    return depot / "catalogue"


def edited(before, after):
    part = CLIP / "part.yml"
    text = part.read_text(encoding="utf-8")
    assert text.count(before) == 1
    part.write_text(text.replace(before, after), encoding="utf-8")


def approve(*more):
    letter = ["--reference", "L-3", "--evidence", "letter.txt", "--by", "reviewer", "--until", "2028-11-30"]
    return ["approve", "EX-0003", "--scope", "B2:21-22:bogie", *letter, "--replaces", "2026-10-01", "--yes", *more]


def test_without_the_letter_that_asked_it_is_refused(clip, spares):
    before = bytes_of(clip)
    code, _, err = spares(*approve())
    assert code == 1
    assert "approves something else than was submitted: setting orientation" in err
    assert bytes_of(clip) == before


def test_the_letter_that_asked_is_kept_and_named(clip, spares):
    code, _, err = spares(*approve("--changes-asked", "R-7: of the 20th", "asked.txt"))
    assert code == 0, err
    event = read_catalogue(Path("catalogue")).folder("EX-0003").approval.events[-1]
    assert event.changes_asked.reference == "R-7: of the 20th"
    assert event.changes_asked.evidence.file == "documents/asked.txt"
    assert event.changes_asked.evidence.sha256 == hashlib.sha256(ASKED).hexdigest()
    assert [each.file for each in event.evidence] == ["documents/letter.txt"]
    assert (CLIP / "documents/asked.txt").read_bytes() == ASKED
    assert spares("check")[0] == 0
    assert "Fit it. Approved by L-3" in spares("explain", "EX-0003")[1]


def test_the_letter_that_asked_and_is_changed_afterwards_is_no_letter(clip, spares):
    assert spares(*approve("--changes-asked", "R-7", "asked.txt"))[0] == 0
    (CLIP / "documents/asked.txt").write_bytes(b"please print it anyhow\n")
    assert spares("check")[0] == 1
    assert "Fit it" not in spares("explain", "EX-0003")[1]


@pytest.mark.parametrize("own", ["letter.txt", "a copy of it"])
def test_the_letter_of_approval_itself_asked_for_nothing(clip, spares, depot, own):
    (depot / "a copy of it").write_bytes((depot / "letter.txt").read_bytes())
    before = bytes_of(clip)
    code, _, err = spares(*approve("--changes-asked", "R-7", own))
    assert code == 1
    assert "as the one that asked for the change" in err
    assert bytes_of(clip) == before


@pytest.mark.parametrize(
    ("more", "code"),
    [
        (["--changes-asked", "R-7", "gone.txt"], Ending.PROBLEMS),
        (["--changes-asked", "", "asked.txt"], Ending.PROBLEMS),
        (["--changes-asked", "R-7", "catalogue/parts/EX-0003-hose-clip/part.yml"], Ending.PROBLEMS),
        (["--changes-asked", "R-7"], Ending.MISUSE),
        (["--changes-asked", "R-7", "asked.txt", "--trial", "--pieces", "2"], Ending.MISUSE),
    ],
    ids=["a file that is gone", "no reference", "the record of the part", "one word alone", "a trial"],
)
def test_what_names_no_letter_writes_nothing(clip, spares, more, code):
    before = bytes_of(clip)
    assert spares(*approve(*more))[0] == code
    assert bytes_of(clip) == before
