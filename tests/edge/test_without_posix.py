"""The same depot, the same answers and the same bytes where nothing of POSIX is there (see fixtures/without_posix)."""

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from generator.systems.limits import UNLIMITED_MEMORY
from tests.edge.test_new import KNOWN, export

ROOT = Path(__file__).parents[2]
BARE = ROOT / "tests/fixtures/without_posix"
CLIP = "catalogue/parts/EX-0003-hose-clip"
RECORD = ("record", "EX-0003")
STORY = (
    ("check",),
    *((*RECORD, event, "--by", "keeper", "--on", "2026-11-02") for event in
      ("customer acceptance given", "documents complete", "sent to technical review")),
    ("approve", "EX-0003", "--scope", "B2:21-22:bogie", "--by", "reviewer", "--reference", "L-3", "--until", "2028-11-30",
     "--evidence", "letter.txt", "--yes"),
    ("find", "lid", "knob"),
    ("explain", "EX-0003"),
    ("build", "--zip"),
    ("new", "EX-0100", "Cap", "--mesh", "Export.STL", *KNOWN),
)  # fmt: skip


def told(folder, words):
    """What commands say in a process of their own without POSIX."""
    path = os.pathsep.join((str(BARE), str(ROOT)))
    # As on Windows: no locale of UTF-8 and no UTF-8 mode for whatever opens a text without saying how.
    around = os.environ | {"PYTHONPATH": path, "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0", "LC_ALL": "C"}
    ran = subprocess.run(
        [sys.executable, "-P", "-X", "warn_default_encoding", BARE / "told_by.py"], cwd=folder, env=around,
        input=json.dumps(words), capture_output=True, encoding="utf-8", check=False,
    )  # fmt: skip
    assert ran.returncode == 0, ran.stderr
    assert "generator" not in ran.stderr, ran.stderr  # no text of ours is opened without its encoding
    return [tuple(each) for each in json.loads(ran.stdout)]


def bytes_of_depot(root):
    """What a depot keeps and shows, by path."""
    files = (*(root / "catalogue").rglob("*"), *(root / "site").rglob("*"), root / "site.zip")
    return {file.relative_to(root).as_posix(): file.read_bytes() for file in files if file.is_file() and ".lock" not in file.name}


HELD = (
    ("hold", f"{CLIP}/approval.yml"),
    ("record", "EX-0003", "withdrawn", "--by", "reviewer", "--reason", "cracks"),
    ("hold", "site/index.html"),
    ("build",),
    ("hold", "site.zip"),
    ("build", "--zip"),
    ("hold", ""),
    ("build", "--zip"),
)


def without_seconds(text):
    return re.sub(r"[0-9.]+ s\b", "", text)


@pytest.mark.slow
def test_the_same_answers_and_the_same_bytes_without_posix(depot, spares, tmp_path_factory):
    (depot / "letter.txt").write_bytes(b"approved, the reviewer\n")
    export(depot)
    bare = shutil.copytree(depot, tmp_path_factory.mktemp("bare") / "depot")
    here = [spares(*words) for words in STORY]
    there = told(bare, (*STORY, *HELD))
    after, there = there[len(STORY):], there[: len(STORY)]
    lost = f"Note: {UNLIMITED_MEMORY}\n"
    assert [words[0] for words, (_, _, err) in zip(STORY, there, strict=True) if lost in err] == ["new"]  # what measures, once
    assert [(code, without_seconds(out), err.replace(lost, "")) for code, out, err in there] == [
        (code, without_seconds(out), err) for code, out, err in here
    ]
    assert {code for code, _, _ in here} == {0}

    refused = [after[1], after[3], after[5]]
    assert all("another program holds it open" in err and "mend: close what shows it" in err for _, _, err in refused), refused
    assert [code for code, _, _ in refused] == [1, 1, 1]
    assert after[-1][0] == 0  # once nobody holds anything
    assert [file.name for file in bare.rglob(".*.new-*")] + [file.name for file in bare.rglob(".new-*")] == []
    spares("build", "--zip")  # now with the new part, as there
    assert bytes_of_depot(bare) == bytes_of_depot(depot)
