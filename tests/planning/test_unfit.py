"""Approved, yet not to be fitted: which parts, and what of the verdict's questions is missing."""

from datetime import date
from pathlib import Path

from generator.planning.unfit import lacks
from tests.fixtures.tiny import CLIP, KNOB, sheets

KNOB_FOLDER = "parts/EX-0001-lid-knob"


def missing(depot: Path, number: str = KNOB, day: date = date(2026, 11, 25)) -> list[tuple[str, ...]]:
    """The questions that are not passed, place by place."""
    (found,) = [each for each in sheets(depot, day)[0] if each.number == number]
    return [tuple(taken.step.id for taken in lack.taken) for lack in lacks(found)]


def changed(depot: Path, file: str, old: str, new: str) -> None:
    text = (depot / file).read_text("utf-8")
    assert old in text
    (depot / file).write_text(text.replace(old, new, 1), "utf-8")


def test_what_may_be_fitted_lacks_nothing(depot):
    assert missing(depot) == []
    assert missing(depot, CLIP) == [], "a trial that holds"


def test_a_certificate_that_has_ended_is_missing(depot):
    changed(depot, "materials/petg.yml", "valid_until: 2027-12-31", "valid_until: 2026-10-31")
    assert "certificate" in missing(depot)[0]


def test_an_approval_that_is_over_is_listed_and_a_trial_that_is_over_is_not(depot):
    assert missing(depot, day=date(2027, 7, 1)) == [("lasts",)]
    assert missing(depot, CLIP, date(2029, 1, 1)) == []


def test_a_change_since_is_listed(depot):
    changed(depot, f"{KNOB_FOLDER}/part.yml", "layer_mm: 0.2", "layer_mm: 0.3")
    assert missing(depot) == [("unchanged",)]


def test_a_condition_is_the_approvers_will_and_nothing_is_missing(depot):
    changed(depot, f"{KNOB_FOLDER}/approval.yml", "    valid_until: 2027-06-30", "    conditions: [look]\n    valid_until: 2027-06-30")
    assert missing(depot) == []


def test_a_record_that_cannot_be_read_is_listed_where_it_was_approved(depot):
    changed(depot, f"{KNOB_FOLDER}/part.yml", "name: Lid knob", "name: [Lid]")
    assert missing(depot) == [("record",)]
    (depot / KNOB_FOLDER / "approval.yml").unlink()
    assert missing(depot) == []


def test_a_vehicle_that_no_permit_names_is_not_listed(depot):
    changed(depot, f"{KNOB_FOLDER}/approval.yml", 'vehicles: ["11-14"]', 'vehicles: ["11-12"]')
    assert missing(depot) == []
