"""The store gives back what was put in, or nothing; it never fails a build."""

import errno
import os
import subprocess
import sys
import tempfile
import time

import pytest

from generator.systems import store as store_module
from generator.systems.store import Store, key_of

KEY, OTHER = key_of("one"), key_of("two")
BLOBS = {"facts.json": b"{}\n", "front.webp": bytes(range(256))}


def entry(folder, key=KEY):
    return folder / key[:2] / key[2:]


def test_what_was_put_comes_back(tmp_path):
    assert Store(tmp_path).get(KEY) is None
    Store(tmp_path).put(KEY, BLOBS)
    assert Store(tmp_path).get(KEY) == BLOBS
    assert Store(tmp_path).get(OTHER) is None


def test_a_person_can_look_at_it_and_check_it(tmp_path):
    Store(tmp_path).put(KEY, BLOBS)
    assert (entry(tmp_path) / "front.webp").read_bytes() == BLOBS["front.webp"]
    assert "deleted at any time" in (tmp_path / "README.txt").read_text()
    if sys.platform == "linux":  # GNU coreutils as the outside check of the sums
        subprocess.run(["sha256sum", "--check", "--strict", "sums.sha256"], cwd=entry(tmp_path), check=True,
                       capture_output=True)  # fmt: skip


@pytest.mark.parametrize(
    "damage",
    [
        lambda folder: (folder / "front.webp").write_bytes(b"x"),
        lambda folder: (folder / "front.webp").unlink(),
        lambda folder: (folder / "sums.sha256").write_bytes(b""),
        lambda folder: (folder / "sums.sha256").write_bytes(b"\xff\xfe nonsense"),
        lambda folder: (folder / "sums.sha256").write_text("0" * 64 + "  ../../../secret\n"),
        lambda folder: (folder / "sums.sha256").unlink(),
    ],
    ids=["changed", "lost", "empty sums", "broken sums", "sums that point elsewhere", "no sums"],
)
def test_a_damaged_entry_counts_as_missing_and_is_made_anew(tmp_path, damage):
    store = Store(tmp_path)
    store.put(KEY, BLOBS)
    damage(entry(tmp_path))
    assert store.get(KEY) is None
    store.put(KEY, BLOBS)
    assert store.get(KEY) == BLOBS
    assert store.unkept is None


def test_an_entry_that_another_build_put_meanwhile_stays(tmp_path):
    Store(tmp_path).put(KEY, BLOBS)
    Store(tmp_path).put(KEY, {"facts.json": b"later"})
    assert Store(tmp_path).get(KEY) == BLOBS


def test_nothing_half_written_is_ever_seen(tmp_path, monkeypatch):
    monkeypatch.setattr(store_module, "_sums", lambda blobs: (_ for _ in ()).throw(OSError(28, "full")))
    store = Store(tmp_path)
    store.put(KEY, BLOBS)
    monkeypatch.undo()
    assert Store(tmp_path).get(KEY) is None
    assert store.get(KEY) == BLOBS, "who could not keep it still has it"
    assert not entry(tmp_path).exists()
    assert [path.name for path in tmp_path.iterdir() if path.name.startswith(".new-")] == []


def test_a_full_disk_is_complained_of_once_and_then_left_alone(tmp_path, monkeypatch):
    calls = []

    def full(*_args, **_kwargs):
        calls.append(1)
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(store_module.tempfile, "mkdtemp", full)
    store = Store(tmp_path)
    store.put(KEY, BLOBS)
    store.put(OTHER, BLOBS)
    assert store.unkept is not None
    assert store.unkept.errno == errno.ENOSPC
    assert len(calls) == 1


def test_a_place_that_cannot_be_a_folder_is_no_failure(tmp_path):
    (tmp_path / "file").write_text("in the way")
    store = Store(tmp_path / "file")
    assert store.get(KEY) is None
    store.put(KEY, BLOBS)
    assert store.unkept is not None
    assert store.prune(30) == 0


def test_a_read_only_folder_is_still_read(tmp_path, monkeypatch):
    """As on a read-only disk; file rights alone would not stop the superuser, who builds in many containers."""
    Store(tmp_path).put(KEY, BLOBS)

    def refused(*_, **__):
        raise OSError(errno.EROFS, os.strerror(errno.EROFS))

    monkeypatch.setattr(tempfile, "mkdtemp", refused)
    store = Store(tmp_path)
    assert store.get(KEY) == BLOBS
    store.put(OTHER, BLOBS)
    assert store.unkept is not None
    assert store.unkept.errno == errno.EROFS


