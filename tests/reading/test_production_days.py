"""What the records of prints date after today is told at its line; until when something may be used is no such day."""

from datetime import date

import pytest

from generator.reading.disk import Disk
from generator.reading.papers import days_to_come
from generator.reading.production_days import days_of_production
from tests.fixtures.prints import PRINTS, printed_catalogue
from tests.fixtures.tiny import copied, overlaid


@pytest.mark.parametrize(
    ("day", "late"),
    [
        (date(2026, 2, 20), {}),
        (date(2026, 2, 19), {"batches/B-0001.yml": [("events", 2, "on")]}),
        (date(2026, 2, 9), {
            "materials/lots/L-0007.yml": [("events", 1, "on"), ("events", 2, "on")],
            "batches/B-0001.yml": [("ended",), ("events", 0, "on"), ("events", 1, "on"), ("events", 2, "on")],
        }),
    ],
)  # fmt: skip
def test_days_to_come(day, late):
    found = days_of_production(printed_catalogue().production, day)
    assert {file: [each.path for each in problems] for file, problems in found} == late


def test_they_stand_at_their_lines(tmp_path):
    root = overlaid(copied(tmp_path / "depot"), PRINTS)
    (told,) = days_to_come(Disk(root), printed_catalogue(), date(2026, 2, 19))
    assert (told.code, told.where.file, told.where.line) == ("DAY01", "batches/B-0001.yml", 47)
