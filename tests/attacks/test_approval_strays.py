"""A second copy of a record, or a file that nobody knows, in a part's folder: told with its place, never silent."""

import os
import shutil

import pytest

from tests.attacks import approval_depot as depot
from tests.attacks.approval_depot import FIT, KNOB, Said, fits, folder, kept, refuses

COPIES = [
    "approval (1).yml",
    "approval-old.yml",
    "approval.yaml",
    "approval.yml.orig",
    "approval.yml.bak",
    "approval.yml~",
    ".approval.yml.swp",
    "#approval.yml#",
    "APPROVAL.YML",
    "Approval.yml",
    "approval.yml ",
    "Copy of approval.yml",
    "documents/approval.yml",
    "documents/approval-2025.yml",
    "documents/old/approval.yml",
    "photos/approval.yml",
    "old/approval.yml",
    ".old/approval.yml",
    "documents/.approval.yml.swp",
    "approval.yml.rej",
    "approval.yml.2025-03-17",
    "approval\u00a0.yml",
]


@pytest.mark.parametrize("name", COPIES)
def test_a_copy_of_the_approval_record_is_an_error(demo, name):
    catalogue = demo()
    where = folder(catalogue)
    (where / name).parent.mkdir(parents=True, exist_ok=True)
    shutil.copy(where / "approval.yml", where / name)
    refuses(catalogue, "approval")


@pytest.mark.parametrize(
    "name", ["documents/notes.txt", "documents/history.yml", "photos/notes.yml", "documents/letter.md"]
)
def test_a_copy_under_another_name_is_known_by_what_it_holds(demo, name):
    catalogue = demo()
    where = folder(catalogue)
    (where / name).parent.mkdir(parents=True, exist_ok=True)
    shutil.copy(where / "approval.yml", where / name)
    said = Said(catalogue)
    told = said.problems()
    assert name.rpartition("/")[2] in told or FIT not in said.words(), told


@pytest.mark.parametrize(
    "name", ["part (1).yml", "part.yml~", "part.yml.orig", ".part.yml.swp", "documents/part.yml", "part.yaml"]
)
def test_a_copy_of_the_parts_record_is_told(demo, name):
    catalogue = demo()
    where = folder(catalogue)
    shutil.copy(where / "part.yml", where / name)
    assert "part" in told_of(catalogue, name)


@pytest.mark.parametrize(
    "name",
    [
        "parts/{}/notes.db",
        "parts/{}/model-old.stl",
        "parts/{}/fitting (1).md",
        "parts/loose.yml",
        "parts/approval.yml",
        "stray.yml",
        "makers (1).yml",
    ],
)
def test_a_file_that_nobody_knows_is_told(demo, name):
    catalogue = demo()
    kept(catalogue, name.format(folder(catalogue).name), "?")
    told_of(catalogue, name)


def told_of(catalogue, name):
    told = Said(catalogue).problems()
    assert name.rpartition("/")[2] in told, told
    return told


def test_an_approval_file_beside_the_folders_of_the_parts(demo):
    catalogue = demo()
    shutil.copy(folder(catalogue) / "approval.yml", catalogue / "approval.yml")
    told_of(catalogue, "approval.yml")


def test_two_folders_of_one_number(demo):
    catalogue = demo()
    where = folder(catalogue)
    shutil.copytree(where, where.with_name("TV-0417-second"))
    told = depot.run(catalogue, "explain", KNOB)
    assert FIT not in told.stdout, told.stdout[:400]


@pytest.mark.parametrize("name", ["approval.yml", "part.yml", "fitting.md", "documents"])
def test_a_record_that_is_a_link_out_of_the_folder_is_an_error(demo, name):
    catalogue = demo()
    where = folder(catalogue)
    outside = catalogue.parent / "elsewhere"
    outside.mkdir()
    shutil.move(where / name, outside / name)
    (where / name).symlink_to(outside / name)
    said = Said(catalogue) if name != "part.yml" else None
    if said:
        assert said.fitted == set(), said.why
    problems = depot.run(catalogue, "check")
    assert problems.returncode == 1, problems.stdout


def test_a_record_that_is_a_link_to_another_parts_record(demo):
    catalogue = demo(KNOB, depot.CAP)
    path = folder(catalogue) / "approval.yml"
    path.unlink()
    path.symlink_to(os.path.relpath(folder(catalogue, depot.CAP) / "approval.yml", path.parent))
    refuses(catalogue, "link|changed|number|approv")


def test_a_folder_in_the_place_of_the_record(demo):
    catalogue = demo()
    path = folder(catalogue) / "approval.yml"
    shutil.copy(path, catalogue.parent / "kept.yml")
    path.unlink()
    path.mkdir()
    shutil.copy(catalogue.parent / "kept.yml", path / "approval.yml")
    assert depot.run(catalogue, "explain", KNOB).stdout.count(FIT) == 0


def test_documents_that_are_no_records_are_no_strays(demo):
    catalogue = demo()
    kept(folder(catalogue), "documents/spare-list.txt", "Spare list.\nroute: the usual one\n")
    fits(catalogue)
