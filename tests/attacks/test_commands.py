"""Two hands at once: of two commands that write, each is done or says why not, and no event is ever lost."""

import os
import random
import re
import signal
import time

import pytest

from generator.edge.disk.writing_lock import LOCK
from tests.attacks.at_work import (
    CLIP,
    FIXTURE,
    GUARD_S,
    KNOB,
    TRIAL,
    VOICE,
    Ended,
    asked,
    at,
    build,
    condition,
    contents,
    depot,
    letter,
    new,
    sane,
    spares,
    start,
    together,
    withdrawn,
)

LOCKED = re.compile(r"lock|another|other command|at work|being written|in use|held|busy", re.IGNORECASE)


# ---- two hands at once


# By name: two commands, each with a mark that stands in the catalogue exactly if the command was done.
PAIRS = {
    "record record": lambda _: (withdrawn("mark-a"), condition("mark-b")),
    "record record, the other order": lambda _: (condition("mark-a"), withdrawn("mark-b")),
    "record record, one question": lambda _: (
        ["record", "EX-0003", "documents complete", "--by", "specialist", "--note", "mark-a"],
        ["record", "EX-0003", "customer acceptance given", "--by", "keeper", "--reference", "mark-b"],
    ),
    "record approve": lambda folder: (
        ["record", "EX-0003", "documents complete", "--by", "specialist", "--note", "mark-a"],
        letter(folder, "mark-b"),
    ),
    "approve approve": lambda folder: (letter(folder, "mark-c"), letter(folder, "mark-d")),
    "two parts": lambda _: (withdrawn("mark-a"), withdrawn("mark-b", "EX-0002")),
    "two requests": lambda folder: (asked(folder, "mark-e"), asked(folder, "mark-f")),
    "two voices": lambda folder: (asked(folder, "mark-g", VOICE), asked(folder, "mark-h", VOICE)),
    "one new number": lambda _: (new("mark-a"), new("mark-b")),
    "two new numbers": lambda _: (new("mark-a"), new("mark-b", "EX-0010")),
}


def marked(catalogue, mark):
    return any(mark.encode() in held for held in contents(catalogue).values())


def holding(catalogue, mark, tried):
    """A disk that takes long for the one step by which a new file takes its place: until another has tried."""
    return {
        "where": str(catalogue),
        "at": 1,
        "do": "sleep",
        "until": str(tried),
        "for": 0.3,
        "events": ["os.rename", "os.link"],
        "mark": str(mark),
    }


def trying(tried):
    """Says when a command reaches for the lock."""
    return {"where": LOCK, "at": 1, "do": "mark", "events": ["open"], "mark": str(tried)}


def once_there(mark, process):
    until = time.monotonic() + GUARD_S
    while not mark.exists() and process.poll() is None and time.monotonic() < until:
        time.sleep(0.02)


def pair_done(home, catalogue, commands):
    """The second begins when the first has read, compared and is about to put its file into place."""
    mark, tried = catalogue.with_suffix(".mark"), catalogue.with_suffix(".tried")
    first = start(home, *commands[0], *at(catalogue, home), plan=holding(catalogue, mark, tried))
    once_there(mark, first)
    second = start(home, *commands[1], *at(catalogue, home), plan=trying(tried))
    once_there(tried, second)
    tried.touch()  # it may have been refused before
    return [Ended(first), Ended(second)]


@pytest.fixture(scope="module")
def done(home):
    folder = home / "pairs"
    folder.mkdir()
    cases = {name: make(folder) for name, make in PAIRS.items()}

    def one(name):
        catalogue = depot(folder / name.replace(" ", "-").replace(",", ""))
        return catalogue, pair_done(home, catalogue, cases[name])

    return dict(zip(cases, together([lambda n=n: one(n) for n in cases], 5), strict=True)), cases


@pytest.mark.parametrize("name", PAIRS)
def test_of_two_commands_at_once_each_is_done_or_says_why_not(done, home, name):
    (catalogue, ended), commands = done[0][name], done[1][name]
    for one, command in zip(ended, commands, strict=True):
        mark = next(mark for word in command for mark in re.findall(r"mark-[a-h]", word))
        sane(one)
        assert marked(catalogue, mark) == (one.code == 0), f"{mark}: {one}"
        assert one.code == 0 or one.err.strip(), "refused without a word"
    assert any(one.code == 0 for one in ended), "at least one of the two is done"
    if name.startswith("two "):
        assert [one.code for one in ended] == [0, 0], ended
    if "new" not in name:  # a new part has lines that are still to be filled in
        sane(spares(home, "check", *at(catalogue, home)), [0])
    numbers = [
        folder.name[:7] for folder in (catalogue / "parts").iterdir() if not folder.name.startswith(".")
    ]
    assert len(numbers) == len(set(numbers)), "two folders have one number"


def test_many_pairs_lose_no_event(home, tmp_path):
    """More of them by SPARES_PAIRS; none has help from a slow disk."""
    chance = random.Random(5)

    def one(number):
        catalogue = depot(tmp_path / f"d{number}")
        second = condition("mark-b", chance.choice(["EX-0001", "EX-0002"]))
        first = start(home, *condition("mark-a"), *at(catalogue, home))
        time.sleep(chance.random() / 20)
        if number % 4 == 3:  # one after the other must work as well
            first.wait(GUARD_S)
        ended = [Ended(process) for process in (first, start(home, *second, *at(catalogue, home)))]
        told = zip(ended, ["mark-a", "mark-b"], strict=True)
        return [(sane(each).code == 0, marked(catalogue, mark)) for each, mark in told]

    for told in together([lambda n=n: one(n) for n in range(int(os.environ.get("SPARES_PAIRS", "4")))], 2):
        assert all(said == held for said, held in told), told


