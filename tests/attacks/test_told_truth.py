"""Broken outputs, signals and full disks: what a writing command says and what the files hold agree."""

import contextlib
import os
import re
import shutil
import signal
import subprocess

import pytest

from tests.attacks.at_work import (
    DONE,
    FIXTURE,
    KNOB,
    NOTHING,
    ROOT,
    TRIAL,
    at,
    building,
    contents,
    depot,
    new,
    sane,
    spares,
    together,
    withdrawn,
)

# ---- broken outputs


def writing(folder, home):
    """By name: a command that writes, and the folder that it writes into."""
    catalogue = folder / "d"
    return {
        "record": ([*withdrawn("cracks"), *at(catalogue, home)], catalogue),
        "approve": (
            [*TRIAL, "--reference", "T", "--evidence", str(home / "letter.txt"), *at(catalogue, home)],
            catalogue,
        ),
        "request": (["request", "add", str(home / "asked.yml"), *at(catalogue, home)], catalogue),
        "new": ([*new("Peg"), *at(catalogue, home)], catalogue),
        "schema": (["schema", "--to", str(folder / "schemas")], folder / "schemas"),
        "build": (building(catalogue, home, folder / "out" / "site"), folder / "out"),
        "zip": (building(catalogue, home, folder / "out" / "site", "--zip"), folder / "out"),
        "markdown": (
            [
                "build",
                "--config",
                str(ROOT / "mkdocs.yml"),
                "--markdown",
                str(folder / "out"),
                *at(catalogue, home),
            ],
            folder / "out",
        ),
    }


def attempt(home, folder, name, plan=None, **options):
    """Runs one writing command on a new copy; gives how it ended and what then lies in its folder."""
    depot(folder / "d")
    command, target = writing(folder, home)[name]
    ended = spares(home, *command, plan=plan and {**plan, "where": str(target)}, **options)
    return ended, contents(target)


@pytest.fixture(scope="module")
def good(home):
    names = list(writing(home, home))
    made = together([lambda name=name: attempt(home, home / f"good-{name}", name) for name in names])
    return {
        name: (before(name), sane(ended, [0]) and held)
        for name, (ended, held) in zip(names, made, strict=True)
    }


def before(name):
    return {} if name in ("schema", "build", "zip", "markdown") else contents(FIXTURE)


def shell(redirection):
    return ["sh", "-c", f'exec "$@" {redirection}', "sh"]


BROKEN = {
    "full": ">/dev/full",
    "closed": ">&-",
    "both full": ">/dev/full 2>&1",
    "all closed": "<&- >&- 2>&-",
    "no errors": "2>&-",
    "gone": None,
}


SOME = ["record", "request", "new", "schema", "build"]


@contextlib.contextmanager
def outputs(kind):
    """What a shell would do, for a command that is forked: the start of one takes longer than most of what it does."""
    full = os.open("/dev/full", os.O_WRONLY)
    read, gone = os.pipe()
    os.close(read)  # the reader went away before the first line
    try:
        yield {
            "full": {"stdout": full},
            "closed": {"closed": [1]},
            "both full": {"stdout": full, "stderr": full},
            "all closed": {"closed": [0, 1, 2]},
            "no errors": {"closed": [2]},
            "gone": {"stdout": gone},
        }[kind]
    finally:
        os.close(full)
        os.close(gone)


def broken(home, tmp_path, name, kind):
    folder = tmp_path / f"{name}-{kind}".replace(" ", "-")
    if name == "record" and BROKEN[kind]:  # one of each kind by a real shell and a real start
        return attempt(home, folder, name, before=shell(BROKEN[kind]))
    with outputs(kind) as way:
        return attempt(home, folder, name, **way)


def truthful(ended, was_written, must_say):
    said = ended.err
    if was_written:
        assert not NOTHING.search(said), f"written, and says that it is not: {ended}"
        if must_say:
            assert DONE.search(said), f"written, and does not say so: {ended}"
    else:
        assert ended.code != 0, f"not written, and exits 0: {ended}"
        assert not DONE.search(NOTHING.sub("", said)), f"not written, and says that it is: {ended}"


@pytest.mark.parametrize("kind", BROKEN)
def test_with_a_broken_output_every_writing_command_tells_the_truth(home, good, tmp_path, kind):
    names = list(good) if kind == "full" else SOME if kind in ("closed", "all closed") else ["record", "new"]
    for name, (ended, held) in zip(
        names, together([lambda n=n: broken(home, tmp_path, n, kind) for n in names]), strict=True
    ):
        sane(ended)
        old, whole = good[name]
        assert held in (old, whole), f"{name}: neither as before nor whole: {sorted(set(held) ^ set(whole))}"
        # who closed the output, or stopped to read it, wants no words: silence is true if the exit code is 0
        silence = kind in ("both full", "all closed", "no errors") or (ended.code == 0 and kind != "full")
        truthful(ended, held == whole, must_say=not silence)
        if kind == "no errors":
            assert DONE.search(ended.out) or ended.code, ended


