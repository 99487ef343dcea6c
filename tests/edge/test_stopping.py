"""Ctrl-C, a polite end and a limit of the system, sent to real processes in the middle of a build."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.edge.conftest import names_in

SPARES = Path(sys.executable).with_name("spares")
# A theme whose pages never end, so that the signal always comes in the middle of writing.
SLOW = "{% for i in range(10000000) %}{% for j in range(10000000) %}.{% endfor %}{% endfor %}"


@pytest.fixture
def good(depot):
    subprocess.run([SPARES, "build"], check=True, capture_output=True)
    (depot / "site" / "old.txt").write_text("the last good site")
    return depot


def stopped_while(depot, number, is_there):
    """Start a build, wait for something to be there, send a signal; returns the ended process and its stderr."""
    process = subprocess.Popen([SPARES, "build"], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    try:
        deadline = time.monotonic() + 60
        while not is_there() and time.monotonic() < deadline:
            assert process.poll() is None, process.stderr.read()
            time.sleep(0.02)
        process.send_signal(number)
        _, said = process.communicate(timeout=60)
    finally:
        process.kill()
    return process.returncode, said


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM], ids=["ctrl-c", "terminate"])
def test_stopped_while_pages_are_written(good, number):
    (good / "theme" / "part.html").write_text(SLOW)
    code, said = stopped_while(good, number, lambda: list(good.glob(".site.new-*/index.html")))
    assert code == 130
    assert said == "spares: stopped before it was done; what was there before is as it was\n"
    assert (good / "site" / "old.txt").read_text() == "the last good site"
    assert names_in(good) == sorted([".store", "catalogue", "mkdocs.yml", "site", "site_src", "theme"])


def test_stopped_while_meshes_are_drawn(good):
    store = good / "fresh"
    (good / ".store").rename(good / "kept")
    os.environ.pop("SPARES_TRACEBACK", None)
    code, said = stopped_while(good, signal.SIGINT, lambda: (good / ".store").exists() or store.exists())
    assert code in (0, 130)  # 0 where the last mesh was done before the signal came
    assert "Traceback" not in said
    if code == 130:
        assert (good / "site" / "old.txt").exists()
    assert not list(good.glob(".site.*"))


def test_a_file_that_may_not_grow(good):
    """RLIMIT_FSIZE of 8 kB stands for a full disk in a real process: writes fail in the middle of a file."""
    resource = pytest.importorskip("resource", reason="the system has no such limits")

    def limited():
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)  # then the write fails with EFBIG instead of a kill
        resource.setrlimit(resource.RLIMIT_FSIZE, (8192, 8192))

    done = subprocess.run([SPARES, "build"], capture_output=True, text=True, preexec_fn=limited, check=False)
    assert done.returncode == 1
    assert done.stderr.startswith("spares: writing ")
    assert "a file would grow larger than this account may write" in done.stderr
    assert (good / "site" / "old.txt").read_text() == "the last good site"
    assert not list(good.glob(".site.*"))