def last_used(folder, key, days):
    """As if nobody had used the entry for so many days."""
    then = time.time() - days * 86400
    os.utime(entry(folder, key) / "sums.sha256", (then, then))


def test_prune_removes_what_nobody_used_for_long(tmp_path):
    for key in (KEY, OTHER):
        Store(tmp_path).put(key, BLOBS)
        last_used(tmp_path, key, 29)
    (tmp_path / ".new-abandoned").mkdir()
    os.utime(tmp_path / ".new-abandoned", (0, 0))
    (tmp_path / ".new-of-another-build").mkdir()
    assert Store(tmp_path).prune(30) == 0
    last_used(tmp_path, KEY, 31)
    assert Store(tmp_path).prune(30) == 1
    assert Store(tmp_path).get(KEY) is None
    assert Store(tmp_path).get(OTHER) == BLOBS
    assert sorted(path.name for path in tmp_path.iterdir()) == sorted([".new-of-another-build", OTHER[:2], "README.txt"])


@pytest.mark.parametrize("use", [Store.get, Store.has])
def test_what_another_catalogue_uses_is_not_removed(tmp_path, use):
    Store(tmp_path).put(KEY, BLOBS)
    last_used(tmp_path, KEY, 31)
    assert use(Store(tmp_path), KEY)
    assert Store(tmp_path).prune(30) == 0


def test_a_use_is_noted_once_a_day(tmp_path):
    Store(tmp_path).put(KEY, BLOBS)
    last_used(tmp_path, KEY, 0.5)
    before = (entry(tmp_path) / "sums.sha256").stat().st_mtime
    assert Store(tmp_path).has(KEY)
    assert (entry(tmp_path) / "sums.sha256").stat().st_mtime == before
    last_used(tmp_path, KEY, 1.5)
    assert Store(tmp_path).has(KEY)
    assert (entry(tmp_path) / "sums.sha256").stat().st_mtime >= before


def test_a_use_of_yesterday_may_not_be_noted_so_nothing_younger_than_two_days_goes(tmp_path):
    Store(tmp_path).put(KEY, BLOBS)
    last_used(tmp_path, KEY, 1.5)
    assert Store(tmp_path).prune(0) == 0


def test_one_file_of_an_entry_is_read_without_the_others(tmp_path):
    store = Store(tmp_path)
    store.put(KEY, BLOBS)
    (entry(tmp_path) / "front.webp").unlink()
    assert store.has(KEY)
    assert store.get(KEY, ("facts.json",)) == {"facts.json": b"{}\n"}
    assert store.get(KEY, ("front.webp",)) is None
    assert store.get(KEY, ("facts.json", "no such file")) is None
    assert not store.has(OTHER)


def test_builds_that_put_read_and_prune_at_once_lose_nothing(tmp_path):
    """Three programs on one store of which everything is too old: a wrong byte or an error ends one of them."""
    program = (
        "import sys, os, random; from pathlib import Path; from generator.systems import store as s\n"
        "s._DAY_S = -1e9\n"  # whatever there is was used long ago, the moment it is there
        "dice, store = random.Random(int(sys.argv[2])), s.Store(Path(sys.argv[1]))\n"
        "for _ in range(400):\n"
        "    key = s.key_of(str(dice.randrange(5)))\n"
        "    store.put(key, {'a': key.encode(), 'b': b'2'})\n"
        "    got = store.get(key)\n"
        "    assert got is None or got == {'a': key.encode(), 'b': b'2'}, got\n"
        "    if dice.random() < 0.3: store.prune(2)\n"
        "    assert store.unkept is None, store.unkept\n"
    )
    running = [
        subprocess.Popen([sys.executable, "-c", program, str(tmp_path), str(seed)], stderr=subprocess.PIPE, text=True)
        for seed in range(3)
    ]
    for each in running:
        _, said = each.communicate()
        assert (each.returncode, said[-900:]) == (0, "")


@pytest.mark.parametrize("names", [[], ["../up"], ["a/b"], ["sums.sha256"], ["two\nlines"]])
def test_only_plain_names(tmp_path, names):
    with pytest.raises(ValueError, match="plain file names"):
        Store(tmp_path).put(KEY, dict.fromkeys(names, b""))


def test_keys_do_not_mix_up_their_parts():
    assert key_of("ab", "c") != key_of("a", "bc") != key_of("abc")
    assert key_of(b"ab", "c") == key_of("ab", b"c")
