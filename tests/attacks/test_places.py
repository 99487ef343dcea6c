"""Bad names, ends of files, read-only folders, and the instant in which a new site takes its place."""

import os
import re
import shutil
import signal
import threading
import time
from pathlib import Path

from tests.attacks.at_work import (
    CLIP,
    KNOB,
    MODEL,
    TRIAL,
    at,
    batch,
    build,
    building,
    condition,
    contents,
    depot,
    new,
    refused,
    sane,
    spares,
    together,
    withdrawn,
)
from tests.fixtures.commands import POWERLESS

NAME = "y" * 250  # a name that a disk takes, but no longer one made from it
PAPER = ["--evidence", "documents/trial-note.txt"]


def test_a_record_that_ends_with_the_mark_of_its_end_is_kept_whole(home, tmp_path):
    """Refused with the file unchanged, or the event stands in a file that can be read."""
    ends = [
        "...\n",
        "...",
        "... # end\n",
        "\n...\n\n# kept\n",
        "...\n...\n",
        "# last words",
        "\n\n\n",
        "\r\n",
        "...\r\n",
        "---\n",
        "...\n---\n",
    ]

    trial = [*TRIAL, "--reference", "T", *PAPER]
    cases = [(KNOB, withdrawn("cracks"), end) for end in ends] + [(CLIP, trial, end) for end in ends[:2]]
    catalogues = [depot(tmp_path / f"d{number}") for number in range(len(cases))]
    files = [
        catalogue / folder / "approval.yml"
        for catalogue, (folder, _, _) in zip(catalogues, cases, strict=True)
    ]
    for file, (_, _, end) in zip(files, cases, strict=True):
        file.write_bytes(file.read_bytes() + end.encode())
    old, checks = (
        [file.read_bytes() for file in files],
        [["check", *at(catalogue, home)] for catalogue in catalogues],
    )
    first = batch(home, checks)
    told = batch(
        home, [[*case[1], *at(catalogue, home)] for catalogue, case in zip(catalogues, cases, strict=True)]
    )
    for file, held, was, ended, then in zip(files, old, first, told, batch(home, checks), strict=True):
        sane(ended)
        sane(then)
        if ended.code:
            assert file.read_bytes() == held, ended
            assert ended.err.strip()
        else:
            assert was.code == then.code == 0, (held[-60:], then)
            assert file.read_text().count("on: 2026-10-01") == held.decode().count("on: 2026-10-01") + 1, (
                held[-60:]
            )


def misplaced(folder):
    """Files that do not belong there, or bear a bad name; none of them is a part's fault."""
    requests = folder / "requests"
    good = (requests / "coat-hook.yml").read_text()
    for name in (
        b"\xff.yml",
        b"a\nb.yml",
        b"a\x1bb.yml",
        b"a\xe2\x80\xaeb.yml",
        NAME.encode() + b".yml",
        b"Bad Name!.yml",
        b" .yml",
    ):
        (requests / os.fsdecode(name)).write_text(good)
    (requests / "notes.txt").write_text("mine")
    (requests / "sub").mkdir()
    (requests / "sub" / "deeper.yml").write_text(good)
    (requests / "broken.yml").write_text("[[[")
    (requests / "R-0001.yaml").write_text(good)
    (requests / "loop.yml").symlink_to("loop.yml")
    os.mkfifo(requests / "fifo.yml")
    for place in (folder, folder / "materials", folder / "parts"):
        (place / os.fsdecode(b"\xff\x01.yml")).write_text("a: 1\n")
        (place / f"{NAME}.txt").write_text("long")
    (folder / "materials" / f"{NAME}.yml").write_text("a: 1\n")


def test_a_bad_name_elsewhere_is_charged_to_no_part(home, tmp_path):
    catalogue = depot(tmp_path / "d")
    misplaced(catalogue)
    checked, built = together(
        [lambda: spares(home, "check", *at(catalogue, home)), lambda: build(home, catalogue, tmp_path / "s")]
    )
    sane(checked, [1])
    sane(built, [0])
    assert not re.search(r"BROKEN.*EX-000", built.all), built
    assert "3 × Fit it" in built.all, built
    assert not re.search(r"parts/EX-000", checked.all), checked
    for name in ("broken.yml", "fifo.yml", "loop.yml", "notes.txt", "sub", "R-0001.yaml"):
        assert f"requests/{name}" in checked.all, f"{name} is passed over in silence"
    state = (tmp_path / "s" / "catalogue.html").read_text()
    assert "broken.yml" in state


