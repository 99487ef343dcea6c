"""Files that are linked in place of a copy: only what holds the very bytes that git keeps, whatever the work tree pretends."""

import os
import shutil

import pytest

from generator.provenance.remembering.as_of import AsOf, written
from generator.provenance.remembering.beside import LEAST_BYTES
from generator.provenance.remembering.git import Repository
from tests.provenance.remembering.test_as_of import git, place, said

pytestmark = pytest.mark.skipif(not shutil.which("git"), reason="there is no git")
__all__ = ["place"]  # a fixture here as well

PAPER = "parts/X/documents/letter.pdf"
TEXT = "%PDF-1.4\r\n" + "approved\n" * LEAST_BYTES


@pytest.fixture
def state(place):
    said(place, "one", "2026-10-14")
    said(place, TEXT, "2026-10-14", name=PAPER)
    repository = Repository.around(place)
    return AsOf(repository, repository.head, None)


def laid(state, place, tmp_path):
    """What lies there, and whether it is the file of the work tree itself."""
    into = tmp_path / "then"
    written(state, into, beside=place)
    file = into / PAPER
    return file.read_bytes().decode(), (place / PAPER).exists() and file.samefile(place / PAPER)


def test_what_lies_there_as_git_keeps_it_is_linked_and_small_records_are_copied(state, place, tmp_path):
    assert laid(state, place, tmp_path) == (TEXT, True)
    assert not (tmp_path / "then/depot.yml").samefile(place / "depot.yml")
    shutil.rmtree(tmp_path / "then")
    assert (place / PAPER).read_bytes().decode() == TEXT


def test_a_repository_of_longer_sums_is_read_too(tmp_path):
    folder = tmp_path / "long" / "catalogue"
    folder.mkdir(parents=True)
    git(folder.parent, "init", "-q", "-b", "main", "--object-format=sha256")
    said(folder, TEXT, "2026-10-14", name=PAPER)
    repository = Repository.around(folder)
    assert laid(AsOf(repository, repository.head, None), folder, tmp_path) == (TEXT, True)


def other_bytes(place):
    """As many, and the time of the file is that of before: git's index would take it for unchanged."""
    file = place / PAPER
    before = file.stat()
    file.write_bytes(TEXT.replace("approved", "rejected").encode())
    os.utime(file, ns=(before.st_atime_ns, before.st_mtime_ns))


def said_to_be_unchanged(place):
    git(place, "update-index", "--assume-unchanged", PAPER)
    other_bytes(place)


def line_ends(place):
    (place / PAPER).write_bytes(TEXT.replace("\r\n", "\n").encode())


def link(place):
    aside = place.parent / "aside.pdf"
    (place / PAPER).rename(aside)
    (place / PAPER).symlink_to(aside)


def folder_in_its_place(place):
    (place / PAPER).unlink()
    (place / PAPER).mkdir()


def pipe(place):
    (place / PAPER).unlink()
    os.mkfifo(place / PAPER)


@pytest.mark.parametrize("spoil", [other_bytes, said_to_be_unchanged, line_ends, link, folder_in_its_place, pipe, lambda place: (place / PAPER).unlink()])
def test_what_lies_there_otherwise_is_copied_from_git(state, place, tmp_path, spoil):
    spoil(place)
    assert laid(state, place, tmp_path) == (TEXT, False)
    assert not (tmp_path / "then" / PAPER).is_symlink()


def test_where_nothing_can_be_linked_it_is_copied(state, place, tmp_path, monkeypatch):
    def refused(*_words, **_more):
        raise OSError(18, "Invalid cross-device link")

    monkeypatch.setattr(os, "link", refused)
    assert laid(state, place, tmp_path) == (TEXT, False)


def test_a_file_that_is_exchanged_meanwhile_is_not_taken(state, place, tmp_path, monkeypatch):
    real = os.link

    def exchanged(there, here):
        there.rename(there.with_suffix(".old"))
        there.write_bytes(TEXT.replace("approved", "rejected").encode())
        real(there, here)

    monkeypatch.setattr(os, "link", exchanged)
    assert laid(state, place, tmp_path)[0] == TEXT
