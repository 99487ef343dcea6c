"""Strange words, files and folders on the command line: told in words, with the documented exit codes."""

import os
import shutil

from tests.attacks.at_work import (
    KNOB,
    LEVER,
    MODEL,
    ROOT,
    TRIAL,
    at,
    building,
    depot,
    new,
    refused,
    sane,
    spares,
    withdrawn,
)

LONG = "x" * 5_000
STRANGE = [
    "",
    " ",
    LONG,
    b"\xff\xfe",
    "a\x01b",
    "a\x1b[31mb",
    "a\nb",
    "\u202egnp",
    "\ud83d\ude00",
    "-",
    "--",
    "...",
    "~",
    "*",
    "../../x",
    "/",
    "%s%n",
    "${HOME}",
    "'",
    '"',
    "!!python/object:os.system",
    "&a *a",
    "\u0662\u0666",
]
PAPER = ["--evidence", "documents/trial-note.txt"]


def typed(word):
    """As a shell hands it over; half of a pair of surrogates cannot be typed, so the pair is put together."""
    return (
        os.fsdecode(word)
        if isinstance(word, bytes)
        else word.encode("utf-16", "surrogatepass").decode("utf-16", "replace")
    )


def test_strange_words_are_refused_in_words(home, tmp_path):
    catalogue = depot(tmp_path / "d")
    where = at(catalogue, home)
    hurt = [typed(word) for word in ("", LONG, b"\xff\xfe", "a\x01b", "a\x1b[31mb", "a\nb", "\u202egnp")]
    calls = [[*withdrawn("cracks", number), *where] for number in map(typed, STRANGE)]
    calls += [[*withdrawn(word), *where] for word in hurt]
    calls += [["record", "EX-0001", word, "--by", "reviewer", *where] for word in hurt[:4]]
    calls += [["explain", word, *where] for word in hurt]
    calls += [
        ["new", word, "Peg", "--mesh", MODEL, *where]
        for word in (*hurt, ".", "..", "a/b", "EX-0001", "EX 1", "*")
    ]
    calls += [["new", "EX-0012", word, "--mesh", MODEL, *where] for word in hurt]
    refused(home, catalogue, calls)


DAYS = [
    "",
    "2026-13-01",
    "2026-02-30",
    "0000-00-00",
    "99999-01-01",
    "20261001",
    "2026-W01-1",
    "2026-1-1",
    "2026-10-01T00:00",
    "\u0662\u0660\u0662\u0666-\u0661\u0660-\u0660\u0661",
    "today",
    "-1",
    LONG,
    b"\xff",
]
SCOPES = [
    "",
    ":",
    "::",
    ":::",
    ":22:bogie",
    "B2:22:bogie:x",
    "B2:22:bogie,x",
    "B2:22,99:bogie",
    "B2:22-21:bogie",
    "B2:1-999999999:bogie",
    "B2:*:*",
    "B2:,:bogie",
    "B2:-:bogie",
    b"B2:\xff:bogie",
    f"{LONG}:22:bogie",
    f"B2:{LONG}:bogie",
    f"B2:22:{LONG}",
    "B2:1-99999999999999999999999999:bogie",
    "B2:11:bogie",
    "A1:11:cab",
    "B2:22:door",
    "B2:" + ",".join(["22"] * 9000) + ":bogie,x",
]


def test_strange_days_and_scopes_are_refused_in_words(home, tmp_path):
    catalogue = depot(tmp_path / "d")
    where = at(catalogue, home)
    calls = [["check", "--on", typed(day), *where] for day in DAYS]
    calls += [
        [*withdrawn("cracks"), "--on", typed(day), *where]
        for day in (DAYS[0], DAYS[1], "9999-12-31", "0001-01-01")
    ]
    calls += [
        [
            "approve",
            "EX-0003",
            "--trial",
            "--pieces",
            "2",
            "--by",
            "keeper",
            "--reference",
            "T",
            "--until",
            "2026-12-31",
            *PAPER,
            "--scope",
            typed(scope),
            *where,
        ]
        for scope in SCOPES
    ]
    refused(home, catalogue, calls)
    for epoch in ("abc", "-1", "9" * 30):
        sane(spares(home, "check", *where, more={"SOURCE_DATE_EPOCH": epoch}), [0, 1, 2])


