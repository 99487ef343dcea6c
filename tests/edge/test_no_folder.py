"""A paper or table that is to go where no folder is: told before anything is worked out, and told as what it is."""

import pytest

from tests.edge.test_recall import CRACKS
from tests.edge.test_recall import fitted as fitted  # noqa: PLC0414  pytest finds it by its name here

COMMANDS = {
    "labels": ("labels", "EX-0001", "--to", "x.pdf"),
    "labels of a recall": ("labels", "--recall", "RC-0001", "--to", "x.pdf"),
    "notice": ("notice", "RC-0001", "--to", "x.pdf"),
    "sheet": ("batch", "sheet", "B-0001", "--to", "x.pdf"),
    "report": ("report", "--month", "2026-03", "--to", "x.pdf"),
    "table": ("report", "--month", "2026-03", "--to", "x.csv"),
    "savings": ("savings", "--csv", "x.csv"),
    "order": ("stock", "--order", "print-shop", "--to", "x.txt"),
    "submission": ("submission", "EX-0001", "--out", "x.pdf"),
}


@pytest.mark.parametrize("case", COMMANDS)
def test_a_folder_that_there_is_not_is_named(case, fitted, spares, tmp_path):
    spares("recall", "--batch", "B-0001", *CRACKS)
    *words, name = COMMANDS[case]
    folder = tmp_path / "none" / "such"
    code, _, err = spares(*words, folder / name)
    told = " ".join(err.split())
    assert code == 2, told
    assert f"there is no folder {folder}" in told
    assert "check the disk" not in told
    assert not folder.exists()


def test_a_file_in_place_of_the_folder_is_told_as_such(fitted, spares, tmp_path):
    (tmp_path / "file").write_text("x", encoding="utf-8")
    code, _, err = spares("labels", "EX-0001", "--to", tmp_path / "file" / "x.pdf")
    assert (code, "there is no folder" in err) == (2, True)


def test_the_folder_where_one_stands_is_one(fitted, spares):
    assert spares("labels", "EX-0001", "--to", "x.pdf")[0] == 0
