"""Tried from outside: whatever is wrong with a recall, or with what may be one, never gives its pieces back."""

from datetime import date

import pytest
import yaml

from generator.rules.verdicts import Verdict
from tests.fixtures.produced import RELEASED, batch, knob_printed
from tests.fixtures.tiny import copied, sheets

DAY = date(2026, 11, 25)
CALL = {"what": "called back", "on": "2026-10-12", "by": "reviewer", "why": "tried"}
LIFT = {"what": "lifted", "on": "2026-10-20", "by": "reviewer", "why": "tried"}


@pytest.fixture(scope="module")
def printed(tmp_path_factory):
    return knob_printed(copied(tmp_path_factory.mktemp("recalls") / "catalogue"))


def said(root, name="B-0001"):
    found, _ = sheets(root)
    knob = next(each for each in found if each.number == "EX-0001")
    return max(ground.of_piece(name, DAY).verdict for ground in knob.grounds)


def of(**more):
    return yaml.safe_dump({"batch": "B-0001", "events": [CALL], **more})


RECALLS = {
    "empty": ("recalls/RC-1.yml", ""),
    "a comment": ("recalls/RC-1.yml", "# called back\n"),
    "null": ("recalls/RC-1.yml", "null\n"),
    "lifted by a fitter": ("recalls/RC-1.yml", of(events=[CALL, {**LIFT, "by": "fitter"}])),
    "lifted by nobody": ("recalls/RC-1.yml", of(events=[CALL, {**LIFT, "by": "nobody"}])),
    "lifted before the call": ("recalls/RC-1.yml", of(events=[CALL, {**LIFT, "on": "2026-10-01"}])),
    "lifted twice": ("recalls/RC-1.yml", of(events=[CALL, LIFT, LIFT])),
    "a part mistyped": ("recalls/RC-1.yml", yaml.safe_dump({"part": "ex-0001", "revision": "a", "events": [CALL]})),
    "an unknown batch": ("recalls/RC-1.yml", of(batch="B-9001")),
    "an unknown part": ("recalls/RC-1.yml", yaml.safe_dump({"part": "EX-0999", "revision": "A", "events": [CALL]})),
    "an unknown revision": ("recalls/RC-1.yml", yaml.safe_dump({"part": "EX-0001", "revision": "Z", "events": [CALL]})),
    "another ending": ("recalls/RC-1.yaml", of()),
    "a folder deeper": ("recalls/2026/RC-1.yml", of()),
    "another folder": ("Recalls/RC-1.yml", of()),
}


@pytest.mark.parametrize("kind", RECALLS)
def test_a_recall_that_is_wrong_never_lets_its_pieces_be_fitted(printed, kind):
    assert said(printed) is Verdict.FIT_IT
    name, text = RECALLS[kind]
    file = printed / name
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(text, encoding="utf-8")
    try:
        assert said(printed) is not Verdict.FIT_IT
        assert sheets(printed)[1] != ()
    finally:
        file.unlink()
        for folder in (file.parent, file.parent.parent):
            if folder != printed and not list(folder.iterdir()):
                folder.rmdir()


def test_a_recall_that_is_lifted_as_it_should_be_gives_them_back(printed):
    file = printed / "recalls/RC-1.yml"
    file.parent.mkdir(exist_ok=True)
    file.write_text(of(events=[CALL, LIFT]), encoding="utf-8")
    try:
        assert said(printed) is Verdict.FIT_IT
    finally:
        file.unlink()


def test_a_rejection_of_a_day_to_come_counts_at_once(printed):
    file = printed / "batches/B-0001.yml"
    before = file.read_text(encoding="utf-8")
    told = yaml.safe_load(before)
    told["events"].append({"what": "rejected", "on": "2027-08-27", "by": "reviewer", "why": "tried"})
    file.write_text(yaml.safe_dump(told, sort_keys=False), encoding="utf-8")
    try:
        assert said(printed) is Verdict.DO_NOT_FIT
    finally:
        file.write_text(before, encoding="utf-8")


def test_who_is_asked_for_the_batch_reads_of_every_one_that_is_stopped(printed):
    """Of one nothing is left by the records; a piece of it that somebody finds is stopped all the same."""
    gone = {"what": "scrapped", "on": "2025-08-01", "by": "fitter", "count": 12, "why": "tried"}
    batch(printed, "B-0002", "EX-0001", started="2025-06-29 08:00", events=[*RELEASED, gone])
    file = printed / "recalls/RC-1.yml"
    file.parent.mkdir(exist_ok=True)
    file.write_text(yaml.safe_dump({"lot": "L-1", "events": [CALL]}), encoding="utf-8")
    try:
        knob = next(each for each in sheets(printed)[0] if each.number == "EX-0001")
        told = [facts for ground in knob.grounds for facts in ground.permits]
        assert {(each.piece, each.piece_batches) for each in told} == {("choose", ("B-0002", "B-0001"))}
    finally:
        file.unlink()
        (printed / "batches/B-0002.yml").unlink()