def test_an_empty_field_of_a_scope_is_not_read_as_everything(home, tmp_path):
    """A forgotten word, or a shell's empty variable, must not approve all vehicles or all places."""
    where = at(depot(tmp_path / "d"), home)
    refused(
        home,
        tmp_path / "d",
        [
            [
                "approve",
                "EX-0003",
                *trial,
                "--by",
                "keeper",
                "--reference",
                "T",
                "--until",
                "2026-12-31",
                *PAPER,
                "--dry-run",
                "--scope",
                scope,
                *where,
            ]
            for scope in ("B2::", "B2:22:", "B2::bogie", "B2: :bogie")
            for trial in ([], ["--trial", "--pieces", "2"])
        ],
    )


def test_numbers_with_paths_touch_no_file_outside(home, tmp_path):
    catalogue = depot(tmp_path / "deep" / "d")
    refused(
        home,
        catalogue,
        [
            [*command, *at(catalogue, home)]
            for number in (
                "../EX-0001",
                "../parts/EX-0001-lid-knob",
                "EX-0001-lid-knob",
                "./EX-0001",
                "EX-0001/",
                "/etc",
            )
            for command in (withdrawn("x", number), ["explain", number], new("Peg", number))
        ],
    )
    assert [path.name for path in (tmp_path / "deep").iterdir()] == ["d"]


def test_evidence_meshes_and_requests_that_are_no_plain_file_are_refused(home, tmp_path):
    """Nothing is waited for and nothing endless is read: the memory has a bound, and the run ends by itself."""
    catalogue = depot(tmp_path / "d")
    for kind in ("fifo", "fifo.stl", "fifo.yml"):
        os.mkfifo(tmp_path / kind)
    (tmp_path / "loop").symlink_to("loop")
    (tmp_path / "zero.stl").symlink_to("/dev/zero")
    (tmp_path / "folder.stl").mkdir()
    (tmp_path / "empty.stl").touch()
    (tmp_path / "hole.stl").touch()
    os.truncate(tmp_path / "hole.stl", 1 << 40)  # a terabyte that takes no room
    odd = [
        str(tmp_path / name)
        for name in (
            "fifo",
            "fifo.stl",
            "fifo.yml",
            "loop",
            "zero.stl",
            "folder.stl",
            "hole.stl",
            "empty.stl",
            "none",
        )
    ]
    odd += [
        "",
        ".",
        "documents",
        "/dev/zero",
        "/dev/full",
        "/dev/stdin",
        LONG,
        os.fsdecode(b"\xff"),
        "/proc/self/mem",
    ]
    where = at(catalogue, home)
    calls = [
        [*command, file, *where]
        for file in odd
        for command in (
            [*withdrawn("cracks"), "--evidence"],
            ["new", "EX-0009", "Peg", "--mesh"],
            ["request", "add"],
        )
    ]
    calls += [[*TRIAL, "--reference", "T", "--evidence", file, *where] for file in odd[:7]]
    refused(home, catalogue, calls, memory=6 << 30)


def test_catalogue_store_site_and_settings_of_a_wrong_kind_are_refused(home, tmp_path):
    catalogue = depot(tmp_path / "d")
    file, full = tmp_path / "file", "/dev/full"
    file.write_text("mine\n")
    os.mkfifo(tmp_path / "fifo")
    wrong = [
        str(file),
        full,
        str(tmp_path / "fifo"),
        LONG,
        os.fsdecode(b"\xff"),
        "",
        str(tmp_path / "none" / "none"),
    ]
    store = str(home / "store")
    calls = [
        [*command, "--catalogue", word, "--store", store]
        for word in wrong
        for command in (["check"], withdrawn("x"), ["request", "add", str(home / "asked.yml")])
    ]
    calls += [
        ["build", "--config", word, "--site", str(tmp_path / "s"), *at(catalogue, home)] for word in wrong
    ]
    calls += [
        building(catalogue, home, word)
        for word in (str(file), full, LONG, "/", str(catalogue), str(catalogue / "parts"))
    ]
    calls += [
        ["build", "--config", str(ROOT / "mkdocs.yml"), "--markdown", word, *at(catalogue, home)]
        for word in (str(file), full, LONG, str(catalogue))
    ]
    calls += [["schema", "--to", word] for word in (str(file), full, LONG)]
    refused(home, catalogue, calls)
    assert file.read_text() == "mine\n"
    for part in KNOB, LEVER:  # one part is enough: without a store it is measured each time
        shutil.rmtree(catalogue / part)
    for word in (str(file), full, LONG):  # a store is only a help: with or without it, never a fault of the program
        sane(spares(home, "check", "--catalogue", str(catalogue), "--store", word))