def test_long_names_of_given_files_are_taken_or_refused_in_words(home, tmp_path):
    catalogue = depot(tmp_path / "d")
    given = {}
    for end, source in ((".txt", None), (".stl", MODEL), (".yml", home / "asked.yml")):
        given[end] = tmp_path / (NAME + end)
        given[end].write_bytes(Path(source).read_bytes() if source else b"letter")
    name = "y" * 80
    for call in (
        [*withdrawn("x"), "--evidence", str(given[".txt"])],
        [*TRIAL, "--reference", "T", "--evidence", str(given[".txt"])],
        ["new", "EX-0020", name, "--mesh", str(given[".stl"])],
        ["request", "add", str(given[".yml"])],
    ):
        sane(spares(home, *call, *at(catalogue, home)))
    for site in (tmp_path / "y" / NAME, tmp_path / "y" / ("y" * 255)):
        sane(build(home, catalogue, site, "--zip"))


# ---- the new site takes the old one's place


def test_the_site_is_there_at_every_instant_of_a_build(home, tmp_path):
    """The disk takes a while for each renaming, so that a gap is seen if there is one."""
    catalogue, site = depot(tmp_path / "d"), tmp_path / "out" / "site"
    sane(build(home, catalogue, site), [0])
    missing, done = [], threading.Event()

    def watch():
        while not done.is_set():
            try:
                (site / "index.html").stat()
            except FileNotFoundError as gone:
                missing.append(gone)
            time.sleep(0.001)  # a hundredth of what one renaming takes

    watcher = threading.Thread(target=watch)
    watcher.start()
    try:
        slow = {
            "where": str(tmp_path / "out"),
            "at": 0,
            "do": "sleep",
            "for": 0.1,
            "events": ["os.rename", "shutil.rmtree"],
        }
        for _ in range(2):
            sane(spares(home, *building(catalogue, home, site), plan=slow), [0])
    finally:
        done.set()
        watcher.join()
    assert not missing, f"missing {len(missing)} times"


def test_stopped_in_the_exchange_a_whole_site_is_there(home, tmp_path):
    catalogue, first = depot(tmp_path / "d"), tmp_path / "first"
    sane(build(home, catalogue, first), [0])
    old = contents(first, hidden=True)
    sane(spares(home, *withdrawn("cracks"), *at(catalogue, home)), [0])  # so that the new site differs

    def one(do, at_move):
        out = tmp_path / f"out{do}{at_move}"
        shutil.copytree(first, out / "site")
        plan = {"where": str(out / "site"), "at": at_move, "do": do, "events": ["os.rename", "shutil.rmtree"]}
        stopped = spares(home, *building(catalogue, home, out / "site"), plan=plan)
        left = contents(out / "site", hidden=True) if (out / "site").exists() else None
        sane(build(home, catalogue, out / "site"), [0])
        return do, stopped, left, contents(out / "site", hidden=True), [path.name for path in out.iterdir()]

    stops = [("SIGKILL", 1), ("SIGKILL", 2), ("SIGKILL", 3), ("SIGINT", 2)]
    for do, stopped, left, fresh, beside in together([lambda s=s: one(*s) for s in stops]):
        assert stopped.code in (0, 130, -signal.SIGKILL), stopped
        assert left in (old, fresh), f"{stopped}: no whole site: {left if left is None else len(left)} files"
        if do == "SIGINT" and left == fresh:
            assert "as it was" not in stopped.err, stopped
        assert beside == ["site"], "the next build clears up what was left"


# ---- folders that may only be read


def test_a_catalogue_that_may_only_be_read_is_built_checked_and_explained(home, tmp_path):
    catalogue = depot(tmp_path / "d")
    tmp_path.chmod(0o755)
    for path in (*catalogue.rglob("*"), catalogue):
        path.chmod(0o555 if path.is_dir() else 0o444)
    where = at(catalogue, home)
    try:
        for command in (
            ["check", "--strict", *where],
            ["explain", "EX-0001", *where],
            ["approvals", *where],
            building(catalogue, home, tmp_path / "s"),
            [*condition("x"), "--dry-run", *where],
        ):
            sane(spares(home, *command, before=POWERLESS), [0])  # holds already
        refused(
            home,
            catalogue,
            [
                [*withdrawn("cracks"), *where],
                [*TRIAL, "--reference", "T", *PAPER, *where],
                [*new("Peg"), *where],
                ["request", "add", str(home / "asked.yml"), *where],
            ],
            before=POWERLESS,
        )
    finally:
        for path in (catalogue, *(path for path in catalogue.rglob("*") if path.is_dir())):
            path.chmod(0o755)