def test_five_hands_on_one_part_lose_no_event(home, tmp_path):
    catalogue = depot(tmp_path / "d")
    slow = {"where": str(catalogue), "at": 0, "do": "sleep", "for": 0.1}
    running = [start(home, *condition(f"mark-{n}"), *at(catalogue, home), plan=slow) for n in range(5)]
    ended = [sane(Ended(process)) for process in running]
    assert [marked(catalogue, f"mark-{n}") for n in range(5)] == [each.code == 0 for each in ended]


@pytest.mark.parametrize(
    "command", [withdrawn("cracks"), [*TRIAL, "--reference", "T-4", "--evidence", "documents/trial-note.txt"]]
)
def test_what_an_editor_saved_meanwhile_is_not_lost(home, tmp_path, command):
    catalogue = depot(tmp_path / "d")
    file = catalogue / (KNOB if command[0] == "record" else CLIP) / "approval.yml"
    event = "  - on: 2026-10-01\n    what: condition added\n    by: keeper\n    condition: by hand\n"
    save = {
        "where": str(catalogue),
        "at": 1,
        "do": "save",
        "file": str(file),
        "text": event,
        "mark": str(tmp_path / "saved"),
    }
    ended = sane(spares(home, *command, *at(catalogue, home), plan=save))
    assert (tmp_path / "saved").exists()
    assert "by hand" in file.read_text(), ended
    added = file.read_text().count("on: 2026-10-01") - (
        FIXTURE / file.relative_to(catalogue)
    ).read_text().count("on: 2026-10-01")
    assert added == (2 if ended.code == 0 else 1), ended


# ---- somebody holds the part for long


@pytest.fixture
def held(home, tmp_path):
    """A catalogue, and a hand that stops in the middle of its write into it."""
    catalogue, mark = depot(tmp_path / "waits"), tmp_path / "holds"
    stop = {
        "where": "approval.yml",
        "at": 1,
        "do": "SIGSTOP",
        "events": ["os.rename", "os.link"],
        "mark": str(mark),
    }
    holder = start(home, *condition("mark-a"), *at(catalogue, home), plan=stop)
    once_there(mark, holder)
    yield catalogue, holder
    holder.kill()  # our own
    holder.communicate()


def test_while_a_write_stands_still_its_part_is_checked_explained_and_built(held, home, tmp_path):
    catalogue = held[0]
    checked, explained, _, built = together(
        [
            lambda: spares(home, "check", "--strict", *at(catalogue, home)),
            lambda: spares(home, "explain", "EX-0001", *at(catalogue, home)),
            lambda: build(home, FIXTURE, tmp_path / "free"),
            lambda: build(home, catalogue, tmp_path / "while", "--strict"),
        ]
    )
    for ended in (checked, built):
        sane(ended, [0])
        assert not LOCKED.search(ended.all), ended
    assert "Fit it" in sane(explained, [0]).out
    # neither the lock nor the half-written record lands in the site
    assert set(contents(tmp_path / "while", hidden=True)) == set(contents(tmp_path / "free", hidden=True))


def test_a_killed_holder_leaves_no_lasting_lock(home, tmp_path):
    def one(at_write):
        catalogue = depot(tmp_path / f"d{at_write}")
        kill = {"where": str(catalogue), "at": at_write, "do": "SIGKILL"}
        first = spares(home, *condition("mark-a"), *at(catalogue, home), plan=kill)
        second = spares(home, *condition("mark-b"), *at(catalogue, home))
        checked = spares(home, "check", "--strict", *at(catalogue, home)) if at_write < 4 else second
        return first.code, second, marked(catalogue, "mark-b"), checked

    ended = together([lambda n=n: one(n) for n in range(1, 6)])
    assert ended[0][0] == -signal.SIGKILL
    for _, second, there, checked in ended:
        sane(second, [0])
        assert there
        sane(checked, [0])


def test_a_short_hold_is_waited_for(home, tmp_path):
    catalogue = depot(tmp_path / "d")
    first, second = pair_done(home, catalogue, [condition("mark-a"), withdrawn("mark-b")])
    sane(first, [0])
    sane(second, [0])
    assert marked(catalogue, "mark-a"), second
    assert marked(catalogue, "mark-b"), second


def test_a_held_part_is_refused_in_one_clear_message_in_the_end(held, home):
    catalogue, holder = held
    refused = sane(spares(home, *withdrawn("mark-b"), *at(catalogue, home), plan={"patience": 3}), [1, 2])
    assert LOCKED.search(refused.err), refused
    assert "EX-0001" in refused.err, "says of which part"
    assert re.search(rf"\b{holder.pid}\b|record", refused.err), f"says who holds it: {refused}"
    assert re.search(r"\d:\d\d|\d+ ?s\b|\d+ seconds|\d+ min", refused.err), f"says since when: {refused}"
    assert not marked(catalogue, "mark-b")
    holder.send_signal(signal.SIGCONT)
    sane(Ended(holder), [0])
    assert marked(catalogue, "mark-a")
