"""Who only judges reads no picture out of the store; who writes a site reads each one once."""

from collections import Counter

import pytest

from generator.measuring import kept_products
from generator.measuring.guarded import Guard
from generator.measuring.products import PICTURE_FILE, SCALE_FILE
from generator.systems.store import Store

JUDGING = [("check",), ("find", "knob"), ("explain", "EX-0001"), ("approvals", "--all")]


@pytest.fixture
def asked(monkeypatch):
    """How often each file was asked of the store, by entry and name; all files of an entry are ''."""
    seen = Counter()
    real = Store.get

    def get(self, key, only=()):
        seen.update((key, name) for name in only or ("",))
        return real(self, key, only)

    monkeypatch.setattr(Store, "get", get)
    return seen


@pytest.mark.parametrize("command", JUDGING, ids=" ".join)
def test_who_judges_reads_no_picture(depot, spares, asked, monkeypatch, command):
    spares(*command)  # a fresh machine says that it remembers nothing yet
    before = spares(*command)
    lost = [file for file in (depot / ".store").rglob("*") if file.name in (PICTURE_FILE, SCALE_FILE)]
    assert len(lost) > 3
    for file in lost:
        file.write_bytes(b"no picture")
    asked.clear()
    monkeypatch.setattr(Guard, "run_all", lambda _self, _function, jobs, _on_end: jobs and pytest.fail("something is made"))
    assert spares(*command) == before
    assert asked
    assert not any(name in (PICTURE_FILE, SCALE_FILE) for _, name in asked)
    assert all(file.read_bytes() == b"no picture" for file in lost)


@pytest.mark.parametrize("how", [("build",), ("build", "--markdown", "plain")], ids=" ".join)
def test_a_site_reads_each_picture_once_when_it_writes_it(depot, spares, asked, how):
    spares(*how)  # the icons are drawn
    asked.clear()
    assert spares(*how)[0] == 0
    read = {key: count for (key, name), count in asked.items() if name == PICTURE_FILE}
    assert len(read) == 3 * 4
    assert set(read.values()) == {1}


def test_damaged_pictures_are_drawn_again_and_the_site_is_the_same(depot, spares, monkeypatch):
    assert spares("build")[0] == 0
    before = {file.name: file.read_bytes() for file in (depot / "site/assets/pictures").iterdir()}
    for file in (depot / ".store").rglob(PICTURE_FILE):
        file.write_bytes(b"no picture")
    drawn = []
    real = kept_products.made_of
    monkeypatch.setattr(Guard, "run_all", lambda self, function, jobs, on_end=None: drawn.extend(jobs) or _here(real, jobs))
    assert spares("build")[0] == 0
    assert {file.name: file.read_bytes() for file in (depot / "site/assets/pictures").iterdir()} == before
    assert {len(job.wanted) for job in drawn} == {1}


def _here(function, jobs):
    """In this process, where a test needs no guard."""
    from generator.measuring.guarded import Done

    return tuple(Done(function(job)) for job in jobs)
