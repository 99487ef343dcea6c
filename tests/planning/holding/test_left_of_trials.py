"""`check` names the vehicles on which pieces of a trial sit that were to come off."""

from datetime import date

import pytest

from generator.assemble.whole_way import left_of_trials
from generator.pages.problems.said import said
from generator.pages.wording import wording
from generator.reading.catalogue import read_catalogue
from tests.fixtures.tiny import copied
from tests.planning.holding.histories import batch

CLOSED = """  - on: 2026-11-01
    what: trial closed
    by: keeper
    reason: two cracked
    result: failed
    fitted_pieces: come off
"""
HEAD = "day,fleet,vehicle,place,position,batch,count,removed_batch,removed,why,by,row\n"


@pytest.mark.parametrize("came_off", [False, True])
def test_what_was_to_come_off(tmp_path, came_off):
    root = copied(tmp_path / "depot")
    approval = next(root.glob("parts/EX-0003*/approval.yml"))
    text = approval.read_text(encoding="utf-8") + CLOSED
    approval.write_text(text, encoding="utf-8")
    (root / "fitted").mkdir()
    off = "2026-11-03,B2,21,bogie,,,,B-0001,2,campaign,keeper,\n" if came_off else ""
    (root / "fitted" / "2026.csv").write_text(f"{HEAD}2026-10-02,B2,21,bogie,,B-0001,2,,,,keeper,\n{off}", encoding="utf-8")
    catalogue = read_catalogue(root)
    catalogue.production.batches["B-0001"] = batch(part="EX-0003")
    found = left_of_trials(root, catalogue, date(2026, 11, 28))
    line = text[: text.index("  - on: 2026-11-01")].count("\n") + 1
    assert [(each.code, each.where.file, each.where.line) for each in found] == ([] if came_off else [("TRIAL01", approval.relative_to(root).as_posix(), line)])
    for language in ("en", "de", "da"):
        assert all("B2 21" in said(each, wording(language)).says for each in found)
