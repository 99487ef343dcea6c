"""Ctrl-C, a polite end and a limit of the system, sent to real processes in the middle of a build.

Ctrl-C while pages are written meets the program as its user starts it; the others are forked (`fixtures/commands.py`).
"""

import os
import signal
import subprocess
import time

import pytest

from tests.edge.conftest import names_in
from tests.fixtures.commands import SPARES, Command, ran

# A theme whose pages never end, so that the signal always comes in the middle of writing.
SLOW = "{% for i in range(10000000) %}{% for j in range(10000000) %}.{% endfor %}{% endfor %}"


@pytest.fixture
def good(depot, spares):
    assert spares("build")[0] == 0
    (depot / "site" / "old.txt").write_text("the last good site")
    return depot


def started():
    return subprocess.Popen([SPARES, "build"], stdout=subprocess.PIPE, stderr=subprocess.PIPE)


def forked():
    return Command(["build"], measures=True)


def stopped_while(process, number, is_there):
    """Wait for something to be there, send a signal; returns the ended process and its stderr."""
    try:
        deadline = time.monotonic() + 60
        while not is_there() and time.monotonic() < deadline:
            assert process.poll() is None, process.stderr.read()
            time.sleep(0.02)
        process.send_signal(number)
        _, said = process.communicate(timeout=60)
    finally:
        process.kill()
    return process.returncode, said.decode()


@pytest.mark.parametrize(("number", "begun"), [(signal.SIGINT, started), (signal.SIGTERM, forked)], ids=["ctrl-c", "terminate"])
def test_stopped_while_pages_are_written(good, number, begun):
    (good / "theme" / "part.html").write_text(SLOW)
    code, said = stopped_while(begun(), number, lambda: list(good.glob(".site.new-*/index.html")))
    assert code == 130
    assert said == "spares: stopped before it was done; what was there before is as it was\n"
    assert (good / "site" / "old.txt").read_text() == "the last good site"
    assert names_in(good) == sorted([".store", "catalogue", "mkdocs.yml", "site", "site_src", "theme"])


def test_stopped_while_meshes_are_drawn(good):
    store = good / "fresh"
    (good / ".store").rename(good / "kept")
    os.environ.pop("SPARES_TRACEBACK", None)
    code, said = stopped_while(forked(), signal.SIGINT, lambda: (good / ".store").exists() or store.exists())
    assert code in (0, 130)  # 0 where the last mesh was done before the signal came
    assert "Traceback" not in said
    if code == 130:
        assert (good / "site" / "old.txt").exists()
    assert not list(good.glob(".site.*"))


def test_a_file_that_may_not_grow(good):
    """RLIMIT_FSIZE of 8 kB stands for a full disk in a real process: writes fail in the middle of a file."""
    pytest.importorskip("resource", reason="the system has no such limits")
    # Python ignores SIGXFSZ, so the write fails with EFBIG instead of a kill.
    done = ran(["build"], text=True, limits={"RLIMIT_FSIZE": 8192})
    assert done.returncode == 1
    assert done.stderr.startswith("spares: writing ")
    assert "a file would grow larger than this account may write" in done.stderr
    assert (good / "site" / "old.txt").read_text() == "the last good site"
    assert not list(good.glob(".site.*"))
