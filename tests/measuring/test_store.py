"""The store gives back what was put in, or nothing; it never fails a build."""

import errno
import os
import subprocess
import sys
import tempfile

import pytest

from generator.measuring import store as store_module
from generator.measuring.store import Store, code_version, key_of

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
    assert store.complaint is None


def test_an_entry_that_another_build_put_meanwhile_stays(tmp_path):
    Store(tmp_path).put(KEY, BLOBS)
    Store(tmp_path).put(KEY, {"facts.json": b"later"})
    assert Store(tmp_path).get(KEY) == BLOBS


def test_nothing_half_written_is_ever_seen(tmp_path, monkeypatch):
    monkeypatch.setattr(store_module, "_sums", lambda blobs: (_ for _ in ()).throw(OSError(28, "full")))
    store = Store(tmp_path)
    store.put(KEY, BLOBS)
    monkeypatch.undo()
    assert store.get(KEY) is None
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
    assert store.complaint is not None
    assert "no space left" in store.complaint
    assert len(calls) == 1


def test_a_place_that_cannot_be_a_folder_is_no_failure(tmp_path):
    (tmp_path / "file").write_text("in the way")
    store = Store(tmp_path / "file")
    assert store.get(KEY) is None
    store.put(KEY, BLOBS)
    assert store.complaint is not None
    assert "cannot be kept in" in store.complaint
    assert store.prune([]) == 0


def test_a_read_only_folder_is_still_read(tmp_path, monkeypatch):
    """As on a read-only disk; file rights alone would not stop the superuser, who builds in many containers."""
    Store(tmp_path).put(KEY, BLOBS)

    def refused(*_, **__):
        raise OSError(errno.EROFS, os.strerror(errno.EROFS))

    monkeypatch.setattr(tempfile, "mkdtemp", refused)
    store = Store(tmp_path)
    assert store.get(KEY) == BLOBS
    store.put(OTHER, BLOBS)
    assert "read-only file system" in (store.complaint or "")


def test_prune_removes_what_is_not_used_any_more(tmp_path):
    for key in (KEY, OTHER):
        Store(tmp_path).put(key, BLOBS)
    (tmp_path / ".new-abandoned").mkdir()
    os.utime(tmp_path / ".new-abandoned", (0, 0))
    (tmp_path / ".new-of-another-build").mkdir()
    store = Store(tmp_path)
    store.get(OTHER)
    assert store.prune(store.used) == 1
    assert store.get(KEY) is None
    assert store.get(OTHER) == BLOBS
    assert sorted(path.name for path in tmp_path.iterdir()) == sorted([".new-of-another-build", OTHER[:2], "README.txt"])


@pytest.mark.parametrize("names", [[], ["../up"], ["a/b"], ["sums.sha256"], ["two\nlines"]])
def test_only_plain_names(tmp_path, names):
    with pytest.raises(ValueError, match="plain file names"):
        Store(tmp_path).put(KEY, dict.fromkeys(names, b""))


def test_keys_do_not_mix_up_their_parts():
    assert key_of("ab", "c") != key_of("a", "bc") != key_of("abc")
    assert key_of(b"ab", "c") == key_of("ab", b"c")


def test_the_code_version_follows_sources_and_libraries(tmp_path, monkeypatch):
    package = tmp_path / "generator"
    for name in ("geometry/render/lines.py", "reading/meshes/stl.py", "measuring/one_mesh.py", "pages/page.py"):
        (package / name).parent.mkdir(parents=True, exist_ok=True)
        (package / name).write_text("1")
    monkeypatch.setattr(store_module, "__file__", str(package / "measuring" / "store.py"))
    seen = [code_version()]
    assert code_version() == seen[0]
    (package / "pages/page.py").write_text("2")
    assert code_version() == seen[0]
    for name in ("geometry/render/lines.py", "reading/meshes/stl.py", "measuring/one_mesh.py"):
        (package / name).write_text("2")
        seen.append(code_version())
    monkeypatch.setattr(store_module.metadata, "version", lambda name: "99")
    seen.append(code_version())
    assert len(set(seen)) == 5