def test_reading_commands_survive_a_broken_output(home, tmp_path):
    commands = [
        ["check"],
        ["explain", "EX-0001"],
        ["find", "knob"],
        ["approvals"],
        [*withdrawn("cracks"), "--dry-run"],
        ["schema", "part"],
        ["--help"],
    ]

    depot = shutil.copytree(FIXTURE, home / "read")  # of a copy git knows no past

    def read(command, kind):
        words = [*command, *([] if command[0] in ("--help", "schema") else at(depot, home))]
        with outputs(kind) as way:
            return spares(home, *words, **way)

    calls = [
        lambda c=c, kind=kind: read(c, kind)
        for c in commands
        for kind in ("full", "closed")
        if kind == "full" or c[0] in ("check", "--help")
    ]
    for ended in together(calls):
        sane(ended)
        assert not re.search(r"is (written|recorded)|as it was", ended.err), ended


# ---- signals and full disks at every write


MOVES = ["os.rename", "os.link", "os.remove", "shutil.rmtree"]


def at_every_write(home, folder, name, do):
    """One run for each change that the command makes to its folder: at that instant `do` comes."""
    every = name == "record"  # of the others only those that put a file into its place, or come after
    events = ["open", "os.rename", "os.link"] if do == "full" else MOVES + ["open"] * every
    for n in range(1, 30):
        mark = folder / f"mark-{name}-{do}-{n}"
        plan = {"at": n, "do": do, "mark": str(mark), "events": events}
        ended, held = attempt(home, folder / f"{name}-{do}-{n}", name, plan)
        if not mark.exists():
            assert n > 1, "the command made no change that could be heard"
            return
        yield n, ended, held


STOPS = [
    ("record", "SIGINT"),
    ("approve", "SIGINT"),
    ("request", "SIGTERM"),
    ("new", "SIGINT"),
    ("approve", "full"),
    ("request", "full"),
    ("new", "full"),
]


@pytest.fixture(scope="module")
def stopped(home, good, tmp_path_factory):
    folder = tmp_path_factory.mktemp("stopped")
    return dict(
        zip(STOPS, together([lambda s=s: list(at_every_write(home, folder, *s)) for s in STOPS]), strict=True)
    )


@pytest.mark.parametrize(("name", "do"), STOPS)
def test_stopped_at_any_write_the_words_and_the_files_agree(stopped, good, name, do):
    old, whole = good[name]
    for n, ended, held in stopped[name, do]:
        assert "fault of spares itself" not in ended.all, (n, ended)
        assert "Traceback" not in ended.all, (n, ended)
        codes = (0, 1, 2) if do == "full" else (0, 1, 130, 143, -signal.SIGTERM)
        assert ended.code in codes, (n, ended)
        record = {path: held.get(path) for path in whole if not path.endswith("letter.txt")}
        written = record == {path: whole[path] for path in record}
        assert written or record == {path: old.get(path) for path in record}, (
            f"{n}: neither as before nor whole"
        )
        truthful(ended, written, must_say=ended.code not in (0, -signal.SIGTERM))
        if not written and NOTHING.search(ended.err):
            assert held == old, f"{n}: says that nothing is changed, and left {sorted(set(held) - set(old))}"


def test_killed_at_any_write_and_repeated_gives_the_same(home, good, tmp_path):
    def one(name):
        _, whole = good[name]
        for n, ended, held in at_every_write(home, tmp_path, name, "SIGKILL"):
            assert ended.code == -signal.SIGKILL
            if held != whole:  # repeated as its user would; the copy still lies there
                command, target = writing(tmp_path / f"{name}-SIGKILL-{n}", home)[name]
                sane(spares(home, *command), [0])
                assert contents(target) == whole, (name, n)

    together([lambda name=name: one(name) for name in ("record", "approve", "new")])


def test_a_disk_with_no_room_leaves_the_record_as_it_was(home, tmp_path):
    room = tmp_path / "room"
    room.mkdir()
    record = f"{room}/d/{KNOB}/approval.yml"
    script = f"""mount -t tmpfs -o size=96k none {room} && cp -r {FIXTURE} {room}/d
        head -c 200k /dev/zero >{room}/filling 2>/dev/null
        before=$(cksum <{record}); "$@"; code=$?
        [ "$before" = "$(cksum <{record})" ] && echo UNTOUCHED; exit $code"""
    alone = ["unshare", "-m"] if os.geteuid() == 0 else ["unshare", "-rm"]  # a disk that nobody else sees
    if subprocess.run([*alone, "mount", "-t", "tmpfs", "none", str(room)], capture_output=True, check=False).returncode:
        pytest.skip("no disk may be mounted here")
    private = [*alone, "sh", "-c", script, "sh"]
    ended = sane(spares(home, *withdrawn("cracks " * 20), *at(room / "d", home), before=private), [1, 2])
    assert "UNTOUCHED" in ended.out, ended
    assert re.search(r"no space|full|room", ended.err, re.IGNORECASE), ended
